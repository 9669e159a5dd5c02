package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
)

var registerColumns = []string{"arrangement", "slot", "module", "shop_number", "serial", "date", "by", "reason"}

func recordRegister() *cobra.Command {
	var pick chosen
	var asCSV, asJSON bool
	cmd := &cobra.Command{
		Use:   "register PLAN",
		Short: "Print which received module sits in which slot",
		Args:  onePlan,
		RunE: func(cmd *cobra.Command, args []string) error {
			p, es, err := chosenOf(args[0], pick)
			if err != nil {
				return err
			}
			rows := registerRows(p, es)
			switch {
			case asJSON:
				return printJSON(cmd, registerJSON(rows))
			case asCSV:
				w := csv.NewWriter(cmd.OutOrStdout())
				w.UseCRLF = true
				return w.WriteAll(append([][]string{registerColumns}, rows...))
			}
			return printRegister(cmd.OutOrStdout(), rows)
		},
	}
	pick.flag(cmd)
	cmd.Flags().BoolVar(&asCSV, "csv", false, "write CSV")
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	cmd.MarkFlagsMutuallyExclusive("csv", "json")
	return cmd
}

// registerRows has a row for every slot of the arrangements, also for those that are empty.
func registerRows(p *layout.Plan, es []*check.Evaluation) [][]string {
	serial := map[string]string{}
	for _, r := range receivedOf(p) {
		serial[r.Shop] = r.Serial
	}
	var out [][]string
	for _, e := range es {
		in := assembly.Register(p.Build, e.Arrangement.ID)
		e.Scene.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
			s := in[m.ID]
			out = append(out, []string{e.Arrangement.ID, m.ID, m.Placement.Module, s.Shop, serial[s.Shop], s.Date, s.By, s.Reason})
		})
	}
	return out
}

func printRegister(out io.Writer, rows [][]string) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, r := range append([][]string{registerColumns}, rows...) {
		for i, s := range r {
			if s == "" {
				s = "-"
			}
			fmt.Fprint(w, map[bool]string{true: "\t"}[i > 0]+s)
		}
		fmt.Fprintln(w)
	}
	return w.Flush()
}

func registerJSON(rows [][]string) []map[string]string {
	out := []map[string]string{}
	for _, r := range rows {
		m := map[string]string{}
		for i, s := range r {
			m[registerColumns[i]] = s
		}
		out = append(out, m)
	}
	return out
}
