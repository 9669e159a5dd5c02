package search

import (
	"cmp"
	"math"
	"slices"

	"stowbay/layout"
)

// option is one way to use a box: so many modules of a stance, pushed to one side.
type option struct {
	first  row   // mass in kg and first moments in kg mm of modules, their coolant and their links
	kept   []int // which of the packing's placements stay, in their order
	stance int
	push   int
}

// bay is all ways to use one box. Ways with as many modules whose moments are the same are one: they differ in no
// figure of the search.
type bay struct {
	box    int
	lo, hi int // fewest and most modules
	all    []option
	from   []int // by count, and one more: where its options start in all
}

// bayOf arranges options by count. They are given in the order in which equals are preferred.
func bayOf(box, lo, hi int, all []option) *bay {
	b := &bay{box: box, lo: lo, hi: hi}
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(x, y option) int { return cmp.Compare(len(x.kept), len(y.kept)) })
	for _, o := range all {
		for len(b.from) <= len(o.kept) {
			b.from = append(b.from, len(b.all))
		}
		if !slices.ContainsFunc(b.all[b.from[len(o.kept)]:], func(p option) bool { return p.first.alike(&o.first) }) {
			b.all = append(b.all, o)
		}
	}
	for len(b.from) <= hi+1 {
		b.from = append(b.from, len(b.all))
	}
	return b
}

// alikeKgMM is what moments in kg mm may differ by and still be the same: the rounding of their sums.
const alikeKgMM = 1e-6

func (r *row) alike(o *row) bool {
	for i := range r {
		if math.Abs(r[i]-o[i]) > alikeKgMM {
			return false
		}
	}
	return true
}

// placed are the modules that an option leaves in its box.
func (t *task) placed(box int, o *option) []layout.Placement {
	full := t.full[o.stance][box].Modules
	out := make([]layout.Placement, len(o.kept))
	for i, n := range o.kept {
		out[i] = full[n]
	}
	return out
}
