package drawing

import (
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
)

// lines draws links, cables and hoses.
func (p *pen) lines() {
	for i := range p.o.Lines {
		l := &p.o.Lines[i]
		if !p.o.on(l.Role.Layer()) || len(l.Points) == 0 {
			continue
		}
		ps := p.room(len(l.Points))
		for k, v := range l.Points {
			ps[k] = p.at(v)
		}
		p.line(p.tag(l.Role, l.Ref), ps...)
		if l.Text != "" && p.o.on(LayerLabels) {
			m := ps[len(ps)/2]
			p.wish(wish{s: l.Text, size: leastNameMM, role: l.Role, ref: l.Ref,
				at: []spot{{m.Add(pt(0, 8)), South}, {m.Sub(pt(0, 8)), North}, {m.Add(pt(8, 0)), West}}})
		}
	}
}

func (p *pen) ghosts() {
	for i := range p.o.Ghosts {
		g := &p.o.Ghosts[i]
		p.outline(Tag{Role: RoleModule, Ref: g.Ref, Mark: Ghost}, p.prism(g.Prism))
	}
}

// selection draws over everything else the outline and the handles of what is selected or hovered, with its
// dimensions, and the signs of boxes and bays. What a mark means for a body besides colour is drawn with the body,
// see [pen.state], so that a body nearer to the eye hides it.
func (p *pen) selection(s *layout.Scene) {
	if len(p.o.Marks) == 0 {
		return
	}
	for _, b := range s.Boxes {
		p.holder(RoleBox, b.Box.ID, b.Outer)
		for _, m := range b.Modules {
			p.picked(RoleModule, m.ID, m.Prism)
			p.gaps(b, m)
		}
		for _, g := range b.Gear {
			p.picked(RoleGear, g.ID, g.Prism)
		}
	}
	for _, g := range s.Gear {
		p.picked(RoleGear, g.ID, g.Prism)
	}
	for i := range s.Bays {
		p.holder(RoleBay, s.Bays[i].Bay.ID, s.Bays[i].Space)
	}
	for i := range s.KeepOuts {
		p.picked(RoleKeepOut, s.KeepOuts[i].Ref, s.KeepOuts[i].Prism)
	}
}

// holder draws the signs and handles of a marked box or bay.
func (p *pen) holder(role Role, ref string, s geometry.Space) {
	t := p.tag(role, ref)
	if t.Mark == 0 || !p.o.on(role.Layer()) {
		return
	}
	r := p.spaceExtent(s)
	if t.Mark&(Selected|Hovered) != 0 {
		for _, a := range p.silhouette(s) {
			p.outline(t, a)
			if t.Mark&Selected != 0 {
				p.handles(ref, a)
			}
		}
	}
	p.flag(t, r)
	if t.Mark&Locked != 0 {
		p.padlock(ref, r)
	}
	p.sizes(t.Mark, r)
}

// picked draws the outline of a selected or hovered body on top, with handles and dimensions; and dashed, as
// edges behind others are, the outline of one in breach, so that a hidden one is found too.
func (p *pen) picked(role Role, ref string, q geometry.Prism) {
	t := p.tag(role, ref)
	if t.Mark == 0 || !p.o.on(role.Layer()) {
		return
	}
	area := p.prism(q)
	if t.Mark&(Breached|Warned) != 0 {
		p.hiddenEdge(t, area)
	}
	if t.Mark&(Selected|Hovered) == 0 {
		return
	}
	p.outline(t, area)
	if t.Mark&Selected != 0 {
		p.handles(ref, area)
	}
	p.sizes(t.Mark, area.Bounds())
}

func (p *pen) hiddenEdge(t Tag, area geometry.Polygon) {
	t.Role, t.Mark = breachRole(t.Mark), 0
	p.reach(area.Outer...)
	p.items = append(p.items, Stroke{Of: t, Points: area.Outer, Closed: true, Pt: 0.8, Dash: []float64{3, 2}})
}

func breachRole(m Mark) Role {
	if m&Breached != 0 {
		return RoleBreach
	}
	return RoleWarning
}

// state draws what a body's mark means besides colour: a heavy cross hatch where a finding fails, a light hatch
// where one warns, a padlock on what is locked.
func (p *pen) state(t Tag, area geometry.Polygon) {
	switch {
	case t.Mark&Breached != 0:
		p.hatch(Tag{Role: RoleBreach, Ref: t.Ref, Mark: t.Mark}, area, Hatch{Deg: 45, PitchPt: 8, Cross: true})
	case t.Mark&Warned != 0:
		p.hatch(Tag{Role: RoleWarning, Ref: t.Ref, Mark: t.Mark}, area, Hatch{Deg: 45, PitchPt: 10})
	}
	if t.Mark&Locked != 0 {
		p.padlock(t.Ref, area.Bounds())
	}
}

// flag draws a sign at the upper right corner of what holds other things, which a hatch would hide: a triangle
// where a finding fails, a ring where one warns.
func (p *pen) flag(t Tag, r r2.Rect) {
	if t.Mark&(Breached|Warned) == 0 || !p.o.on(LayerFindings) {
		return
	}
	size := 46 * p.o.names()
	c := r.Hi().Sub(pt(0.6*size, 0.6*size))
	t.Role = RoleWarning
	sign := p.disc(c, 0.55*size, 24)
	if t.Mark&Breached != 0 {
		t.Role = RoleBreach
		sign = geometry.Polygon{Outer: p.room(3)}
		sign.Outer[0], sign.Outer[1], sign.Outer[2] = c.Add(pt(-0.6*size, -0.5*size)), c.Add(pt(0.6*size, -0.5*size)), c.Add(pt(0, 0.6*size))
		c.Y -= 0.12 * size
	}
	p.fill(Tag{Role: RoleHandle, Ref: t.Ref}, sign)
	p.loop(t, sign.Outer)
	p.text(Text{Of: t, At: c, S: "!", InMM: 0.7 * size})
}

func (p *pen) handles(ref string, area geometry.Polygon) {
	t := Tag{Role: RoleHandle, Ref: ref, Mark: Selected}
	size := area.Bounds().Size()
	h := min(9, 0.06*min(size.X, size.Y))
	for _, c := range area.Outer {
		p.shape(t, p.rect(c.Sub(pt(h, h)), c.Add(pt(h, h))).Outer)
	}
}

// padlock draws a small padlock in the lower left corner.
func (p *pen) padlock(ref string, r r2.Rect) {
	t := Tag{Role: RoleLabel, Ref: ref}
	w := min(24, 0.2*min(r.Size().X, r.Size().Y))
	a := r.Lo().Add(pt(0.5*w, 0.5*w))
	p.fill(t, p.rect(a, a.Add(pt(w, 0.75*w))))
	shackle := p.room(9)
	copy(shackle, p.arc(a.Add(pt(0.5*w, 0.75*w)), 0.32*w, 3.14159, 0, 9))
	p.line(t, shackle...)
}
