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
		if !p.o.on(l.Role.Layer()) && l.Role.Layer() != 0 || len(l.Points) == 0 {
			continue
		}
		ps := p.room(len(l.Points))
		for k, v := range l.Points {
			ps[k] = p.at(v)
		}
		p.line(p.tag(l.Role, l.Ref), ps...)
		if l.Text != "" && p.o.on(LayerLabels) {
			m := ps[len(ps)/2]
			p.wish(wish{s: l.Text, size: 28, role: l.Role, ref: l.Ref,
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

// places draws what findings point at: a line between two places with its ends marked, or a ring about one.
func (p *pen) places() {
	if !p.o.on(LayerFindings) {
		return
	}
	for i := range p.o.Places {
		p.place(&p.o.Places[i])
	}
}

func (p *pen) place(f *Place) {
	t := Tag{Role: RoleWarning, Ref: f.Ref, Mark: f.Mark}
	if f.Mark&Breached != 0 {
		t.Role = RoleBreach
	}
	a, b := p.at(f.A), p.at(f.B)
	m := a.Add(b).Mul(0.5)
	if b.Sub(a).Norm() < 1 {
		p.loop(t, p.disc(m, 30, 24).Outer)
	} else {
		p.segment(t, a, b)
		p.endMark(t, a, b)
		p.endMark(t, b, a)
	}
	if f.Text != "" {
		p.wish(wish{s: f.Text, size: 34, role: t.Role, ref: f.Ref, at: []spot{
			{m.Add(pt(36, 0)), West}, {m.Sub(pt(36, 0)), East}, {m.Add(pt(0, 36)), South}, {m.Sub(pt(0, 36)), North},
			{m.Add(pt(36, 60)), West}, {m.Sub(pt(36, 60)), East}, {m.Add(pt(36, 110)), West}, {m.Add(pt(36, -110)), West}}})
	}
}

// endMark draws a short bar across the end a of the line from a to b.
func (p *pen) endMark(t Tag, a, b r2.Point) {
	d := b.Sub(a).Ortho().Normalize().Mul(10)
	p.segment(t, a.Sub(d), a.Add(d))
}

// selection draws over everything else what marks mean besides colour: handles on what is selected, a heavy
// cross hatch on what breaches, a light hatch on what is warned of, a padlock on what is locked; and the
// dimensions of what is selected.
func (p *pen) selection(s *layout.Scene) {
	if len(p.o.Marks) == 0 {
		return
	}
	for _, b := range s.Boxes {
		if m := p.o.mark(b.Box.ID); m != 0 {
			for _, q := range b.Outer.Solids {
				p.state(Tag{Role: RoleBox, Ref: b.Box.ID, Mark: m}, p.prism(q))
			}
			p.selected(m, p.spaceExtent(b.Outer), nil)
		}
		inner := p.spaceExtent(b.Inner)
		for _, body := range b.Modules {
			p.bodyState(RoleModule, body.ID, body.Prism, &inner)
		}
		for _, g := range b.Gear {
			p.bodyState(RoleGear, g.ID, g.Prism, &inner)
		}
	}
	for _, g := range s.Gear {
		p.bodyState(RoleGear, g.ID, g.Prism, nil)
	}
	p.siteStates(s)
}

func (p *pen) siteStates(s *layout.Scene) {
	for i := range s.Bays {
		b := &s.Bays[i]
		if m := p.o.mark(b.Bay.ID); m != 0 {
			for _, q := range b.Space.Solids {
				p.state(Tag{Role: RoleBay, Ref: b.Bay.ID, Mark: m}, p.prism(q))
			}
			p.selected(m, p.spaceExtent(b.Space), nil)
		}
	}
	for i := range s.KeepOuts {
		k := &s.KeepOuts[i]
		p.bodyState(RoleKeepOut, k.KeepOut.ID, k.Prism, nil)
	}
}

func (p *pen) bodyState(role Role, ref string, q geometry.Prism, inner *r2.Rect) {
	m := p.o.mark(ref)
	if m == 0 || !p.o.on(role.Layer()) {
		return
	}
	area := p.prism(q)
	p.state(Tag{Role: role, Ref: ref, Mark: m}, area)
	p.selected(m, area.Bounds(), inner)
}

// state draws a marked outline once more on top, with its sign.
func (p *pen) state(t Tag, area geometry.Polygon) {
	if !p.o.on(t.Role.Layer()) {
		return
	}
	p.outline(t, area)
	if t.Mark&Breached != 0 {
		p.hatch(Tag{Role: RoleBreach, Ref: t.Ref, Mark: t.Mark}, area, Hatch{Deg: 45, PitchPt: 8, Cross: true})
	} else if t.Mark&Warned != 0 {
		p.hatch(Tag{Role: RoleWarning, Ref: t.Ref, Mark: t.Mark}, area, Hatch{Deg: 45, PitchPt: 10})
	}
	if t.Mark&Locked != 0 {
		p.padlock(t.Ref, area.Bounds())
	}
	if t.Mark&Selected != 0 {
		p.handles(t.Ref, area)
	}
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

// selected dimensions a selected thing, and its distance to the walls it stands between.
func (p *pen) selected(m Mark, r r2.Rect, inner *r2.Rect) {
	if m&Selected == 0 || !p.o.Dimensions || !p.o.on(LayerDimensions) {
		return
	}
	off := 40 + 0.06*max(r.Size().X, r.Size().Y)
	p.dimension(Dimension{A: pt(r.X.Hi, r.Y.Lo), B: pt(r.X.Lo, r.Y.Lo), Offset: off})
	p.dimension(Dimension{A: pt(r.X.Lo, r.Y.Hi), B: pt(r.X.Lo, r.Y.Lo), Offset: -off})
	if inner == nil || inner.IsEmpty() {
		return
	}
	c := r.Center()
	p.gapTo(pt(inner.X.Lo, c.Y), pt(r.X.Lo, c.Y))
	p.gapTo(pt(r.X.Hi, c.Y), pt(inner.X.Hi, c.Y))
	p.gapTo(pt(c.X, inner.Y.Lo), pt(c.X, r.Y.Lo))
	p.gapTo(pt(c.X, r.Y.Hi), pt(c.X, inner.Y.Hi))
}

func (p *pen) gapTo(a, b r2.Point) {
	if b.Sub(a).Norm() > 0.5 {
		p.dimension(Dimension{A: a, B: b})
	}
}
