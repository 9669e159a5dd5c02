package drawing

import (
	"fmt"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
)

// noteMM is the height of what is said of a place, at a name scale of 1.
const noteMM = 46

// places draws what findings point at: a line between two places with its ends marked, or a ring about one. What is said of
// it keeps clear of some rectangles.
func (p *pen) places(clear []r2.Rect) {
	if !p.o.on(LayerFindings) {
		return
	}
	for i := range p.o.Places {
		p.place(&p.o.Places[i], clear)
	}
}

// fewPlaces is up to how many places what is said of them keeps off all modules and gear: of more it would go too far.
const fewPlaces = 3

// clearForPlaces are what is to be kept clear of what is said of places: what is selected, or else, where little is said, the
// modules and gear.
func (p *pen) clearForPlaces(s *layout.Scene) []r2.Rect {
	if out := p.selectedExtents(s); len(out) > 0 || len(p.o.Places) == 0 || len(p.o.Places) > fewPlaces {
		return out
	}
	return p.bodyExtents(s)
}

func (p *pen) place(f *Place, clear []r2.Rect) {
	t := p.placeTag(f)
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
		p.wish(wish{s: f.Text, size: noteMM, role: t.Role, ref: f.Ref, note: true, off: clear, tip: func(r2.Point) r2.Point { return m }, at: []spot{
			{m.Add(pt(36, 0)), West}, {m.Sub(pt(36, 0)), East}, {m.Add(pt(0, 36)), South}, {m.Sub(pt(0, 36)), North},
			{m.Add(pt(36, 60)), West}, {m.Sub(pt(36, 60)), East}, {m.Add(pt(36, 110)), West}, {m.Add(pt(36, -110)), West}}})
	}
}

func (p *pen) placeTag(f *Place) Tag {
	if f.Mark&Breached != 0 {
		return Tag{Role: RoleBreach, Ref: f.Ref, Mark: f.Mark}
	}
	return Tag{Role: RoleWarning, Ref: f.Ref, Mark: f.Mark}
}

// endMark draws a short bar across the end a of the line from a to b.
func (p *pen) endMark(t Tag, a, b r2.Point) {
	d := b.Sub(a).Ortho().Normalize().Mul(10)
	p.segment(t, a.Sub(d), a.Add(d))
}

// morePlaces says of how many findings nothing is said in the view, beside what is said of the others.
func (p *pen) morePlaces(clear []r2.Rect) {
	if !p.o.on(LayerFindings) || len(p.o.Places) == 0 {
		return
	}
	worded := 0
	for i := range p.o.Places {
		if p.o.Places[i].Text != "" {
			worded++
		}
	}
	left := p.o.MorePlaces + worded - len(p.noted)
	if left <= 0 {
		return
	}
	first := &p.o.Places[0]
	w := wish{size: noteMM, role: p.placeTag(first).Role, ref: first.Ref, off: clear, tip: func(name r2.Point) r2.Point { return name }}
	words := []string{fmt.Sprintf("%d findings here", left)}
	if left == 1 {
		words[0] = "a finding here"
	}
	if len(p.noted) > 0 {
		words = []string{fmt.Sprintf("and %d more, see the findings", left), fmt.Sprintf("and %d more", left)}
	}
	for _, w.s = range words {
		w.at = p.besideNotes()
		if p.grantOff(w, clear) {
			return
		}
		w.at = []spot{{At: p.at(first.A)}}
		if p.grantLed(w) {
			return
		}
	}
}

// besideNotes are spots below and above what is said of places.
func (p *pen) besideNotes() []spot {
	gap := 0.2 * noteMM * p.o.names()
	var out []spot
	for _, r := range p.noted {
		low, high := r.Y.Lo-gap-0.5*r.Size().Y, r.Y.Hi+gap+0.5*r.Size().Y
		out = append(out, spot{pt(r.X.Lo, low), West}, spot{pt(r.X.Lo, high), West}, spot{pt(r.X.Hi, low), East}, spot{pt(r.X.Hi, high), East})
	}
	return out
}

// selectedExtents are what the things selected cover in the view, and what else is to be kept clear of notes.
func (p *pen) selectedExtents(s *layout.Scene) []r2.Rect {
	out := slices.Clone(p.o.Clear)
	add := func(ref string, r r2.Rect) {
		if p.o.mark(ref)&Selected != 0 {
			out = append(out, r)
		}
	}
	if len(p.o.Marks) == 0 || len(p.o.Places) == 0 {
		return nil
	}
	for _, b := range s.Boxes {
		add(b.Box.ID, p.spaceExtent(b.Outer))
	}
	eachBody(s, func(_ Layer, ref string, b *geometry.Prism) { add(ref, p.prismExtent(*b)) })
	return out
}
