package mass

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// sheetVolume is the volume of the panels of the kinds given, mm3, without holes taken off.
func sheetVolume(ps []Panel, kinds ...PanelKind) float64 {
	v := 0.0
	for _, p := range ps {
		for _, k := range kinds {
			if p.Kind == k {
				v += p.Outline.Area() * p.ThicknessMM
			}
		}
	}
	return v
}

// shapes are boxes of every kind that levels can make.
func shapes() map[string][]vehicles.Level {
	ell := []vehicles.XY{{0, 0}, {800, 0}, {800, 300}, {350, 300}, {350, 600}, {0, 600}}
	cut := []vehicles.XY{{0, 0}, {700, 0}, {800, 150}, {800, 500}, {0, 500}}
	return map[string][]vehicles.Level{
		"rectangle":   {{Outline: rect(0, 0, 800, 500), FloorMM: 10, CeilingMM: 210}},
		"cut corner":  {{Outline: cut, CeilingMM: 200}},
		"L":           {{Outline: ell, CeilingMM: 200}},
		"floor step":  {{Outline: rect(0, 0, 500, 500), CeilingMM: 300}, {Outline: rect(500, 0, 900, 500), FloorMM: 120, CeilingMM: 300}},
		"lid step":    {{Outline: rect(0, 0, 500, 500), CeilingMM: 300}, {Outline: rect(500, 0, 900, 500), CeilingMM: 180}},
		"both steps":  {{Outline: rect(0, 0, 500, 500), CeilingMM: 200}, {Outline: rect(500, 0, 900, 500), FloorMM: 100, CeilingMM: 300}},
		"tower":       {{Outline: rect(0, 0, 900, 500), CeilingMM: 150}, {Outline: rect(200, 100, 600, 400), FloorMM: 150, CeilingMM: 300}},
		"narrow step": {{Outline: rect(0, 0, 500, 500), CeilingMM: 300}, {Outline: rect(500, 100, 900, 400), FloorMM: 120, CeilingMM: 300}},
		"overlapping": {{Outline: rect(0, 0, 600, 500), CeilingMM: 300}, {Outline: rect(400, 100, 900, 400), FloorMM: 50, CeilingMM: 250}},
	}
}

// Floor, walls and lid have the volume that the box's outer shape has over its inner one, found by overlay of
// polygons. One level: exactly. Steps: but for the cubes of sheet thickness where three sheets meet.
func TestSheetFillsTheShell(t *testing.T) {
	for name, levels := range shapes() {
		for _, lid := range []string{"top", "bottom"} {
			b := &layout.Box{Levels: levels, Shell: layout.Shell{WallMM: 2, FloorMM: 3, LidMM: 1.5, FlangeMM: 1e-9, LidSide: lid}}
			inner, err := layout.BoxInterior(b)
			if err != nil {
				t.Fatal(err)
			}
			want := geometry.Space{Solids: layout.Levels(levels)}.Volume() - inner.Volume()
			got := sheetVolume(Panels(b), WallPanel, FloorPanel, LidPanel)
			within := 1e-6 * want // the flange's 1e-9 mm
			if len(levels) > 1 {
				within = 100
			}
			near(t, name+", lid at the "+lid, got, want, within)
		}
	}
}

// The liner fills what lies between the sheet and the box's inside.
func TestLinerFillsBehindTheSheet(t *testing.T) {
	for name, levels := range shapes() {
		b := &layout.Box{Levels: levels, Shell: layout.Shell{WallMM: 2, FloorMM: 3, LidMM: 1.5, LinerMM: 4}}
		inner, err := layout.BoxInterior(b)
		if err != nil {
			t.Fatal(err)
		}
		bare, err := geometry.Space{Solids: layout.Levels(levels)}.Inset(2, 3, 1.5)
		if err != nil {
			t.Fatal(err)
		}
		within := 1.0
		if len(levels) > 1 {
			within = 2000
		}
		near(t, name, sheetVolume(Panels(b), LinerPanel), bare.Volume()-inner.Volume(), within)
	}
}

