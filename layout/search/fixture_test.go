package search

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// yard is an invented vehicle with plain boxes and packings that are given, so that tests and benchmarks spend no
// time on packing.
type yard struct {
	plan     *layout.Plan
	a        *layout.Arrangement
	lib      *vehicles.Library
	modules  []*vehicles.Module
	packings *Packings
}

// block is an invented module of 6 cells in series.
func block(id string, length, width, height, kg, ah, price float64, postures ...vehicles.Posture) *vehicles.Module {
	return &vehicles.Module{
		Format: 1, ID: id, Name: id, Invented: true, LengthMM: length, WidthMM: width, HeightMM: height, MassKg: kg,
		Series: 6, Parallel: 1, Cell: vehicles.Cell{Chemistry: "NMC", NominalV: 3.6, MinV: 3, MaxV: 4.2, CapacityAh: ah},
		Ohmic: vehicles.Ohmic{MilliOhm: 5}, Current: vehicles.Currents{ContinuousA: 200, PeakA: 400, ChargeA: 100}, Postures: postures, Price: price,
		Terminals: []vehicles.Terminal{
			{ID: "+", Polarity: "positive", Face: vehicles.Top, At: vehicles.XYZ{20, 20, height}},
			{ID: "-", Polarity: "negative", Face: vehicles.Top, At: vehicles.XYZ{length - 20, 20, height}},
		},
	}
}

// site is where a test's box stands and how many modules along, across and up it holds of length x width x height 300 x 150 x 100.
type site struct {
	x, y, z            float64
	along, across, up  int
	holdsContactorAlso bool
}

func newYard(t testing.TB, sites []site, ms ...*vehicles.Module) *yard {
	t.Helper()
	d := &vehicles.Donor{
		Format: 1, ID: "yard-cart", Name: "Cart", Invented: true, WheelbaseMM: 2800, TrackFrontMM: 1480, TrackRearMM: 1440, WheelRadiusMM: 320, GroundClearMM: 150,
		PlanOutline: []vehicles.XY{{-900, -850}, {3800, -850}, {3800, 850}, {-900, 850}}, SideOutline: []vehicles.XY{{-900, 200}, {3800, 200}, {3800, 1800}, {-900, 1800}},
		Scales:          vehicles.Scales{FrontLeftKg: 372, FrontRightKg: 361, RearLeftKg: 330, RearRightKg: 341, ResolutionKg: 0.5},
		CentreOfGravity: vehicles.CGRise{HeightMM: 610, How: "maker", PlusMinusMM: 10},
		Ratings:         vehicles.Ratings{FrontAxleKg: 1020, RearAxleKg: 1180, GrossKg: 2050},
		Tyres:           vehicles.Tyres{FrontLoadIndex: 95, RearLoadIndex: 99},
		Seats:           []vehicles.Seat{{Name: "driver", At: vehicles.XYZ{900, -380, 750}}, {Name: "passenger", At: vehicles.XYZ{900, 380, 750}}},
		LoadPlaces:      []vehicles.LoadPlace{{ID: "floor", At: vehicles.XYZ{2300, 0, 800}, MaxKg: 250}, {ID: "rear", At: vehicles.XYZ{3000, 100, 700}}},
		Removed:         []vehicles.Part{{ID: "engine", Name: "engine", MassKg: 210, Known: "weighed", At: vehicles.XYZ{-150, 20, 620}}},
		Added:           []vehicles.Part{{ID: "motor", Name: "motor", MassKg: 70, Known: "datasheet", At: vehicles.XYZ{100, 0, 480}}},
	}
	inverter := &vehicles.Gear{Format: 1, ID: "yard-inverter", Name: "inverter", Kind: "inverter", LengthMM: 300, WidthMM: 250, HeightMM: 120, MassKg: 9, VoltageMinV: 70, VoltageMaxV: 160, ContinuousA: 100, PeakA: 200}
	y := &yard{modules: ms, packings: NewPackings()}
	y.a = &layout.Arrangement{ID: "a", Name: "A", Gear: []layout.PlacedGear{{ID: "inverter", Gear: inverter.ID, At: vehicles.XYZ{-100, -125, 700}, Posture: vehicles.Flat}}}
	y.plan = &layout.Plan{Format: 1, Name: "yard", Donor: d.ID, Arrangements: []*layout.Arrangement{y.a}}
	y.plan.Settings.Electric.ContinuousA, y.plan.Settings.Electric.PeakA = 100, 200
	y.lib = vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{d}, Modules: ms, Gear: []*vehicles.Gear{inverter}})
	for _, m := range ms {
		y.plan.Settings.Search.Modules = append(y.plan.Settings.Search.Modules, m.ID)
	}
	for i, s := range sites {
		y.box(i, s)
	}
	return y
}

// box adds a box and packs every stance into it in plain rows.
func (y *yard) box(i int, s site) {
	lx, ly, lz := 300*float64(s.along)+20, 150*float64(s.across)+20, 100*float64(s.up)+20
	room := 0.0
	if s.holdsContactorAlso {
		room = 180
	}
	b := &layout.Box{ID: fmt.Sprintf("box-%d", i+1), At: vehicles.XYZ{s.x, s.y, s.z},
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {lx + room, 0}, {lx + room, ly}, {0, ly}}, FloorMM: 0, CeilingMM: lz}}}
	if s.holdsContactorAlso {
		b.Gear = []layout.PlacedGear{{ID: "main", Gear: "contactor-250", At: vehicles.XYZ{lx + 45, 40, 2}, Posture: vehicles.Flat, Role: "positive"}}
	}
	y.a.Boxes = append(y.a.Boxes, b)
	for _, m := range y.modules {
		for _, st := range stances(m) {
			y.packings.Put(b, st, rowsIn(m, st, lx-20, ly-20, lz-20))
		}
	}
}

func rowsIn(m *vehicles.Module, s Stance, lx, ly, lz float64) *Packing {
	posture := s.Posture
	if posture == "" {
		posture = m.Postures[0]
	}
	e := layout.PoseOf(m, &layout.Placement{Posture: posture}).Extent()
	p := &Packing{Proved: true}
	for z := 1.5; z+e.Z <= lz+1.501; z += e.Z { // on the floor sheet
		for y := 10.0; y+e.Y <= ly+10.001; y += e.Y {
			for x := 10.0; x+e.X <= lx+10.001; x += e.X {
				p.Placements = append(p.Placements, layout.Placement{ID: fmt.Sprintf("m%d", len(p.Placements)+1), Module: m.ID, At: vehicles.XYZ{x, y, z}, Posture: posture})
			}
		}
	}
	p.Bound = len(p.Placements)
	p.Words = fmt.Sprintf("%d fit", p.Bound)
	return p
}

func (y *yard) options() Options { return Options{Packings: y.packings} }

// of are the options with a count of modules.
func (b *bay) of(count int) []option { return b.all[b.from[count]:b.from[count+1]] }
