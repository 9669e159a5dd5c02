package mass

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// plane is the area, first and second moments of a plane region about its origin.
type plane struct {
	area       float64 // mm2
	first      r2.Point
	xx, yy, xy float64
}

// planeOf sums the signed triangles that each edge makes with the origin (Green's theorem), of a polygon with
// its outer ring anticlockwise and its holes clockwise.
func planeOf(p geometry.Polygon) plane {
	a := ringPlane(p.Outer)
	if a.area < 0 {
		a = plane{}.plus(a, -1)
	}
	for _, h := range p.Holes {
		b := ringPlane(h)
		k := -1.0
		if b.area < 0 {
			k = 1
		}
		a = a.plus(b, k)
	}
	return a
}

func ringPlane(r geometry.Ring) plane {
	var a plane
	for i, p := range r {
		q := r[(i+1)%len(r)]
		c := p.Cross(q)
		a.area += c / 2
		a.first = a.first.Add(p.Add(q).Mul(c / 6))
		a.xx += c * (p.X*p.X + p.X*q.X + q.X*q.X) / 12
		a.yy += c * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
		a.xy += c * (p.X*q.Y + 2*p.X*p.Y + 2*q.X*q.Y + q.X*p.Y) / 24
	}
	return a
}

func (a plane) plus(b plane, k float64) plane {
	return plane{a.area + k*b.area, a.first.Add(b.first.Mul(k)), a.xx + k*b.xx, a.yy + k*b.yy, a.xy + k*b.xy}
}

func (a plane) centroid() r2.Point {
	if a.area == 0 {
		return r2.Point{}
	}
	return a.first.Mul(1 / a.area)
}

// central takes the moments to the centroid.
func (a plane) central() plane {
	c := a.centroid()
	return plane{area: a.area, xx: a.xx - c.X*a.first.X, yy: a.yy - c.Y*a.first.Y, xy: a.xy - c.X*a.first.Y}
}

// lifted is the second-moment matrix, per unit of mass over area, of the region laid along u and v.
func (a plane) lifted(u, v r3.Vector) Second {
	f := func(p, q, r, s float64) float64 { return a.xx*p*r + a.yy*q*s + a.xy*(p*s+q*r) }
	return Second{
		XX: f(u.X, v.X, u.X, v.X), YY: f(u.Y, v.Y, u.Y, v.Y), ZZ: f(u.Z, v.Z, u.Z, v.Z),
		XY: f(u.X, v.X, u.Y, v.Y), XZ: f(u.X, v.X, u.Z, v.Z), YZ: f(u.Y, v.Y, u.Z, v.Z),
	}
}

// plane is the hole's moments about the panel's origin.
func (h Hole) plane() plane {
	a := h.AreaMM2()
	xx, yy := a*h.WidthMM*h.WidthMM/12, a*h.HeightMM*h.HeightMM/12
	if h.DiameterMM > 0 {
		xx = a * h.DiameterMM * h.DiameterMM / 16
		yy = xx
	}
	return plane{a, h.At.Mul(a), xx + a*h.At.X*h.At.X, yy + a*h.At.Y*h.At.Y, a * h.At.X * h.At.Y}
}
