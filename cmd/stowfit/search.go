package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/report"
	"stowbay/layout/search"
	"stowbay/vehicles"
)

// searchOptions are the flags of stowfit search.
type searchOptions struct {
	pick       chosen
	modules    []string
	weights    []string
	objectives []string
	minKWh     float64
	strict     bool
	limit      time.Duration
	top        int
	open       []int
	out        string
	asJSON     bool
}

func searchCommand() *cobra.Command {
	var o searchOptions
	cmd := &cobra.Command{
		Use:   "search PLAN",
		Short: "Search the whole vehicle for the arrangements that no other one beats",
		Long: "search goes through module types, postures, series and parallel counts, modules in each box, in which posture and where they are pushed, and lists every arrangement that no other one beats in all objectives at once, ranked by weights.\n" +
			"It says which limit keeps out what. Distances of live parts that depend on the order of the strings, sag, protection and coolant are checked on the arrangements opened with --open.\n\n" +
			"Objectives: " + strings.Join(objectiveKeys(), ", "),
		Args: onePlan,
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0]) },
	}
	o.pick.flag(cmd)
	f := cmd.Flags()
	f.StringSliceVarP(&o.modules, "module", "m", nil, "module types; default: the plan's search settings, or those used in it")
	f.StringSliceVar(&o.objectives, "objectives", nil, "only these objectives")
	f.StringSliceVarP(&o.weights, "weights", "w", nil, "weights of the ranking, as energy_kwh=3,mass_kg=1; default: all alike")
	f.Float64Var(&o.minKWh, "energy", 0, "least energy in kWh; default: the plan's")
	f.BoolVar(&o.strict, "strict", false, "leave out what would warn of front split, side, height or stability")
	f.DurationVar(&o.limit, "limit", 2*time.Second, "time limit for packing a box with a module type")
	f.IntVarP(&o.top, "top", "n", 20, "how many to list; 0: all")
	f.IntSliceVar(&o.open, "open", nil, "add the arrangements with these ranks to the plan and check them")
	f.StringVarP(&o.out, "output", "o", "", "write the plan with the arrangements opened here")
	f.BoolVar(&o.asJSON, "json", false, "write JSON")
	return cmd
}

func objectiveKeys() []string {
	var out []string
	for _, o := range search.Objectives() {
		out = append(out, o.Key())
	}
	return out
}

func (o *searchOptions) run(cmd *cobra.Command, path string) error {
	p, err := layout.LoadOver(path, vehicles.Catalogue())
	if err != nil {
		return err
	}
	weights, err := weightsOf(o.weights)
	if err != nil {
		return err
	}
	as, err := o.pick.of(p)
	if err != nil {
		return err
	}
	options := search.Options{Modules: o.modules, MinEnergyKWh: o.minKWh, Strict: o.strict, PackLimit: o.limit}
	if options.Objectives, err = objectivesOf(o.objectives); err != nil {
		return err
	}
	r, err := o.search(cmd.Context(), p, as[0], options)
	if err != nil {
		return err
	}
	order := r.Rank(weights)
	if o.asJSON {
		if err := printJSON(cmd, foundJSON(p, as[0], &r, o.first(order))); err != nil {
			return err
		}
	} else if err := o.print(cmd.OutOrStdout(), p, as[0], &r, order); err != nil {
		return err
	}
	return o.opened(cmd, p, &r, order)
}

func (o *searchOptions) search(ctx context.Context, p *layout.Plan, a *layout.Arrangement, options search.Options) (search.Result, error) {
	return search.Run(ctx, p, a, library(p), options, nil)
}

func objectivesOf(keys []string) ([]search.Objective, error) {
	var out []search.Objective
	for _, k := range keys {
		o, ok := search.ObjectiveOf(k)
		if !ok {
			return nil, fmt.Errorf("--objectives: %q is none of %s", k, strings.Join(objectiveKeys(), ", "))
		}
		out = append(out, o)
	}
	return out, nil
}

func weightsOf(list []string) (search.Weights, error) {
	w := search.Weights{}
	for _, s := range list {
		key, value, _ := strings.Cut(s, "=")
		o, ok := search.ObjectiveOf(key)
		v, err := strconv.ParseFloat(value, 64)
		if !ok || err != nil || v < 0 {
			return nil, fmt.Errorf("--weights: %q is not KEY=NUMBER with a key of %s and a number of 0 or more", s, strings.Join(objectiveKeys(), ", "))
		}
		w[o] = v
	}
	return w, nil
}

func (o *searchOptions) first(order []int) []int {
	if o.top > 0 {
		return order[:min(o.top, len(order))]
	}
	return order
}

