package roadload

import (
	"testing"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// Every figure for some vehicles, so that none changes unnoticed. What they ought to be other tests check.
func TestNoFigureChangesUnnoticed(t *testing.T) {
	pack := Pack{UsableKWh: 41, ModuleKWh: 2.3, ModuleKg: 17}
	stated := layout.Range{DragAreaM2: 0.9, RollingResistance: 0.013, DrivePct: 80, RegenPct: 30, AuxiliaryW: 550, AirKgM3: 1.1, LoadKg: 120}
	for name, c := range map[string]struct {
		donor string
		set   layout.Range
		kg    float64
	}{"van": {"van-rear-engine", layout.Range{}, 1800}, "lorry": {"lorry-flatbed", stated, 4200}} {
		t.Run(name, func(t *testing.T) {
			r := Evaluate(vehicles.Catalogue().Donor(c.donor), c.set, c.kg, pack)
			goldentest.Compare(t, name, []string{"stowbay/layout", "stowbay/vehicles"}, r.Readings(), r.DriveEff, r.Regen, r.AuxW, r.LoadKg, r.Vehicle, r.Steady, cycles(r), r.ClimbKW(60, 6))
		})
	}
}

// cycles are the results of the cycles without their traces.
func cycles(r *Result) []Driven {
	out := make([]Driven, len(r.Cycles))
	for i, d := range r.Cycles {
		d.Cycle = nil
		out[i] = d
	}
	return out
}
