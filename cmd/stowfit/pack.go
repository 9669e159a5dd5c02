package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/fill"
	"stowbay/layout/packing"
	"stowbay/layout/packing/problemfile"
	"stowbay/layout/report"
	"stowbay/vehicles"
)

// packOptions are the flags of stowfit pack.
type packOptions struct {
	pick              chosen
	module            string
	goals             []string
	limit             time.Duration
	out               string
	asJSON            bool
	problem, problems string
}

func packCommand() *cobra.Command {
	var o packOptions
	cmd := &cobra.Command{
		Use:   "pack PLAN",
		Short: "Pack modules into every bay of an arrangement, with a proof where no more fit",
		Long: "pack puts a box into every bay that has none, packs the most modules into every box and says of each whether one more is proved impossible.\n" +
			"A bay in which nothing fits gets no box; it is said why. That is no error: the exit code tells of the findings, as for check.\n" +
			"Modules that are locked in the plan stay. The plan is left as it is; -o writes the packed one.\n\n" +
			"With --problem or --problems it solves packing problems outside a plan.",
		Args: planOrNone,
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	o.pick.flag(cmd)
	f := cmd.Flags()
	f.StringVarP(&o.module, "module", "m", "", "module to pack; default: the one used in the plan")
	f.StringSliceVar(&o.goals, "goal", nil, "second goals among the fullest packings: low, forward, rearward, centre, rows, facing, mirror")
	f.DurationVar(&o.limit, "limit", 10*time.Second, "time limit a box")
	f.StringVarP(&o.out, "output", "o", "", "write the packed plan here")
	f.BoolVar(&o.asJSON, "json", false, "write readings and findings as JSON")
	f.StringVar(&o.problem, "problem", "", "solve one free-form problem from a JSON file ('-': standard input)")
	f.StringVar(&o.problems, "problems", "", "solve rectangle problems from a CSV file with columns X,Y,a,b ('-': standard input)")
	return cmd
}

func (o *packOptions) run(cmd *cobra.Command, args []string) error {
	switch {
	case o.problem != "" && o.problems != "" || (o.problem != "" || o.problems != "") && len(args) > 0:
		return errors.New("give one of PLAN, --problem and --problems")
	case o.problems != "":
		return withInput(o.problems, func(in *os.File) error {
			return problemfile.RunCSV(cmd.Context(), in, cmd.OutOrStdout())
		})
	case o.problem != "":
		return withInput(o.problem, func(in *os.File) error {
			return problemfile.RunJSON(cmd.Context(), in, cmd.OutOrStdout())
		})
	case len(args) == 0:
		return errors.New("which plan? 'stowfit pack PLAN', or --problem or --problems FILE")
	}
	return o.plan(cmd, args[0])
}

// withInput opens a problem file, or standard input for "-", and gives the faults found in it the file's name.
func withInput(name string, do func(*os.File) error) error {
	if name == "-" {
		return named("standard input", do(os.Stdin))
	}
	f, err := os.Open(name)
	if err != nil {
		return layout.Explain("open", name, err)
	}
	defer f.Close()
	return named(name, do(f))
}

func named(file string, err error) error {
	var faults problemfile.Errors
	if errors.As(err, &faults) {
		lines := make(problemfile.Errors, len(faults))
		for i, f := range faults {
			lines[i] = file + ":" + f
		}
		return lines
	}
	return layout.Explain("read", file, err)
}

func (o *packOptions) plan(cmd *cobra.Command, path string) error {
	p, err := layout.LoadOver(path, vehicles.Catalogue())
	if err != nil {
		return err
	}
	w, err := o.wish(p)
	if err != nil {
		return err
	}
	as, err := o.pick.of(p)
	if err != nil {
		return err
	}
	if err := o.canWrite(); err != nil {
		return err
	}
	p, as, err = packAll(cmd, p, as, w, o.asJSON)
	if err != nil {
		return err
	}
	if o.out != "" {
		if err := layout.Save(o.out, p); err != nil {
			return err
		}
	}
	es := evaluate(p, as)
	if err := show(cmd, es, o.asJSON, false); err != nil {
		return err
	}
	return verdict(es)
}

// canWrite tells before the packing whether there is a folder to write the packed plan into.
func (o *packOptions) canWrite() error {
	if o.out == "" {
		return nil
	}
	_, err := os.Stat(filepath.Dir(o.out))
	return layout.Explain("save", o.out, err)
}

// wish turns the flags into what is wanted of the packing; without --module its module stays open.
func (o *packOptions) wish(p *layout.Plan) (fill.Wish, error) {
	goal, err := goalOf(o.goals)
	if err != nil {
		return fill.Wish{}, err
	}
	w := fill.Wish{Goal: goal, Limit: o.limit}
	if o.module != "" {
		if w.Module = library(p).Module(o.module); w.Module == nil {
			return w, fmt.Errorf("there is no module %q; 'stowfit modules' lists the catalogue's", o.module)
		}
	}
	return w, nil
}

func goalOf(names []string) (packing.Goal, error) {
	var g packing.Goal
	flags := map[string]*bool{"low": &g.Low, "forward": &g.Forward, "rearward": &g.Rearward, "centre": &g.Centre, "rows": &g.Rows, "facing": &g.FacingTerminals, "mirror": &g.Mirror}
	for _, n := range names {
		f := flags[n]
		if f == nil {
			return g, fmt.Errorf("--goal: %q is none of low, forward, rearward, centre, rows, facing, mirror", n)
		}
		*f = true
	}
	return g, nil
}

// packAll packs the arrangements given and returns the plan with them replaced.
func packAll(cmd *cobra.Command, p *layout.Plan, as []*layout.Arrangement, w fill.Wish, quiet bool) (*layout.Plan, []*layout.Arrangement, error) {
	lib := library(p)
	out := *p
	out.Arrangements = append([]*layout.Arrangement(nil), p.Arrangements...)
	var packed []*layout.Arrangement
	for i, a := range out.Arrangements {
		if !among(as, a) {
			continue
		}
		if len(a.Bays)+len(a.Boxes) == 0 {
			return nil, nil, fmt.Errorf("arrangement %s has neither bays nor boxes to pack; 'stowfit new DONOR' begins a plan with a donor's bays", a.ID)
		}
		v, err := withModule(p, a, lib, w)
		if err != nil {
			return nil, nil, err
		}
		v.Trouble, v.Donor = check.Trouble(p, lib), lib.Donor(p.Donor)
		done, err := fill.Arrangement(cmd.Context(), a, lib, v, nil)
		if err != nil {
			return nil, nil, err
		}
		if !quiet {
			fmt.Fprint(cmd.OutOrStdout(), report.PackingLines(a.Name, done.Outcomes))
		}
		out.Arrangements[i] = done.Arrangement
		packed = append(packed, done.Arrangement)
	}
	return &out, packed, nil
}

// withModule settles which module an arrangement is packed with.
func withModule(p *layout.Plan, a *layout.Arrangement, lib *vehicles.Library, w fill.Wish) (fill.Wish, error) {
	if w.Module != nil {
		return w, nil
	}
	id := fill.UsualModule(p, a)
	if w.Module = lib.Module(id); w.Module == nil {
		return w, fmt.Errorf("arrangement %s uses no module yet; name one with --module ('stowfit modules' lists them)", a.ID)
	}
	return w, nil
}

func among(as []*layout.Arrangement, a *layout.Arrangement) bool {
	for _, b := range as {
		if a == b {
			return true
		}
	}
	return false
}
