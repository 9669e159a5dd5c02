package fill

import (
	"fmt"
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// block is an invented module, 100 mm high.
func block() *vehicles.Library {
	m := &vehicles.Module{Format: 1, ID: "block", Name: "block", LengthMM: 300, WidthMM: 150, HeightMM: 100}
	return vehicles.Catalogue().With(vehicles.Records{Modules: []*vehicles.Module{m}})
}

// stack is a box at a height with modules in layers of so many, from below.
func stack(id string, z float64, layers ...int) *layout.Box {
	b := &layout.Box{ID: id, At: vehicles.XYZ{0, 0, z}}
	for i, n := range layers {
		for k := range n {
			b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", len(b.Modules)+1), Module: "block",
				At: vehicles.XYZ{float64(k) * 310, 0, float64(i) * 110}, Posture: vehicles.Flat})
		}
	}
	return b
}

func counts(a *layout.Arrangement) []int {
	var out []int
	for _, b := range a.Boxes {
		out = append(out, len(b.Modules))
	}
	return out
}

func TestTakeOut(t *testing.T) {
	first := func(a *layout.Arrangement) float64 { return float64(len(a.Boxes[0].Modules)) } // the fewer in the first box the better
	locked := func(b *layout.Box) *layout.Box { b.Locked = true; return b }
	pinned := func(b *layout.Box) *layout.Box {
		for i := range b.Modules {
			b.Modules[i].Locked = true
		}
		return b
	}
	for _, c := range []struct {
		name             string
		boxes            []*layout.Box
		series, parallel int
		trouble          func(*layout.Arrangement) float64
		want             []int
	}{
		{"enough for the strings", []*layout.Box{stack("a", 0, 4), stack("b", 0, 4)}, 8, 1, nil, []int{4, 4}},
		{"the highest go", []*layout.Box{stack("a", 0, 4, 4), stack("b", 0, 4)}, 9, 1, nil, []int{5, 4}},
		{"the higher box gives", []*layout.Box{stack("a", 0, 4), stack("b", 50, 4)}, 6, 1, nil, []int{4, 2}},
		{"the least trouble", []*layout.Box{stack("a", 0, 4), stack("b", 50, 4)}, 6, 1, first, []int{2, 4}},
		{"each string a box", []*layout.Box{stack("a", 0, 5, 4), stack("b", 0, 4, 3)}, 6, 2, nil, []int{6, 6}},
		{"two strings in one box, none in the other", []*layout.Box{stack("a", 0, 7, 6), stack("b", 0, 5)}, 6, 2, nil, []int{12, 0}},
		{"no whole strings", []*layout.Box{stack("a", 0, 5), stack("b", 0, 5), stack("c", 0, 5)}, 6, 2, nil, []int{5, 5, 2}},
		{"a locked box stays whole", []*layout.Box{locked(stack("a", 90, 5)), stack("b", 0, 5)}, 4, 2, nil, []int{5, 3}},
		{"locked modules stay", []*layout.Box{pinned(stack("a", 90, 5)), stack("b", 0, 5)}, 3, 2, nil, []int{5, 1}},
		{"strings in parallel not stated: one", []*layout.Box{stack("a", 0, 5), stack("b", 0, 7)}, 6, 0, nil, []int{0, 6}},
		{"the fullest box first", []*layout.Box{stack("a", 0, 6), stack("b", 0, 6, 6)}, 6, 2, nil, []int{0, 12}},
		{"the fullest box first, the other way round", []*layout.Box{stack("a", 0, 6, 6), stack("b", 0, 6)}, 6, 2, nil, []int{12, 0}},
		{"a locked box is one whole string", []*layout.Box{locked(stack("a", 0, 6)), stack("b", 0, 7), stack("c", 0, 7)}, 6, 3, nil, []int{6, 6, 6}},
		{"a locked box is more than a string", []*layout.Box{locked(stack("a", 0, 7)), stack("b", 0, 7), stack("c", 0, 7)}, 6, 3, nil, []int{7, 7, 4}},
		{"nothing may go", []*layout.Box{pinned(stack("a", 0, 5))}, 3, 1, nil, []int{5}},
	} {
		a := &layout.Arrangement{ID: "a", Boxes: slices.Clone(c.boxes), Series: c.series, Parallel: c.parallel}
		takeOut(a, block(), c.trouble)
		if got := counts(a); !slices.Equal(got, c.want) {
			t.Errorf("%s: boxes keep %v modules, not %v", c.name, got, c.want)
		}
	}
}

// Nothing is left that stood on a module taken out.
func TestTakeOutFromAbove(t *testing.T) {
	a := &layout.Arrangement{ID: "a", Boxes: []*layout.Box{stack("a", 0, 4, 3)}, Series: 5}
	was := a.Boxes[0]
	takeOut(a, block(), nil)
	low := 0
	for _, m := range a.Boxes[0].Modules {
		if m.At[2] == 0 {
			low++
		}
	}
	if low != 4 || len(was.Modules) != 7 {
		t.Errorf("%d modules on the floor, %d in the box given", low, len(was.Modules))
	}
}

// Tops that differ by no more than the rounding of coordinates stand in one layer.
func TestHighestLayer(t *testing.T) {
	for apart, want := range map[float64]int{0: 2, 0.01: 2, 0.021: 1, 5: 1} {
		b := stack("a", 0, 2)
		b.Modules[1].At[2] += apart
		modules, top := highest(b, block())
		if len(modules) != want || modules[want-1] != 1 || top < 100 || top > 100+apart {
			t.Errorf("%g mm apart: %v at %g mm", apart, modules, top)
		}
	}
}
