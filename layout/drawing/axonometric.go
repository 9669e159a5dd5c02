package drawing

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// Axonometric draws a scene in parallel projection from above one of its corners, see [Eye] for the angles.
// Boxes are open towards the eye: their far walls are drawn, then what is in them, then their near edges.
// Bodies are painted from far to near. Of the options, Off, Marks, CG, CGDonor, Lines and Imperial count.
func Axonometric(s *layout.Scene, o Options, yawDeg, pitchDeg float64) *List {
	a := newAxo(&o, Eye{yawDeg, pitchDeg})
	a.vehicle(s)
	a.site(s)
	a.wheels(s)
	a.bodies(s)
	a.readings()
	return a.p.list(axoTitle(s))
}

func axoTitle(s *layout.Scene) string {
	if s.Arrangement == nil || s.Arrangement.Name == "" {
		return "Axonometric, not to scale"
	}
	return s.Arrangement.Name + ": axonometric, not to scale"
}

// axo draws faces of prisms with a pen.
type axo struct {
	p                  *pen
	right, up, towards r3.Vector
}

func newAxo(o *Options, e Eye) *axo {
	own := *o
	own.Cache = nil
	a := &axo{p: newPen(PlanView, &own)}
	a.right, a.up, a.towards = e.axes()
	return a
}

func (a *axo) at(v r3.Vector) r2.Point { return r2.Point{X: v.Dot(a.right), Y: v.Dot(a.up)} }

// level projects a ring at a height.
func (a *axo) level(ring []r2.Point, z float64) []r2.Point {
	out := a.p.room(len(ring))
	for i, q := range ring {
		out[i] = a.at(r3.Vector{X: q.X, Y: q.Y, Z: z})
	}
	return out
}

// upright projects a ring of a plane at right angles to y, given as (x, z).
func (a *axo) upright(ring []r2.Point, y float64) []r2.Point {
	out := a.p.room(len(ring))
	for i, q := range ring {
		out[i] = a.at(r3.Vector{X: q.X, Y: y, Z: q.Y})
	}
	return out
}

// face is one face of a prism, as seen.
type face struct {
	ring   []r2.Point
	facing float64 // cosine between its normal and the way to the eye; above 0 it is seen
	flat   bool    // top or bottom
}

// faces lists a prism's faces: top, bottom, then the sides.
func (a *axo) faces(q geometry.Prism) []face {
	ring := q.Base.Outer
	if ring.Area() < 0 {
		ring = ring.Reversed()
	}
	out := make([]face, 0, len(ring)+2)
	out = append(out,
		face{a.level(ring, q.Top), a.towards.Z, true},
		face{a.level(ring, q.Bottom), -a.towards.Z, true})
	for i, b := range ring {
		c := ring[(i+1)%len(ring)]
		n := c.Sub(b).Normalize()
		side := a.p.room(4)
		side[0], side[1] = a.at(r3.Vector{X: b.X, Y: b.Y, Z: q.Bottom}), a.at(r3.Vector{X: c.X, Y: c.Y, Z: q.Bottom})
		side[2], side[3] = a.at(r3.Vector{X: c.X, Y: c.Y, Z: q.Top}), a.at(r3.Vector{X: b.X, Y: b.Y, Z: q.Top})
		out = append(out, face{side, n.Y*a.towards.X - n.X*a.towards.Y, false})
	}
	return out
}

// solid paints a prism's faces that are seen, its sides shaded.
func (a *axo) solid(t Tag, q geometry.Prism) {
	for _, f := range a.faces(q) {
		if f.facing <= 1e-9 {
			continue
		}
		a.p.fill(t, geometry.Polygon{Outer: f.ring})
		if !f.flat {
			a.shade(t, f)
		}
		a.p.loop(t, f.ring)
	}
}

// shade darkens a side: once, and once more where it looks away from the light at the upper left.
func (a *axo) shade(t Tag, f face) {
	s := Tag{Role: RoleShade, Ref: t.Ref}
	a.p.fill(s, geometry.Polygon{Outer: f.ring})
	if f.facing < 0.5 {
		a.p.fill(s, geometry.Polygon{Outer: f.ring})
	}
}

