package electric

import (
	"math"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
)

// roomFacts is the inside of a box in its own frame, cut into slabs.
type roomFacts struct {
	slabs []geometry.Slab
}

func roomOf(b *layout.Box) roomFacts {
	inner, err := layout.BoxInterior(b)
	if err != nil {
		return roomFacts{}
	}
	slabs, err := inner.Slabs()
	if err != nil {
		return roomFacts{}
	}
	return roomFacts{slabs: slabs}
}

// heights is the floor below and the ceiling above a point of the plan, seen from a height; inside is false where
// the point is in no part of the box at that height.
func (r *roomFacts) heights(p r2.Point, z float64) (floor, ceiling float64, inside bool) {
	at := none
	for i, s := range r.slabs {
		if s.Bottom <= z && z <= s.Top && covers(s, p) {
			at = i
			break
		}
	}
	if at == none {
		return 0, 0, false
	}
	lo, hi := at, at
	for lo > 0 && r.slabs[lo-1].Top == r.slabs[lo].Bottom && covers(r.slabs[lo-1], p) {
		lo--
	}
	for hi+1 < len(r.slabs) && r.slabs[hi+1].Bottom == r.slabs[hi].Top && covers(r.slabs[hi+1], p) {
		hi++
	}
	return r.slabs[lo].Bottom, r.slabs[hi].Top, true
}

func covers(s geometry.Slab, p r2.Point) bool {
	for _, f := range s.Free {
		if f.Contains(p) != geometry.Outside {
			return true
		}
	}
	return false
}

// wallAt is the distance of a point to the nearest wall at a height.
func (r *roomFacts) wallAt(p r2.Point, z float64) (d float64, inside bool) {
	_, d, inside = r.nearestWall(p, z)
	return d, inside
}

// nearestWall is the point of the walls nearest to a point of the plan at a height.
func (r *roomFacts) nearestWall(p r2.Point, z float64) (n r2.Point, d float64, inside bool) {
	d = math.Inf(1)
	for _, s := range r.slabs {
		if z < s.Bottom || z > s.Top {
			continue
		}
		inside = inside || covers(s, p)
		for _, f := range s.Free {
			if q, e := nearestOnRings(f, p); e < d {
				n, d = q, e
			}
		}
	}
	return n, d, inside
}

func nearestOnRings(f geometry.Polygon, p r2.Point) (n r2.Point, d float64) {
	n, d = nearestOnRing(f.Outer, p)
	for _, h := range f.Holes {
		if q, e := nearestOnRing(h, p); e < d {
			n, d = q, e
		}
	}
	return n, d
}

func nearestOnRing(ring geometry.Ring, p r2.Point) (n r2.Point, d float64) {
	d = math.Inf(1)
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		ab := b.Sub(a)
		t := 0.0
		if l := ab.Dot(ab); l > 0 {
			t = min(max(p.Sub(a).Dot(ab)/l, 0), 1)
		}
		q := a.Add(ab.Mul(t))
		if e := p.Sub(q).Norm(); e < d {
			n, d = q, e
		}
	}
	return n, d
}
