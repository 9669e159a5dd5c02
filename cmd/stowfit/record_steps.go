package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/report"
)

// stepsOptions are the flags of stowfit steps.
type stepsOptions struct {
	pick             chosen
	service, replace string
	asJSON           bool
}

// written is an arrangement's sequence.
type written struct {
	e *check.Evaluation
	q *assembly.Sequence
}

func stepsCommand() *cobra.Command {
	var o stepsOptions
	cmd := &cobra.Command{
		Use:   "steps PLAN",
		Short: "Print the order of assembly with what is bare at each step",
		Long: "steps works out in which order the pack is put together with the fewest hazardous steps, and prints for each step what is bare, the highest\n" +
			"voltage, the current that a dropped tool would carry, gloves and tools. --service is the way to take a box out, --replace a module.",
		Args: onePlan,
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0]) },
	}
	o.pick.flag(cmd)
	f := cmd.Flags()
	f.StringVar(&o.service, "service", "", "the way to take this box out of the vehicle")
	f.StringVar(&o.replace, "replace", "", "the way to replace this module (box/module)")
	f.BoolVar(&o.asJSON, "json", false, "write JSON")
	cmd.MarkFlagsMutuallyExclusive("service", "replace")
	return cmd
}

func (o *stepsOptions) run(cmd *cobra.Command, path string) error {
	_, es, err := chosenOf(path, o.pick)
	if err != nil {
		return err
	}
	list, err := o.sequences(cmd.Context(), es)
	if err != nil {
		return err
	}
	if o.asJSON {
		return printJSON(cmd, stepsJSON(list))
	}
	return printSteps(cmd.OutOrStdout(), list)
}

// sequences are those of the arrangements; a box or module asked for has to be in one of them at least.
func (o *stepsOptions) sequences(ctx context.Context, es []*check.Evaluation) ([]written, error) {
	var out []written
	var errs []error
	for _, e := range es {
		q, err := o.sequence(ctx, e.Assembly.Model)
		if err != nil {
			errs = append(errs, fmt.Errorf("arrangement %s: %w", e.Arrangement.ID, err))
			continue
		}
		out = append(out, written{e, q})
	}
	if len(out) == 0 || ctx.Err() != nil {
		return nil, errors.Join(errs...)
	}
	return out, nil
}

func (o *stepsOptions) sequence(ctx context.Context, m *assembly.Model) (*assembly.Sequence, error) {
	switch {
	case o.service != "":
		return assembly.TakeBoxOut(ctx, m, o.service)
	case o.replace != "":
		return assembly.Replace(ctx, m, o.replace)
	}
	return assembly.Plan(ctx, m)
}

func printSteps(out io.Writer, list []written) error {
	for i, x := range list {
		if i > 0 {
			fmt.Fprintln(out)
		}
		printSequence(out, x)
	}
	_, err := fmt.Fprintln(out, "\n"+report.Caution)
	return err
}

func printSequence(out io.Writer, x written) {
	q := x.q
	fmt.Fprintf(out, "%s: %s\n", x.e.Arrangement.ID, q.Title)
	fmt.Fprintf(out, "%s, %d of them hazardous (no order has fewer than %d), highest bare voltage %.0f V, %s (no fewer than %d)\n%s\n",
		howMany(len(q.Steps), "step"), q.HazardSteps, q.LeastSteps, q.HighestV, howMany(q.CoverChanges, "cover change"), q.LeastCovers, q.How)
	for _, j := range q.Jobs {
		fmt.Fprintln(out, "\n"+j.Title)
		for i := j.From; i < j.To; i++ {
			printStep(out, i+1, &q.Steps[i])
		}
	}
}

func printStep(out io.Writer, n int, s *assembly.Step) {
	fmt.Fprintf(out, "%4d  %s\n", n, s.Text)
	if len(s.Bare) == 0 {
		fmt.Fprintf(out, "      nothing bare; circuit %.0f V, class %s\n", s.CircuitV, s.Class)
		return
	}
	hazard := map[bool]string{true: "HAZARD: "}[s.Hazard]
	fmt.Fprintf(out, "      %sbare %s; highest %.0f V, circuit %.0f V, class %s\n", hazard, strings.Join(bareIDs(s), ", "), s.HighestV, s.CircuitV, s.Class)
	if r := s.WithinReach; r != nil {
		fmt.Fprintf(out, "      a dropped tool can bridge %s and %s: %.0f V, %.0f mm%s\n", r.A, r.B, r.V, r.DistanceMM, ampWords(s.CurrentA))
	}
	fmt.Fprintf(out, "      %s; tools: %s\n", s.Gloves, s.Tools)
}

func bareIDs(s *assembly.Step) []string {
	out := make([]string, len(s.Bare))
	for i, b := range s.Bare {
		out[i] = b.ID
	}
	return out
}

func ampWords(a float64) string {
	if a <= 0 {
		return ", current not known"
	}
	return fmt.Sprintf(", up to about %.1f kA", a/1000)
}

// stepsJSON is one object for one arrangement, a list for several.
func stepsJSON(list []written) any {
	out := make([]any, len(list))
	for i, x := range list {
		out[i] = sequenceJSON(x)
	}
	if len(out) == 1 {
		return out[0]
	}
	return out
}

func sequenceJSON(x written) map[string]any {
	steps := []any{}
	for i := range x.q.Steps {
		steps = append(steps, stepJSON(x.q, &x.q.Steps[i], i+1))
	}
	q := x.q
	return map[string]any{"arrangement": x.e.Arrangement.ID, "title": q.Title, "steps": steps, "hazardous_steps": q.HazardSteps, "least_hazardous_steps": q.LeastSteps,
		"highest_v": q.HighestV, "cover_changes": q.CoverChanges, "least_cover_changes": q.LeastCovers, "proved": q.Proved, "how": q.How, "caution": report.Caution}
}

func stepJSON(q *assembly.Sequence, s *assembly.Step, n int) map[string]any {
	bare := []any{}
	for _, b := range s.Bare {
		bare = append(bare, map[string]any{"id": b.ID, "worst_v": b.WorstV})
	}
	out := map[string]any{"number": n, "job": q.Jobs[s.Job].Title, "kind": string(s.Kind), "box": s.Box, "text": s.Text, "bare": bare, "circuit_v": s.CircuitV,
		"highest_v": s.HighestV, "class": s.Class, "hazardous": s.Hazard, "gloves": s.Gloves, "tools": s.Tools}
	if r := s.WithinReach; r != nil {
		out["within_reach"] = map[string]any{"a": r.A, "b": r.B, "distance_mm": r.DistanceMM, "v": r.V, "current_a": s.CurrentA}
	}
	return out
}
