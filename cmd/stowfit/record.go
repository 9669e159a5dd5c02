package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/report"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

func recordCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "record",
		Short: "Keep the build record: received modules, their inspection, matching and slots",
		Long: "record keeps the build record of a plan: which modules were received, what their inspection says, and which sits in which slot.\n" +
			"Entries are appended; nothing in the record is ever overwritten, and the plan given is left as it is: -o writes another one.",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return fmt.Errorf("there is no command \"record %s\"; 'stowfit record --help' lists them", args[0])
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(recordImport(), recordInspect(), recordMatch(), recordRegister(), recordExport())
	return cmd
}

func recordImport() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "import PLAN CSV",
		Short: "Append received modules from a CSV file to the build record",
		Long: "import appends the modules of a CSV file to the build record. Its head line names the columns, in any order: shop_number and module\n" +
			"are needed; serial, date, by, cells_v (voltages with blanks between), milliohm, capacity_ah, note and refused (yes or no) may be left out.",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("which plan and which CSV file? 'stowfit record import PLAN CSV -o PLAN2'")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return importInto(cmd, args[0], args[1], out) },
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "write the plan with the modules here (needed)")
	return cmd
}

func importInto(cmd *cobra.Command, plan, table, out string) error {
	if out == "" {
		return fmt.Errorf("where to? -o PLAN2 names the plan to write")
	}
	p, err := layout.LoadOver(plan, vehicles.Catalogue())
	if err != nil {
		return err
	}
	data, err := readTable(table)
	if err != nil {
		return err
	}
	rs, err := assembly.ImportReceived(filepath.ToSlash(table), data, p.Build)
	if err != nil {
		return err
	}
	if err := appendTo(p, layout.Build{Received: rs}, out); err != nil {
		return err
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s appended to the build record.\n", howMany(len(rs), "module"))
	return err
}

// readTable reads a file no larger than a plan may be.
func readTable(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, layout.Explain("open", path, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, record.MaxBytes+1))
	if err != nil {
		return nil, layout.Explain("read", path, err)
	}
	if len(data) > record.MaxBytes {
		return nil, fmt.Errorf("%s: the file is too large; up to %d bytes are read", path, record.MaxBytes)
	}
	return data, nil
}

// appendTo writes a plan with more entries at the end of its build record.
func appendTo(p *layout.Plan, more layout.Build, out string) error {
	q, err := (&layout.Append{Entries: more}).Apply(p)
	if err != nil {
		return err
	}
	return layout.Save(out, q)
}

func howMany(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// chosenOf loads a plan and evaluates the arrangements chosen.
func chosenOf(path string, pick chosen) (*layout.Plan, []*check.Evaluation, error) {
	p, err := layout.LoadOver(path, vehicles.Catalogue())
	if err != nil {
		return nil, nil, err
	}
	as, err := pick.of(p)
	if err != nil {
		return nil, nil, err
	}
	return p, evaluate(p, as), nil
}

func recordInspect() *cobra.Command {
	var pick chosen
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "inspect PLAN",
		Short: "List what the incoming inspection and the register say against limits and spread",
		Args:  onePlan,
		RunE: func(cmd *cobra.Command, args []string) error {
			p, es, err := chosenOf(args[0], pick)
			if err != nil {
				return err
			}
			if asJSON {
				err = printJSON(cmd, inspectionJSON(p, es))
			} else {
				err = printInspection(cmd.OutOrStdout(), p, es)
			}
			if err != nil {
				return err
			}
			return inspectionVerdict(es)
		},
	}
	pick.flag(cmd)
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return cmd
}

func inspectionVerdict(es []*check.Evaluation) error {
	for _, e := range es {
		for _, r := range assembly.Inspect(e.Scene) {
			if r.Grade == string(check.Fails) {
				return errFindings
			}
		}
	}
	return nil
}

func printInspection(out io.Writer, p *layout.Plan, es []*check.Evaluation) error {
	fmt.Fprintf(out, "%s received, %d refused.\n", howMany(len(receivedOf(p)), "module"), refusedOf(p))
	for _, e := range es {
		fmt.Fprintf(out, "\n%s: %d of %s filled\n", e.Arrangement.ID, len(assembly.Register(p.Build, e.Arrangement.ID)), howMany(e.Scene.Count(), "slot"))
		rs := assembly.Inspect(e.Scene)
		for _, r := range rs {
			fmt.Fprintf(out, "  %s %s: %s (%s)\n", r.Grade, r.Of, r.Text, r.Source)
		}
		if len(rs) == 0 {
			fmt.Fprintln(out, "  nothing stands out")
		}
	}
	_, err := fmt.Fprintln(out, "\n"+report.Caution)
	return err
}

func receivedOf(p *layout.Plan) []layout.Received {
	if p.Build == nil {
		return nil
	}
	return p.Build.Received
}

func refusedOf(p *layout.Plan) int {
	n := 0
	for _, r := range receivedOf(p) {
		if r.Refused {
			n++
		}
	}
	return n
}

func inspectionJSON(p *layout.Plan, es []*check.Evaluation) map[string]any {
	list := []any{}
	for _, e := range es {
		remarks := []any{}
		for _, r := range assembly.Inspect(e.Scene) {
			remarks = append(remarks, map[string]any{"severity": r.Grade, "subject": r.Of, "required": r.Required, "actual": r.Actual,
				"compare": r.Compare, "unit": r.Unit, "text": r.Text, "source": r.Source})
		}
		list = append(list, map[string]any{"arrangement": e.Arrangement.ID, "slots": e.Scene.Count(),
			"filled": len(assembly.Register(p.Build, e.Arrangement.ID)), "findings": remarks})
	}
	return map[string]any{"received": len(receivedOf(p)), "refused": refusedOf(p), "arrangements": list, "caution": report.Caution}
}

func recordExport() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "export PLAN",
		Short: "Write the received modules of the build record as CSV, as import reads it",
		Args:  onePlan,
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := layout.LoadOver(args[0], vehicles.Catalogue())
			if err != nil {
				return err
			}
			data, err := assembly.ExportReceived(receivedOf(p))
			if err != nil {
				return err
			}
			if out != "" {
				return layout.ReplaceFile(out, data)
			}
			_, err = io.Copy(cmd.OutOrStdout(), strings.NewReader(string(data)))
			return err
		},
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "write the CSV here instead of to the screen")
	return cmd
}
