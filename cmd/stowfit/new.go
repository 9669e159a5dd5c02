package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/vehicles"
)

func newCommand() *cobra.Command {
	var out, name string
	cmd := &cobra.Command{
		Use:   "new DONOR",
		Short: "Begin a plan with a donor's bays",
		Long: "new writes a plan for a donor, by its id in the catalogue or as a file of yours, with one arrangement that has the bays surveyed in it.\n" +
			"It never writes over a file.",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("which donor? 'stowfit new DONOR -o PLAN'; 'stowfit donors' lists the catalogue's")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runNew(cmd, args[0], out, name) },
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "write the plan here")
	cmd.Flags().StringVar(&name, "name", "", "name of the plan; default: the donor's")
	return cmd
}

func runNew(cmd *cobra.Command, donor, out, name string) error {
	if out == "" {
		return errors.New("where to? 'stowfit new DONOR -o PLAN'")
	}
	d, own, err := donorOf(donor)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(out); err == nil {
		return fmt.Errorf("%s is there already; give another name", out)
	}
	if name == "" {
		name = d.Name
	}
	p := layout.NewPlan(d, name)
	if own {
		p.Library.Donors = []*vehicles.Donor{d}
	}
	if err := layout.Save(out, p); err != nil {
		return err
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, %d bays, %d keep-outs.\nNext: stowfit pack %[1]s --module MODULE -o PACKED\n", out, d.Name, len(d.Bays), len(d.KeepOuts))
	return nil
}

// donorOf is the catalogue's donor with that id, or the one that a file holds.
func donorOf(s string) (d *vehicles.Donor, own bool, err error) {
	if d := vehicles.Catalogue().Donor(s); d != nil {
		return d, false, nil
	}
	data, err := layout.ReadFile(s, "a donor's record")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false, fmt.Errorf("the catalogue has no donor %q, and there is no file of that name; 'stowfit donors' lists the catalogue's", s)
	}
	if err != nil {
		return nil, false, err
	}
	d, err = vehicles.ReadDonor(s, data)
	return d, true, err
}
