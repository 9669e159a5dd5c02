package view

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
)

// SolidTop returns what is seen at a place of the picture that an eye has of a scene: the nearest module or piece of
// gear, or the box there that is empty at that place; "" where there is none. Layers that are off hide what is on them.
func SolidTop(s *layout.Scene, off drawing.Layer, e drawing.Eye, at r2.Point) string {
	body, box := seenAt(s, off, rayAt(e, at))
	if body.ref != "" {
		return body.ref
	}
	return box.ref
}

// SolidPlace returns the place in the vehicle's frame that is seen at a place of the picture that an eye has of a scene:
// on the nearest module or piece of gear, else on the box; where there is none, the place in that line of sight nearest to another.
func SolidPlace(s *layout.Scene, off drawing.Layer, e drawing.Eye, at r2.Point, near r3.Vector) r3.Vector {
	r := rayAt(e, at)
	body, box := seenAt(s, off, r)
	t := near.Sub(r.from).Dot(r.way) / r.way.Dot(r.way)
	switch {
	case body.ref != "":
		t = body.t
	case box.ref != "":
		t = box.t
	}
	return r.from.Add(r.way.Mul(t))
}

// seenAt is the nearest module or piece of gear and the nearest box that a line of sight meets.
func seenAt(s *layout.Scene, off drawing.Layer, r ray) (body, box nearest) {
	body, box = nearest{math.Inf(-1), ""}, nearest{math.Inf(-1), ""}
	gear := func(gs []*layout.GearBody) {
		for _, g := range gs {
			if off&drawing.LayerGear == 0 {
				body.offer(r, g.ID, g.Prism)
			}
		}
	}
	gear(s.Gear)
	for _, b := range s.Boxes {
		gear(b.Gear)
		for _, m := range b.Modules {
			if off&drawing.LayerModules == 0 {
				body.offer(r, m.ID, m.Prism)
			}
		}
		for _, p := range b.Outer.Solids {
			if off&drawing.LayerBoxes == 0 {
				box.offer(r, b.Box.ID, p)
			}
		}
	}
	return body, box
}

type nearest struct {
	t   float64
	ref string
}

func (n *nearest) offer(r ray, ref string, p geometry.Prism) {
	if t := r.meets(p); t > n.t {
		n.t, n.ref = t, ref
	}
}

// ray is a line of sight; larger factors of way are nearer to the eye.
type ray struct{ from, way r3.Vector }

func rayAt(e drawing.Eye, at r2.Point) ray {
	sy, cy := math.Sincos(e.YawDeg * math.Pi / 180)
	sp, cp := math.Sincos(e.PitchDeg * math.Pi / 180)
	right, way := r3.Vector{X: cy, Y: -sy}, r3.Vector{X: -sy * cp, Y: -cy * cp, Z: sp}
	return ray{right.Mul(at.X).Add(way.Cross(right).Mul(at.Y)), way}
}

// meets returns the nearest place to the eye at which the line meets a prism's faces, as a factor of its way; minus
// infinity where it misses.
func (r ray) meets(p geometry.Prism) float64 {
	best := math.Inf(-1)
	for _, z := range []float64{p.Bottom, p.Top} {
		t := (z - r.from.Z) / r.way.Z
		if q := r.from.Add(r.way.Mul(t)); within(p.Base.Outer, r2.Point{X: q.X, Y: q.Y}) {
			best = max(best, t)
		}
	}
	for i, b := range p.Base.Outer {
		c := p.Base.Outer[(i+1)%len(p.Base.Outer)]
		d := c.Sub(b)
		across := d.X*r.way.Y - d.Y*r.way.X
		if math.Abs(across) < 1e-9 {
			continue
		}
		t := (d.Y*(r.from.X-b.X) - d.X*(r.from.Y-b.Y)) / across
		q := r.from.Add(r.way.Mul(t))
		along := r2.Point{X: q.X, Y: q.Y}.Sub(b).Dot(d) / d.Dot(d)
		if along >= 0 && along <= 1 && q.Z >= p.Bottom && q.Z <= p.Top {
			best = max(best, t)
		}
	}
	return best
}
