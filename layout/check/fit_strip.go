package check

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// strips checks the free strips in front of terminals and ports: no other body may stand in one, and none may
// leave the box. Two strips may share space.
func (f *boxFit) strips(all []solid, inside *geometry.Prepared) {
	near := alongX(all)
	for i := range all {
		for _, st := range all[i].strips {
			f.stripFree(&all[i], st.Of, st.Prism, all, near)
			if inside != nil && !inside.ContainsPrism(slackened(st.Prism)) && inside.ContainsPrism(all[i].pose.Prism()) {
				f.stripBreach(&all[i], st.Of, st.Prism, nil)
			}
		}
	}
}

// slackened is a strip that gives way by the tolerance on every side: the corners of slanted walls and what is pushed
// against them are rounded to the lattice each for itself.
func slackened(p geometry.Prism) geometry.Prism {
	lo, hi := corners(p)
	if min(hi.X-lo.X, hi.Y-lo.Y, hi.Z-lo.Z) <= 2*tolerance {
		return p
	}
	return geometry.Prism{Base: geometry.NewRect(lo.X+tolerance, lo.Y+tolerance, hi.X-tolerance, hi.Y-tolerance), Bottom: p.Bottom, Top: p.Top}
}

func (f *boxFit) stripFree(s *solid, of string, strip geometry.Prism, all []solid, near *xOrder) {
	lo, hi := corners(strip)
	for _, i := range near.touching(lo.X, hi.X) {
		o := &all[i]
		if o.id == s.id || o.hi.X-lo.X <= tolerance || hi.X-o.lo.X <= tolerance ||
			o.hi.Y-lo.Y <= tolerance || hi.Y-o.lo.Y <= tolerance || o.hi.Z-lo.Z <= tolerance || hi.Z-o.lo.Z <= tolerance {
			continue
		}
		f.stripBreach(s, of, strip, o)
	}
}

// xOrder finds the bodies of a box that reach into a stretch along x, without a look at all of them.
type xOrder struct {
	order   []int     // bodies by where they begin
	begin   []float64 // where
	longest float64
	found   []int
}

func alongX(all []solid) *xOrder {
	x := &xOrder{order: make([]int, len(all)), begin: make([]float64, len(all))}
	for i := range all {
		x.order[i] = i
		x.longest = max(x.longest, all[i].hi.X-all[i].lo.X)
	}
	slices.SortFunc(x.order, func(a, b int) int { return cmp.Compare(all[a].lo.X, all[b].lo.X) })
	for k, i := range x.order {
		x.begin[k] = all[i].lo.X
	}
	return x
}

// touching returns, in their own order, the bodies that can reach into the stretch; some may not. It is good until the
// next call.
func (x *xOrder) touching(lo, hi float64) []int {
	const slack = 1 // mm, far above rounding
	from, _ := slices.BinarySearch(x.begin, lo-x.longest-slack)
	to, _ := slices.BinarySearch(x.begin, hi+slack)
	x.found = append(x.found[:0], x.order[from:to]...)
	slices.Sort(x.found)
	return x.found
}

func corners(p geometry.Prism) (lo, hi r3.Vector) {
	b := p.Base.Bounds()
	return r3.Vector{X: b.X.Lo, Y: b.Y.Lo, Z: p.Bottom}, r3.Vector{X: b.X.Hi, Y: b.Y.Hi, Z: p.Top}
}

func (f *boxFit) stripBreach(s *solid, of string, strip geometry.Prism, by *solid) {
	b := breach{rule: "fit.strip", subject: s.id, refs: []string{s.id}, place: strip.Centroid()}
	b.text = fmt.Sprintf("The space to be kept free in front of %q of %s reaches through the box's wall, so that no link, hose or spanner gets in: move or turn it.", of, s.id)
	if by != nil {
		b.refs = append(b.refs, by.id)
		b.text = fmt.Sprintf("%s stands in the space to be kept free in front of %q of %s for a link, hose or spanner: move or turn one of them.", by.id, of, s.id)
	}
	f.breaches = append(f.breaches, b)
}
