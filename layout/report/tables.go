package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"sort"
	"strconv"

	"stowbay/layout"
	"stowbay/layout/check"
)

func sortFiles(fs []file) { sort.Slice(fs, func(i, j int) bool { return fs[i].name < fs[j].name }) }

// tableFiles are the tables of an arrangement as comma-separated values with a head line: UTF-8, lines ended as
// RFC 4180 asks, a decimal point, mm and kg whatever the plan's units.
func tableFiles(folder string, e *check.Evaluation) []file {
	table := func(name string, rows func(*check.Evaluation) [][]string) file {
		return file{folder + name, func() ([]byte, error) { return CSV(rows(e)) }}
	}
	return []file{
		table("modules.csv", moduleRows),
		table("ledger.csv", ledgerRows),
		table("parts.csv", partRows),
		table("torques.csv", torqueRows),
		table("assembly.csv", stepRows),
		table("findings.csv", findingRows),
		table("readings.csv", readingRows),
	}
}

// CSV writes rows as comma-separated values. A cell that a spreadsheet would take for a formula is written with
// an apostrophe before it, unless it is a number.
func CSV(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, r := range rows {
		out := make([]string, len(r))
		for i, s := range r {
			out[i] = tame(s)
		}
		if err := w.Write(out); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

func tame(s string) string {
	if s == "" {
		return s
	}
	switch s[0] {
	case '=', '+', '-', '@', '\t', '\r':
		if _, err := strconv.ParseFloat(s, 64); err != nil {
			return "'" + s
		}
	}
	return s
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// round3 keeps a figure to a thousandth, so that tables do not show what is only the sum's rounding.
func round3(v float64) string { return num(math.Round(v*1000) / 1000) }

// moduleRows has a line for each module: its place in the box and in the vehicle.
func moduleRows(e *check.Evaluation) [][]string {
	out := [][]string{{"box", "slot", "module", "posture", "turn_deg", "x_in_box_mm", "y_in_box_mm", "z_in_box_mm", "centre_x_mm", "centre_y_mm", "centre_z_mm", "mass_kg", "in_string"}}
	at := stringPlaces(e.Electric)
	e.Scene.Bodies(func(box *layout.BoxScene, m *layout.Body) {
		p, c := m.Placement, m.Prism.Centroid()
		out = append(out, []string{box.Box.ID, p.ID, p.Module, string(p.Posture), strconv.Itoa(p.Turn), round3(p.At[0]), round3(p.At[1]), round3(p.At[2]), round3(c.X), round3(c.Y), round3(c.Z), num(m.Module.MassKg), at[m.ID]})
	})
	return out
}

func ledgerRows(e *check.Evaluation) [][]string {
	out := [][]string{{"id", "group", "in", "what", "pieces", "mass_kg", "plus_minus_kg", "known_from", "x_mm", "y_mm", "z_mm", "sum_kg", "note"}}
	for _, l := range e.Mass.Ledger() {
		out = append(out, []string{l.ID, string(l.Group), l.Of, l.Name, strconv.Itoa(max(l.Count, 1)), num(l.Kg), num(l.PlusMinus), l.Known, round3(l.At.X), round3(l.At.Y), round3(l.At.Z), num(l.Running), l.Note})
	}
	return out
}

func partRows(e *check.Evaluation) [][]string {
	out := [][]string{{"kind", "part", "id", "pieces", "mass_each_kg", "price_each", "note"}}
	for _, p := range parts(e) {
		out = append(out, []string{p.kind, p.name, p.id, strconv.Itoa(p.count), round3(p.kg), num(p.price), p.note})
	}
	return out
}

func torqueRows(e *check.Evaluation) [][]string {
	out := [][]string{{"box", "joint", "what", "thread", "torque_nm", "source", "tightened_by", "checked_by", "date"}}
	for _, s := range sheetsOf(e) {
		for _, r := range append(s.Mechanical, s.Electrical...) {
			torque := ""
			if r.TorqueNm > 0 {
				torque = num(r.TorqueNm)
			}
			out = append(out, []string{s.Box.Box.ID, r.ID, r.What, r.Thread, torque, r.Source, r.Tightened, r.Checked, r.Date})
		}
	}
	return out
}

func findingRows(e *check.Evaluation) [][]string {
	out := [][]string{{"number", "verdict", "rule", "subject", "text", "compare", "required", "actual", "margin", "unit", "source"}}
	for i, f := range e.Findings {
		row := []string{findingNumber(i), string(f.Severity), f.Rule, f.Subject, f.Text, f.Compare, "", "", "", f.Unit, f.Source}
		if f.Compare != "" {
			row[6], row[7], row[8] = num(f.Required), num(f.Actual), num(f.Margin())
		}
		out = append(out, row)
	}
	return out
}

func readingRows(e *check.Evaluation) [][]string {
	out := [][]string{{"key", "of", "label", "value", "plus_minus", "unit", "basis"}}
	for _, r := range e.Readings {
		out = append(out, []string{r.Key, r.Of, r.Label, num(r.Value), num(r.PlusMinus), r.Unit, fmt.Sprint(r.Basis)})
	}
	return out
}