func (o *searchOptions) print(out io.Writer, p *layout.Plan, a *layout.Arrangement, r *search.Result, order []int) error {
	fmt.Fprintf(out, "%s, %s: %d arrangements that no other one beats.\n%s\n", p.Name, a.Name, len(r.Found), searchWords(r))
	for _, s := range r.Remarks {
		fmt.Fprintln(out, "  "+s)
	}
	fmt.Fprintln(out)
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprint(w, "rank\tarrangement")
	for _, k := range r.Objectives {
		fmt.Fprintf(w, "\t%s", k.Key())
	}
	fmt.Fprintln(w)
	for n, i := range o.first(order) {
		fmt.Fprintf(w, "%d\t%s", n+1, r.Found[i].Name())
		for _, k := range r.Objectives {
			fmt.Fprintf(w, "\t%s", rounded(r.Found[i].Values[k]))
		}
		fmt.Fprintln(w)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(out, "\nLeft out:")
	for _, e := range r.Excluded {
		fmt.Fprintf(out, "  %s: %s\n", e.Limit, e.Text)
	}
	fmt.Fprintln(out, "\n"+report.Caution)
	return nil
}

// searchWords says how much was gone through and what that proves.
func searchWords(r *search.Result) string {
	t := r.Tally
	s := fmt.Sprintf("Of %.0f arrangements %.0f were looked at one by one, %.0f cut off by limits and %.0f by bounds", t.All, t.Looked, t.Limited, t.Beaten)
	switch {
	case r.Stopped:
		return s + "; stopped before the end."
	case r.Complete:
		return s + ". The set is complete for this choice and the resolution stated."
	}
	return s + ". The set is complete for the packings found; not every packing is proved."
}

func foundJSON(p *layout.Plan, a *layout.Arrangement, r *search.Result, order []int) map[string]any {
	found := []any{}
	for n, i := range order {
		f := &r.Found[i]
		values := map[string]float64{}
		for _, k := range r.Objectives {
			values[k.Key()] = f.Values[k]
		}
		boxes := []any{}
		for _, b := range f.Boxes {
			boxes = append(boxes, map[string]any{"box": b.Box, "modules": b.Modules, "most": b.Most, "posture": string(b.Posture), "push": string(b.Push)})
		}
		found = append(found, map[string]any{"rank": n + 1, "name": f.Name(), "module": f.Module.ID, "series": f.Series, "parallel": f.Parallel,
			"boxes": boxes, "order": f.Order, "values": values})
	}
	excluded := []any{}
	for _, e := range r.Excluded {
		excluded = append(excluded, map[string]any{"module": e.Module, "posture": string(e.Posture), "series": e.Series, "parallel": e.Parallel, "box": e.Box, "push": string(e.Push), "counts": append([]int{}, e.Counts...), "limit": string(e.Limit),
			"actual": e.Actual, "required": e.Need, "unit": e.Unit, "arrangements": e.Arrangements, "all": e.All, "text": e.Text})
	}
	steps := map[string]float64{}
	for _, k := range r.Objectives {
		steps[k.Key()] = r.Resolution[k]
	}
	t := r.Tally
	return map[string]any{"plan": p.Name, "arrangement": a.ID, "count": len(r.Found), "found": found, "excluded": excluded, "resolution": steps, "front_target_pct": r.TargetPct,
		"complete": r.Complete, "stopped": r.Stopped, "remarks": append([]string{}, r.Remarks...),
		"gone_through": map[string]float64{"all": t.All, "looked_at": t.Looked, "cut_by_limits": t.Limited, "cut_by_bounds": t.Beaten}, "caution": report.Caution}
}

// opened adds the arrangements asked for to the plan, writes it and shows what the checks say of them.
func (o *searchOptions) opened(cmd *cobra.Command, p *layout.Plan, r *search.Result, order []int) error {
	if len(o.open) == 0 {
		return nil
	}
	out := *p
	out.Arrangements = slices.Clone(p.Arrangements)
	var es []*check.Evaluation
	for _, n := range o.open {
		if n < 1 || n > len(order) {
			return fmt.Errorf("--open: there is no rank %d; there are %d", n, len(order))
		}
		a := r.Open(order[n-1])
		out.Arrangements = append(out.Arrangements, a)
		es = append(es, evaluate(p, []*layout.Arrangement{a})...)
	}
	if o.out != "" {
		if err := layout.Save(o.out, &out); err != nil {
			return err
		}
	}
	if o.asJSON {
		return verdict(es)
	}
	fmt.Fprintln(cmd.OutOrStdout())
	if err := show(cmd, es, false, false); err != nil {
		return err
	}
	return verdict(es)
}
