package packing

import "sort"

// Normal patterns and reduced raster points, after Herz, Christofides and
// Whitlock, and Scheithauer and Terno (1996). In a bay whose walls lie along the
// axes every packing can be pushed left until each module stands at a wall or at
// a chain of modules from a wall. The coordinates so reached form, for option i, a
// closed set C(i): with c in C(j), c + d is in C(i) for each distance d that can
// separate i from j. Rounding each x down to C keeps every such distance, and so
// keeps a packing valid. Pushing right first and then rounding down leaves only
// the images of the right-hand patterns.

// maxPattern bounds the coordinates of one axis; beyond it a grid is used.
const maxPattern = 4000

// axisPatterns lists for each usable option the coordinates along x that suffice.
// ok is false when there are too many.
func axisPatterns(p *plane) (sets [][]int64, ok bool) {
	left, ok1 := chains(p, +1)
	right, ok2 := chains(p, -1)
	if !ok1 || !ok2 {
		return nil, false
	}
	sets = make([][]int64, p.usable)
	for i := range sets {
		sets[i] = roundedInto(left[i], right[i])
	}
	return sets, true
}

// roundedInto is the set of the greatest members of base at or below each of xs.
func roundedInto(base, xs []int64) []int64 {
	var out []int64
	for _, x := range xs {
		if k := sort.Search(len(base), func(k int) bool { return base[k] > x }); k > 0 {
			out = append(out, base[k-1])
		}
	}
	return sortedUnique(out)
}

// chains closes the contacts with walls and fixed modules under the separating
// distances, towards +x from the left (dir 1) or towards -x from the right (-1).
func chains(p *plane, dir int64) ([][]int64, bool) {
	seen := make([]map[int64]bool, p.usable)
	var work []spot
	push := func(opt int, x int64) {
		o := &p.options[opt]
		b := p.fields[o.parts[0].field].bounds
		if x < b.lo.x || x+o.w > b.hi.x || seen[opt][x] {
			return
		}
		seen[opt][x] = true
		work = append(work, spot{opt, vec{x, 0}})
	}
	for i := range seen {
		seen[i] = map[int64]bool{}
		for _, x := range wallContacts(p, i, dir) {
			push(i, x)
		}
	}
	for len(work) > 0 {
		s := work[len(work)-1]
		work = work[:len(work)-1]
		for j := range p.usable {
			for _, z := range p.zone[s.opt][j] {
				if dir > 0 {
					push(j, s.x+z.hi.x)
				} else {
					push(j, s.x+z.lo.x)
				}
			}
		}
		if len(seen[s.opt]) > maxPattern {
			return nil, false
		}
	}
	out := make([][]int64, p.usable)
	for i, m := range seen {
		for x := range m {
			out[i] = append(out[i], x)
		}
		out[i] = sortedUnique(out[i])
	}
	return out, true
}

// wallContacts lists the coordinates at which an option touches a corner of a
// wall or a fixed module on its left (dir 1) or right (-1).
func wallContacts(p *plane, opt int, dir int64) []int64 {
	var out []int64
	for _, pt := range p.options[opt].parts {
		for _, w := range p.fields[pt.field].walls {
			for _, v := range w {
				if dir > 0 {
					out = append(out, v.x-pt.lo.x)
				} else {
					out = append(out, v.x-pt.hi.x)
				}
			}
		}
	}
	for _, f := range p.fixed {
		for _, z := range p.zone[f.opt][opt] {
			if dir > 0 {
				out = append(out, f.x+z.hi.x)
			} else {
				out = append(out, f.x+z.lo.x)
			}
		}
	}
	return sortedUnique(out)
}
