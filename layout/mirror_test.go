package layout

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"stowbay/vehicles"
)

// Seen in the scene, every body's footprint and height is the mirror image of the other's, and its terminals look the mirrored way.
func TestMirrorImageInTheScene(t *testing.T) {
	lib := testLibrary()
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.IntRange(-500, 500)
		b := plainBox("one", vehicles.XYZ{float64(num.Draw(t, "x")), float64(num.Draw(t, "y")), 200}, 3)
		b.TurnDeg = float64(rapid.SampledFrom([]int{0, 90, 180, -90, 17, -33}).Draw(t, "box turn"))
		for i := range b.Modules {
			m := &b.Modules[i]
			m.Module = rapid.SampledFrom([]string{"brick", "slab"}).Draw(t, "module")
			m.Posture = rapid.SampledFrom([]vehicles.Posture{"flat", "side", "end"}).Draw(t, "posture")
			m.Turn = rapid.SampledFrom([]int{0, 90, 180, 270}).Draw(t, "turn")
		}
		p := NewPlan(testDonor(), "Mirror")
		a := p.Arrangements[0]
		b.Bay = ""
		a.Boxes = []*Box{b, MirrorBox(b, &Box{ID: "two"}, lib)}
		s := Resolve(p, a, lib, nil)
		for i, body := range s.Boxes[0].Modules {
			other := s.Boxes[1].Modules[i]
			for _, c := range body.Prism.Base.Outer {
				if !hasCorner(other, c.X, -c.Y) {
					t.Fatalf("module %s %s %d: corner (%g, %g) has no mirror image in %v", body.Module.ID, body.Placement.Posture, body.Placement.Turn, c.X, -c.Y, other.Prism.Base.Outer)
				}
			}
			if math.Abs(body.Prism.Bottom-other.Prism.Bottom) > 1e-6 || math.Abs(body.Prism.Top-other.Prism.Top) > 1e-6 {
				t.Fatalf("heights differ: %v and %v", body.Prism, other.Prism)
			}
			checkTerminals(t, body, other)
		}
	})
}

func hasCorner(b *Body, x, y float64) bool {
	for _, c := range b.Prism.Base.Outer {
		if math.Hypot(c.X-x, c.Y-y) < 0.02 {
			return true
		}
	}
	return false
}

// checkTerminals wants the terminals' faces mirrored wherever one of the two turns can do it. On a module on its side with terminals on a
// long side, which is then up or down, either turn does.
func checkTerminals(t *rapid.T, body, other *Body) {
	for i := range body.Terminals {
		want, got := flipY(body.Terminals[i].Out), other.Terminals[i].Out
		if want.Sub(got).Norm() > 1e-9 {
			t.Fatalf("module %s %s %d: terminal looks to %v, its mirror image to %v", body.Module.ID, body.Placement.Posture, body.Placement.Turn, body.Terminals[i].Out, got)
		}
	}
}

func TestMirrorByHand(t *testing.T) {
	lib := testLibrary()
	b := &Box{ID: "one", At: vehicles.XYZ{600, -500, 200}, TurnDeg: 30, Levels: []vehicles.Level{{Outline: rectangle(0, 0, 800, 300), CeilingMM: 200}},
		Modules: []Placement{
			{ID: "a", Module: "brick", At: vehicles.XYZ{10, 20, 0}, Posture: vehicles.Flat},           // terminals to the front: they stay there
			{ID: "b", Module: "slab", At: vehicles.XYZ{10, 20, 0}, Posture: vehicles.Flat},            // terminals to the left: half a turn brings them to the right
			{ID: "c", Module: "brick", At: vehicles.XYZ{10, 20, 0}, Posture: vehicles.Flat, Turn: 90}, // terminals to the left (front turned by 90)
		},
		Feet:     []Foot{{ID: "f", At: vehicles.XYZ{50, -25, 0}, Normal: "left", Bolt: "M8", Class: "8.8"}},
		Openings: []Opening{{ID: "o", Kind: "vent", Face: "right", At: vehicles.XYZ{400, 300, 100}}},
	}
	m := MirrorBox(b, &Box{ID: "two", Name: "Right"}, lib)
	want := &Box{ID: "two", Name: "Right", At: vehicles.XYZ{600, 500, 200}, TurnDeg: -30,
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, -300}, {800, -300}, {800, 0}, {0, 0}}, CeilingMM: 200}},
		Modules: []Placement{
			{ID: "a", Module: "brick", At: vehicles.XYZ{10, -171, 0}, Posture: vehicles.Flat},
			{ID: "b", Module: "slab", At: vehicles.XYZ{10, -171, 0}, Posture: vehicles.Flat, Turn: 180},
			{ID: "c", Module: "brick", At: vehicles.XYZ{10, -375, 0}, Posture: vehicles.Flat, Turn: 270},
		},
		Feet:     []Foot{{ID: "f", At: vehicles.XYZ{50, 25, 0}, Normal: "right", Bolt: "M8", Class: "8.8"}},
		Openings: []Opening{{ID: "o", Kind: "vent", Face: "left", At: vehicles.XYZ{400, -300, 100}}},
	}
	if d := cmp.Diff(want, m, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
}

// A mirror image of a mirror image is the first box again, but for modules of which either turn is as good.
func TestMirrorTwice(t *testing.T) {
	lib := testLibrary()
	for _, p := range testPlan().Arrangements[0].Boxes {
		twice := MirrorBox(MirrorBox(p, p, lib), p, lib)
		if d := cmp.Diff(p, twice, sameContents); d != "" {
			t.Error(d)
		}
	}
}

func TestMirrorOfUnknownThings(t *testing.T) {
	b := plainBox("one", vehicles.XYZ{0, 100, 0}, 2)
	b.Gear = []PlacedGear{{ID: "g", Gear: "what", Turn: 90}}
	m := MirrorBox(b, b, &vehicles.Library{})
	if m.At[1] != -100 || len(m.Modules) != 2 || m.Gear[0].Turn != 270 {
		t.Error(fmt.Sprint(m))
	}
}
