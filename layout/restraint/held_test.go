package restraint

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

func square(x, y, side float64) []vehicles.XY {
	return []vehicles.XY{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}
}

// crate is a box of 400 by 300 mm whose feet stand symmetrically about its middle, M8 8.8, at the height of its floor.
func crate(bolts ...int) *layout.Box {
	b := &layout.Box{ID: "crate", At: vehicles.XYZ{1000, 0, 300}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {400, 0}, {400, 300}, {0, 300}}, CeilingMM: 200}}}
	at := []vehicles.XYZ{{-25, 75, 0}, {-25, 225, 0}, {425, 75, 0}, {425, 225, 0}}
	for i, n := range bolts {
		b.Feet = append(b.Feet, layout.Foot{ID: fmt.Sprintf("f%d", i+1), At: at[i], Bolt: "M8", Class: "8.8", Bolts: n})
	}
	return b
}

// middle is the crate's middle in the vehicle, at the height of its bolts.
var middle = r3.Vector{X: 1200, Y: 150, Z: 300}

func held(t *testing.T, b *layout.Box, set layout.Restraint, rails ...vehicles.Rail) (*layout.Scene, *Box) {
	t.Helper()
	p := &layout.Plan{Format: 1, Name: "p", Donor: "cart", Arrangements: []*layout.Arrangement{{ID: "a", Name: "a", Boxes: []*layout.Box{b}}}}
	p.Settings.Restraint = set
	lib := (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{{ID: "cart", Name: "cart", Rails: rails}}})
	s := layout.Resolve(p, p.Arrangements[0], lib, nil)
	r := Evaluate(s, []Weight{{Box: "crate", Kg: 60, CG: middle}}, nil)
	return s, r.Boxes[0]
}

func (b *Box) in(t *testing.T, d Direction) Case {
	t.Helper()
	for _, c := range b.Cases {
		if c.Direction == d {
			return c
		}
	}
	t.Fatalf("no case %s", d)
	return Case{}
}

// By hand: 60 kg thrown forward at 20 g is 11 768 N, a quarter of it at each of four alike feet around the centre of
// gravity; at 10 g upward each foot is pulled by a quarter of 5884 N.
func TestFourAlikeFeetShareTheLoad(t *testing.T) {
	_, b := held(t, crate(1, 1, 1, 1), layout.Restraint{ForwardG: 20, RearG: 10, SideG: 8, UpG: 10, DownG: 10})
	if !b.Held || len(b.Cases) != 6 || b.Bolts() != 4 {
		t.Fatalf("held %v, %d cases, %d bolts", b.Held, len(b.Cases), b.Bolts())
	}
	for d, want := range map[Direction]r3.Vector{Forward: {X: -11767.98}, Rearward: {X: 5883.99}, Left: {Y: -4707.19}, Right: {Y: 4707.19}, Up: {Z: 5883.99}, Down: {Z: -5883.99}} {
		c := b.in(t, d)
		near(t, string(d)+" load", c.Force.Sub(want).Norm(), 0, 0.01)
		for _, f := range c.Feet {
			near(t, string(d)+" at "+f.Foot.ID, f.Force.Add(want.Mul(0.25)).Norm(), 0, 0.01)
		}
	}
	for _, f := range b.in(t, Forward).Feet {
		near(t, "shear", f.ShearN, 2942.0, 0.1)
		near(t, "bolt's shear", f.BoltShearN, 2942.0, 0.1)
	}
	for _, f := range b.in(t, Up).Feet {
		near(t, "pull", f.PullN, 1471.0, 0.1)
		near(t, "bolt's pull", f.BoltPullN, 1471.0, 0.1)
		if f.WithWeight {
			t.Error("the weight helps against being thrown up")
		}
	}
	for _, f := range b.in(t, Down).Feet { // 147.1 N of weight at each foot besides
		near(t, "pressed", f.PullN, -1471.0-147.1, 0.1)
		near(t, "bolt pulled", f.BoltPullN, 0, 0)
		if !f.WithWeight {
			t.Error("the weight makes being thrown down worse")
		}
	}
}

