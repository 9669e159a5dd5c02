package vehicles_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

func TestTagsAreSound(t *testing.T) {
	for _, v := range []any{vehicles.Donor{}, vehicles.Module{}, vehicles.Gear{}} {
		if err := record.CheckType(reflect.TypeOf(v)); err != nil {
			t.Error(err)
		}
	}
}

func TestCatalogueHasWhatADemonstrationNeeds(t *testing.T) {
	lib := vehicles.Catalogue()
	if n := len(lib.Donors()); n < 6 {
		t.Errorf("%d donors", n)
	}
	if n := len(lib.Modules()); n < 8 {
		t.Errorf("%d modules", n)
	}
	kinds := map[string]bool{}
	for _, g := range lib.AllGear() {
		kinds[g.Kind] = true
	}
	for _, k := range []string{"contactor", "precharge", "fuse", "service_disconnect", "monitoring_board", "monitoring_master", "connector", "current_sensor", "inertia_switch", "isolation_monitor", "inverter", "charger", "dc_dc", "motor", "heater", "pump", "radiator", "junction"} {
		if !kinds[k] {
			t.Errorf("no %s in the catalogue", k)
		}
	}
}

func TestCatalogueSaysThatItIsInvented(t *testing.T) {
	lib := vehicles.Catalogue()
	check := func(id, file, note string, invented bool, what string) {
		if !invented || !strings.HasSuffix(note, "Invented for demonstration; describes no real "+what+".") {
			t.Errorf("%s does not say that it is invented", id)
		}
		if id != file {
			t.Errorf("%s stands in a file named %s", id, file)
		}
	}
	for _, d := range lib.Donors() {
		check(d.ID, lib.Donor(d.ID).ID, d.Note, d.Invented, "vehicle")
	}
	for _, m := range lib.Modules() {
		check(m.ID, lib.Module(m.ID).ID, m.Note, m.Invented, "module")
	}
	for _, g := range lib.AllGear() {
		check(g.ID, lib.Gear(g.ID).ID, g.Note, g.Invented, "part")
	}
}

func TestCatalogueReadsBackAsWritten(t *testing.T) {
	lib := vehicles.Catalogue()
	for _, d := range lib.Donors() {
		data, err := vehicles.WriteDonor(d)
		again, err2 := vehicles.ReadDonor(d.ID, data)
		if err != nil || err2 != nil || !reflect.DeepEqual(d, again) {
			t.Errorf("donor %s: %v, %v", d.ID, err, err2)
		}
	}
	for _, m := range lib.Modules() {
		data, err := vehicles.WriteModule(m)
		again, err2 := vehicles.ReadModule(m.ID, data)
		if err != nil || err2 != nil || !reflect.DeepEqual(m, again) {
			t.Errorf("module %s: %v, %v", m.ID, err, err2)
		}
	}
	for _, g := range lib.AllGear() {
		data, err := vehicles.WriteGear(g)
		again, err2 := vehicles.ReadGear(g.ID, data)
		if err != nil || err2 != nil || !reflect.DeepEqual(g, again) {
			t.Errorf("gear %s: %v, %v", g.ID, err, err2)
		}
	}
}

func TestLibraryPutsOwnRecordsFirst(t *testing.T) {
	base := vehicles.Catalogue()
	own := &vehicles.Module{ID: "nmc-390", Name: "own"}
	lib := base.With(vehicles.Records{Modules: []*vehicles.Module{own, nil, {ID: "aaa"}}})
	if lib.Module("nmc-390") != own || base.Module("nmc-390") == own {
		t.Error("the own record must stand in front, in the new library only")
	}
	if n := len(lib.Modules()); n != len(base.Modules())+1 || lib.Modules()[0].ID != "aaa" {
		t.Errorf("%d modules, first %s", n, lib.Modules()[0].ID)
	}
	if lib.Donor("van-rear-engine") == nil || lib.Gear("no-such-thing") != nil {
		t.Error("the rest must be found as before, and what is not there must not")
	}
}

