package electric

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// Live parts are paired where they are no more than 60 mm of air and their radii apart along each axis: all pairs compared.
func TestPartsAreNearByTheirRadii(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	m := &measured{}
	for i := range 60 {
		ref := string(rune('a' + i%20))
		m.parts = append(m.parts, live{ref: ref, p: r3.Vector{X: 300 * rng.Float64(), Y: 150 * rng.Float64(), Z: 100 * rng.Float64()}, radius: 25 * rng.Float64()})
	}
	m.toEachOther(nil)
	got := map[[2]int]bool{}
	for _, g := range m.gaps {
		got[[2]int{g.a, g.b}] = true
		close9(t, "length", g.length, max(0, m.parts[g.a].p.Sub(m.parts[g.b].p).Norm()-m.parts[g.a].radius-m.parts[g.b].radius))
	}
	for i := range m.parts {
		for k := i + 1; k < len(m.parts); k++ {
			a, b := &m.parts[i], &m.parts[k]
			d, reach := a.p.Sub(b.p).Abs(), 60+a.radius+b.radius
			if near := a.ref != b.ref && d.X < reach && d.Y < reach && d.Z < reach; near != got[[2]int{i, k}] {
				t.Errorf("%v and %v, reach %v: near %v", a.p, b.p, reach, near)
			}
		}
	}
}

// A terminal has half its diameter around it, or 8 mm where none is stated; a liner of any thickness covers walls and floor.
func TestBareMetalAndLiner(t *testing.T) {
	for d, want := range map[float64]float64{0: 8, 1: 0.5, 12: 6} {
		close9(t, "radius", radiusOf(d), want)
	}
	r := Evaluate(resolve(boxWith(0.5, layout.Placement{ID: "m", Module: "block", At: vehicles.XYZ{40, 100, 4}, Posture: vehicles.Flat})), nil)
	if len(pairsOf(r, ToWall))+len(pairsOf(r, ToFloor)) != 0 {
		t.Error("a liner of half a millimetre does not cover")
	}
}

// stepped is a box of two floors without sheets of its own: 400 mm long from 0 to 100 mm, 800 mm long from there to 200 mm.
func stepped() roomFacts {
	square := func(x float64) geometry.Polygon {
		return layout.PolygonOf([]vehicles.XY{{0, 0}, {x, 0}, {x, 300}, {0, 300}})
	}
	return roomFacts{slabs: []geometry.Slab{
		{Bottom: 0, Top: 60, Free: []geometry.Polygon{square(400)}}, {Bottom: 60, Top: 100, Free: []geometry.Polygon{square(400)}},
		{Bottom: 100, Top: 150, Free: []geometry.Polygon{square(800)}}, {Bottom: 150, Top: 200, Free: []geometry.Polygon{square(800)}},
		{Bottom: 250, Top: 300, Free: []geometry.Polygon{square(100)}},
	}}
}

// Floor and ceiling over a point, by hand, from any height in between.
func TestFloorAndCeilingOverAPoint(t *testing.T) {
	room := stepped()
	closed := roomFacts{slabs: room.slabs[:4]}
	for _, c := range []struct {
		x, z, floor, ceiling float64
		inside               bool
	}{
		{50, 10, 0, 200, true}, {50, 80, 0, 200, true}, {50, 120, 0, 200, true}, {50, 190, 0, 200, true}, {600, 120, 100, 200, true}, {600, 190, 100, 200, true},
		{600, 50, 0, 0, false}, {900, 150, 0, 0, false}, {50, 220, 0, 0, false}, {50, 270, 250, 300, true}, {50, 0, 0, 200, true}, {50, 200, 0, 200, true},
	} {
		floor, ceiling, inside := room.heights(r2.Point{X: c.x, Y: 100}, c.z)
		if floor != c.floor || ceiling != c.ceiling || inside != c.inside {
			t.Errorf("at %v, %v: %v to %v, %v", c.x, c.z, floor, ceiling, inside)
		}
		if _, ceiling, inside := closed.heights(r2.Point{X: c.x, Y: 100}, c.z); c.z < 250 && (ceiling != c.ceiling || inside != c.inside) {
			t.Errorf("without the part above, at %v, %v: up to %v, %v", c.x, c.z, ceiling, inside)
		}
	}
}

