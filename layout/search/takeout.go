package search

import (
	"math"
	"slices"

	"stowbay/layout"
)

// load is a number of modules in a box under one push.
type load struct {
	first row   // mass in kg and first moments in kg mm of modules, their coolant and their links
	kept  []int // which of the packing's placements stay, in their order
}

// row is a mass in kg and its first moments in x, y and z in kg mm.
type row [4]float64

func (r row) plus(s row, k float64) row {
	for i := range r {
		r[i] += k * s[i]
	}
	return r
}

// loadsOf takes modules out of a full box one by one, down to those that are locked: each time the one farthest
// from the push's goal among those that carry no other. Of equals the last goes first. The loads are by count; ps is
// what each module weighs with its coolant and its link.
func loadsOf(b *layout.BoxScene, ps []row, push Push) []load {
	n := len(b.Modules)
	in := make([]bool, n)
	for i := range in {
		in[i] = true
	}
	out, on := make([]load, n+1), above(b)
	for left := n; ; left-- {
		out[left] = loadOf(in, ps, left)
		i := farthest(b, on, in, push)
		if i < 0 {
			return out
		}
		in[i] = false
	}
}

// least is the fewest modules that loads go down to.
func least(ls []load) int {
	return slices.IndexFunc(ls, func(l load) bool { return l.kept != nil })
}

func loadOf(in []bool, ps []row, n int) load {
	l := load{kept: make([]int, 0, n)}
	for i, ok := range in {
		if !ok {
			continue
		}
		l.first = l.first.plus(ps[i], 1)
		l.kept = append(l.kept, i)
	}
	return l
}

// farthest is the module to be taken out next, or -1; on are the modules that stand above each.
func farthest(b *layout.BoxScene, on [][]int, in []bool, push Push) int {
	best, most := -1, math.Inf(-1)
	for i, m := range b.Modules {
		if !in[i] || m.Placement.Locked || b.Box.Locked || slices.ContainsFunc(on[i], func(k int) bool { return in[k] }) {
			continue
		}
		if d := distance(m, push); d >= most-1e-6 {
			best, most = i, max(d, most)
		}
	}
	return best
}

func distance(m *layout.Body, push Push) float64 {
	switch push {
	case Forward:
		return m.CG.X
	case Rearward:
		return -m.CG.X
	case Centre:
		return math.Abs(m.CG.Y)
	}
	return m.Prism.Top
}

// above lists for each module those that stand above it.
func above(b *layout.BoxScene) [][]int {
	out := make([][]int, len(b.Modules))
	for i, low := range b.Modules {
		for k, m := range b.Modules {
			if k != i && m.Prism.Bottom >= low.Prism.Top-1e-6 && overlap(low, m) {
				out[i] = append(out[i], k)
			}
		}
	}
	return out
}

func overlap(a, b *layout.Body) bool {
	ea, eb := a.Pose.Extent(), b.Pose.Extent()
	pa, pb := a.Pose.At, b.Pose.At
	return pa.X < pb.X+eb.X && pb.X < pa.X+ea.X && pa.Y < pb.Y+eb.Y && pb.Y < pa.Y+ea.Y
}
