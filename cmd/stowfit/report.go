package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/report"
	"stowbay/layout/report/page"
	"stowbay/vehicles"
)

// reportOptions are the flags of stowfit report.
type reportOptions struct {
	pick       chosen
	out, paper string
	units      string
	only       []string
	quiet      bool
	asJSON     bool
}

func reportCommand() *cobra.Command {
	var o reportOptions
	cmd := &cobra.Command{
		Use:   "report PLAN",
		Short: "Write the fit report as a PDF, or with drawings and tables into a folder",
		Long: "report computes the arrangements of a plan as they stand and writes the fit report.\n" +
			"An output that ends in .pdf is the report alone; any other is a folder for the report, the plan, drawings as SVG and DXF, flat patterns, tables as CSV and readings as JSON.\n\n" +
			"Sections for --only:\n" + sectionLines(),
		Args: onePlan,
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0]) },
	}
	o.pick.flag(cmd)
	f := cmd.Flags()
	f.StringVarP(&o.out, "output", "o", "", "file ending in .pdf, or folder, to write; needed")
	f.StringSliceVar(&o.only, "only", nil, "only these sections, separated by commas")
	f.StringVar(&o.paper, "paper", "a4", "a4 or letter")
	f.StringVar(&o.units, "units", "", "mm_kg or in_lb; default: the plan's")
	f.BoolVarP(&o.quiet, "quiet", "q", false, "do not list the files written")
	f.BoolVar(&o.asJSON, "json", false, "write readings and findings as JSON instead of the list of files")
	return cmd
}

func sectionLines() string {
	var b strings.Builder
	for _, s := range report.SectionList() {
		fmt.Fprintf(&b, "  %-12s %s\n", s.Key, s.Title)
	}
	return b.String()
}

func (o *reportOptions) run(cmd *cobra.Command, path string) error {
	if o.out == "" {
		return errors.New("where to? give --output a file ending in .pdf, or a folder")
	}
	opts := report.Options{Paper: page.Paper(o.paper), Units: o.units, Sections: o.only}
	if err := opts.Check(); err != nil {
		return err
	}
	p, err := layout.LoadOver(path, vehicles.Catalogue())
	if err != nil {
		return err
	}
	if opts.Source, err = os.ReadFile(path); err != nil {
		return err
	}
	as, err := o.pick.of(p)
	if err != nil {
		return err
	}
	es := evaluate(p, as)
	if err := o.write(cmd, p, es, opts); err != nil {
		return err
	}
	if o.asJSON {
		if err := show(cmd, es, true, false); err != nil {
			return err
		}
	}
	return verdict(es)
}

func (o *reportOptions) write(cmd *cobra.Command, p *layout.Plan, es []*check.Evaluation, opts report.Options) error {
	files := []string{filepath.Base(o.out)}
	if strings.EqualFold(filepath.Ext(o.out), ".pdf") {
		b, err := report.PDF(p, es, opts)
		if err != nil {
			return err
		}
		if err := report.WriteFile(o.out, b); err != nil {
			return err
		}
	} else {
		var err error
		if files, err = report.WriteAll(cmd.Context(), o.out, p, es, opts); err != nil {
			return err
		}
	}
	if !o.quiet && !o.asJSON {
		for _, f := range report.Listing(files) {
			fmt.Fprintln(cmd.OutOrStdout(), f)
		}
	}
	return nil
}