// The nearest point of an outline with a hole and short edges lies on it, and no point along it, 0.01 mm apart, is nearer by
// more than that.
func TestNearestPointOfTheWalls(t *testing.T) {
	outer := geometry.Ring{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40.5, Y: 0}, {X: 40.5, Y: 30}, {X: 40, Y: 30.4}, {X: 0, Y: 30}}
	hole := geometry.Ring{{X: 10, Y: 10}, {X: 10, Y: 20}, {X: 20, Y: 20}, {X: 20, Y: 10}}
	var along []r2.Point
	for _, ring := range []geometry.Ring{outer, hole} {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			n := int(math.Ceil(b.Sub(a).Norm() / 0.01))
			for k := range n {
				along = append(along, a.Add(b.Sub(a).Mul(float64(k)/float64(n))))
			}
		}
	}
	rng := rand.New(rand.NewPCG(5, 1))
	points := []r2.Point{{X: 40.25, Y: -3}, {X: 40.2, Y: 33}}
	for range 60 {
		points = append(points, r2.Point{X: 60*rng.Float64() - 10, Y: 60*rng.Float64() - 10})
	}
	for _, p := range points {
		n, d := nearestOnRings(geometry.Polygon{Outer: outer, Holes: []geometry.Ring{hole}}, p)
		best, on := math.Inf(1), math.Inf(1)
		for _, q := range along {
			best, on = min(best, q.Sub(p).Norm()), min(on, q.Sub(n).Norm())
		}
		if d > best+1e-9 || d < best-0.01 || on > 0.01 || math.Abs(n.Sub(p).Norm()-d) > 1e-9 {
			t.Errorf("%v: %v at %v, found %v; %v off the walls", p, d, n, best, on)
		}
	}
}

// Edges of a barrier count as open where more than 1 mm is left: over it, under it and beside it. The barrier stands on the
// upper floor of a stepped box, far from where heights are counted from, so that every middle has to be its own.
func TestOpenEdgesOfABarrier(t *testing.T) {
	room := stepped()
	for _, c := range []struct {
		floor, ceiling, y0, y1 float64
		open                   int
	}{
		{100, 200, 0, 300, 0}, {100, 190, 0, 300, 4}, {110, 200, 0, 300, 4}, {110, 190, 0, 300, 8}, {100, 200, 50, 250, 4}, {105, 195, 50, 250, 12},
		{100, 198.95, 0, 300, 4}, {100, 199.05, 0, 300, 0}, {101.05, 200, 0, 300, 4}, {100.95, 200, 0, 300, 0}, {100, 200, 1.05, 298.95, 4}, {100, 200, 0.95, 299.05, 0},
		{100, 101, 0, 300, 4}, {105, 150, 50, 250, 12},
	} {
		s := sheetOf(&layout.Barrier{ID: "s", Outline: []vehicles.XY{{740, c.y0}, {743, c.y0}, {743, c.y1}, {740, c.y1}}, FloorMM: c.floor, CeilingMM: c.ceiling}, &room)
		if len(s.edges) != c.open {
			t.Errorf("%+v: %d edges open", c, len(s.edges))
		}
	}
}

