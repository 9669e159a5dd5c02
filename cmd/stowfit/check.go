package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/report"
	"stowbay/vehicles"
)

func checkCommand() *cobra.Command {
	var pick chosen
	var asJSON, all bool
	cmd := &cobra.Command{
		Use:   "check PLAN",
		Short: "Compute an arrangement and list what does not hold",
		Args:  onePlan,
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := layout.LoadOver(args[0], vehicles.Catalogue())
			if err != nil {
				return err
			}
			as, err := pick.of(p)
			if err != nil {
				return err
			}
			es := evaluate(p, as)
			if err := show(cmd, es, asJSON, all); err != nil {
				return err
			}
			return verdict(es)
		},
	}
	pick.flag(cmd)
	cmd.Flags().BoolVar(&asJSON, "json", false, "write readings and findings as JSON")
	cmd.Flags().BoolVar(&all, "all", false, "list every finding, also notes and what holds, with source")
	return cmd
}

// show prints evaluations as JSON or as a summary.
func show(cmd *cobra.Command, es []*check.Evaluation, asJSON, all bool) error {
	if asJSON {
		b, err := report.JSON(es...)
		if err == nil {
			_, err = cmd.OutOrStdout().Write(b)
		}
		return err
	}
	for i, e := range es {
		if i > 0 {
			fmt.Fprintln(cmd.OutOrStdout())
		}
		fmt.Fprint(cmd.OutOrStdout(), report.Summary(e))
		if all {
			fmt.Fprint(cmd.OutOrStdout(), report.FindingLines(e))
		}
	}
	fmt.Fprintln(cmd.OutOrStdout(), "\n"+report.Caution)
	return nil
}
