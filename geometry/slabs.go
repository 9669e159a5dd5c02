package geometry

import (
	"slices"

	"github.com/golang/geo/r2"
)

// Slabs cuts the space at every height where its plan changes and gives the
// slabs that have free room, from the lowest. Each slab holds from its bottom
// up to, but not including, its top.
func (s Space) Slabs() ([]Slab, error) {
	var out []Slab
	zs := s.heights()
	for i := 1; i < len(zs); i++ {
		free, err := s.plan(zs[i-1], zs[i])
		if err != nil {
			return nil, err
		}
		if len(free) > 0 {
			out = append(out, Slab{Bottom: zs[i-1], Top: zs[i], Free: free})
		}
	}
	return out, nil
}

// heights are the heights of all bottoms and tops, in order, without those
// that fall on the same lattice level.
func (s Space) heights() []float64 {
	var zs []float64
	for _, p := range s.Solids {
		zs = append(zs, p.Bottom, p.Top)
	}
	for _, p := range s.KeepOuts {
		zs = append(zs, p.Bottom, p.Top)
	}
	slices.Sort(zs)
	return slices.CompactFunc(zs, func(a, b float64) bool { return steps(a) == steps(b) })
}

// plan is the free region between two neighbouring heights.
func (s Space) plan(lo, hi float64) ([]Polygon, error) {
	var bases, cuts []Polygon
	for _, p := range s.Solids {
		if p.spans(lo, hi) {
			bases = append(bases, p.Base)
		}
	}
	for _, k := range s.KeepOuts {
		if k.spans(lo, hi) {
			cuts = append(cuts, k.Base)
		}
	}
	whole, err := Union(bases...)
	if err != nil {
		return nil, err
	}
	return lessAll(whole, cuts)
}

func lessAll(ps, cuts []Polygon) ([]Polygon, error) {
	if len(cuts) == 0 {
		return ps, nil
	}
	var out []Polygon
	for _, p := range ps {
		rest, err := Difference(p, cuts...)
		if err != nil {
			return nil, err
		}
		out = append(out, rest...)
	}
	return out, nil
}

// Inset is the part of the space that keeps at least side mm from walls and
// keep-outs sideways, floor mm above every floor and ceiling mm below every
// ceiling. At the edge of a step the clearances hold together: no point is
// allowed whose clearance box (side by floor and ceiling) leaves the space. The
// result is made of one prism for each free polygon of each slab, without
// keep-outs.
func (s Space) Inset(side, floor, ceiling float64) (Space, error) {
	slabs, err := s.Slabs()
	if err != nil {
		return Space{}, err
	}
	for i, l := range slabs {
		if slabs[i].Free, err = insetAll(l.Free, side); err != nil {
			return Space{}, err
		}
	}
	zs := make([]float64, 0, 2*len(slabs)) // a slab's top without one on it, or bottom without one under it, ends what is free earlier
	for _, l := range slabs {
		zs = append(zs, l.Bottom+floor, l.Top-ceiling)
	}
	return eroded(slabs, zs, floor, ceiling)
}

func insetAll(ps []Polygon, d float64) ([]Polygon, error) {
	var out []Polygon
	for _, p := range ps {
		in, err := p.Inset(d)
		if err != nil {
			return nil, err
		}
		out = append(out, in...)
	}
	return out, nil
}

// eroded builds the space of which each level between two of the heights zs is
// what all slabs have in common from floor below it to ceiling above it.
func eroded(slabs []Slab, zs []float64, floor, ceiling float64) (Space, error) {
	slices.Sort(zs)
	zs = slices.CompactFunc(zs, func(a, b float64) bool { return steps(a) == steps(b) })
	var out Space
	for i := 1; i < len(zs); i++ {
		free, err := common(slabs, zs[i-1]-floor, zs[i]+ceiling)
		if err != nil {
			return Space{}, err
		}
		for _, p := range free {
			out.Solids = stack(out.Solids, Prism{Base: p, Bottom: zs[i-1], Top: zs[i]})
		}
	}
	return out, nil
}

// stack adds a prism, joining it to one below it that has the same base.
func stack(ps []Prism, p Prism) []Prism {
	for i, q := range ps {
		if steps(q.Top) == steps(p.Bottom) && sameOnLattice(q.Base, p.Base) {
			ps[i].Top = p.Top
			return ps
		}
	}
	return append(ps, p)
}

// sameOnLattice tells whether two polygons have the same corners in the same
// order on the lattice. A false no only leaves two prisms where one would do.
func sameOnLattice(p, q Polygon) bool {
	same := func(a, b Ring) bool {
		return slices.EqualFunc(a, b, func(c, d r2.Point) bool { return toNode(c) == toNode(d) })
	}
	return same(p.Outer, q.Outer) && slices.EqualFunc(p.Holes, q.Holes, same)
}

// common is the region free at every height from lo to hi; it is empty when
// the slabs leave a gap there.
func common(slabs []Slab, lo, hi float64) ([]Polygon, error) {
	var free []Polygon
	z := steps(lo)
	for _, l := range slabs {
		if !levels(l.Bottom, l.Top, lo, hi) {
			continue
		}
		if steps(l.Bottom) > z {
			return nil, nil
		}
		var err error
		if z == steps(lo) {
			free = l.Free
		} else if free, err = intersectAll(free, l.Free); err != nil {
			return nil, err
		}
		z = steps(l.Top)
	}
	if z < steps(hi) {
		return nil, nil
	}
	return free, nil
}

func intersectAll(ps, qs []Polygon) ([]Polygon, error) {
	var out []Polygon
	for _, p := range ps {
		for _, q := range qs {
			both, err := Intersection(p, q)
			if err != nil {
				return nil, err
			}
			out = append(out, both...)
		}
	}
	return out, nil
}
