package search

import (
	"fmt"
	"math"
	"strings"

	"stowbay/layout"
	"stowbay/layout/check"
)

// Table is arrangements side by side. The first is what the others are compared with.
type Table struct {
	Columns       []Column
	Rows          []Row
	Findings      []FindingRow // those that are not alike in all arrangements
	Sensitivities []Sensitivity
}

// Column is one arrangement.
type Column struct {
	ID, Name, Plan string
	Counts         map[check.Severity]int
}

// Better says which way a reading is better.
type Better int

// The directions. NoBetter: neither way, or it depends.
const (
	NoBetter Better = iota
	More
	Less
	NearZero
)

// Row is one reading of all arrangements.
type Row struct {
	Key, Of, Label, Unit string
	Better               Better
	Cells                []Cell
	Differs              bool // the arrangements are not alike in it
}

// Cell is a reading of one arrangement.
type Cell struct {
	Has       bool
	Value     float64
	PlusMinus float64
	Diff      float64 // less the first arrangement's; 0 where that has none
	Basis     layout.Basis
	Best      bool // no other arrangement is better, and some are worse
}

// FindingRow is a rule about one subject that arrangements do not meet alike.
type FindingRow struct {
	Rule, Subject string
	Severities    []check.Severity // by arrangement; empty where the rule says nothing there
	Texts         []string
	Change        string // against the first arrangement: "appears in 2", "vanishes in 2, 3", "changes in 2"
}

// betterWay says which way a reading is better. Readings that are not listed are better neither way by themselves:
// an axle load, a voltage, a current asked for.
var betterWay = map[string]Better{
	"leftover": Less, "energy_kwh": More, "usable_kwh": More, "capacity_ah": More, "range_km": More, "consumption_wh_km": Less,
	"c_rate": Less, "heat_w": Less, "peak_heat_w": Less, "module_heat_w": Less, "pack_mohm": Less, "pack_cold_mohm": Less,
	"low_power_kw": More, "low_cold_power_kw": More, "regen_room_a": More, "circulating_a": Less,
	"cable_mm": Less, "links_mm": Less, "link_crossings": Less, "cable_drop_v": Less, "link_drop_v": Less,
	"mass_kg": Less, "change.mass_kg": Less, "change.front_share_pct": NearZero, "change.cg_mm.x": NearZero, "change.cg_mm.y": NearZero,
	"cg_mm.y": NearZero, "cg_mm.z": Less, "change.cg_mm.z": Less, "change.ssf": More, "ssf": More, "tilt_deg": More, "climb_deg": More,
	"descend_deg": More, "side_pct": NearZero, "payload_kg": More, "ride_mm.front": NearZero, "ride_mm.rear": NearZero,
	"yaw_change_pct": NearZero, "worst_gap_mm": More, "shell_kg": Less, "precharge_ms": Less, "precharge_j": Less,
}

// wayOf is the way of a reading by its key, or by what stands before the point in it: each cycle and speed has a range.
func wayOf(key string) Better {
	if way, ok := betterWay[key]; ok {
		return way
	}
	of, _, _ := strings.Cut(key, ".")
	return betterWay[of]
}

// Compare sets arrangements side by side: every reading that any of them has, in the order of the first that has it,
// the findings that differ, and what one more module in each box would do. It takes any number of evaluations; two to
// six are what a page shows.
func Compare(es []*check.Evaluation) Table {
	var t Table
	for _, e := range es {
		t.Columns = append(t.Columns, Column{ID: e.Arrangement.ID, Name: e.Arrangement.Name, Plan: e.Plan.Name, Counts: e.Counts()})
	}
	t.addRows(es)
	t.addFindings(es)
	for i, e := range es {
		t.Sensitivities = append(t.Sensitivities, sensitivities(i, e)...)
	}
	return t
}

type rowKey struct{ key, of string }