// A box worked by hand: 500 x 400 x 200 mm of 2 mm steel, lid flange 20 mm. Walls between floor and lid, 196 mm
// high; on the middle line 498 and 398 mm long.
func TestBoxByHand(t *testing.T) {
	b := &layout.Box{
		Levels:   []vehicles.Level{{Outline: rect(0, 0, 500, 400), CeilingMM: 200}},
		Shell:    layout.Shell{WallMM: 2},
		Openings: []layout.Opening{{ID: "a", Kind: "connector", Face: "front", At: vehicles.XYZ{0, 200, 100}, WidthMM: 80, HeightMM: 50}, {ID: "v", Kind: "vent", Face: "top", At: vehicles.XYZ{250, 200, 200}, DiameterMM: 30}},
	}
	areas := map[string]float64{
		"floor-1": 500 * 400, "wall-1": 498 * 196, "wall-2": 398 * 196, "wall-3": 498 * 196, "wall-4": 398*196 - 80*50,
		"flange-1": (500 + 540) / 2 * 20, "flange-2": (400 + 440) / 2 * 20, "flange-3": (500 + 540) / 2 * 20, "flange-4": (400 + 440) / 2 * 20,
		"lid-1": 540*440 - math.Pi*15*15,
	}
	ps := Panels(b)
	if len(ps) != len(areas) {
		t.Errorf("%d panels, want %d", len(ps), len(areas))
	}
	for _, p := range ps {
		near(t, p.ID, p.AreaMM2, areas[p.ID], 1e-6)
		near(t, p.ID+" mass", p.Kg, areas[p.ID]*2*7850e-9, 1e-9)
	}
	near(t, "front wall's centre", ps[4].Centroid.X, 1, 1e-9)
	near(t, "floor's centre", ps[0].Centroid.Z, 1, 1e-9)
	near(t, "flange's centre", ps[5].Centroid.Z, 197, 1e-9)
	near(t, "lid's centre", ps[9].Centroid.Z, 199, 1e-9)
}

// Walls around a stepped box are one sheet each: a side of a box with a floor step is a single piece with a notch.
func TestStepMakesNotchedSides(t *testing.T) {
	b := &layout.Box{Levels: shapes()["floor step"], Shell: layout.Shell{WallMM: 2}}
	n := map[PanelKind]int{}
	for _, p := range Panels(b) {
		n[p.Kind]++
	}
	if n[WallPanel] != 5 || n[FloorPanel] != 2 || n[LidPanel] != 1 || n[FlangePanel] != 4 {
		t.Errorf("panels %v, want 5 walls (two notched sides, two ends, the step), 2 floors, 1 lid, 4 flanges", n)
	}
}

// A lower lid has no flange where the box goes on above it: the upper lid has four strips of 540 mm with their
// mitres, the lower one two of 420 mm and one of 540 mm.
func TestNoFlangeAgainstAStep(t *testing.T) {
	b := &layout.Box{Levels: shapes()["lid step"], Shell: layout.Shell{WallMM: 2, FlangeMM: 20}}
	var length float64
	for _, p := range Panels(b) {
		if p.Kind == FlangePanel {
			length += p.Outline.Bounds().X.Length()
		}
	}
	near(t, "flange length with mitres", length, 4*540+2*420+540, 1e-6)
}

// Second moments of a panel with holes against numerical integration by gonum over its plane.
func TestPanelMoments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := between(100, 900).Draw(t, "width"), between(100, 900).Draw(t, "height")
		p := Panel{
			ThicknessMM: 2, DensityKgM3: 7850, U: r3.Vector{X: 0.6, Y: 0.8}, V: r3.Vector{Z: 1}, Origin: r3.Vector{X: 10, Y: 20, Z: 30},
			Outline: geometry.NewRect(0, 0, w, h),
			Holes:   []Hole{{At: vehicles.XY{w / 3, h / 2}.Point(), WidthMM: 40, HeightMM: 30}, {At: vehicles.XY{w / 2, h / 4}.Point(), DiameterMM: 25}},
		}
		p.weigh()
		in := func(f func(r3.Vector) float64) float64 {
			whole := over(p, 0, w, 0, h, f)
			a, c := p.Holes[0], p.Holes[1]
			whole -= over(p, a.At.X-20, a.At.X+20, a.At.Y-15, a.At.Y+15, f)
			return whole - disc(p, c, f)
		}
		per := p.ThicknessMM * p.DensityKgM3 * 1e-9
		kg := per * in(func(r3.Vector) float64 { return 1 })
		x := per * in(func(v r3.Vector) float64 { return v.X }) / kg
		xx := per * in(func(v r3.Vector) float64 { return (v.X - p.Centroid.X) * (v.X - p.Centroid.X) })
		xz := per * in(func(v r3.Vector) float64 { return (v.X - p.Centroid.X) * (v.Z - p.Centroid.Z) })
		for _, c := range []struct {
			what      string
			got, want float64
		}{{"mass", p.Kg, kg}, {"x", p.Centroid.X, x}, {"xx", p.own.XX, xx}, {"xz", p.own.XZ, xz}} {
			if math.Abs(c.got-c.want) > 1e-6*(math.Abs(c.want)+xx*1e-3+1e-3) {
				t.Fatalf("%s: got %v, integration gives %v", c.what, c.got, c.want)
			}
		}
	})
}

