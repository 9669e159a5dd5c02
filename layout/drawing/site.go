package drawing

import (
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// site draws rails, zones, bays and keep-outs.
func (p *pen) site(s *layout.Scene) {
	if s.Donor != nil {
		p.rails(s.Donor.Rails)
		p.zones(s.Donor.Zones)
	}
	if p.o.on(LayerBays) {
		for i := range s.Bays {
			p.bay(&s.Bays[i])
		}
	}
	if p.o.on(LayerKeepOuts) {
		boxes := p.boxExtents(s)
		for i := range s.KeepOuts {
			p.keepOut(&s.KeepOuts[i], boxes)
		}
	}
}

func (p *pen) rails(rs []vehicles.Rail) {
	if !p.o.on(LayerRails) {
		return
	}
	for i := range rs {
		r := &rs[i]
		t := p.tag(RoleRail, r.ID)
		area := p.prism(solid(r.Outline, r.FloorMM, r.CeilingMM))
		p.fill(t, area)
		p.outline(t, area)
	}
}

func (p *pen) zones(zs []vehicles.Zone) {
	if !p.o.on(LayerZones) {
		return
	}
	for i := range zs {
		z := &zs[i]
		t := p.tag(RoleZone, z.ID)
		area := p.prism(solid(z.Outline, z.FloorMM, z.CeilingMM))
		p.hatch(t, area, zoneHatch(z.Kind))
		p.outline(t, area)
	}
}

func solid(outline []vehicles.XY, floor, ceiling float64) geometry.Prism {
	return geometry.Prism{Base: geometry.Polygon{Outer: vehicles.Points(outline)}, Bottom: floor, Top: ceiling}
}

func (p *pen) bay(b *layout.BayScene) {
	t := p.tag(RoleBay, b.Bay.ID)
	for _, q := range b.Space.Solids {
		area := p.prism(q)
		p.fill(t, area)
		p.outline(t, area)
	}
}

func (p *pen) keepOut(k *layout.KeepOutScene, boxes []r2.Rect) {
	t := p.tag(RoleKeepOut, k.Ref)
	area := p.prism(k.Prism)
	p.hatch(t, area, keepOutHatch(k.KeepOut.Kind))
	p.outline(t, area)
	p.keepOutName(k, area.Bounds(), boxes)
}

// keepOutName asks for the keep-out's name where it is large enough to carry one.
func (p *pen) keepOutName(k *layout.KeepOutScene, r r2.Rect, boxes []r2.Rect) {
	s := k.KeepOut.Name
	if s != "" {
		s = short(s, k.KeepOut.ID)
	}
	if s == "" || !p.o.on(LayerLabels) {
		return
	}
	size := fitted(s, 0.9*r.Size().X, 0.8*r.Size().Y, leastNameMM, 50)
	c := r.Center()
	at := []spot{{At: c}, {At: pt(r.X.Hi-20, c.Y), Anchor: East}, {At: pt(r.X.Lo+20, c.Y), Anchor: West}}
	if size == 0 {
		size, at = leastNameMM, around(r, 8)
	}
	p.wish(wish{s: s, size: size, role: RoleKeepOut, ref: k.Ref, at: at, off: boxes, last: p.o.OnScreen})
}

func (p *pen) boxExtents(s *layout.Scene) []r2.Rect {
	if !p.o.on(LayerBoxes) {
		return nil
	}
	out := make([]r2.Rect, len(s.Boxes))
	for i, b := range s.Boxes {
		out[i] = p.spaceExtent(b.Outer)
	}
	return out
}

// keepOutHatch gives every kind of keep-out its own direction and pitch, so that kinds are told apart without
// colour.
func keepOutHatch(kind string) Hatch {
	switch kind {
	case "moving":
		return Hatch{Deg: 135, PitchPt: 5}
	case "hot":
		return Hatch{Deg: 45, PitchPt: 6, Cross: true}
	case "path":
		return Hatch{Deg: 0, PitchPt: 7}
	case "structure":
		return Hatch{Deg: 90, PitchPt: 4}
	}
	return Hatch{Deg: 45, PitchPt: 5}
}

// zoneHatch is wider than any keep-out's.
func zoneHatch(kind string) Hatch {
	switch kind {
	case "passenger":
		return Hatch{Deg: 60, PitchPt: 22}
	case "luggage":
		return Hatch{Deg: 120, PitchPt: 22}
	case "crush_side":
		return Hatch{Deg: 0, PitchPt: 11}
	}
	return Hatch{Deg: 90, PitchPt: 11}
}

func (p *pen) spaceExtent(s geometry.Space) r2.Rect {
	r := r2.EmptyRect()
	for _, q := range s.Solids {
		r = r.Union(p.prismExtent(q))
	}
	return r
}

func (p *pen) prismExtent(q geometry.Prism) r2.Rect {
	if p.v == PlanView {
		return q.Base.Bounds()
	}
	lo, hi := across(p.v, q.Base.Outer)
	return r2.RectFromPoints(pt(lo, q.Bottom), pt(hi, q.Top))
}
