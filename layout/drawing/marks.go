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
			p.wish(wish{s: l.Text, size: 38, role: l.Role, ref: l.Ref,
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
		p.wish(wish{s: f.Text, size: 42, role: t.Role, ref: f.Ref, at: []spot{
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
			p.sizes(m, p.spaceExtent(b.Outer))
		}
		for _, body := range b.Modules {
			p.bodyState(RoleModule, body.ID, body.Prism)
			p.gaps(b, body)
		}
		for _, g := range b.Gear {
			p.bodyState(RoleGear, g.ID, g.Prism)
		}
	}
	for _, g := range s.Gear {
		p.bodyState(RoleGear, g.ID, g.Prism)
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
			p.sizes(m, p.spaceExtent(b.Space))
		}
	}
	for i := range s.KeepOuts {
		k := &s.KeepOuts[i]
		p.bodyState(RoleKeepOut, k.KeepOut.ID, k.Prism)
	}
}

func (p *pen) bodyState(role Role, ref string, q geometry.Prism) {
	m := p.o.mark(ref)
	if m == 0 || !p.o.on(role.Layer()) {
		return
	}
	area := p.prism(q)
	p.state(Tag{Role: role, Ref: ref, Mark: m}, area)
	p.sizes(m, area.Bounds())
}

// state draws a marked outline once more on top, with its sign.
func (p *pen) state(t Tag, area geometry.Polygon) {
	if !p.o.on(t.Role.Layer()) {
		return
	}
	p.outline(t, area)
	if t.Role == RoleBox || t.Role == RoleBay {
		p.flag(t, area.Bounds())
	} else if t.Mark&Breached != 0 {
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

// flag draws a sign at the upper right corner of what holds other things, which a hatch would hide: a triangle
// where a finding fails, a ring where one warns.
func (p *pen) flag(t Tag, r r2.Rect) {
	if t.Mark&(Breached|Warned) == 0 {
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