func over(p Panel, u0, u1, v0, v1 float64, f func(r3.Vector) float64) float64 {
	return quad.Fixed(func(u float64) float64 {
		return quad.Fixed(func(v float64) float64 { return f(p.point(vehicles.XY{u, v}.Point())) }, v0, v1, 4, quad.Legendre{}, 0)
	}, u0, u1, 4, quad.Legendre{}, 0)
}

func disc(p Panel, h Hole, f func(r3.Vector) float64) float64 {
	return quad.Fixed(func(r float64) float64 {
		return r * quad.Fixed(func(a float64) float64 {
			return f(p.point(vehicles.XY{h.At.X + r*math.Cos(a), h.At.Y + r*math.Sin(a)}.Point()))
		}, 0, 2*math.Pi, 24, quad.Legendre{}, 0)
	}, 0, h.DiameterMM/2, 6, quad.Legendre{}, 0)
}

// The ledger's box lines are the panels' masses, and a turned box's centre is where its frame puts it.
func TestLedgerAgreesWithPanels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := box("b", 3, vehicles.XYZ{900, -300, 250})
		b.TurnDeg = between(-180, 180).Draw(t, "turn")
		b.Barriers = []layout.Barrier{{ID: "w", Outline: rect(100, 10, 103, 390), FloorMM: 5, CeilingMM: 120}}
		s := sceneOf(donor(), &layout.Arrangement{ID: "a", Boxes: []*layout.Box{b}}, nil)
		r := Evaluate(s, nil, nil)
		var lines, panels float64
		var first r3.Vector
		for _, e := range r.Ledger() {
			if e.Group == Sheet || e.Group == Liner {
				lines += e.Kg
				first = first.Add(e.At.Mul(e.Kg))
			}
		}
		var own r3.Vector
		for _, p := range Panels(b) {
			panels += p.Kg
			own = own.Add(p.Centroid.Mul(p.Kg))
		}
		if math.Abs(lines-panels) > 1e-9 || math.Abs(r.Boxes[0].SheetKg-panels) > 1e-9 {
			t.Fatalf("ledger %v kg, panels %v kg, box %v kg", lines, panels, r.Boxes[0].SheetKg)
		}
		if d := s.Boxes[0].Frame.ToVehicle(own.Mul(1 / panels)).Sub(first.Mul(1 / lines)).Norm(); d > 1e-6 {
			t.Fatalf("centres are %g mm apart", d)
		}
	})
}

// A barrier 3 mm thick, 380 mm long and 115 mm high.
func TestBarrier(t *testing.T) {
	p := barrierPanel(&layout.Barrier{ID: "w", Outline: rect(100, 10, 103, 390), FloorMM: 5, CeilingMM: 120})
	p.weigh()
	near(t, "area", p.AreaMM2, 380*115, 1e-6)
	near(t, "thickness", p.ThicknessMM, 3, 1e-9)
	near(t, "x", p.Centroid.X, 101.5, 1e-9)
	near(t, "z", p.Centroid.Z, 62.5, 1e-9)
}

// Every panel's outline lies where its sheet is: all corners inside the box grown by flange and foot.
func TestPanelsLieInTheBox(t *testing.T) {
	for name, levels := range shapes() {
		b := &layout.Box{Levels: levels, Shell: layout.Shell{WallMM: 2, LinerMM: 3, FlangeMM: 15}}
		lo, hi := geometry.Space{Solids: layout.Levels(levels)}.Bounds()
		for _, p := range Panels(b) {
			for _, q := range p.Outline.Outer {
				v := p.point(q)
				out := max(lo.X-v.X, v.X-hi.X, lo.Y-v.Y, v.Y-hi.Y)
				if out > 15.001 || v.Z < lo.Z || v.Z > hi.Z || (p.Kind != FlangePanel && p.Kind != LidPanel && out > 0.001) {
					t.Errorf("%s: %s has a corner at %v", name, p.ID, v)
				}
			}
		}
	}
}

