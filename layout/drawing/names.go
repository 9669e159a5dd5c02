package drawing

import (
	"github.com/golang/geo/r2"

	"stowbay/layout"
)

// wish is a name that wants to be set at the first of several spots that is free.
type wish struct {
	s    string
	size float64 // mm of the view
	role Role
	ref  string
	at   []spot
}

type spot struct {
	At     r2.Point
	Anchor Anchor
}

func (p *pen) wish(w wish) { p.wishes = append(p.wishes, w) }

// names sets bay and box names and whatever else wished for a place, none over another.
func (p *pen) names(s *layout.Scene) {
	if p.o.on(LayerLabels) {
		p.boxNames(s)
		p.bayNames(s)
	}
	for _, w := range p.wishes {
		p.grant(w)
	}
}

// grant sets a name at the first free spot; a name that finds none is left out rather than set over another.
func (p *pen) grant(w wish) {
	for _, at := range w.at {
		t := Text{Of: p.tag(w.role, w.ref), At: at.At, S: w.s, InMM: w.size, Anchor: at.Anchor, Halo: true}
		if r := t.extent(); p.free(r) {
			p.taken = append(p.taken, r)
			p.text(t)
			return
		}
	}
}

func (p *pen) free(r r2.Rect) bool {
	for _, q := range p.taken {
		if q.Intersects(r) {
			return false
		}
	}
	return true
}

// around lists spots about a rectangle: below, above, inside at the corners, right, left.
func around(r r2.Rect, gap float64) []spot {
	c := r.Center()
	return []spot{
		{pt(c.X, r.Y.Lo-gap), North}, {pt(c.X, r.Y.Hi+gap), South},
		{pt(r.X.Lo, r.Y.Lo-gap-20), West}, {pt(r.X.Hi, r.Y.Lo-gap-20), East},
		{pt(r.X.Lo, r.Y.Hi+gap+20), West}, {pt(r.X.Hi, r.Y.Hi+gap+20), East},
		{pt(r.X.Hi+gap, c.Y), West}, {pt(r.X.Lo-gap, c.Y), East},
	}
}

func above(r r2.Rect, gap float64) []spot {
	s := around(r, gap)
	s[0], s[1] = s[1], s[0]
	return s
}

func (p *pen) boxNames(s *layout.Scene) {
	if !p.o.on(LayerBoxes) {
		return
	}
	for _, b := range s.Boxes {
		p.wish(wish{s: nameOr(b.Box.Name, b.Box.ID), size: 46, role: RoleLabel, ref: b.Box.ID,
			at: around(p.spaceExtent(b.Outer), 14)})
	}
}

func (p *pen) bayNames(s *layout.Scene) {
	if !p.o.on(LayerBays) {
		return
	}
	for i := range s.Bays {
		b := &s.Bays[i]
		p.wish(wish{s: "bay: " + nameOr(b.Bay.Name, b.Bay.ID), size: 38, role: RoleBay, ref: b.Bay.ID,
			at: above(p.spaceExtent(b.Space), 14)})
	}
}

func nameOr(name, id string) string {
	if name == "" {
		return id
	}
	return name
}