// By hand for a foot pulled by P = 1471 N, plate 5 mm of 360 MPa, arm 25 mm, 50 mm wide, weld 100 x 3 mm, M8 8.8:
// tension 0.9 x 800 x 36.6 / 1.25 = 21 082 N; bending P x 25 of 73 437 N mm; weld P/300 + P x 25/8/150 of 207.8 MPa.
func TestUsesOfAPulledFootByHand(t *testing.T) {
	_, b := held(t, crate(1, 1, 1, 1), layout.Restraint{UpG: 10})
	f := b.Cases[0].Feet[0]
	const p = 60 * 10 * Gravity / 4
	near(t, "bolt", f.Uses[Bolt].Ratio, p/21081.6, 1e-6)
	near(t, "bending", f.Uses[Bending].Ratio, p*25/73437.5, 1e-6)
	near(t, "weld", f.Uses[Weld].Demand, p/300+p*25/8/150, 1e-3)
	near(t, "weld", f.Uses[Weld].Ratio, (p/300+p*25/8/150)/207.846, 1e-5)
	if f.Uses[BearingFrame].Known {
		t.Error("nothing is known of the frame, yet it is judged")
	}
}

// By hand, EN 1993-1-8 table 3.4, for a shear of 2942 N: foot of 5 mm and 360 MPa, edge 16 mm, side 25 mm, hole 8.8 mm:
// alpha b = 16/26.4, k1 = 2.5: 17 455 N; torn out 2 (16 - 4.4) 5 x 360 / 1.7321 / 1.25 = 19 288 N. Frame of 3 mm and
// 400 MPa with 26.4 mm all around: 2.5 x 400 x 8 x 3 / 1.25 = 19 200 N.
func TestUsesOfAShearedFootByHand(t *testing.T) {
	rail := vehicles.Rail{ID: "rail", Outline: square(900, -100, 700), FloorMM: 200, CeilingMM: 300, ThicknessMM: 3, StrengthMPa: 400}
	_, b := held(t, crate(1, 1, 1, 1), layout.Restraint{ForwardG: 20}, rail)
	f := b.Cases[0].Feet[0]
	near(t, "bearing in the foot", f.Uses[BearingPlate].Resist, 17454.5, 0.1)
	near(t, "tear-out", f.Uses[TearOut].Resist, 19288.1, 0.1)
	near(t, "bearing in the frame", f.Uses[BearingFrame].Resist, 19200, 1e-6)
	near(t, "frame's use", f.Uses[BearingFrame].Ratio, 2942.0/19200, 1e-5)
	near(t, "bolt", f.Uses[Bolt].Ratio, 2942.0/14054.4, 1e-5)
}

// By hand: clamped 5 + 3 + 8 mm, bolt 210 000 x 36.6 / 16 = 480 375 N/mm; foot 3 E I / a^3 with I = 50 x 5^3 / 12:
// 21 000 N/mm in steel, a third of it in aluminium, halved between two bolts; across 81/210 of the bolt's.
func TestStiffnessByHand(t *testing.T) {
	series := func(a, b float64) float64 { return a * b / (a + b) }
	for _, c := range []struct {
		bolts    int
		material string
		foot     float64
	}{{1, "", 21000}, {2, "", 10500}, {1, "aluminium", 7000}} {
		b := crate(c.bolts, 1, 1, 1)
		b.Shell.Material = c.material
		b.Feet[0].FrameMM = 3
		_, h := held(t, b, layout.Restraint{ForwardG: 1})
		s := h.springs()[0]
		near(t, "along", s.AlongNPerMM, series(480375, c.foot), 0.1)
		near(t, "across", s.AcrossNPerMM, 185287.5, 0.1)
	}
}

// Bolts of a foot stand in a row across it, their middle at the foot's place, a share of its width apart.
func TestBoltsInARow(t *testing.T) {
	for n := 1; n <= 4; n++ {
		_, b := held(t, crate(n, 1, 1, 1), layout.Restraint{ForwardG: 1})
		f := &b.Feet[0]
		var sum r3.Vector
		for i, p := range f.bolts {
			sum = sum.Add(p)
			if i > 0 {
				near(t, "apart", math.Abs(p.Y-f.bolts[i-1].Y), 50/float64(n), 1e-9)
			}
		}
		near(t, "middle", sum.Mul(1/float64(n)).Sub(f.At).Norm(), 0, 1e-9)
		near(t, "side", f.plate().SideMM, 25/float64(n), 1e-9)
	}
}