// wire draws a prism's edges: floor, top and corners.
func (a *axo) wire(t Tag, q geometry.Prism) {
	a.p.loop(t, a.level(q.Base.Outer, q.Bottom))
	a.p.loop(t, a.level(q.Base.Outer, q.Top))
	if len(q.Base.Outer) > 12 {
		return
	}
	for _, c := range q.Base.Outer {
		a.p.segment(t, a.at(r3.Vector{X: c.X, Y: c.Y, Z: q.Bottom}), a.at(r3.Vector{X: c.X, Y: c.Y, Z: q.Top}))
	}
}

// vehicle draws the ground under the vehicle, its two sides and its front's arrow, all as lines.
func (a *axo) vehicle(s *layout.Scene) {
	d := s.Donor
	if d == nil || !a.p.o.on(LayerVehicle) {
		return
	}
	plan, side := vehicles.Points(d.PlanOutline), vehicles.Points(d.SideOutline)
	low := r2.RectFromPoints(side...).Y.Lo
	a.p.hatch(Tag{Role: RoleGround}, geometry.Polygon{Outer: a.level(plan, 0)}, Hatch{Deg: 45, PitchPt: 9})
	t := Tag{Role: RoleBody}
	a.p.fill(t, geometry.Polygon{Outer: a.level(plan, low)})
	a.p.loop(t, a.level(plan, low))
	w := r2.RectFromPoints(plan...)
	far := w.Y.Hi
	if a.towards.Y > 0 {
		far = w.Y.Lo
	}
	a.thin(t, a.upright(side, far))
	a.ribs(t, side, w)
	a.front(w, low)
}

func (a *axo) thin(t Tag, ring []r2.Point) {
	a.p.reach(ring...)
	a.p.items = append(a.p.items, Stroke{Of: t, Points: ring, Closed: true, Pt: 0.5})
}

// ribs draws the near side and what joins the sides at their corners, finely, so that it hides nothing.
func (a *axo) ribs(t Tag, side []r2.Point, w r2.Rect) {
	near := w.Y.Lo
	if a.towards.Y > 0 {
		near = w.Y.Hi
	}
	fine := func(ps []r2.Point, closed bool) {
		a.p.reach(ps...)
		a.p.items = append(a.p.items, Stroke{Of: t, Points: ps, Closed: closed, Pt: 0.35, Dash: []float64{2, 2}})
	}
	fine(a.upright(side, near), true)
	for _, c := range side {
		ps := a.p.room(2)
		ps[0], ps[1] = a.at(r3.Vector{X: c.X, Y: w.Y.Lo, Z: c.Y}), a.at(r3.Vector{X: c.X, Y: w.Y.Hi, Z: c.Y})
		fine(ps, false)
	}
}

func (a *axo) front(w r2.Rect, z float64) {
	t := Tag{Role: RoleFront}
	tip, tail := r3.Vector{X: w.X.Lo - 330, Z: z}, r3.Vector{X: w.X.Lo - 90, Z: z}
	a.p.segment(t, a.at(tail), a.at(tip))
	head := a.p.room(3)
	head[0], head[1], head[2] = a.at(tip), a.at(tip.Add(r3.Vector{X: 80, Y: 36})), a.at(tip.Add(r3.Vector{X: 80, Y: -36}))
	a.p.fill(t, geometry.Polygon{Outer: head})
	a.p.text(Text{Of: t, At: a.at(tip).Add(pt(0, 60)), S: "front", InMM: 62 * a.p.o.names(), Anchor: South})
}

// site draws rails as solids, and bays and keep-outs as edges.
func (a *axo) site(s *layout.Scene) {
	if s.Donor != nil && a.p.o.on(LayerRails) {
		for i := range s.Donor.Rails {
			r := &s.Donor.Rails[i]
			a.solid(a.p.tag(RoleRail, r.ID), solid(r.Outline, r.FloorMM, r.CeilingMM))
		}
	}
	if a.p.o.on(LayerBays) {
		for i := range s.Bays {
			for _, q := range s.Bays[i].Space.Solids {
				a.wire(a.p.tag(RoleBay, s.Bays[i].Bay.ID), q)
			}
		}
	}
	if a.p.o.on(LayerKeepOuts) {
		for i := range s.KeepOuts {
			k := &s.KeepOuts[i]
			t := a.p.tag(RoleKeepOut, k.Ref)
			a.p.hatch(t, geometry.Polygon{Outer: a.level(k.Prism.Base.Outer, k.Prism.Top)}, keepOutHatch(k.KeepOut.Kind))
			a.wire(t, k.Prism)
		}
	}
}

