package search

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// By hand: modules of 40 mm x 20 mm x 10 mm, lying or turned a quarter. One stands above another where it is over the top of it and some
// of both is in the same place of the plan; side by side, or corner to corner, it does not.
func TestWhatStandsAbove(t *testing.T) {
	body := func(x, y, z float64, turn int) *layout.Body {
		p := layout.Pose{Size: r3.Vector{X: 40, Y: 20, Z: 10}, Posture: vehicles.Flat, Turn: turn, At: r3.Vector{X: x, Y: y, Z: z}}
		e := p.Extent()
		return &layout.Body{Pose: p, Prism: geometry.Prism{Base: geometry.NewRect(x, y, x+e.X, y+e.Y), Bottom: z, Top: z + 10}}
	}
	low := body(100, 50, 0, 0) // to 140, 70
	for name, c := range map[string]struct {
		other *layout.Body
		above bool
	}{
		"on it":                 {body(100, 50, 10, 0), true},
		"far above it":          {body(100, 50, 90, 0), true},
		"in it":                 {body(100, 50, 9, 0), false},
		"over its left end":     {body(61, 50, 10, 0), true},
		"left of it":            {body(60, 50, 10, 0), false},
		"over its right end":    {body(139, 50, 10, 0), true},
		"right of it":           {body(140, 50, 10, 0), false},
		"over its lower side":   {body(100, 31, 10, 0), true},
		"below it in plan":      {body(100, 30, 10, 0), false},
		"over its upper side":   {body(100, 69, 10, 0), true},
		"above it in plan":      {body(100, 70, 10, 0), false},
		"corner to corner":      {body(140, 70, 10, 0), false},
		"turned, over it":       {body(110, 11, 10, 90), true},
		"turned, beside it":     {body(110, 10, 10, 90), false},
		"turned, over its left": {body(81, 50, 10, 90), true},
		"turned, left of it":    {body(80, 50, 10, 90), false},
	} {
		got := above(&layout.BoxScene{Modules: []*layout.Body{low, c.other}})
		if len(got[0]) != map[bool]int{true: 1}[c.above] || len(got[1]) != 0 {
			t.Errorf("%s: %v, want above it %v", name, got, c.above)
		}
	}
}

// stack are modules of 40 mm x 20 mm x 10 mm at places, in columns, rows and layers, in the order given.
func stack(at ...[3]int) *layout.BoxScene {
	b := &layout.BoxScene{Box: &layout.Box{}}
	for _, a := range at {
		p := layout.Pose{Size: r3.Vector{X: 40, Y: 20, Z: 10}, Posture: vehicles.Flat, At: r3.Vector{X: 40 * float64(a[0]), Y: 20 * float64(a[1]), Z: 10 * float64(a[2])}}
		b.Modules = append(b.Modules, &layout.Body{Placement: &layout.Placement{}, Pose: p, CG: p.At.Add(r3.Vector{X: 20, Y: 10, Z: 5}), Prism: geometry.Prism{Bottom: p.At.Z, Top: p.At.Z + 10}})
	}
	return b
}

// One module after the other goes: of those that are not locked and carry none that is still there the one farthest from the goal of the
// push, of equals the last. So said, and so picked here from a list of all that may go, sorted; what is left weighs what stays.
func TestModulesAreTakenOutOneByOne(t *testing.T) {
	r := rand.New(rand.NewPCG(37, 38))
	far := map[Push]func(m *layout.Body) float64{
		Low:      func(m *layout.Body) float64 { return m.Pose.At.Z },
		Forward:  func(m *layout.Body) float64 { return m.Pose.At.X },
		Rearward: func(m *layout.Body) float64 { return -m.Pose.At.X },
		Centre:   func(m *layout.Body) float64 { return math.Abs(m.Pose.At.Y + 10) },
	}
	stopped := 0
	for range 60 {
		var at [][3]int
		for x := range 3 {
			for y := -2; y < 2; y++ {
				for z := range r.IntN(4) {
					at = append(at, [3]int{x, y, z})
				}
			}
		}
		r.Shuffle(len(at), func(i, k int) { at[i], at[k] = at[k], at[i] })
		b := stack(at...)
		rows := make([]row, len(at))
		for i, m := range b.Modules {
			m.Placement.Locked = r.IntN(12) == 0
			rows[i] = row{1 + r.Float64(), r.Float64(), r.Float64(), r.Float64()}
		}
		for push, distance := range far {
			got := loadsOf(b, rows, push)
			var in []int
			for i := range at {
				in = append(in, i)
			}
			for {
				l := got[len(in)]
				var sum row
				for _, i := range in {
					for k := range sum {
						sum[k] += rows[i][k]
					}
				}
				if !slices.Equal(l.kept, in) || l.kept == nil || !l.first.alike(&sum) {
					t.Fatalf("%s: %d of %v: %+v, want %v that weigh %v", push, len(in), at, l, in, sum)
				}
				var may []int
				for _, i := range in {
					carries := slices.ContainsFunc(in, func(k int) bool { return at[k][0] == at[i][0] && at[k][1] == at[i][1] && at[k][2] > at[i][2] })
					if !carries && !b.Modules[i].Placement.Locked {
						may = append(may, i)
					}
				}
				if len(may) == 0 {
					break
				}
				slices.SortStableFunc(may, func(i, k int) int { return cmp.Compare(distance(b.Modules[i]), distance(b.Modules[k])) })
				gone := may[len(may)-1]
				in = slices.DeleteFunc(slices.Clone(in), func(i int) bool { return i == gone })
			}
			if n := least(got); n != len(in) || len(got) != len(at)+1 {
				t.Fatalf("%s: %d loads down to %d modules, want %d down to %d", push, len(got), n, len(at)+1, len(in))
			}
			if len(in) > 0 {
				stopped++
			}
		}
		b.Box.Locked = true
		if got := loadsOf(b, rows, Low); least(got) != len(at) {
			t.Fatalf("%d modules stay in a locked box of %d", least(got), len(at))
		}
	}
	if stopped < 50 {
		t.Errorf("locked modules ended only %d", stopped)
	}
}

// Modules a millionth of a millimetre apart are as far, so that the last goes; those a little more apart are not. Where none may go there
// is none.
func TestFarthestWithinRounding(t *testing.T) {
	for apart, want := range map[float64]int{0: 1, 0.95e-6: 1, 1.05e-6: 0} {
		b := stack([3]int{0, 0, 0}, [3]int{0, 1, 0})
		b.Modules[0].Prism.Top, b.Modules[1].Prism.Top = 1+apart, 1
		if got := farthest(b, above(b), []bool{true, true}, Low); got != want {
			t.Errorf("%g mm apart: module %d goes", apart, got)
		}
		b.Modules[1].Placement.Locked = true
		if got := farthest(b, above(b), []bool{true, true}, Low); got != 0 {
			t.Errorf("beside one that is locked module %d goes", got)
		}
		if got := farthest(b, above(b), []bool{false, true}, Low); got != -1 {
			t.Errorf("of a locked one %d goes", got)
		}
	}
}
