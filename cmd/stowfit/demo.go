package main

import (
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"stowbay/layout/demo"
	"stowbay/layout/fill"
	"stowbay/layout/packing"
	"stowbay/layout/report"
)

func demoCommand() *cobra.Command {
	var dir string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Pack, check and report the demonstration plan",
		Long:  "demo takes the plan that the program carries, packs it, checks it and writes the fit report, the plan, drawings and readings into a folder.",
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return runDemo(cmd, dir, asJSON) },
	}
	cmd.Flags().StringVarP(&dir, "output", "o", "stowbay-demo", "folder to write into")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write readings and findings as JSON instead of the summary")
	return cmd
}

// runDemo does the main job from end to end. Failing findings are part of what the demonstration shows, so that
// they do not make it fail.
func runDemo(cmd *cobra.Command, dir string, asJSON bool) error {
	p, err := demo.Plan()
	if err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	say := out
	if asJSON {
		say = io.Discard
	}
	fmt.Fprintf(say, "%s\n%s\n\n", p.Name, p.Note)
	w := fill.Wish{Goal: packing.Goal{Low: true, Rearward: true, Rows: true}, Limit: 10 * time.Second}
	p, as, err := packAll(cmd, p, p.Arrangements, w, asJSON)
	if err != nil {
		return err
	}
	fmt.Fprintln(say)
	es := evaluate(p, as)
	if err := show(cmd, es, asJSON, false); err != nil {
		return err
	}
	files, err := report.WriteAll(cmd.Context(), dir, p, es, report.Options{})
	if err != nil {
		return err
	}
	fmt.Fprintf(say, "\nWritten to %s:\n", dir)
	for _, f := range report.Listing(files) {
		fmt.Fprintln(say, "  "+f)
	}
	return nil
}