// With unlike numbers of bolts each foot still gets the forces of its own bolts: together they hold the load, and each has
// its share of moments, which only the right bolts give.
func TestFeetGetTheForcesOfTheirOwnBolts(t *testing.T) {
	_, b := held(t, crate(1, 3, 2, 1), layout.Restraint{ForwardG: 20, SideG: 8, UpG: 5})
	frame, ok := NewFrame(b.springs())
	if !ok {
		t.Fatal("not held")
	}
	for _, c := range b.Cases {
		all := frame.Reactions(c.Force, b.CG)
		var sum r3.Vector
		at := 0
		for i := range c.Feet {
			var own r3.Vector
			for range b.Feet[i].bolts {
				own = own.Add(all[at])
				at++
			}
			near(t, fmt.Sprintf("%s foot %d", c.Direction, i), c.Feet[i].Force.Sub(own).Norm(), 0, 1e-9)
			sum = sum.Add(own)
		}
		near(t, string(c.Direction), sum.Add(c.Force).Norm(), 0, 1e-6*c.Force.Norm())
	}
}

// ISO 898-1 and T = K d F: M8 8.8 at 75 % of proof load 15 921 N and 25.5 N m; a stated 20 N m gives 12 500 N.
func TestTighteningOfFeet(t *testing.T) {
	b := crate(1, 1, 1, 1)
	b.Feet[1].TorqueNm = 20
	_, h := held(t, b, layout.Restraint{ForwardG: 1})
	near(t, "preload", h.Feet[0].PreloadN, 15921, 0.1)
	near(t, "torque", h.Feet[0].TorqueNm, 25.4736, 1e-4)
	near(t, "preload at 20 N m", h.Feet[1].PreloadN, 12500, 1e-9)
	near(t, "torque as stated", h.Feet[1].TorqueNm, 20, 0)
	if h.Feet[0].Stated || !h.Feet[1].Stated {
		t.Error("stated the wrong way round")
	}
}

// The frame member within reach and nearest counts; what the foot itself states of the frame's thickness comes first.
func TestRailAtTheBolts(t *testing.T) {
	rail := func(id string, below, thick float64) vehicles.Rail {
		return vehicles.Rail{ID: id, Outline: square(900, -100, 700), FloorMM: 100, CeilingMM: 300 - below, ThicknessMM: thick, StrengthMPa: 400 + thick}
	}
	for _, c := range []struct {
		rails []vehicles.Rail
		want  string
	}{
		{nil, ""}, {[]vehicles.Rail{rail("far", 16, 3)}, ""}, {[]vehicles.Rail{rail("just", 15, 3)}, "just"},
		{[]vehicles.Rail{rail("off", 10, 3), rail("near", 5, 4)}, "near"}, {[]vehicles.Rail{rail("near", 5, 4), rail("off", 10, 3)}, "near"},
	} {
		b := crate(1, 1, 1, 1)
		b.Feet[1].FrameMM = 7
		_, h := held(t, b, layout.Restraint{ForwardG: 1}, c.rails...)
		if c.want == "" {
			if h.Feet[0].Rail != nil || h.Feet[0].FrameMM != 0 || h.Feet[0].FrameMPa != 360 {
				t.Errorf("%+v", h.Feet[0])
			}
			continue
		}
		if h.Feet[0].Rail == nil || h.Feet[0].Rail.ID != c.want {
			t.Fatalf("want %s, got %+v", c.want, h.Feet[0].Rail)
		}
		near(t, "thickness", h.Feet[0].FrameMM, h.Feet[0].Rail.ThicknessMM, 0)
		near(t, "strength", h.Feet[0].FrameMPa, 400+h.Feet[0].Rail.ThicknessMM, 0)
		near(t, "thickness as stated", h.Feet[1].FrameMM, 7, 0)
	}
}

func TestUseOfNothing(t *testing.T) {
	near(t, "half", newUse(1, 2, "N").Ratio, 0.5, 0)
	near(t, "nothing of nothing", newUse(0, 0, "N").Ratio, 0, 0)
	if u := newUse(1, 0, "N"); !math.IsInf(u.Ratio, 1) {
		t.Errorf("%+v", u)
	}
}