// A panel's axes are unit vectors square to one another, its normal looks out of the box.
func TestPanelAxes(t *testing.T) {
	for name, levels := range shapes() {
		for _, lid := range []string{"top", "bottom"} {
			b := &layout.Box{Levels: levels, Shell: layout.Shell{WallMM: 2, LinerMM: 3, LidSide: lid}}
			for _, n := range []string{"up", "down", "left", "right", "front", "rear"} {
				b.Feet = append(b.Feet, layout.Foot{ID: n, At: vehicles.XYZ{-20, 100, 50}, Normal: n, Bolt: "M8"})
			}
			b.Barriers = []layout.Barrier{{ID: "w", Outline: rect(100, 10, 103, 90), FloorMM: 5, CeilingMM: 100}}
			for _, p := range Panels(b) {
				for _, v := range []float64{p.U.Norm(), p.V.Norm(), p.Normal.Norm()} {
					near(t, name+" "+p.ID+" unit", v, 1, 1e-12)
				}
				near(t, name+" "+p.ID+" square", math.Abs(p.U.Dot(p.V))+math.Abs(p.U.Dot(p.Normal))+math.Abs(p.V.Dot(p.Normal)), 0, 1e-12)
				inside := p.Centroid.Sub(p.Normal.Mul(10))
				if p.Kind == FloorPanel && !within(levels, inside) {
					t.Errorf("%s %s: its normal looks into the box", name, p.ID)
				}
			}
		}
	}
}

func within(levels []vehicles.Level, v r3.Vector) bool {
	for _, p := range layout.Levels(levels) {
		if p.Contains(v) != geometry.Outside {
			return true
		}
	}
	return false
}

// A foot with nothing stated: 5 mm plate, 50 mm wide, from 2 bolt diameters beyond the bolt to the wall 25 mm away,
// one clearance hole of 1.1 diameters; it lies on the mounting face.
func TestFootByHand(t *testing.T) {
	b := &layout.Box{Levels: []vehicles.Level{{Outline: rect(0, 0, 500, 400), CeilingMM: 200}}}
	for bolt, d := range map[string]float64{"M6": 6, "M8": 8, "M10": 10, "M12": 12, "M14": 14, "M16": 16, "M20": 20} {
		p := footPanel(b, &layout.Foot{ID: "f", At: vehicles.XYZ{100, -25, 0}, Bolt: bolt})
		p.weigh()
		whole, hole := (25+2*d)*50, math.Pi*1.21*d*d/4
		near(t, bolt+" area", p.AreaMM2, whole-hole, 1e-9)
		near(t, bolt+" mass", p.Kg, (whole-hole)*5*7850e-9, 1e-12)
		near(t, bolt+" y", p.Centroid.Y, -25+whole*(25-2*d)/2/(whole-hole), 1e-9)
		near(t, bolt+" z", p.Centroid.Z, 2.5, 1e-12)
	}
	for normal, at := range map[string]r3.Vector{"up": {Z: -2.5}, "down": {Z: 2.5}, "left": {Y: 2.5}, "right": {Y: -2.5}, "front": {X: 2.5}, "rear": {X: -2.5}} {
		p := footPanel(b, &layout.Foot{ID: "f", At: vehicles.XYZ{100, -25, 0}, Bolt: "M10", Normal: normal})
		near(t, normal, p.Origin.Sub(r3.Vector{X: 100, Y: -25}).Sub(at).Norm(), 0, 1e-12)
	}
	two := footPanel(b, &layout.Foot{ID: "f", At: vehicles.XYZ{100, -25, 0}, Bolt: "M8", Bolts: 2, WidthMM: 60, ArmMM: 30, EdgeMM: 15, PlateMM: 8})
	if len(two.Holes) != 2 || two.Holes[0].At.Y != -15 || two.Holes[1].At.Y != 15 || two.ThicknessMM != 8 {
		t.Errorf("two bolts in 60 mm: %+v", two.Holes)
	}
	near(t, "outline", two.Outline.Area(), 45*60, 1e-9)
}
