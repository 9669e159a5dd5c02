package main

import (
	"encoding/json"
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"
	"gopkg.in/yaml.v3"

	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

func donorsCommand() *cobra.Command {
	return catalogueCommand("donors", "donor", vehicles.Catalogue().Donors, vehicles.Catalogue().Donor, []string{"id", "name", "wheelbase", "kerb mass", "gross mass", "bays"}, func(d *vehicles.Donor) []string {
		s := d.Scales
		return []string{d.ID, d.Name, mm(d.WheelbaseMM), kg(s.FrontLeftKg + s.FrontRightKg + s.RearLeftKg + s.RearRightKg), kg(d.Ratings.GrossKg), fmt.Sprint(len(d.Bays))}
	})
}

func modulesCommand() *cobra.Command {
	return catalogueCommand("modules", "module", vehicles.Catalogue().Modules, vehicles.Catalogue().Module, []string{"id", "name", "size", "mass", "cells", "nominal", "energy"}, func(m *vehicles.Module) []string {
		return []string{m.ID, m.Name, size(m.LengthMM, m.WidthMM, m.HeightMM), fmt.Sprintf("%.1f kg", m.MassKg), fmt.Sprintf("%ds%dp %s", m.Series, m.Parallel, m.Cell.Chemistry), fmt.Sprintf("%.1f V", m.NominalV()), fmt.Sprintf("%.2f kWh", m.EnergyKWh())}
	})
}

func gearCommand() *cobra.Command {
	return catalogueCommand("gear", "piece of gear", vehicles.Catalogue().AllGear, vehicles.Catalogue().Gear, []string{"id", "name", "kind", "size", "mass"}, func(g *vehicles.Gear) []string {
		return []string{g.ID, g.Name, g.Kind, size(g.LengthMM, g.WidthMM, g.HeightMM), fmt.Sprintf("%.1f kg", g.MassKg)}
	})
}

func mm(v float64) string         { return fmt.Sprintf("%.0f mm", v) }
func kg(v float64) string         { return fmt.Sprintf("%.0f kg", v) }
func size(l, w, h float64) string { return fmt.Sprintf("%.0f x %.0f x %.0f mm", l, w, h) }

// catalogueCommand lists the records of one kind, or shows one as its file.
func catalogueCommand[T any](use, kind string, all func() []*T, one func(string) *T, head []string, row func(*T) []string) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   use + " [ID]",
		Short: "List the catalogue's " + use + ", or show one",
		Args:  cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var ids []string
			for _, r := range all() {
				ids = append(ids, row(r)[0]+"\t"+row(r)[1])
			}
			return ids, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return list(cmd, all(), asJSON, head, row)
			}
			r := one(args[0])
			if r == nil {
				return fmt.Errorf("the catalogue has no %s %q; 'stowfit %s' lists them", kind, args[0], use)
			}
			return showRecord(cmd, r, asJSON)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return cmd
}

func list[T any](cmd *cobra.Command, all []*T, asJSON bool, head []string, row func(*T) []string) error {
	if asJSON {
		return writeJSONList(cmd, all)
	}
	w := tabwriter.NewWriter(cmd.OutOrStdout(), 0, 0, 2, ' ', 0)
	printRow(w, head)
	for _, r := range all {
		printRow(w, row(r))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(cmd.OutOrStdout(), "\nAll of them are invented for demonstration and describe nothing real.")
	return nil
}

func writeJSONList[T any](cmd *cobra.Command, all []*T) error {
	list := make([]any, len(all))
	for i, r := range all {
		m, err := plain(r)
		if err != nil {
			return err
		}
		list[i] = m
	}
	return printJSON(cmd, list)
}

func printRow(w *tabwriter.Writer, cells []string) {
	for _, c := range cells {
		fmt.Fprint(w, c, "\t")
	}
	fmt.Fprintln(w)
}

func showRecord(cmd *cobra.Command, r any, asJSON bool) error {
	if asJSON {
		return writeJSON(cmd, r)
	}
	b, err := record.Write(r)
	if err == nil {
		_, err = cmd.OutOrStdout().Write(b)
	}
	return err
}

// writeJSON writes a record, or a list of them, with the names of its file format.
func writeJSON(cmd *cobra.Command, v any) error {
	m, err := plain(v)
	if err != nil {
		return err
	}
	return printJSON(cmd, m)
}

func printJSON(cmd *cobra.Command, v any) error {
	b, err := json.MarshalIndent(v, "", "  ")
	if err == nil {
		_, err = cmd.OutOrStdout().Write(append(b, '\n'))
	}
	return err
}

// plain returns a record as maps and lists by way of its file.
func plain(v any) (any, error) {
	b, err := record.Write(v)
	if err != nil {
		return nil, err
	}
	var m any
	err = yaml.Unmarshal(b, &m)
	return m, err
}
