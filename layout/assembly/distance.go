package assembly

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// apart is the distance between the bare metal of two conductors, straight. Bodies and barriers in the way are not
// counted as such: a tool or a loose link may lie over or round them, so no way is taken for longer than it is.
func apart(a, b *Conductor) float64 {
	return max(0, a.At.Sub(b.At).Norm()-a.RadiusMM-b.RadiusMM)
}

// nearMetal is the nearest metal to a conductor.
type nearMetal struct {
	mm   float64
	at   r3.Vector
	what string // "wall", "rim", "floor", "case"
}

// metalNear finds the nearest metal of an open box: a bare wall or floor, the rim of a wall with a liner, the module's
// own case where that is metal. The lid is off.
func metalNear(c *Conductor) nearMetal {
	if c.Box == nil {
		return nearMetal{mm: math.Inf(1)}
	}
	if m := ownCase(c); m != nil {
		return *m
	}
	best := nearMetal{mm: math.Inf(1)}
	for i := range c.Box.Outer.Solids {
		p := &c.Box.Outer.Solids[i]
		best = nearer(best, wallOf(c, p, c.Box.Box.Shell))
		if c.Box.Box.Shell.LinerMM <= 0 {
			best = nearer(best, floorOf(c, p, c.Box.Box.Shell))
		}
	}
	best.mm = max(0, best.mm-c.RadiusMM)
	return best
}

func nearer(a, b nearMetal) nearMetal {
	if b.mm < a.mm {
		return b
	}
	return a
}

func ownCase(c *Conductor) *nearMetal {
	for _, m := range c.Box.Modules {
		if m.ID != c.Of {
			continue
		}
		if m.Module.Case == "metal" {
			return &nearMetal{mm: 0, at: c.At, what: "case"}
		}
		return nil
	}
	return nil
}

// wallOf is the nearest point of a level's wall; with a liner only its edge at the lid is bare.
func wallOf(c *Conductor, p *geometry.Prism, s layout.Shell) nearMetal {
	q, d := nearestOnRings(p.Base, r2.Point{X: c.At.X, Y: c.At.Y})
	if q == nil {
		return nearMetal{mm: math.Inf(1)}
	}
	d = max(0, d-s.Wall())
	z, what := min(max(c.At.Z, p.Bottom), p.Top), "wall"
	if s.LinerMM > 0 {
		z, what = p.Top, "rim"
		if s.LidSide == "bottom" {
			z = p.Bottom
		}
	}
	return nearMetal{math.Hypot(d, z-c.At.Z), r3.Vector{X: q.X, Y: q.Y, Z: z}, what}
}

// floorOf is the nearest point of a level's floor, which is the sheet across from the lid.
func floorOf(c *Conductor, p *geometry.Prism, s layout.Shell) nearMetal {
	inner, off := p.Bottom+s.Floor(), c.At.Z-p.Bottom
	if s.LidSide == "bottom" {
		inner, off = p.Top-s.Floor(), p.Top-c.At.Z
	}
	if p.Base.Contains(r2.Point{X: c.At.X, Y: c.At.Y}) == geometry.Outside || off < 0 {
		return nearMetal{mm: math.Inf(1)}
	}
	return nearMetal{max(0, off-s.Floor()), r3.Vector{X: c.At.X, Y: c.At.Y, Z: inner}, "floor"}
}

func nearestOnRings(p geometry.Polygon, q r2.Point) (*r2.Point, float64) {
	var best *r2.Point
	d := math.Inf(1)
	each := func(r geometry.Ring) {
		for i, a := range r {
			n := nearestOnEdge(q, a, r[(i+1)%len(r)])
			if e := n.Sub(q).Norm(); e < d {
				best, d = &n, e
			}
		}
	}
	each(p.Outer)
	for _, h := range p.Holes {
		each(h)
	}
	return best, d
}

func nearestOnEdge(p, a, b r2.Point) r2.Point {
	e := b.Sub(a)
	n := e.Dot(e)
	if n == 0 {
		return a
	}
	t := min(1, max(0, p.Sub(a).Dot(e)/n))
	return a.Add(e.Mul(t))
}
