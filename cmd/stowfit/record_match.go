package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/report"
)

// matchOptions are the flags of stowfit record match.
type matchOptions struct {
	pick      chosen
	out       string
	date, by  string
	rearrange bool
	asJSON    bool
}

func recordMatch() *cobra.Command {
	var o matchOptions
	cmd := &cobra.Command{
		Use:   "match PLAN",
		Short: "Propose which received module goes into which slot",
		Long: "match brings modules of like capacity and resistance together in each string and proposes a slot for each.\n" +
			"-o writes the plan with the proposal at the end of its register. Slots that are filled already stay as they are, unless\n" +
			"--rearrange appends a later entry for them.",
		Args: onePlan,
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0]) },
	}
	o.pick.flag(cmd)
	f := cmd.Flags()
	f.StringVarP(&o.out, "output", "o", "", "write the plan with the proposal appended here")
	f.StringVar(&o.date, "date", "", "date of the entries")
	f.StringVar(&o.by, "by", "", "who puts the modules in")
	f.BoolVar(&o.rearrange, "rearrange", false, "also append entries for slots that are filled with another module")
	f.BoolVar(&o.asJSON, "json", false, "write JSON")
	return cmd
}

func (o *matchOptions) run(cmd *cobra.Command, path string) error {
	p, es, err := chosenOf(path, o.pick)
	if err != nil {
		return err
	}
	if len(es) != 1 {
		return fmt.Errorf("the plan has the arrangements %s; a module goes into one of them: say which with --arrangement", strings.Join(arrangementIDs(p), ", "))
	}
	m, err := assembly.Match(es[0].Assembly.Model)
	if err != nil {
		return fmt.Errorf("nothing to match: %w", err)
	}
	if len(m.Slots) == 0 {
		return fmt.Errorf("arrangement %s has no string of modules: there is no slot to match to", es[0].Arrangement.ID)
	}
	if o.out != "" {
		if err := o.write(p, m); err != nil {
			return err
		}
	}
	if o.asJSON {
		return printJSON(cmd, matchingJSON(es[0], m))
	}
	return printMatching(cmd.OutOrStdout(), es[0], m)
}

// write appends the slots that the register does not have as proposed.
func (o *matchOptions) write(p *layout.Plan, m *assembly.Matching) error {
	var more []layout.Slot
	filled := 0
	now := assembly.Register(p.Build, m.Slots[0].Arrangement)
	for _, s := range m.Slots {
		have, is := now[s.Slot]
		if is && have.Shop == s.Shop {
			continue
		}
		if is {
			filled++
			s.Reason = "matched anew; held " + have.Shop + " before"
		}
		s.Date, s.By = o.date, o.by
		more = append(more, s)
	}
	if filled > 0 && !o.rearrange {
		return fmt.Errorf("%s filled with another module than proposed; --rearrange appends a later entry for them. Nothing is written", howMany(filled, "slot"))
	}
	return appendTo(p, layout.Build{Slots: more}, o.out)
}

func printMatching(out io.Writer, e *check.Evaluation, m *assembly.Matching) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "slot\tshop number")
	for _, s := range m.Slots {
		fmt.Fprintf(w, "%s\t%s\n", s.Slot, s.Shop)
	}
	fmt.Fprintln(w, "\nstring\tleast Ah\tmost Ah\tleast mohm\tmost mohm\tsum mohm")
	for _, g := range m.Groups {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", g.String, measured(g.LeastAh), measured(g.MostAh), measured(g.LeastMilliOhm), measured(g.MostMilliOhm), measured(g.SumMilliOhm))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(out, "\n%s: %s.\n", e.Arrangement.ID, proofWords(m))
	if m.Blind > 0 {
		fmt.Fprintf(out, "%s with neither capacity nor resistance measured: counted as the mean.\n", howMany(m.Blind, "module"))
	}
	if len(m.Spare) > 0 {
		fmt.Fprintf(out, "Left over: %s.\n", strings.Join(m.Spare, ", "))
	}
	_, err := fmt.Fprintln(out, "\n"+report.Caution)
	return err
}

func measured(v float64) string {
	if v == 0 {
		return "not measured"
	}
	return rounded(v)
}

func proofWords(m *assembly.Matching) string {
	if m.Proved() {
		return fmt.Sprintf("squared deviations from the strings' means %.4g, and no other assignment to these means has less", m.Cost)
	}
	return fmt.Sprintf("squared deviations from the strings' means %.4g; no assignment to these means has less than %.4g", m.Cost, m.Bound)
}

func matchingJSON(e *check.Evaluation, m *assembly.Matching) map[string]any {
	slots, groups := []any{}, []any{}
	for _, s := range m.Slots {
		slots = append(slots, map[string]any{"slot": s.Slot, "shop_number": s.Shop})
	}
	for _, g := range m.Groups {
		groups = append(groups, map[string]any{"string": g.String, "least_ah": g.LeastAh, "most_ah": g.MostAh,
			"least_milliohm": g.LeastMilliOhm, "most_milliohm": g.MostMilliOhm, "sum_milliohm": g.SumMilliOhm})
	}
	return map[string]any{"arrangement": e.Arrangement.ID, "slots": slots, "strings": groups, "left_over": append([]string{}, m.Spare...),
		"not_measured": m.Blind, "cost": m.Cost, "bound": m.Bound, "proved": m.Proved(), "caution": report.Caution}
}
