package electric

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/vehicles"
)

// pairsOf returns the pairs of a kind.
func pairsOf(r *Result, kind string) []Pair {
	var out []Pair
	for _, p := range r.Insulation.Pairs {
		if p.Kind == kind {
			out = append(out, p)
		}
	}
	return out
}

// boxWith is a plan with one box of 200 mm outer height, sheet of 1.5 mm, a liner and modules given by place.
func boxWith(liner float64, ps ...layout.Placement) *layout.Plan {
	b := boxOf("b", vehicles.XYZ{100, 200, 300}, 2, 4)
	b.Shell.LinerMM = liner
	b.Modules = ps
	return planOf(b)
}

// A terminal of 12 mm at 84 mm height in a box whose lid's lower face is at 198.5 mm: 198.5 - 84 - 6. The wall is
// 1.5 mm thick at x = 0, the terminal at x = 40: 40 - 1.5 - 6 mm; the floor's upper face is at 1.5.
func TestDistancesToTheBox(t *testing.T) {
	p := boxWith(0, layout.Placement{ID: "m", Module: "block", At: vehicles.XYZ{40, 100, 4}, Posture: vehicles.Flat})
	r := Evaluate(resolve(p), nil)
	for kind, want := range map[string]float64{ToLid: 198.5 - 84 - 6, ToWall: 40 - 1.5 - 6, ToFloor: 84 - 1.5 - 6} {
		ps := pairsOf(r, kind)
		if len(ps) != 1 {
			t.Fatalf("%s: %d pairs", kind, len(ps))
		}
		near(t, kind, ps[0].ActualMM, want, 1e-9)
		near(t, kind+" path", pathLength(ps[0].Path)-6, want, 1e-9)
	}
	p = boxWith(3, layout.Placement{ID: "m", Module: "block", At: vehicles.XYZ{40, 100, 4}, Posture: vehicles.Flat})
	r = Evaluate(resolve(p), nil)
	if len(pairsOf(r, ToWall))+len(pairsOf(r, ToFloor)) != 0 || len(pairsOf(r, ToLid)) != 1 {
		t.Error("a liner covers walls and floor but not the lid")
	}
}

// Two modules end to end with terminals facing: 1 mm apart less the radii; the voltage between them is what the
// modules between their poles make.
func TestDistanceBetweenTerminals(t *testing.T) {
	p := boxWith(2,
		layout.Placement{ID: "m1", Module: "block", At: vehicles.XYZ{20, 100, 4}, Posture: vehicles.Flat, Turn: 180},
		layout.Placement{ID: "m2", Module: "block", At: vehicles.XYZ{20 + 390 + 30, 100, 4}, Posture: vehicles.Flat})
	p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: []string{"b/m1", "b/m2"}, Pinned: true}}
	r := Evaluate(resolve(p), nil)
	ps := pairsOf(r, ToTerminal)
	if len(ps) != 1 {
		t.Fatalf("%d pairs: %+v", len(ps), ps)
	}
	// Turned by 180 degrees m1 has its + at y 100+150-120 = 130 and its - at 220; m2 has - at 130, + at 220.
	near(t, "distance", ps[0].ActualMM, 30-12, 1e-9)
	if ps[0].Insulation != Functional || !ps[0].Known {
		t.Errorf("%+v", ps[0])
	}
	// The way from pack negative to pack positive has the whole voltage and is the one with the least margin.
	near(t, "voltage", ps[0].WorkingV, 2*50.4, 1e-9)
}

// To metal the larger difference to either pole counts: at the string's middle half the voltage, at its ends all.
func TestWorkingVoltageToMetal(t *testing.T) {
	in := &Insulation{SystemV: 400, Around: Surroundings{Insulation: Reinforced}}
	m := &measured{parts: []live{{body: &layout.Body{}}, {gear: &layout.GearBody{}}}}
	for v, want := range map[float64]float64{0: 400, 100: 300, 200: 200, 400: 400} {
		got, known, ok := in.working(m, &gap{a: 0, b: -1}, map[*layout.Body]poles{m.parts[0].body: {neg: v, pos: v}})
		if got != want || !known || !ok {
			t.Errorf("at %v V: %v", v, got)
		}
	}
	if v, known, _ := in.working(m, &gap{a: 1, b: -1}, nil); v != 400 || known {
		t.Errorf("gear: %v %v", v, known)
	}
}

