package layout

import (
	"errors"
	"math"
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