func (a *axo) wheels(s *layout.Scene) {
	d := s.Donor
	if d == nil || !a.p.o.on(LayerVehicle) {
		return
	}
	for _, y := range tyres(d, d.TrackFrontMM, false) {
		a.wheel(pt(0, d.WheelRadiusMM), y, d.WheelRadiusMM, tyreWidth(d))
	}
	for _, y := range tyres(d, d.TrackRearMM, true) {
		a.wheel(pt(d.WheelbaseMM, d.WheelRadiusMM), y, d.WheelRadiusMM, tyreWidth(d))
	}
}

// wheel draws a wheel as lines: both its circles.
func (a *axo) wheel(c r2.Point, y, r, w float64) {
	ring := a.p.disc(c, r, 32).Outer
	for _, side := range []float64{y - w/2, y + w/2} {
		a.thin(Tag{Role: RoleWheel}, a.upright(ring, side))
	}
}

// readings draws what lies over everything: lines and the centres of gravity.
func (a *axo) readings() {
	o := a.p.o
	for i := range o.Lines {
		l := &o.Lines[i]
		if len(l.Points) == 0 || o.Off&l.Role.Layer() != 0 {
			continue
		}
		ps := a.p.room(len(l.Points))
		for k, v := range l.Points {
			ps[k] = a.at(v)
		}
		a.p.line(a.p.tag(l.Role, l.Ref), ps...)
	}
	if !o.on(LayerBalance) {
		return
	}
	a.cg(o.CGDonor, RoleCGDonor, "CG donor")
	a.cg(o.CG, RoleCG, "CG now")
	a.p.grantAll()
}

// cg draws a centre of gravity with a plumb line to the ground, without which its place cannot be read.
func (a *axo) cg(at *r3.Vector, role Role, name string) {
	if at == nil {
		return
	}
	foot := *at
	foot.Z = 0
	t := Tag{Role: role, Ref: string(role)}
	a.p.segment(t, a.at(*at), a.at(foot))
	a.p.segment(t, a.at(foot.Sub(r3.Vector{X: 40})), a.at(foot.Add(r3.Vector{X: 40})))
	a.p.segment(t, a.at(foot.Sub(r3.Vector{Y: 40})), a.at(foot.Add(r3.Vector{Y: 40})))
	c := a.at(*at)
	a.p.cgAt(t, c, name, wish{})
}

// number sets a module's number on its top face where that is steep enough to read.
func (a *axo) number(t Tag, m *layout.Body) {
	if !a.p.o.on(LayerLabels) || a.towards.Z < 0.25 {
		return
	}
	b := m.Prism.Base.Bounds()
	c := b.Center()
	size := fitted(m.Placement.ID, 0.5*min(b.Size().X, b.Size().Y), 0.5*min(b.Size().X, b.Size().Y)*a.towards.Z, 6, 60)
	if size == 0 {
		return
	}
	t.Role = RoleLabel
	a.p.text(Text{Of: t, At: a.at(r3.Vector{X: c.X, Y: c.Y, Z: m.Prism.Top}), S: m.Placement.ID, InMM: size})
}

// depth is how near to the eye a prism's middle is.
func (a *axo) depth(q geometry.Prism) float64 {
	c := q.Base.Bounds().Center()
	return r3.Vector{X: c.X, Y: c.Y, Z: (q.Bottom + q.Top) / 2}.Dot(a.towards)
}

// hides tells whether p can hide q: a plane between them, parallel to two of the axes, has p on the eye's side.
// The second result is false where no such plane parts them.
func (a *axo) hides(p, q geometry.Prism) (hides, parted bool) {
	const touch = 0.01
	pb, qb := p.Base.Bounds(), q.Base.Bounds()
	sides := [3][4]float64{{pb.X.Lo, pb.X.Hi, qb.X.Lo, qb.X.Hi}, {pb.Y.Lo, pb.Y.Hi, qb.Y.Lo, qb.Y.Hi}, {p.Bottom, p.Top, q.Bottom, q.Top}}
	way := [3]float64{a.towards.X, a.towards.Y, a.towards.Z}
	for i, s := range sides {
		above, below := s[0] >= s[3]-touch, s[1] <= s[2]+touch
		if !above && !below || math.Abs(way[i]) < 1e-9 {
			continue
		}
		parted = true
		if above == (way[i] < 0) {
			return false, true
		}
	}
	return parted, parted
}
