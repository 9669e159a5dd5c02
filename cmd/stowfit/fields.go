package main

import (
	"fmt"
	"reflect"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/vehicles"
	"stowbay/vehicles/fielddoc"
)

func fieldsCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "fields",
		Short: "Write the field reference of all file formats as Markdown",
		Args:  cobra.NoArgs,
		Run: func(cmd *cobra.Command, _ []string) {
			w := cmd.OutOrStdout()
			fmt.Fprintln(w, "# Field reference\n\nWritten by `stowfit fields` from the program itself; do not edit.")
			for _, r := range []struct {
				title string
				t     reflect.Type
			}{
				{"Plan", reflect.TypeFor[layout.Plan]()}, {"Donor", reflect.TypeFor[vehicles.Donor]()},
				{"Module", reflect.TypeFor[vehicles.Module]()}, {"Gear", reflect.TypeFor[vehicles.Gear]()},
			} {
				fmt.Fprintf(w, "\n%s", fielddoc.Markdown(r.title, r.t))
			}
		},
	}
}
