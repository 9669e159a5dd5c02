package fabricate

import (
	"testing"

	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// drawBox draws a box with cut corners, tapers and steps, and any make of shell that the file format allows.
func drawBox(t *rapid.T) *layout.Box {
	mm := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
	l, w := mm(80, 1500, "length"), mm(80, 900, "width")
	cut := rapid.IntRange(0, 4).Draw(t, "cut corners")
	a, b := mm(10, 0.45*l, "cut along"), mm(10, 0.45*w, "cut across")
	ring := []vehicles.XY{{0, 0}, {l, 0}}
	if cut > 0 {
		ring = append(ring, vehicles.XY{l, w - b}, vehicles.XY{l - a, w})
	} else {
		ring = append(ring, vehicles.XY{l, w})
	}
	if cut > 2 { // a bite out of the far side
		x := mm(5, 0.4*l, "bite")
		ring = append(ring, vehicles.XY{x + 0.1*l, w}, vehicles.XY{x + 0.1*l, w - 0.5*b}, vehicles.XY{x, w - 0.5*b}, vehicles.XY{x, w})
	}
	ring = append(ring, vehicles.XY{0, w})
	h := mm(40, 500, "height")
	box := &layout.Box{ID: "b", Levels: []vehicles.Level{{Outline: ring, CeilingMM: h}}}
	if rapid.Bool().Draw(t, "stepped") {
		floor := rapid.SampledFrom([]float64{0, 0.4 * h}).Draw(t, "floor of the step")
		box.Levels = append(box.Levels, vehicles.Level{Outline: []vehicles.XY{{-0.5 * l, 0}, {0, 0}, {0, 0.8 * w}, {-0.5 * l, 0.8 * w}}, FloorMM: floor, CeilingMM: h * rapid.SampledFrom([]float64{1, 0.8}).Draw(t, "ceiling of the step")})
	}
	box.Shell = layout.Shell{
		WallMM: rapid.SampledFrom([]float64{0, 1, 2, 4}).Draw(t, "wall"), FloorMM: rapid.SampledFrom([]float64{0, 2}).Draw(t, "floor"),
		FlangeMM: rapid.SampledFrom([]float64{0, 12, 40}).Draw(t, "flange"), BendMM: rapid.SampledFrom([]float64{0, 1, 3, 10}).Draw(t, "bend"),
		LinerMM: rapid.SampledFrom([]float64{0, 2}).Draw(t, "liner"), Join: rapid.SampledFrom([]string{"", "fold", "weld"}).Draw(t, "join"), LidSide: rapid.SampledFrom([]string{"", "bottom"}).Draw(t, "lid"),
	}
	return box
}

// Whatever the box, every panel is cut once, from valid shapes, with all holes and bends inside.
func TestAnyBoxIsCutWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBox(t)
		got := Flatten(b, mass.Panels(b), layout.Sheet{KFactor: rapid.SampledFrom([]float64{0, 0.4}).Draw(t, "K")})
		seen := map[string]int{}
		for i := range got.Blanks {
			k := &got.Blanks[i]
			for _, id := range k.Panels {
				seen[id]++
			}
			if faults := k.Outline.Validate(); len(faults) > 0 {
				t.Fatalf("%s: %v", k.ID, faults)
			}
			grown, err := k.Outline.Inset(-0.1)
			if err != nil || len(grown) != 1 {
				t.Fatalf("%s: %v", k.ID, err)
			}
			for _, l := range k.Bends {
				if !grown[0].ContainsSegment(l.A, l.B) {
					t.Fatalf("%s: the bend from %v to %v is not inside %v", k.ID, l.A, l.B, k.Outline.Outer)
				}
			}
		}
		for _, p := range got.Panels {
			if narrow := p.Outline.Simplified().IsEmpty() || p.AreaMM2 < 5; seen[p.ID] != 1 && !narrow {
				t.Fatalf("panel %s is cut %d times", p.ID, seen[p.ID])
			}
		}
	})
}