// Every donor has to stand on its wheels: no contradiction in its survey, and mass to spare for a conversion but not without end.
func TestCatalogueDonorsAreSound(t *testing.T) {
	for _, d := range vehicles.Catalogue().Donors() {
		s := d.Survey()
		for _, c := range s.Contradictions {
			t.Errorf("%s: %s: %s", d.ID, c.Field, c.Text)
		}
		mass, turn := s.Mass.Value, s.Mass.Value*s.X.Value
		for _, p := range d.Removed {
			mass, turn = mass-p.MassKg, turn-p.MassKg*p.At[0]
		}
		for _, p := range d.Added {
			mass, turn = mass+p.MassKg, turn+p.MassKg*p.At[0]
		}
		if share := 1 - turn/mass/d.WheelbaseMM; share < 0.4 || share > 0.65 {
			t.Errorf("%s: without its engine the front axle carries %.0f %%", d.ID, 100*share)
		}
		if removed := s.Mass.Value - mass; removed < 0.1*s.Mass.Value || removed > 0.35*s.Mass.Value {
			t.Errorf("%s: %.0f kg of %.0f kg come out on balance", d.ID, removed, s.Mass.Value)
		}
		if spare := d.Ratings.GrossKg - mass - 75*float64(len(d.Seats)); spare < 150 {
			t.Errorf("%s: only %.0f kg are left for a battery with all seats taken", d.ID, spare)
		}
		if n := len(d.SideOutline); n < 15 || n > 40 {
			t.Errorf("%s: %d corners in side view", d.ID, n)
		}
	}
}

// The donor whose axles were lifted has to give its stated height again (ISO 10392).
func TestCatalogueLiftsAgreeWithTheStatedHeight(t *testing.T) {
	found := false
	for _, d := range vehicles.Catalogue().Donors() {
		if d.CentreOfGravity.How != "axle_lift" {
			continue
		}
		found = true
		near(t, d.ID, d.Survey().Z.Value, d.CentreOfGravity.HeightMM, 5)
	}
	if !found {
		t.Error("no donor with axle lifts")
	}
}

func polygon(ps []vehicles.XY) geometry.Polygon {
	return geometry.Polygon{Outer: geometry.Ring(vehicles.Points(ps))}
}

func prism(ps []vehicles.XY, floor, ceiling float64) geometry.Prism {
	return geometry.Prism{Base: polygon(ps), Bottom: floor, Top: ceiling}
}

// What a donor holds must not run into itself: bays keep clear of keep-outs, rails and each other, and everything
// stays within the body.
func TestCatalogueBaysAreFree(t *testing.T) {
	for _, d := range vehicles.Catalogue().Donors() {
		solids := map[string]geometry.Prism{}
		for _, k := range d.KeepOuts {
			solids["keep-out "+k.ID] = prism(k.Outline, k.FloorMM, k.CeilingMM)
		}
		for _, r := range d.Rails {
			solids["rail "+r.ID] = prism(r.Outline, r.FloorMM, r.CeilingMM)
		}
		body := polygon(d.PlanOutline)
		bays := map[string]geometry.Prism{}
		for _, b := range d.Bays {
			for i, l := range b.Levels {
				p := prism(l.Outline, l.FloorMM, l.CeilingMM)
				name := b.ID + string(rune('0'+i))
				if !body.ContainsPolygon(p.Base) || l.FloorMM < d.GroundClearMM {
					t.Errorf("%s: bay %s leaves the body or hangs too low", d.ID, name)
				}
				for other, q := range solids {
					if p.Overlaps(q) {
						t.Errorf("%s: bay %s runs into %s", d.ID, name, other)
					}
				}
				for other, q := range bays {
					if p.Overlaps(q) {
						t.Errorf("%s: bays %s and %s overlap", d.ID, name, other)
					}
				}
				bays[name] = p
			}
		}
	}
}

// Every keep-out inside a bay has to be in it, and every wheel under the body in side view and plan.
func TestCatalogueKeepOutsLieInTheirBays(t *testing.T) {
	for _, d := range vehicles.Catalogue().Donors() {
		for _, b := range d.Bays {
			for _, k := range b.KeepOuts {
				inside := slices.ContainsFunc(b.Levels, func(l vehicles.Level) bool {
					return prism(k.Outline, k.FloorMM, k.CeilingMM).Overlaps(prism(l.Outline, l.FloorMM, l.CeilingMM))
				})
				if !inside {
					t.Errorf("%s: keep-out %s is not in bay %s", d.ID, k.ID, b.ID)
				}
			}
		}
		side := polygon(d.SideOutline)
		for _, x := range []float64{0, d.WheelbaseMM} {
			if side.Contains(r2.Point{X: x, Y: d.WheelRadiusMM}) != geometry.Outside {
				t.Errorf("%s: no wheel arch at x = %g", d.ID, x)
			}
		}
	}
}