// A module case of metal near another module's terminal counts as metal.
func TestDistanceToMetalCase(t *testing.T) {
	m := block()
	m.Case = "metal"
	lib := testLibrary.With(vehicles.Records{Modules: []*vehicles.Module{m}})
	p := boxWith(2,
		layout.Placement{ID: "m1", Module: "block", At: vehicles.XYZ{10, 100, 4}, Posture: vehicles.Flat},
		layout.Placement{ID: "m2", Module: "block", At: vehicles.XYZ{10 + 390 + 9, 100, 4}, Posture: vehicles.Flat})
	r := Evaluate(layout.Resolve(p, p.Arrangements[0], lib, nil), nil)
	ps := pairsOf(r, ToCase)
	if len(ps) != 2 {
		t.Fatalf("%+v", ps)
	}
	for _, q := range ps {
		near(t, "to the case", q.ActualMM, 9-6, 1e-9)
		if q.RefA != "b/m2" || q.RefB != "b/m1" || q.Enough() {
			t.Errorf("%+v", q)
		}
	}
}

// A barrier across the straight line: the way over its upper edge, by hand. Terminals 100 mm apart at height 50,
// sheet in the middle up to 90: twice the root of 50 squared plus 40 squared.
func TestDetourOverBarrier(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 2, 4)
	b.Shell = layout.Shell{}
	room := roomOf(b)
	half := sheetOf(&layout.Barrier{ID: "s", Outline: []vehicles.XY{{200, 2}, {200.01, 2}, {200.01, 600}, {200, 600}}, FloorMM: 1.5, CeilingMM: 90}, &room)
	l, bent, by := airWay(r3.Vector{X: 150, Y: 300, Z: 50}, r3.Vector{X: 250, Y: 300, Z: 50}, []sheet{half})
	near(t, "over the top", l, 2*math.Hypot(50, 40), 1e-3)
	if by != "s" || math.Abs(bent.Z-90) > 1e-9 {
		t.Errorf("bends at %v by %q", bent, by)
	}
	// Up to the lid and from wall to wall it closes the way.
	lo, hi := outerBounds(b)
	whole := sheetOf(&layout.Barrier{ID: "s", Outline: []vehicles.XY{{200, lo.Y + 1.5}, {201, lo.Y + 1.5}, {201, hi.Y - 1.5}, {200, hi.Y - 1.5}}, FloorMM: 1.5, CeilingMM: 198.5}, &room)
	if l, _, _ := airWay(r3.Vector{X: 150, Y: 300, Z: 50}, r3.Vector{X: 250, Y: 300, Z: 50}, []sheet{whole}); !math.IsInf(l, 1) {
		t.Errorf("closed off, yet %v mm", l)
	}
}

// The point of bending is the best one: no other point of the edge makes a shorter way, and the length is that of
// the straight line after unfolding.
func TestBendIsShortest(t *testing.T) {
	point := func(t *rapid.T, n string) r3.Vector {
		f := rapid.Float64Range(-500, 500)
		return r3.Vector{X: f.Draw(t, n+"x"), Y: f.Draw(t, n+"y"), Z: f.Draw(t, n+"z")}
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b, p, q := point(t, "a"), point(t, "b"), point(t, "p"), point(t, "q")
		at := func(x r3.Vector) float64 { return a.Sub(x).Norm() + x.Sub(b).Norm() }
		best := at(bend(a, b, p, q))
		for i := range 101 {
			if l := at(p.Add(q.Sub(p).Mul(float64(i) / 100))); l < best-1e-6 {
				t.Fatalf("%v, but %v at %d %%", best, l, i)
			}
		}
	})
}

