package geometry

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Space is the interior of a bay or a box: the union of Solids less the
// KeepOuts. Solids at different levels make stepped floors and ceilings.
type Space struct {
	Solids   []Prism
	KeepOuts []Prism
}

// Slab is the part of a space between two heights in mm between which its plan
// does not change. The polygons of Free have their interiors apart.
type Slab struct {
	Bottom, Top float64
	Free        []Polygon
}

// Volume is the volume of the slab in mm³.
func (s Slab) Volume() float64 {
	sum := 0.0
	for _, p := range s.Free {
		sum += p.Area()
	}
	return sum * (s.Top - s.Bottom)
}

// covers tells whether the base lies in one of the free polygons; as these are
// apart and a base is in one piece, it cannot need two.
func (s Slab) covers(base Polygon) bool {
	return slices.ContainsFunc(s.Free, func(p Polygon) bool { return p.ContainsPolygon(base) })
}

// Bounds is the smallest axis-parallel box around the solids, as its least and
// greatest corners; both are zero when there are no solids.
func (s Space) Bounds() (lo, hi r3.Vector) {
	for i, p := range s.Solids {
		b := p.Base.Bounds()
		l, h := at(b.Lo(), p.Bottom), at(b.Hi(), p.Top)
		if i == 0 {
			lo, hi = l, h
		}
		lo = r3.Vector{X: min(lo.X, l.X), Y: min(lo.Y, l.Y), Z: min(lo.Z, l.Z)}
		hi = r3.Vector{X: max(hi.X, h.X), Y: max(hi.Y, h.Y), Z: max(hi.Z, h.Z)}
	}
	return lo, hi
}

// Translate moves the space by d.
func (s Space) Translate(d r3.Vector) Space {
	move := func(ps []Prism) []Prism {
		out := make([]Prism, len(ps))
		for i, p := range ps {
			out[i] = p.Translate(d)
		}
		return out
	}
	return Space{Solids: move(s.Solids), KeepOuts: move(s.KeepOuts)}
}

// Volume is the free volume in mm³; NaN if the overlay fails, which valid
// prisms do not cause.
func (s Space) Volume() float64 {
	slabs, err := s.Slabs()
	if err != nil {
		return math.NaN()
	}
	sum := 0.0
	for _, l := range slabs {
		sum += l.Volume()
	}
	return sum
}

// ContainsPrism tells whether the whole prism lies in the space, at every
// height. It is exact on the lattice when one solid holds the prism; where it
// stands in several, their union is taken first, whose new corners are rounded
// to the lattice. It answers no when the overlay fails. For many prisms in one
// space, use [Space.Prepare].
func (s Space) ContainsPrism(p Prism) bool {
	for _, k := range s.KeepOuts {
		if k.Overlaps(p) {
			return false
		}
	}
	for _, q := range s.Solids {
		if q.spans(p.Bottom, p.Top) && q.Base.ContainsPolygon(p.Base) {
			return true
		}
	}
	prepared, err := Space{Solids: s.Solids}.Prepare()
	return err == nil && prepared.ContainsPrism(p)
}

// spans tells whether the prism reaches from lo to hi on the lattice.
func (p Prism) spans(lo, hi float64) bool {
	return steps(p.Bottom) <= steps(lo) && steps(hi) <= steps(p.Top)
}

// WallDistance is the least horizontal distance d in mm of a prism inside the
// space from its walls and keep-outs at the heights of the prism, with the
// point on the prism and the point on the wall. It is zero for a prism that is
// not inside.
func (s Space) WallDistance(p Prism) (d float64, from, to r3.Vector) {
	prepared, err := s.Prepare()
	if err != nil {
		return math.NaN(), r3.Vector{}, r3.Vector{}
	}
	return prepared.WallDistance(p)
}

// VerticalClearance is the height in mm by which a prism inside the space could
// be lowered and raised before some part of its base meets a floor, a ceiling
// or a keep-out. Both are zero for a prism that is not inside.
func (s Space) VerticalClearance(p Prism) (below, above float64) {
	prepared, err := s.Prepare()
	if err != nil {
		return 0, 0
	}
	return prepared.VerticalClearance(p)
}

// Prepared is a space cut into slabs once, for many questions. It must not be
// changed, and may be used from several goroutines.
type Prepared struct {
	slabs []Slab
}

// Prepare cuts the space into slabs.
func (s Space) Prepare() (Prepared, error) {
	slabs, err := s.Slabs()
	return Prepared{slabs: slabs}, err
}

// Slabs are the slabs of the space, from the lowest. The caller must not change
// them.
func (s Prepared) Slabs() []Slab { return s.slabs }

// ContainsPrism is [Space.ContainsPrism].
func (s Prepared) ContainsPrism(p Prism) bool {
	z, top := steps(p.Bottom), steps(p.Top)
	for _, l := range s.slabs {
		if steps(l.Top) <= z {
			continue
		}
		if steps(l.Bottom) > z || !l.covers(p.Base) {
			return false
		}
		if z = steps(l.Top); z >= top {
			return true
		}
	}
	return false
}

// WallDistance is [Space.WallDistance].
func (s Prepared) WallDistance(p Prism) (d float64, from, to r3.Vector) {
	if !s.ContainsPrism(p) {
		c := p.Centroid()
		return 0, c, c
	}
	d = math.Inf(1)
	for _, l := range s.slabs {
		if !levels(l.Bottom, l.Top, p.Bottom, p.Top) {
			continue
		}
		z := (max(l.Bottom, p.Bottom) + min(l.Top, p.Top)) / 2
		a, b, e := l.wall(p.Base)
		if e < d {
			d, from, to = e, at(a, z), at(b, z)
		}
	}
	return d, from, to
}

// wall is the distance of a base to the boundary of the free polygon it is in;
// zero where it is in none.
func (s Slab) wall(base Polygon) (from, to r2.Point, d float64) {
	for _, p := range s.Free {
		if p.ContainsPolygon(base) {
			return p.DistanceToBoundary(base)
		}
	}
	c := base.Centroid()
	return c, c, 0
}

// VerticalClearance is [Space.VerticalClearance].
func (s Prepared) VerticalClearance(p Prism) (below, above float64) {
	if !s.ContainsPrism(p) {
		return 0, 0
	}
	lo, hi := p.Bottom, p.Top
	for _, l := range slices.Backward(s.slabs) {
		if steps(l.Bottom) < steps(lo) && steps(l.Top) >= steps(lo) && l.covers(p.Base) {
			lo = l.Bottom
		}
	}
	for _, l := range s.slabs {
		if steps(l.Top) > steps(hi) && steps(l.Bottom) <= steps(hi) && l.covers(p.Base) {
			hi = l.Top
		}
	}
	return p.Bottom - lo, hi - p.Top
}