// Cell windows are those of the comparative table of lithium-based cells; energies a kilogram lie in the ranges of the trade.
func TestCatalogueModulesArePlausible(t *testing.T) {
	ranges := map[string][2]float64{"NMC": {150, 180}, "NCA": {150, 180}, "LFP": {110, 140}, "LTO": {60, 75}} // of whole modules; common practice, no source
	windows := map[string]map[string]string{}
	for _, row := range table(t, "cell_chemistry.csv") {
		windows[row["chemistry"]] = row
	}
	for _, m := range vehicles.Catalogue().Modules() {
		c, w := m.Cell, windows[m.Cell.Chemistry]
		if c.NominalV != number(t, w["nominal_V"]) || c.MaxV != number(t, w["full_charge_V"]) || c.MinV != number(t, w["full_discharge_V"]) {
			t.Errorf("%s: window %g to %g V about %g V is not that of %s", m.ID, c.MinV, c.MaxV, c.NominalV, c.Chemistry)
		}
		perKg := float64(m.Series*m.Parallel) * c.NominalV * c.CapacityAh / m.MassKg
		if r := ranges[c.Chemistry]; perKg < r[0] || perKg > r[1] {
			t.Errorf("%s: %.0f Wh/kg for %s", m.ID, perKg, c.Chemistry)
		}
		if len(c.OpenV) < 5 {
			t.Errorf("%s has no open-circuit curve", m.ID)
		}
		sag := m.Current.ContinuousA * m.Ohmic.MilliOhm / 1000 / (float64(m.Series) * c.NominalV)
		if sag > 0.08 {
			t.Errorf("%s: sags by %.0f %% at its continuous current", m.ID, 100*sag)
		}
		if charge := m.Current.ChargeA / (float64(m.Parallel) * c.CapacityAh); charge <= 0 || charge > 4 {
			t.Errorf("%s: charges at %.1f times its capacity an hour", m.ID, charge)
		}
	}
}

// The three format outlines, as the table of cell and module formats has them (from memory there, not checked against a text).
func TestCatalogueHasTheFormatOutlines(t *testing.T) {
	for _, row := range table(t, "cell_formats.csv") {
		if !strings.HasPrefix(row["format"], "Module") {
			continue
		}
		l, h, w := number(t, row["L_mm"]), number(t, row["H_mm"]), number(t, row["T_or_dia_mm"])
		if !slices.ContainsFunc(vehicles.Catalogue().Modules(), func(m *vehicles.Module) bool { return m.LengthMM == l && m.WidthMM == w && m.HeightMM == h }) {
			t.Errorf("no module has the outline %s", row["format"])
		}
	}
}

func TestCatalogueInvertersDiffer(t *testing.T) {
	var windows [][2]float64
	for _, g := range vehicles.Catalogue().AllGear() {
		if g.Kind == "inverter" {
			windows = append(windows, [2]float64{g.VoltageMinV, g.VoltageMaxV})
		}
	}
	if len(windows) < 2 || math.Max(windows[0][0], windows[1][0]) < math.Min(windows[0][1], windows[1][1]) {
		t.Errorf("want two inverters for different packs, got %v", windows)
	}
}

func BenchmarkWholeCatalogue(b *testing.B) {
	for b.Loop() {
		vehicles.ReadWholeCatalogue()
	}
}

func BenchmarkOneDonor(b *testing.B) {
	data, err := vehicles.WriteDonor(vehicles.Catalogue().Donor("van-rear-engine"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := vehicles.ReadDonor("van", data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSurvey(b *testing.B) {
	d := vehicles.Catalogue().Donor("van-rear-engine")
	for b.Loop() {
		d.Survey()
	}
}
