package fill

import (
	"math"
	"slices"

	"stowbay/layout"
	"stowbay/vehicles"
)

// sameHeightMM is how far tops of modules may differ that stand in one layer: the lattice's pitch, rounded up.
const sameHeightMM = 0.02

// takeOut leaves no more modules in the boxes that are not locked than the arrangement's strings need. Where enough
// boxes hold whole strings, the others are emptied and each keeps whole strings only: no string then crosses from box
// to box. Else they go one by one, each time the one of the boxes' highest modules that leaves the least trouble.
func takeOut(a *layout.Arrangement, lib *vehicles.Library, trouble func(*layout.Arrangement) float64) {
	if keep, ok := wholeStrings(a); ok {
		for i := range a.Boxes {
			lower(a, lib, keep[i], i)
		}
	}
	for count(a) > wanted(a) {
		best := leastTrouble(a, lib, trouble)
		if best == nil {
			return
		}
		*a = *best
	}
}

// leastTrouble is the arrangement without one of its boxes' highest modules that leaves the least trouble, of those
// alike the one whose module stood highest; nil where no module may go.
func leastTrouble(a *layout.Arrangement, lib *vehicles.Library, trouble func(*layout.Arrangement) float64) *layout.Arrangement {
	var best *layout.Arrangement
	least, top := math.Inf(1), math.Inf(-1)
	for i, b := range a.Boxes {
		modules, z := highest(b, lib)
		for _, m := range modules {
			q, t := without(a, i, m), 0.0
			if trouble != nil {
				t = trouble(q)
			}
			if t < least || t == least && z >= top {
				best, least, top = q, t, z
			}
		}
	}
	return best
}

func wanted(a *layout.Arrangement) int { return a.Series * max(a.Parallel, 1) }

func count(a *layout.Arrangement) int {
	n := 0
	for _, b := range a.Boxes {
		n += len(b.Modules)
	}
	return n
}

// wholeStrings says how many modules each box keeps when every string is whole in one box, those with the most
// modules first; false where the boxes have no room for that, or where locked modules forbid it.
func wholeStrings(a *layout.Arrangement) (keep []int, ok bool) {
	keep = make([]int, len(a.Boxes))
	order := make([]int, len(a.Boxes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int { return len(a.Boxes[k].Modules) - len(a.Boxes[i].Modules) })
	left := max(a.Parallel, 1)
	for _, i := range order {
		strings := min(left, len(a.Boxes[i].Modules)/a.Series)
		keep[i] = strings * a.Series
		left -= strings
		if b := a.Boxes[i]; b.Locked && keep[i] < len(b.Modules) || keep[i] < len(kept(b, Wish{})) {
			return nil, false
		}
	}
	return keep, left == 0
}

// lower takes the highest modules out of a box until no more than n are left in it, or none that may go.
func lower(a *layout.Arrangement, lib *vehicles.Library, n, box int) {
	for len(a.Boxes[box].Modules) > n {
		modules, _ := highest(a.Boxes[box], lib)
		if len(modules) == 0 {
			return
		}
		*a = *without(a, box, modules[len(modules)-1])
	}
}

// without is an arrangement without a module of a box.
func without(a *layout.Arrangement, box, module int) *layout.Arrangement {
	b := *a.Boxes[box]
	b.Modules = slices.Delete(slices.Clone(b.Modules), module, module+1)
	out := *a
	out.Boxes = slices.Clone(a.Boxes)
	out.Boxes[box] = &b
	return &out
}

// highest returns the modules of a box whose tops stand highest in the vehicle, of those that may be taken out, and
// that height.
func highest(b *layout.Box, lib *vehicles.Library) (modules []int, top float64) {
	top = math.Inf(-1)
	if b.Locked {
		return nil, top
	}
	for j := range b.Modules {
		p := &b.Modules[j]
		m := lib.Module(p.Module)
		if p.Locked || m == nil {
			continue
		}
		z := b.At[2] + p.At[2] + layout.PoseOf(m, p).Extent().Z
		if z > top+sameHeightMM {
			modules, top = modules[:0], z
		}
		if z >= top-sameHeightMM {
			modules = append(modules, j)
		}
	}
	return modules, top
}
