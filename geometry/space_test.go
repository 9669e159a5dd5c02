package geometry

import (
	"math"
	"reflect"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// block is a unit cube with its least corner at x, y, z.
type block struct{ x, y, z int }

// blocks is a space made of unit cubes: the brute-force twin of a space.
type blocks map[block]bool

// span is a box on the unit grid.
type span struct{ lo, hi block }

func drawSpan(t *rapid.T, size int, label string) span {
	lo, n := rapid.IntRange(0, size-1), rapid.IntRange(1, size)
	a := block{lo.Draw(t, label+" x"), lo.Draw(t, "y"), lo.Draw(t, "z")}
	return span{a, block{a.x + n.Draw(t, "l"), a.y + n.Draw(t, "w"), a.z + n.Draw(t, "h")}}
}

func (s span) prism() Prism {
	return NewBox(vec(s.lo), vec(s.hi))
}

func vec(b block) r3.Vector { return r3.Vector{X: float64(b.x), Y: float64(b.y), Z: float64(b.z)} }

func (s span) each(f func(block)) {
	for x := s.lo.x; x < s.hi.x; x++ {
		for y := s.lo.y; y < s.hi.y; y++ {
			for z := s.lo.z; z < s.hi.z; z++ {
				f(block{x, y, z})
			}
		}
	}
}

// in tells whether every cube of the span is in the space.
func (s span) in(b blocks) bool {
	all := true
	s.each(func(c block) { all = all && b[c] })
	return all
}

// drawSpace draws a space of boxes with its twin.
func drawSpace(t *rapid.T, size int) (Space, blocks) {
	var s Space
	b := blocks{}
	for range rapid.IntRange(1, 4).Draw(t, "solids") {
		p := drawSpan(t, size, "solid")
		s.Solids = append(s.Solids, p.prism())
		p.each(func(c block) { b[c] = true })
	}
	for range rapid.IntRange(0, 2).Draw(t, "keep-outs") {
		p := drawSpan(t, size, "keep-out")
		p.hi = block{min(p.hi.x, p.lo.x+2), min(p.hi.y, p.lo.y+2), min(p.hi.z, p.lo.z+2)}
		s.KeepOuts = append(s.KeepOuts, p.prism())
		p.each(func(c block) { delete(b, c) })
	}
	return s, b
}

func TestSpaceAgreesWithBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, b := drawSpace(t, 4)
		if got := s.Volume(); math.Abs(got-float64(len(b))) > 1e-6 {
			t.Fatalf("volume %v, blocks say %v", got, len(b))
		}
		prepared, err := s.Prepare()
		if err != nil {
			t.Fatal(err)
		}
		for range 10 {
			p := drawSpan(t, 4, "p")
			p.hi = block{min(p.hi.x, p.lo.x+3), min(p.hi.y, p.lo.y+3), min(p.hi.z, p.lo.z+3)}
			want := p.in(b)
			if got := s.ContainsPrism(p.prism()); got != want {
				t.Fatalf("ContainsPrism(%v) = %v, blocks say %v", p, got, want)
			}
			if got := prepared.ContainsPrism(p.prism()); got != want {
				t.Fatalf("prepared ContainsPrism(%v) = %v, blocks say %v", p, got, want)
			}
			checkClearances(t, prepared, b, p)
		}
	})
}

func checkClearances(t *rapid.T, s Prepared, b blocks, p span) {
	below, above := s.VerticalClearance(p.prism())
	d, from, to := s.WallDistance(p.prism())
	if !p.in(b) {
		if below != 0 || above != 0 || d != 0 {
			t.Fatalf("clearances %v %v %v of a prism that is not inside", below, above, d)
		}
		return
	}
	if math.Abs(from.Sub(to).Norm()-d) > 1e-9 {
		t.Fatalf("pair %v %v is not %v apart", from, to, d)
	}
	down, up := p, p
	for down.lo.z--; down.in(b); down.lo.z-- {
	}
	for up.hi.z++; up.in(b); up.hi.z++ {
	}
	if below != float64(p.lo.z-down.lo.z-1) || above != float64(up.hi.z-p.hi.z-1) {
		t.Fatalf("clearances %v below and %v above, blocks say %v and %v", below, above, p.lo.z-down.lo.z-1, up.hi.z-p.hi.z-1)
	}
	if want := wallByBlocks(b, p); math.Abs(d-want) > 1e-9 {
		t.Fatalf("wall distance %v, blocks say %v", d, want)
	}
}

