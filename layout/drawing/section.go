package drawing

import (
	"math"
	"slices"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// Section draws the cross-section of a scene at x millimetres behind the front axle, seen from behind: what the
// plane cuts is drawn full, with walls hatched; what lies in front of it towards the vehicle's front is drawn as
// outlines; what lies behind it is left out.
func Section(s *layout.Scene, x float64, o Options) *List {
	o.Cache = nil
	p := newPen(RearView, &o)
	c := cutter{p, x}
	c.vehicle(s)
	c.beyond(s)
	c.site(s)
	for _, b := range s.Boxes {
		c.box(b)
	}
	for _, g := range s.Gear {
		c.gear(g)
	}
	p.vehicleOver(s)
	p.balance(s)
	c.names(s)
	p.scaleBar()
	return p.list("Section " + length(x, o.Imperial) + " behind the front axle, seen from behind")
}

// cutter draws the section at x with a pen.
type cutter struct {
	p *pen
	x float64
}

func (c cutter) cuts(r geometry.Ring) bool {
	b := r.Bounds().X
	return b.Lo <= c.x && c.x < b.Hi
}

// isBeyond tells whether a ring lies in front of the plane, towards the vehicle's front.
func (c cutter) isBeyond(r geometry.Ring) bool { return r.Bounds().X.Hi <= c.x }

func (c cutter) vehicle(s *layout.Scene) {
	d := s.Donor
	if d == nil {
		return
	}
	if c.p.o.on(LayerGrid) && c.p.o.GridMM > 0 {
		c.p.grid(donorExtent(RearView, d))
	}
	if !c.p.o.on(LayerVehicle) {
		return
	}
	c.p.ground(d)
	c.p.body(d)
	c.wheels(d)
}

// wheels draws the wheels of the axle that is seen first from the plane, if there is one.
func (c cutter) wheels(d *vehicles.Donor) {
	ys := tyres(d, d.TrackFrontMM, false)
	if c.x+d.WheelRadiusMM >= d.WheelbaseMM {
		ys = tyres(d, d.TrackRearMM, true)
	} else if c.x < -d.WheelRadiusMM {
		return
	}
	w := tyreWidth(d)
	for _, y := range ys {
		c.p.shape(Tag{Role: RoleWheel}, c.p.rect(pt(y-w/2, 0), pt(y+w/2, 2*d.WheelRadiusMM)).Outer)
	}
}

// beyond draws the outlines of boxes that lie in front of the plane.
func (c cutter) beyond(s *layout.Scene) {
	if !c.p.o.on(LayerBoxes) {
		return
	}
	for _, b := range s.Boxes {
		for _, q := range b.Outer.Solids {
			if c.isBeyond(q.Base.Outer) {
				c.p.outline(Tag{Role: RoleLiner, Ref: b.Box.ID}, c.p.prism(q))
			}
		}
	}
}

func (c cutter) site(s *layout.Scene) {
	if d := s.Donor; d != nil {
		c.rails(d)
		c.zones(d)
	}
	if c.p.o.on(LayerBays) {
		for i := range s.Bays {
			for _, q := range s.Bays[i].Space.Solids {
				c.each(q, func(a geometry.Polygon) { c.p.shape(c.p.tag(RoleBay, s.Bays[i].Bay.ID), a.Outer) })
			}
		}
	}
	if c.p.o.on(LayerKeepOuts) {
		boxes := c.p.boxExtents(s)
		for i := range s.KeepOuts {
			c.keepOut(&s.KeepOuts[i], boxes)
		}
	}
}

func (c cutter) rails(d *vehicles.Donor) {
	if !c.p.o.on(LayerRails) {
		return
	}
	for i := range d.Rails {
		r := &d.Rails[i]
		c.each(solid(r.Outline, r.FloorMM, r.CeilingMM), func(a geometry.Polygon) {
			c.p.shape(c.p.tag(RoleRail, r.ID), a.Outer)
		})
	}
}

func (c cutter) zones(d *vehicles.Donor) {
	if !c.p.o.on(LayerZones) {
		return
	}
	for i := range d.Zones {
		z := &d.Zones[i]
		c.each(solid(z.Outline, z.FloorMM, z.CeilingMM), func(a geometry.Polygon) {
			c.p.hatch(c.p.tag(RoleZone, z.ID), a, zoneHatch(z.Kind))
			c.p.outline(c.p.tag(RoleZone, z.ID), a)
		})
	}
}

func (c cutter) keepOut(k *layout.KeepOutScene, boxes []r2.Rect) {
	c.each(k.Prism, func(a geometry.Polygon) {
		t := c.p.tag(RoleKeepOut, k.Ref)
		c.p.hatch(t, a, keepOutHatch(k.KeepOut.Kind))
		c.p.outline(t, a)
		c.p.keepOutName(k, a.Bounds(), boxes)
	})
}

// box draws a cut box: its wall hatched between outside and inside, and what the plane cuts in it.
func (c cutter) box(b *layout.BoxScene) {
	if c.p.o.on(LayerBoxes) {
		c.wall(b)
	}
	if c.p.o.on(LayerModules) {
		for _, m := range b.Modules {
			c.module(m)
		}
	}
	for _, g := range b.Gear {
		c.gear(g)
	}
}

func (c cutter) wall(b *layout.BoxScene) {
	var inner []geometry.Polygon
	for _, q := range b.Inner.Solids {
		c.each(q, func(a geometry.Polygon) { inner = append(inner, a) })
	}
	t := c.p.tag(RoleBox, b.Box.ID)
	for _, q := range b.Outer.Solids {
		c.each(q, func(a geometry.Polygon) {
			c.p.fill(t, a)
			walls, err := geometry.Difference(a, inner...)
			if err != nil {
				walls = []geometry.Polygon{a}
			}
			for _, w := range walls {
				c.p.hatch(Tag{Role: RoleCut, Ref: b.Box.ID}, w, Hatch{Deg: 45})
			}
			c.p.outline(t, a)
		})
	}
	for _, a := range inner {
		c.p.outline(c.p.tag(RoleLiner, b.Box.ID), a)
	}
}

func (c cutter) module(m *layout.Body) {
	c.each(m.Prism, func(a geometry.Polygon) {
		t := c.p.tag(RoleModule, m.ID)
		c.p.shape(t, a.Outer)
		c.p.state(t, a)
		if c.p.o.on(LayerLabels) {
			c.p.moduleNumber(t, m, nil, a.Bounds())
		}
	})
}

func (c cutter) gear(g *layout.GearBody) {
	if !c.p.o.on(LayerGear) {
		return
	}
	c.each(g.Prism, func(a geometry.Polygon) {
		t := c.p.tag(RoleGear, g.ID)
		c.p.shape(t, a.Outer)
		c.p.state(t, a)
		if c.p.o.on(LayerLabels) {
			c.p.gearName(t, g, a.Bounds())
		}
	})
}

// names sets the names of the boxes that are seen and of the bays that are cut.
func (c cutter) names(s *layout.Scene) {
	if c.p.o.on(LayerLabels) {
		c.p.boxNames(slices.DeleteFunc(slices.Clone(s.Boxes), func(b *layout.BoxScene) bool { return !c.seen(b.Outer) }))
		c.p.bayNames(slices.DeleteFunc(slices.Clone(s.Bays), func(b layout.BayScene) bool { return !c.cutsAny(b.Space) }), s.Boxes)
	}
	c.p.grantAll()
}

func (c cutter) cutsAny(s geometry.Space) bool {
	return slices.ContainsFunc(s.Solids, func(q geometry.Prism) bool { return c.cuts(q.Base.Outer) })
}

func (c cutter) seen(s geometry.Space) bool {
	return slices.ContainsFunc(s.Solids, func(q geometry.Prism) bool { return c.cuts(q.Base.Outer) || c.isBeyond(q.Base.Outer) })
}

// each calls f with every piece that the plane cuts out of a prism.
func (c cutter) each(q geometry.Prism, f func(geometry.Polygon)) {
	if !c.cuts(q.Base.Outer) {
		return
	}
	for _, y := range cutAt(q.Base, c.x) {
		f(c.p.rect(pt(y.Lo, q.Bottom), pt(y.Hi, q.Top)))
	}
}

// cutAt returns the intervals of y in which the line at x runs inside a polygon. An edge counts from its lower
// x up to but without its upper one, so that corners count once.
func cutAt(a geometry.Polygon, x float64) []r1.Interval {
	var ys []float64
	add := func(ring geometry.Ring) {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			if (p.X <= x) != (q.X <= x) {
				ys = append(ys, p.Y+(x-p.X)/(q.X-p.X)*(q.Y-p.Y))
			}
		}
	}
	add(a.Outer)
	for _, h := range a.Holes {
		add(h)
	}
	slices.Sort(ys)
	var out []r1.Interval
	for i := 0; i+1 < len(ys); i += 2 {
		if math.Abs(ys[i+1]-ys[i]) > 1e-9 {
			out = append(out, r1.Interval{Lo: ys[i], Hi: ys[i+1]})
		}
	}
	return out
}
