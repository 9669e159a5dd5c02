package gltf

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// body is a closed surface of triangles in the vehicle's frame. Every face has its own corners, for flat shading.
type body struct {
	places  []r3.Vector
	normals []r3.Vector
	corners []uint32
}

// face adds a flat polygon cut into triangles. Corners run anticlockwise seen from outside.
func (b *body) face(ring []r3.Vector, triangles [][3]int, normal r3.Vector) {
	first := uint32(len(b.places))
	for _, p := range ring {
		b.places = append(b.places, p)
		b.normals = append(b.normals, normal)
	}
	for _, t := range triangles {
		b.corners = append(b.corners, first+uint32(t[0]), first+uint32(t[1]), first+uint32(t[2]))
	}
}

// swept is the body that a polygon makes when it moves from lo to hi along an axis. Its plane's axes u and v and
// the axis w have to be right-handed in that order. Holes are joined to the outer ring by cuts.
func swept(area geometry.Polygon, lo, hi float64, u, v, w r3.Vector) body {
	var b body
	area = area.Normalised()
	if len(area.Outer) < 3 || hi <= lo {
		return b
	}
	at := func(q r2.Point, h float64) r3.Vector { return u.Mul(q.X).Add(v.Mul(q.Y)).Add(w.Mul(h)) }
	for _, ring := range append([]geometry.Ring{area.Outer}, area.Holes...) {
		b.sides(ring, lo, hi, at)
	}
	one := oneRing(area)
	ts := triangles(one)
	top, bottom := make([]r3.Vector, len(one)), make([]r3.Vector, len(one))
	flipped := make([][3]int, len(ts))
	for i, q := range one {
		top[i], bottom[i] = at(q, hi), at(q, lo)
	}
	for i, t := range ts {
		flipped[i] = [3]int{t[2], t[1], t[0]}
	}
	b.face(top, ts, w)
	b.face(bottom, flipped, w.Mul(-1))
	return b
}

func (b *body) sides(ring geometry.Ring, lo, hi float64, at func(r2.Point, float64) r3.Vector) {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		d := q.Sub(p)
		if d.Norm() == 0 {
			continue
		}
		out := r2.Point{X: d.Y, Y: -d.X}.Normalize()
		quad := []r3.Vector{at(p, lo), at(q, lo), at(q, hi), at(p, hi)}
		b.face(quad, [][3]int{{0, 1, 2}, {0, 2, 3}}, at(out, 0))
	}
}

var axisX, axisY, axisZ = r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}

func prism(q geometry.Prism) body {
	return swept(q.Base, q.Bottom, q.Top, axisX, axisY, axisZ)
}

func upright(ring []r2.Point, floor, ceiling float64) body {
	return swept(geometry.Polygon{Outer: ring}, floor, ceiling, axisX, axisY, axisZ)
}

// across sweeps an outline of the side view, (x, z), from y = lo to y = hi.
func across(ring []r2.Point, lo, hi float64) body {
	return swept(geometry.Polygon{Outer: ring}, -hi, -lo, axisX, axisZ, axisY.Mul(-1))
}

func wheel(x, y, radius, wide float64) body {
	const n = 32
	ring := make([]r2.Point, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		ring[i] = r2.Point{X: x + radius*cos, Y: radius + radius*sin}
	}
	return across(ring, y-wide/2, y+wide/2)
}

// width is how far the body reaches to the left and right.
func width(d *vehicles.Donor) (lo, hi float64) {
	r := r2.RectFromPoints(vehicles.Points(d.PlanOutline)...)
	return r.Y.Lo, r.Y.Hi
}