// wallByBlocks is the least sideways distance of the span to a cube that is not
// in the space at a height of the span.
func wallByBlocks(b blocks, p span) float64 {
	best := math.Inf(1)
	const far = 12
	around := span{block{p.lo.x - far, p.lo.y - far, p.lo.z}, block{p.hi.x + far, p.hi.y + far, p.hi.z}}
	around.each(func(c block) {
		if !b[c] {
			dx := max(c.x-p.hi.x, p.lo.x-c.x-1, 0)
			dy := max(c.y-p.hi.y, p.lo.y-c.y-1, 0)
			best = min(best, math.Hypot(float64(dx), float64(dy)))
		}
	})
	return best
}

// The inset of a space of boxes is its erosion by a box.
func TestSpaceInsetAgreesWithBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, b := drawSpace(t, 6)
		k := rapid.IntRange(0, 2)
		side, floor, ceiling := k.Draw(t, "side"), k.Draw(t, "floor"), k.Draw(t, "ceiling")
		in, err := s.Inset(float64(side), float64(floor), float64(ceiling))
		if err != nil {
			t.Fatal(err)
		}
		want := 0
		span{hi: block{13, 13, 13}}.each(func(c block) {
			room := span{block{c.x - side, c.y - side, c.z - floor}, block{c.x + side + 1, c.y + side + 1, c.z + ceiling + 1}}
			if room.in(b) {
				want++
				if !in.ContainsPrism(span{c, block{c.x + 1, c.y + 1, c.z + 1}}.prism()) {
					t.Fatalf("%v is taken away", c)
				}
			}
		})
		if got := in.Volume(); math.Abs(got-float64(want)) > 1e-6 {
			t.Fatalf("volume %v, blocks say %v", got, want)
		}
	})
}