// The least voltage across a gap in any order: by the doc of the function, between each two kinds of parts.
func TestLeastVoltageOfAnyOrder(t *testing.T) {
	g := &Gaps{m: &measured{parts: []live{{gear: &layout.GearBody{}}, {body: &layout.Body{}}, {body: &layout.Body{}}, {gear: &layout.GearBody{}}}}}
	for _, c := range []struct {
		a, b  int
		v     float64
		known bool
	}{{1, 2, 0, true}, {1, none, 200, true}, {0, none, 400, false}, {1, 3, 400, false}, {0, 1, 400, false}, {0, 3, 400, false}} {
		if v, known := g.leastV(&gap{a: c.a, b: c.b}, 400); v != c.v || known != c.known {
			t.Errorf("%d and %d: %v %v", c.a, c.b, v, known)
		}
	}
}

// gapsOf are gaps of some lengths from one module's pole to the lid, and what they need at 800 V.
func gapsOf(lengths ...float64) (b *layout.BoxScene, m *measured, around Surroundings, need float64) {
	around = Surroundings{Pollution: 2, Group: "I", Category: 1, AltitudeM: 2000, Insulation: Basic}
	m = &measured{parts: []live{{ref: "m", body: &layout.Body{}}}}
	for _, l := range lengths {
		m.gaps = append(m.gaps, gap{a: 0, b: none, kind: ToLid, metal: "lid", length: l})
	}
	r := RequiredBetween(Basic, 400, 800, around)
	return resolve(planOf(boxOf("b", vehicles.XYZ{}, 1, 1))).Boxes[0], m, around, max(r.ClearanceMM, r.CreepageMM)
}

// A gap just as long as needed is enough, one a hundredth of a millimetre shorter is too short: so say the list of pairs, the
// pair itself, and what is short in any order (at half the voltage, as a pole is that far from one end of the pack).
func TestGapJustLongEnough(t *testing.T) {
	_, _, _, need := gapsOf()
	for _, c := range []struct {
		lengths []float64
		short   int
		tight   float64 // the tightest of those that are long enough; 0: none
	}{
		{[]float64{need}, 0, need}, {[]float64{need - 0.01}, 1, 0}, {[]float64{need + 2, need + 1, need + 3}, 0, need + 1},
		{[]float64{need - 0.01, need - 0.02}, 2, 0}, {[]float64{need + 1, need - 0.01}, 1, 0},
	} {
		b, m, around, _ := gapsOf(c.lengths...)
		in := Insulation{Around: around, SystemV: 800}
		in.box(b, m, map[*layout.Body]poles{m.parts[0].body: {400, 400}})
		short := 0
		for _, p := range in.Pairs {
			if !p.Enough() {
				short++
			}
			if p.Tightest != p.Enough() || p.Tightest && p.ActualMM != c.tight {
				t.Errorf("%v: %v mm, needs %v, tightest %v", c.lengths, p.ActualMM, p.NeedMM(), p.Tightest)
			}
		}
		if short != c.short || c.tight > 0 && len(in.Pairs) != 1 || in.Looked != len(c.lengths) {
			t.Errorf("%v: %d pairs, %d too short", c.lengths, len(in.Pairs), short)
		}
		if got := (&Gaps{b, around, m}).ShortAnyway(800); len(got) != c.short {
			t.Errorf("%v: %d are short in any order", c.lengths, len(got))
		}
	}
}

// IEC 60664-1, note to table F.5: material of group IIIb is not recommended for pollution degree 3 above 630 V; here from that
// on.
func TestGroupIIIbAtHighVoltage(t *testing.T) {
	for _, c := range []struct {
		v         float64
		pollution int
		group     string
		bad       bool
	}{{630, 3, "IIIb", true}, {629, 3, "IIIb", false}, {700, 2, "IIIb", false}, {700, 3, "IIIa", false}, {700, 4, "IIIb", true}} {
		_, s := row(cellsAsModule(c.v-50, c.v-100, c.v, 50, 1), 1)
		s.Plan.Settings.Electric.Pollution, s.Plan.Settings.Electric.MaterialGroup = c.pollution, c.group
		if got := Evaluate(s, nil).Insulation.BadGroupIIIb; got != c.bad {
			t.Errorf("%+v: %v", c, got)
		}
	}
}