// A way round a barrier is never shorter than the straight line, and never longer than a way found by trying
// points over its top and round its ends.
func TestDetourIsNoLongerThanAnyRealWay(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 2, 4)
	b.Shell = layout.Shell{}
	room := roomOf(b)
	rapid.Check(t, func(t *rapid.T) {
		y0, y1 := rapid.Float64Range(10, 300).Draw(t, "y0"), rapid.Float64Range(310, 600).Draw(t, "y1")
		top := rapid.Float64Range(60, 190).Draw(t, "top")
		s := sheetOf(&layout.Barrier{ID: "s", Outline: []vehicles.XY{{200, y0}, {203, y0}, {203, y1}, {200, y1}}, FloorMM: 1.5, CeilingMM: top}, &room)
		a := r3.Vector{X: rapid.Float64Range(100, 195).Draw(t, "ax"), Y: rapid.Float64Range(10, 600).Draw(t, "ay"), Z: rapid.Float64Range(5, 190).Draw(t, "az")}
		c := r3.Vector{X: rapid.Float64Range(210, 300).Draw(t, "bx"), Y: rapid.Float64Range(10, 600).Draw(t, "by"), Z: rapid.Float64Range(5, 190).Draw(t, "bz")}
		l, _, _ := airWay(a, c, []sheet{s})
		if l < c.Sub(a).Norm()-1e-9 {
			t.Fatalf("%v is shorter than straight", l)
		}
		found := math.Inf(1)
		for i := range 61 {
			y := y0 + (y1-y0)*float64(i)/60
			p, q := r3.Vector{X: 200, Y: y, Z: top}, r3.Vector{X: 203, Y: y, Z: top}
			found = min(found, pathLength([]r3.Vector{a, p, q, c}))
		}
		for i := range 61 {
			for _, y := range []float64{y0, y1} {
				z := 1.5 + (top-1.5)*float64(i)/60
				p, q := r3.Vector{X: 200, Y: y, Z: z}, r3.Vector{X: 203, Y: y, Z: z}
				found = min(found, pathLength([]r3.Vector{a, p, q, c}))
			}
		}
		if l > found+1e-6 {
			t.Fatalf("said to be %v mm, but a way of %v mm goes round", l, found)
		}
	})
}

// More pairs are found by comparing all with all than by sweeping: none.
func TestSweepFindsEveryNearPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		s := resolve(p)
		for _, b := range s.Boxes {
			for _, body := range b.Modules {
				m := *body.Module
				m.Case = "metal"
				body.Module = &m
			}
			facts := newBoxFacts(b)
			m := facts.measure()
			got, cases := map[[2]int]bool{}, map[string]bool{}
			for _, g := range m.gaps {
				switch g.kind {
				case ToTerminal:
					got[[2]int{g.a, g.b}] = true
				case ToCase:
					cases[fmt.Sprint(g.a, g.metal)] = true
				}
			}
			for i := range m.parts {
				for k := range facts.slots {
					l, c := &m.parts[i], &facts.slots[k]
					d := l.p.Sub(clamp(l.p, c.lo, c.hi)).Abs()
					near := c.body.Module.Case == "metal" && l.body != c.body && d.X < nearMM && d.Y < nearMM && d.Z < nearMM
					if near != cases[fmt.Sprint(i, c.body.ID)] {
						t.Fatalf("%s at the case of %s: near %v, measured %v", l.ref, c.body.ID, near, !near)
					}
				}
			}
			for i := range m.parts {
				for k := i + 1; k < len(m.parts); k++ {
					a, c := &m.parts[i], &m.parts[k]
					if a.ref != c.ref && a.p.Sub(c.p).Norm()-a.radius-c.radius < nearMM && !got[[2]int{i, k}] {
						t.Fatalf("%s and %s are near but not measured", a.ref, c.ref)
					}
				}
			}
		}
	})
}