func TestSteppedBay(t *testing.T) {
	// A bay 1000 by 600 with a floor 100 higher over its last 300, a ceiling
	// 50 lower over its first 200, and a pillar.
	bay := Space{
		Solids: []Prism{
			{Base: NewRect(0, 0, 200, 600), Bottom: 200, Top: 450},
			{Base: NewRect(200, 0, 700, 600), Bottom: 200, Top: 500},
			{Base: NewRect(700, 0, 1000, 600), Bottom: 300, Top: 500},
		},
		KeepOuts: []Prism{{Base: NewRect(480, 280, 520, 320), Bottom: 200, Top: 350}},
	}
	if faults := bay.Validate(); faults != nil {
		t.Fatal(faults)
	}
	box := func(x0, y0, z0, x1, y1, z1 float64) Prism {
		return NewBox(r3.Vector{X: x0, Y: y0, Z: z0}, r3.Vector{X: x1, Y: y1, Z: z1})
	}
	for _, c := range []struct {
		name string
		p    Prism
		want bool
	}{
		{"over both floors", box(0, 0, 350, 1000, 600, 450), true},
		{"through the low ceiling", box(0, 0, 350, 1000, 600, 451), false},
		{"into the step", box(600, 0, 299, 800, 100, 400), false},
		{"on the step", box(600, 0, 300, 800, 100, 400), true},
		{"over the pillar", box(400, 200, 350, 600, 400, 500), true},
		{"into the pillar", box(400, 200, 349, 600, 400, 500), false},
		{"beside the pillar", box(520, 200, 200, 600, 400, 500), true},
	} {
		if got := bay.ContainsPrism(c.p); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if got, want := bay.Volume(), 200*600*250+500*600*300+300*600*200-40*40*150.0; math.Abs(got-want) > 1e-3 {
		t.Errorf("volume %v, want %v", got, want)
	}
	lo, hi := bay.Bounds()
	if lo != (r3.Vector{X: 0, Y: 0, Z: 200}) || hi != (r3.Vector{X: 1000, Y: 600, Z: 500}) {
		t.Errorf("bounds %v %v", lo, hi)
	}
	below, above := bay.VerticalClearance(box(600, 0, 320, 800, 100, 400))
	if below != 20 || above != 100 {
		t.Errorf("clearances %v below and %v above, want 20 and 100", below, above)
	}
	if d, _, _ := bay.WallDistance(box(540, 290, 210, 600, 310, 500)); d != 20 {
		t.Errorf("wall distance %v, want 20", d)
	}
}

func TestInsetJoinsWhatStandsOnTheSameBase(t *testing.T) {
	s := Space{Solids: []Prism{{NewRect(0, 0, 10, 10), 0, 5}, {NewRect(0, 0, 10, 10), 5, 9}, {NewRect(0, 0, 10, 10), 20, 30}}}
	in, err := s.Inset(1, 0, 0)
	if err != nil || len(in.Solids) != 2 || in.Solids[0].Bottom != 0 || in.Solids[0].Top != 9 || in.Solids[1].Bottom != 20 || in.Solids[1].Top != 30 {
		t.Errorf("%v (%v), want one prism from 0 to 9 and one from 20 to 30", in.Solids, err)
	}
}

func TestTranslateMovesEveryPrism(t *testing.T) {
	s := Space{Solids: []Prism{{NewRect(0, 0, 10, 20), 5, 30}}, KeepOuts: []Prism{{NewRect(1, 2, 3, 4), 6, 7}}}
	got := s.Translate(r3.Vector{X: 100, Y: 200, Z: 300})
	want := Space{Solids: []Prism{{NewRect(100, 200, 110, 220), 305, 330}}, KeepOuts: []Prism{{NewRect(101, 202, 103, 204), 306, 307}}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// The nearest points are told in the middle of the heights that the prism and
// the wall have in common.
func TestWallDistanceIsToldAtTheHeightOfTheWall(t *testing.T) {
	narrow := Space{Solids: []Prism{{NewRect(0, 0, 100, 100), 0, 50}, {NewRect(10, 0, 100, 100), 50, 90}}}
	d, from, to := narrow.WallDistance(Prism{NewRect(15, 40, 60, 60), 20, 80})
	if d != 5 || from.X != 15 || to.X != 10 || from.Z != 65 || to.Z != 65 {
		t.Errorf("%v from %v to %v, want 5 at height 65", d, from, to)
	}
}

func TestNoWallIsNearWhatIsInNoFreePolygon(t *testing.T) {
	l := Slab{Bottom: 0, Top: 10, Free: []Polygon{NewRect(0, 0, 10, 10)}}
	if from, to, d := l.wall(NewRect(20, 20, 30, 40)); d != 0 || from != pt(25, 30) || to != pt(25, 30) {
		t.Errorf("%v from %v to %v, want 0 at its centre", d, from, to)
	}
}

func TestSpaceThatCannotBeCutHasNoClearances(t *testing.T) {
	s := Space{Solids: []Prism{{Polygon{Outer: ringOf(0, 0, math.NaN(), 0, 5, 5)}, 0, 10}}}
	p := Prism{NewRect(1, 1, 2, 2), 4, 5}
	if below, above := s.VerticalClearance(p); below != 0 || above != 0 {
		t.Errorf("clearances %v and %v, want none", below, above)
	}
	if d, _, _ := s.WallDistance(p); !math.IsNaN(d) {
		t.Errorf("wall distance %v, want NaN", d)
	}
	if v := s.Volume(); !math.IsNaN(v) || s.ContainsPrism(p) {
		t.Errorf("volume %v, want NaN; contains a prism: %v", v, s.ContainsPrism(p))
	}
}
