package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/report"
	"stowbay/layout/search"
	"stowbay/vehicles"
)

// mostCompared is how many arrangements stand side by side.
const mostCompared = 6

// compareOptions are the flags of stowfit compare.
type compareOptions struct {
	ids         []string
	asJSON, csv bool
	all         bool
}

func compareCommand() *cobra.Command {
	var o compareOptions
	cmd := &cobra.Command{
		Use:   "compare PLAN...",
		Short: "Set two to six arrangements side by side",
		Long: "compare computes arrangements of one plan or of several and sets their readings and findings side by side.\n" +
			"Differences are against the first arrangement; '*' and the word best mark the best where there is a better way.",
		Args: somePlans,
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	f := cmd.Flags()
	f.StringSliceVarP(&o.ids, "arrangement", "a", nil, "only these arrangements, by their ids, separated by commas")
	f.BoolVar(&o.asJSON, "json", false, "write JSON")
	f.BoolVar(&o.csv, "csv", false, "write the readings as CSV")
	f.BoolVar(&o.all, "all", false, "list every reading, also those that are alike, of boxes and of load cases")
	cmd.MarkFlagsMutuallyExclusive("json", "csv")
	return cmd
}

func (o *compareOptions) run(cmd *cobra.Command, paths []string) error {
	es, err := o.evaluations(paths)
	if err != nil {
		return err
	}
	t := search.Compare(es)
	switch {
	case o.asJSON:
		return printJSON(cmd, tableJSON(&t))
	case o.csv:
		return writeTableCSV(cmd.OutOrStdout(), &t)
	}
	return o.print(cmd.OutOrStdout(), &t)
}

func (o *compareOptions) evaluations(paths []string) ([]*check.Evaluation, error) {
	var es []*check.Evaluation
	found := map[string]bool{}
	for _, path := range paths {
		p, err := layout.LoadOver(path, vehicles.Catalogue())
		if err != nil {
			return nil, err
		}
		for _, a := range p.Arrangements {
			if len(o.ids) == 0 || contains(o.ids, a.ID) {
				found[a.ID] = true
				es = append(es, evaluate(p, []*layout.Arrangement{a})...)
			}
		}
	}
	for _, id := range o.ids {
		if !found[id] {
			return nil, fmt.Errorf("no plan given has an arrangement %q", id)
		}
	}
	if len(es) < 2 || len(es) > mostCompared {
		return nil, fmt.Errorf("%d arrangements; give 2 to %d, with --arrangement where a plan has more", len(es), mostCompared)
	}
	return es, nil
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}

func (o *compareOptions) print(out io.Writer, t *search.Table) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprint(w, "reading\tunit")
	for i, c := range t.Columns {
		fmt.Fprintf(w, "\t%d %s", i+1, c.ID)
	}
	fmt.Fprintln(w)
	for _, s := range []check.Severity{check.Fails, check.Warns} {
		fmt.Fprintf(w, "findings that %s\t", map[check.Severity]string{check.Fails: "fail", check.Warns: "warn"}[s])
		for _, c := range t.Columns {
			fmt.Fprintf(w, "\t%d", c.Counts[s])
		}
		fmt.Fprintln(w)
	}
	for i := range t.Rows {
		if r := &t.Rows[i]; o.all || r.Differs && r.Of == "" {
			printCompared(w, r)
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	printChanges(out, t)
	fmt.Fprintln(out, "\n"+report.Caution)
	return nil
}

func printCompared(w io.Writer, r *search.Row) {
	label := r.Label
	if r.Of != "" {
		label += ", " + r.Of
	}
	fmt.Fprintf(w, "%s\t%s", label, r.Unit)
	for i, c := range r.Cells {
		s := "none"
		if c.Has {
			s = rounded(c.Value)
			if i > 0 && r.Cells[0].Has && c.Diff != 0 {
				s += " (" + signed(c.Diff) + ")"
			}
			if c.Best {
				s += " * best"
			}
		}
		fmt.Fprint(w, "\t"+s)
	}
	fmt.Fprintln(w)
}

func rounded(v float64) string { return strconv.FormatFloat(v, 'f', digits(v), 64) }

func signed(v float64) string {
	s := rounded(v)
	if v > 0 {
		s = "+" + s
	}
	return s
}

// digits are the decimals that leave four figures or so.
func digits(v float64) int {
	switch v = max(v, -v); {
	case v == 0 || v >= 1000:
		return 0
	case v >= 10:
		return 1
	case v >= 1:
		return 2
	}
	return 3
}

func printChanges(out io.Writer, t *search.Table) {
	if len(t.Findings) > 0 {
		fmt.Fprintln(out, "\nFindings that fail or warn, against arrangement 1:")
	}
	for _, f := range t.Findings {
		fmt.Fprintf(out, "  %s, %s: %s\n", f.Rule, f.Subject, f.Change)
		for i, s := range f.Severities {
			if s == check.Fails || s == check.Warns {
				fmt.Fprintf(out, "    %d %s: %s\n", i+1, s, f.Texts[i])
			}
		}
	}
	if len(t.Sensitivities) > 0 {
		fmt.Fprintln(out, "\nOne more module, at kerb:")
	}
	for _, s := range t.Sensitivities {
		fmt.Fprintf(out, "  %d %s\n", s.Arrangement+1, s.Text)
	}
}

func writeTableCSV(out io.Writer, t *search.Table) error {
	w := csv.NewWriter(out)
	head := []string{"key", "of", "label", "unit"}
	for _, c := range t.Columns {
		head = append(head, c.ID, c.ID+" less first", c.ID+" best")
	}
	if err := w.Write(head); err != nil {
		return err
	}
	for i := range t.Rows {
		if err := w.Write(csvRow(&t.Rows[i])); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func csvRow(r *search.Row) []string {
	out := []string{r.Key, r.Of, r.Label, r.Unit}
	for _, c := range r.Cells {
		if !c.Has {
			out = append(out, "", "", "")
			continue
		}
		diff, best := "", ""
		if r.Cells[0].Has {
			diff = strconv.FormatFloat(c.Diff, 'g', -1, 64)
		}
		if c.Best {
			best = "best"
		}
		out = append(out, strconv.FormatFloat(c.Value, 'g', -1, 64), diff, best)
	}
	return out
}

// tableJSON is a table with the names that its JSON has.
func tableJSON(t *search.Table) map[string]any {
	columns, rows, findings, more := []any{}, []any{}, []any{}, []any{}
	for _, c := range t.Columns {
		columns = append(columns, map[string]any{"id": c.ID, "name": c.Name, "plan": c.Plan, "findings": c.Counts})
	}
	for i := range t.Rows {
		rows = append(rows, rowJSON(&t.Rows[i]))
	}
	for _, f := range t.Findings {
		findings = append(findings, map[string]any{"rule": f.Rule, "subject": f.Subject, "severities": f.Severities, "texts": f.Texts, "change": f.Change})
	}
	for _, s := range t.Sensitivities {
		more = append(more, map[string]any{"arrangement": t.Columns[s.Arrangement].ID, "box": s.Box, "module": s.Module, "front_axle_kg": s.FrontKg,
			"rear_axle_kg": s.RearKg, "front_share_points": s.FrontPoints, "side_points": s.SidePoints, "height_mm": s.HeightMM, "energy_kwh": s.EnergyKWh, "text": s.Text})
	}
	return map[string]any{"arrangements": columns, "readings": rows, "findings": findings, "one_more_module": more, "caution": report.Caution}
}

func rowJSON(r *search.Row) map[string]any {
	cells := []any{}
	for _, c := range r.Cells {
		if !c.Has {
			cells = append(cells, nil)
			continue
		}
		m := map[string]any{"value": c.Value, "basis": c.Basis}
		if c.PlusMinus > 0 {
			m["plus_minus"] = c.PlusMinus
		}
		if r.Cells[0].Has {
			m["difference"] = c.Diff
		}
		if c.Best {
			m["best"] = true
		}
		cells = append(cells, m)
	}
	way := map[search.Better]string{search.More: "more", search.Less: "less", search.NearZero: "near zero"}[r.Better]
	return map[string]any{"key": r.Key, "of": r.Of, "label": strings.TrimSpace(r.Label), "unit": r.Unit, "better": way, "values": cells}
}
