package geometry

import (
	"math"
	"slices"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Polygon is the closed region inside Outer and not strictly inside any hole.
// The zero value is the empty polygon. Results are defined for polygons that
// [Polygon.Validate] accepts; rings may run either way, and every function of
// this package returns outer rings anticlockwise and holes clockwise.
type Polygon struct {
	Outer Ring
	Holes []Ring
}

// NewRect is the axis-parallel rectangle with the two given opposite corners.
func NewRect(x0, y0, x1, y1 float64) Polygon {
	x0, x1 = min(x0, x1), max(x0, x1)
	y0, y1 = min(y0, y1), max(y0, y1)
	return Polygon{Outer: Ring{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}
}

// IsEmpty tells whether the polygon has no outer ring.
func (p Polygon) IsEmpty() bool { return len(p.Outer) == 0 }

// Normalised runs the outer ring anticlockwise and the holes clockwise.
func (p Polygon) Normalised() Polygon {
	out := Polygon{Outer: p.Outer.turned(true)}
	for _, h := range p.Holes {
		out.Holes = append(out.Holes, h.turned(false))
	}
	return out
}

// Area is the area of the region in mm², never negative for a valid polygon.
func (p Polygon) Area() float64 {
	a := math.Abs(p.Outer.Area())
	for _, h := range p.Holes {
		a -= math.Abs(h.Area())
	}
	return a
}

// Centroid is the centre of area of the region, by summing the signed
// triangles each edge makes with a corner of the region. For a region without
// area it is the centre of the bounds.
func (p Polygon) Centroid() r2.Point {
	if p.IsEmpty() {
		return r2.Point{}
	}
	o := p.Outer[0]
	area, m := unsigned(p.Outer.moment(o))
	for _, h := range p.Holes {
		ha, hm := unsigned(h.moment(o))
		area, m = area-ha, m.Sub(hm)
	}
	if area <= 0 {
		return p.Bounds().Center()
	}
	return o.Add(m.Mul(1 / area))
}

func unsigned(area float64, m r2.Point) (float64, r2.Point) {
	if area < 0 {
		return -area, m.Mul(-1)
	}
	return area, m
}

// Bounds is the smallest axis-parallel rectangle around the region.
func (p Polygon) Bounds() r2.Rect { return p.Outer.Bounds() }

// Perimeter is the length of all the rings in mm.
func (p Polygon) Perimeter() float64 {
	sum := p.Outer.Perimeter()
	for _, h := range p.Holes {
		sum += h.Perimeter()
	}
	return sum
}

// Corners is the number of corners of all the rings.
func (p Polygon) Corners() int {
	n := len(p.Outer)
	for _, h := range p.Holes {
		n += len(h)
	}
	return n
}

// Clone is a deep copy.
func (p Polygon) Clone() Polygon {
	return p.mapped(func(q r2.Point) r2.Point { return q })
}

// Translate moves the polygon by d.
func (p Polygon) Translate(d r2.Point) Polygon {
	return p.mapped(func(q r2.Point) r2.Point { return q.Add(d) })
}

// Rotate turns the polygon anticlockwise (from x towards y) about a point.
// Whole quarter turns are exact.
func (p Polygon) Rotate(about r2.Point, turn s1.Angle) Polygon {
	t := turnOf(turn)
	return p.mapped(func(q r2.Point) r2.Point { return about.Add(t.apply(q.Sub(about))) })
}

// MirrorY reflects the polygon in the x axis: y becomes -y.
func (p Polygon) MirrorY() Polygon {
	out := p.mapped(func(q r2.Point) r2.Point { return r2.Point{X: q.X, Y: -q.Y} })
	slices.Reverse(out.Outer)
	for _, h := range out.Holes {
		slices.Reverse(h)
	}
	return out
}

func (p Polygon) mapped(f func(r2.Point) r2.Point) Polygon {
	out := Polygon{Outer: p.Outer.mapped(f)}
	if p.Holes == nil {
		return out
	}
	out.Holes = make([]Ring, len(p.Holes))
	for i, h := range p.Holes {
		out.Holes[i] = h.mapped(f)
	}
	return out
}

// ring is the outer ring for 0 and the holes from 1 on.
func (p Polygon) ring(i int) Ring {
	if i == 0 {
		return p.Outer
	}
	return p.Holes[i-1]
}

func (p Polygon) ringCount() int { return 1 + len(p.Holes) }

// rotation is a turn held as its cosine and sine.
type rotation struct{ cos, sin float64 }

// turnOf gives the cosine and sine of an angle, exactly 0 and 1 at quarter
// turns.
func turnOf(a s1.Angle) rotation {
	if a == 0 {
		return rotation{1, 0}
	}
	quarters := math.Round(a.Radians() / (math.Pi / 2))
	if math.Abs(a.Radians()-quarters*math.Pi/2) > 1e-12*max(1, math.Abs(quarters)) {
		s, c := math.Sincos(a.Radians())
		return rotation{c, s}
	}
	return [4]rotation{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}[((int64(quarters)%4)+4)%4]
}

// square tells whether the turn is a whole number of quarter turns.
func (t rotation) square() bool { return t.cos == 0 || t.sin == 0 }

func (t rotation) apply(p r2.Point) r2.Point {
	return r2.Point{X: p.X*t.cos - p.Y*t.sin, Y: p.X*t.sin + p.Y*t.cos}
}

func boundsOf(lo, hi r2.Point) r2.Rect {
	return r2.Rect{X: r1.Interval{Lo: lo.X, Hi: hi.X}, Y: r1.Interval{Lo: lo.Y, Hi: hi.Y}}
}