// A box is taken over while scene, weight and set stay, and worked out again when one of them changes.
func TestBoxesAreTakenOverOnlyWhereNothingChanged(t *testing.T) {
	s, _ := held(t, crate(1, 1, 1, 1), layout.Restraint{ForwardG: 20})
	w := []Weight{{Box: "crate", Kg: 60, CG: middle}}
	first := Evaluate(s, w, nil)
	if again := Evaluate(s, w, first); again.Boxes[0] != first.Boxes[0] {
		t.Error("nothing changed, yet the box was worked out again")
	}
	heavier := []Weight{{Box: "crate", Kg: 61, CG: middle}}
	higher := []Weight{{Box: "crate", Kg: 60, CG: middle.Add(r3.Vector{Z: 1})}}
	for _, other := range [][]Weight{heavier, higher} {
		if got := Evaluate(s, other, first).Boxes[0]; got == first.Boxes[0] || got.Kg != other[0].Kg || got.CG != other[0].CG {
			t.Errorf("%+v", got)
		}
	}
	for _, set := range []layout.Restraint{{ForwardG: 21}, {RearG: 20}, {ForwardG: 20, SideG: 1}, {ForwardG: 20, UpG: 1}, {ForwardG: 20, DownG: 1}, {ForwardG: 20, RearG: 1}} {
		t2 := *s
		p := *s.Plan
		p.Settings.Restraint = set
		t2.Plan = &p
		if got := Evaluate(&t2, w, first).Boxes[0]; got == first.Boxes[0] {
			t.Errorf("%+v: taken over from another set", set)
		}
	}
}

// Peaks are the largest over all cases and feet, found by plain loops; the largest pull is told with the readings.
func TestPeaksAreTheLargest(t *testing.T) {
	s, b := held(t, crate(1, 3, 2, 1), layout.Restraint{ForwardG: 20, SideG: 8, UpG: 5})
	most, pull := 0.0, 0.0
	for m := range modes {
		own := 0.0
		for _, c := range b.Cases {
			for _, l := range c.Feet {
				own, pull = max(own, l.Uses[m].Ratio), max(pull, l.PullN)
			}
		}
		if p, ok := b.Peak(m); ok {
			near(t, m.String(), p.Use.Ratio, own, 0)
			near(t, m.String()+" in its foot", p.Load.Uses[m].Ratio, own, 0)
		}
		most = max(most, own)
	}
	g, _ := b.Governing()
	near(t, "governing", g.Use.Ratio, most, 0)
	rs := Evaluate(s, []Weight{{Box: "crate", Kg: 60, CG: middle}}, nil).Readings()
	near(t, "used up, per cent", rs[0].Value, 100*most, 1e-9)
	near(t, "largest pull", rs[1].Value, pull, 1e-9)
}

// Small things count as great ones do: half a g, a pull below a newton, a frame of 0.8 mm, a torque of half a newton metre.
func TestSmallFiguresCount(t *testing.T) {
	b := crate(1, 1, 1, 1)
	b.Feet[0].FrameMM, b.Feet[0].TorqueNm = 0.8, 0.5
	s, h := held(t, b, layout.Restraint{UpG: 0.5})
	near(t, "half a g", h.in(t, Up).Force.Z, 60*0.5*Gravity, 1e-9)
	if f := h.in(t, Up).Feet[0]; !f.Uses[BearingFrame].Known {
		t.Error("a frame of 0.8 mm is not judged")
	}
	if f := h.Feet[0]; !f.Stated || f.TorqueNm != 0.5 {
		t.Errorf("half a newton metre is not taken: %+v", f)
	}
	light := Evaluate(s, []Weight{{Box: "crate", Kg: 0.1, CG: middle}}, nil)
	near(t, "pull of a light box", light.Readings()[1].Value, 0.1*0.5*Gravity/4, 1e-3) // one foot is a little softer
	near(t, "shear below a newton", h.Feet[0].mostShear([]r3.Vector{{X: 0.3}, {X: 0.5}}), 0.5, 1e-12)
	near(t, "of a half", newUse(1, 0.5, "N").Ratio, 2, 0)
}

// EN 1999-1-1 3.2.5: aluminium 70000 MPa, to the newton.
func TestAluminiumFootByHand(t *testing.T) {
	b := crate(1, 1, 1, 1)
	b.Shell.Material = "aluminium"
	b.Feet[0].FrameMM = 3
	_, h := held(t, b, layout.Restraint{ForwardG: 1})
	near(t, "along", h.springs()[0].AlongNPerMM, 480375.0*7000/487375, 1e-6)
}