func (t *Table) addRows(es []*check.Evaluation) {
	at := map[rowKey]int{}
	for i, e := range es {
		for _, r := range e.Readings {
			k := rowKey{r.Key, r.Of}
			n, ok := at[k]
			if !ok {
				n = len(t.Rows)
				at[k] = n
				t.Rows = append(t.Rows, Row{Key: r.Key, Of: r.Of, Label: r.Label, Unit: r.Unit, Better: wayOf(r.Key), Cells: make([]Cell, len(es))})
			}
			t.Rows[n].Cells[i] = Cell{Has: true, Value: r.Value, PlusMinus: r.PlusMinus, Basis: r.Basis}
		}
	}
	for i := range t.Rows {
		t.Rows[i].judge()
	}
}

// judge fills in differences and marks the best.
func (r *Row) judge() {
	best, worst := math.Inf(1), math.Inf(-1)
	for i := range r.Cells {
		c := &r.Cells[i]
		if !c.Has {
			r.Differs = true
			continue
		}
		if r.Cells[0].Has {
			c.Diff = c.Value - r.Cells[0].Value
		}
		v := r.badness(c.Value)
		best, worst = min(best, v), max(worst, v)
		r.Differs = r.Differs || !r.Cells[0].Has || !alike(c.Diff, r.Cells[0].Value)
	}
	if r.Better == NoBetter || alike(worst-best, best) {
		return
	}
	for i := range r.Cells {
		r.Cells[i].Best = r.Cells[i].Has && alike(r.badness(r.Cells[i].Value)-best, best)
	}
}

// alike tells whether a difference between two figures is nothing but rounding.
func alike(diff, of float64) bool { return math.Abs(diff) <= 1e-9*max(1, math.Abs(of)) }

func (r *Row) badness(v float64) float64 {
	switch r.Better {
	case More:
		return -v
	case NearZero:
		return math.Abs(v)
	}
	return v
}

// Row returns the row of a reading, or nil.
func (t *Table) Row(key, of string) *Row {
	for i := range t.Rows {
		if t.Rows[i].Key == key && t.Rows[i].Of == of {
			return &t.Rows[i]
		}
	}
	return nil
}

// addFindings lists rules and subjects with the gravest that each arrangement has to say, in the order of gravity.
func (t *Table) addFindings(es []*check.Evaluation) {
	at := map[rowKey]int{}
	var rows []FindingRow
	for _, severity := range []check.Severity{check.Fails, check.Warns, check.Notes, check.Passes} {
		for i, e := range es {
			for _, f := range e.Findings {
				if f.Severity != severity {
					continue
				}
				k := rowKey{f.Rule, f.Subject}
				n, ok := at[k]
				if !ok {
					n = len(rows)
					at[k] = n
					rows = append(rows, FindingRow{Rule: f.Rule, Subject: f.Subject, Severities: make([]check.Severity, len(es)), Texts: make([]string, len(es))})
				}
				if rows[n].Severities[i] == "" {
					rows[n].Severities[i], rows[n].Texts[i] = f.Severity, f.Text
				}
			}
		}
	}
	for _, r := range rows {
		if r.Change = r.change(); r.Change != "" {
			t.Findings = append(t.Findings, r)
		}
	}
}

// weighs tells whether a finding is one to look at: it fails or warns.
func weighs(s check.Severity) bool { return s == check.Fails || s == check.Warns }

// change says against the first arrangement what happens to a finding that fails or warns; "" where nothing does.
func (r *FindingRow) change() string {
	var appears, vanishes, changes []string
	first := r.Severities[0]
	for i, s := range r.Severities[1:] {
		n := fmt.Sprint(i + 2)
		switch {
		case weighs(s) && !weighs(first):
			appears = append(appears, n)
		case !weighs(s) && weighs(first):
			vanishes = append(vanishes, n)
		case weighs(s) && s != first:
			changes = append(changes, n)
		}
	}
	var out []string
	for _, c := range []struct {
		word string
		in   []string
	}{{"appears in ", appears}, {"vanishes in ", vanishes}, {"changes in ", changes}} {
		if len(c.in) > 0 {
			out = append(out, c.word+strings.Join(c.in, ", "))
		}
	}
	return strings.Join(out, "; ")
}
