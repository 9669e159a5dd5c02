package layout

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// footed is a plan with one box turned a quarter, with two feet.
func footed() *Plan {
	b := &Box{ID: "box", At: vehicles.XYZ{1000, 0, 200}, TurnDeg: 90,
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {600, 0}, {600, 400}, {0, 400}}, CeilingMM: 200}},
		Feet:   []Foot{{ID: "f1", At: vehicles.XYZ{-25, 100, 0}, Bolt: "M8", Class: "8.8"}, {ID: "f2", At: vehicles.XYZ{625, 100, 50}, Bolt: "M8", Class: "8.8", Normal: "left"}}}
	return &Plan{Format: 1, Name: "p", Donor: "van-rear-engine", Arrangements: []*Arrangement{{ID: "a", Name: "a", Boxes: []*Box{b}}}}
}

// A foot is moved by the vehicle's axes though its box is turned, alone, and not where its box is locked.
func TestMoveAFoot(t *testing.T) {
	p := footed()
	e, err := Move(p, "a", []string{FootRef("box", "f1")}, r3.Vector{X: 10, Y: 20, Z: 5})
	if err != nil {
		t.Fatal(err)
	}
	q, err := e.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	was, now := p.Arrangements[0].Boxes[0], q.Arrangements[0].Boxes[0]
	f := NewFrame(now.At, now.TurnDeg)
	by := f.ToVehicle(now.Feet[0].At.Vector()).Sub(f.ToVehicle(was.Feet[0].At.Vector()))
	if by.Sub(r3.Vector{X: 10, Y: 20, Z: 5}).Norm() > 1e-9 || now.Feet[1] != was.Feet[1] || now.At != was.At {
		t.Errorf("moved by %v, box at %v", by, now.At)
	}
	p.Arrangements[0].Boxes[0].Locked = true
	if _, err := Move(p, "a", []string{FootRef("box", "f1")}, r3.Vector{X: 1}); !errors.Is(err, ErrLocked) {
		t.Errorf("locked: %v", err)
	}
}

func TestRemoveAFoot(t *testing.T) {
	p := footed()
	e, err := Remove(p, "a", FootRef("box", "f1"))
	if err != nil {
		t.Fatal(err)
	}
	q, err := e.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	if fs := q.Arrangements[0].Boxes[0].Feet; len(fs) != 1 || fs[0].ID != "f2" {
		t.Errorf("%+v", fs)
	}
	if _, err := Remove(p, "a", FootRef("box", "none")); err == nil {
		t.Error("a foot that is not there was taken out")
	}
}

// By hand: the plate of 50 mm lies 16 mm beyond the bolt (two diameters) and 25 mm back to the wall; 5 mm thick, on the
// box's side of the mounting face.
func TestFootPlate(t *testing.T) {
	b := footed().Arrangements[0].Boxes[0]
	s := &BoxScene{Box: b, Frame: NewFrame(b.At, 0)}
	p := s.FootPlate(&b.Feet[0])
	want := r2.RectFromPoints(r2.Point{X: 1000 - 25 - 16, Y: 75}, r2.Point{X: 1000, Y: 125})
	if got := p.Base.Bounds(); !got.ApproxEqual(want) || p.Bottom != 200 || math.Abs(p.Top-205) > 1e-9 {
		t.Errorf("%v from %g to %g, want %v", got, p.Bottom, p.Top, want)
	}
	if got := p.Base.Area(); math.Abs(got-50*(25+16)) > 1e-6 {
		t.Errorf("the plate has %g mm2, want all of the rectangle", got)
	}
	if p := s.FootPlate(&b.Feet[1]); p.Base.Area() <= 0 || math.Abs(p.Height()-50) > 1e-9 {
		t.Errorf("on edge: %+v", p)
	}
}

func TestFootDefaults(t *testing.T) {
	f := Foot{Bolt: "M10"}
	if f.Count() != 1 || f.Plate() != 5 || f.Edge() != 20 || f.Arm() != 25 || f.Width() != 50 || f.Weld() != 100 || f.Throat() != 3 || f.Strength() != 360 {
		t.Errorf("%+v", f)
	}
}

// By hand, on a box that tapers from 600 mm at x = 100 mm to 400 mm at x = 1100 mm, both its long walls slanted by one in ten: at x the
// walls lie at y = ±(300 - (x - 100) / 10). The feet stand 25 mm outside, 60 mm from the ends and at most 600 mm apart, on the floor of the
// part that reaches farthest out.
func TestSuggestedFeetStandAtSlantedWalls(t *testing.T) {
	taper := vehicles.Level{Outline: []vehicles.XY{{100, -300}, {1100, -200}, {1100, 200}, {100, 300}}, FloorMM: 20, CeilingMM: 200}
	inner := vehicles.Level{Outline: rectangle(100, -100, 1100, 100), FloorMM: 50, CeilingMM: 250}
	for turned := range 2 {
		b := &Box{ID: "b", Levels: []vehicles.Level{inner, taper}}
		long, across := AlongX, AlongY
		if turned == 1 {
			long, across = AlongY, AlongX
			for i := range b.Levels {
				out := slices.Clone(b.Levels[i].Outline)
				for k, p := range out {
					out[k] = vehicles.XY{p[1], p[0]}
				}
				b.Levels[i].Outline = out
			}
		}
		feet := SuggestFeet(b)
		if len(feet) != 6 {
			t.Fatalf("%d feet, want three a side: %+v", len(feet), feet)
		}
		for i, f := range feet {
			at := f.At.Vector()
			x, y := long.of(at), across.of(at)
			side := []float64{-1, 1}[i/3]
			if want := []float64{160, 600, 1040}[i%3]; math.Abs(x-want) > 0.01 {
				t.Errorf("foot %s stands at %g along, want %g", f.ID, x, want)
			}
			if want := side * (300 - (x-100)/10 + 25); math.Abs(y-want) > 0.01 || at.Z != 20 {
				t.Errorf("foot %s stands at %g across and %g up, want %g and 20", f.ID, y, at.Z, want)
			}
		}
	}
}
