package drawing

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

var directions = map[string]r3.Vector{
	"up": {Z: 1}, "top": {Z: 1}, "down": {Z: -1}, "bottom": {Z: -1}, "": {Z: -1},
	"left": {Y: -1}, "right": {Y: 1}, "front": {X: -1}, "rear": {X: 1},
}

// boltMM is the nominal diameter of a metric thread: M8 is 8 mm.
func boltMM(thread string) float64 {
	d, err := strconv.ParseFloat(strings.TrimPrefix(thread, "M"), 64)
	if err != nil {
		return 8
	}
	return d
}

// feet draws each foot as its plate and bolt hole, or edge-on where its face is not seen.
func (p *pen) feet(b *layout.BoxScene) {
	for i := range b.Box.Feet {
		p.foot(b, &b.Box.Feet[i])
	}
}

func (p *pen) foot(b *layout.BoxScene, f *layout.Foot) {
	ref := layout.FootRef(b.Box.ID, f.ID)
	t := Tag{Role: RoleFoot, Ref: ref, Mark: p.o.mark(ref)}
	c := p.at(b.Frame.ToVehicle(f.At.Vector()))
	n := b.Frame.Direction(directions[f.Normal])
	width := defaulted(f.WidthMM, 50)
	edge := defaulted(f.EdgeMM, 2*boltMM(f.Bolt))
	if math.Abs(n.Dot(p.v.towards())) < 0.7 {
		p.plateEdgeOn(t, c, p.at(n), width, defaulted(f.PlateMM, 5))
		return
	}
	p.shape(t, p.plate(b, c, width, edge))
	p.loop(t, p.disc(c, boltMM(f.Bolt)/2, 12).Outer)
	p.segment(t, c.Sub(pt(edge/2, 0)), c.Add(pt(edge/2, 0)))
	p.segment(t, c.Sub(pt(0, edge/2)), c.Add(pt(0, edge/2)))
}

// plate is the foot's plate: from the box's wall to the edge distance beyond the bolt.
func (p *pen) plate(b *layout.BoxScene, c r2.Point, width, edge float64) []r2.Point {
	wall, d := p.nearestWall(b.Outer, c)
	dir := pt(1, 0)
	if d > 0.5 {
		dir = c.Sub(wall).Mul(1 / d)
	}
	if d <= 0.5 || p.v == PlanView && inside(b.Outer, c) {
		wall = c.Sub(dir.Mul(edge))
	}
	side, end := dir.Ortho().Mul(width/2), c.Add(dir.Mul(edge))
	ps := p.room(4)
	ps[0], ps[1], ps[2], ps[3] = wall.Sub(side), end.Sub(side), end.Add(side), wall.Add(side)
	return ps
}

func inside(s geometry.Space, c r2.Point) bool {
	for _, q := range s.Solids {
		if q.Base.Contains(c) == geometry.Inside {
			return true
		}
	}
	return false
}

// nearestWall is the point of a space's outline in the view that is nearest to c.
func (p *pen) nearestWall(s geometry.Space, c r2.Point) (at r2.Point, d float64) {
	d = math.Inf(1)
	for _, q := range s.Solids {
		ring := p.prism(q).Outer
		for i, a := range ring {
			n := onSegment(c, a, ring[(i+1)%len(ring)])
			if m := n.Sub(c).Norm(); m < d {
				at, d = n, m
			}
		}
	}
	return at, d
}

func onSegment(c, a, b r2.Point) r2.Point {
	ab := b.Sub(a)
	l := ab.Dot(ab)
	if l == 0 {
		return a
	}
	return a.Add(ab.Mul(min(1, max(0, c.Sub(a).Dot(ab)/l))))
}

// plateEdgeOn draws a plate seen on its edge, lying on the side of c that its bolts come from.
func (p *pen) plateEdgeOn(t Tag, c, n r2.Point, width, thick float64) {
	if l := n.Norm(); l > 0 {
		n = n.Mul(1 / l)
	}
	side, back := n.Ortho().Mul(width/2), n.Mul(-thick)
	ps := p.room(4)
	ps[0], ps[1] = c.Sub(side), c.Add(side)
	ps[2], ps[3] = c.Add(side).Add(back), c.Sub(side).Add(back)
	p.shape(t, ps)
	p.segment(t, c.Sub(n.Mul(4*thick)), c.Add(n.Mul(3*thick)))
}

func (p *pen) openings(b *layout.BoxScene) {
	for i := range b.Box.Openings {
		p.opening(b, &b.Box.Openings[i])
	}
}

// opening draws a cut-out: its shape where its face looks at or away from the eye, else a bar across the wall.
func (p *pen) opening(b *layout.BoxScene, o *layout.Opening) {
	t := Tag{Role: RoleOpening, Ref: b.Box.ID}
	c := p.at(b.Frame.ToVehicle(o.At.Vector()))
	n := b.Frame.Direction(directions[o.Face])
	if look := n.Dot(p.v.towards()); math.Abs(look) > 0.7 {
		p.cutOut(t, o, c, look < 0)
		return
	}
	dir := p.at(n)
	if l := dir.Norm(); l > 0 {
		dir = dir.Mul(1 / l)
	}
	side, deep := dir.Ortho().Mul(p.barLength(o)/2), dir.Mul(7)
	ps := p.room(4)
	ps[0], ps[1] = c.Sub(side).Sub(deep), c.Add(side).Sub(deep)
	ps[2], ps[3] = c.Add(side).Add(deep), c.Sub(side).Add(deep)
	p.shape(t, ps)
}

// cutOut draws an opening face on; one on the far face has dashed edges.
func (p *pen) cutOut(t Tag, o *layout.Opening, c r2.Point, far bool) {
	var ring []r2.Point
	if o.DiameterMM > 0 {
		ring = p.disc(c, o.DiameterMM/2, 24).Outer
	} else {
		h := pt(o.WidthMM/2, o.HeightMM/2)
		ring = p.rect(c.Sub(h), c.Add(h)).Outer
	}
	p.reach(ring...)
	s := Stroke{Of: t, Points: ring, Closed: true}
	if far {
		s.Dash = []float64{3, 2}
	}
	p.items = append(p.items, s)
}

// barLength is an opening's size along its wall as seen edge-on.
func (p *pen) barLength(o *layout.Opening) float64 {
	if o.DiameterMM > 0 {
		return o.DiameterMM
	}
	lid := o.Face == "top" || o.Face == "bottom"
	if p.v == PlanView || lid && p.v == SideView {
		return o.WidthMM
	}
	return o.HeightMM
}

func defaulted(v, d float64) float64 {
	if v == 0 {
		return d
	}
	return v
}
