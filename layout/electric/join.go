package electric

import (
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// join lays the links of a string and its leads to the hub.
func (r *Result) join(s *String, ps []place) {
	n := len(ps)
	s.Links = make([]Link, max(n-1, 0))
	var passed []*boxFacts
	for _, p := range s.Passes {
		passed = append(passed, r.facts[p.Box])
	}
	entries, exits := r.portsAlong(passed)
	pass := 0
	for i := 0; i+1 < n; i++ {
		if s.Passes[pass].To == i+1 {
			s.Links[i] = r.cableLink(s, ps[i], ps[i+1], exits[pass], entries[pass+1])
			pass++
			continue
		}
		s.Links[i] = ps[i].facts.boxLink(s, i, ps[i].slot, ps[i+1].slot)
	}
	r.ends(s, ps, entries[0], exits[len(exits)-1])
	s.pickEnds(ps)
	s.eachLink(func(l *Link) { s.LinkMM += l.LengthMM })
}

// boxLink is the link between two modules of one box; it also says which terminals are used.
func (f *boxFacts) boxLink(s *String, i, a, b int) Link {
	in := f.link(a, b)
	s.Modules[i].Pos, s.Modules[i+1].Neg = in.from, in.to
	id := f.box.Box.ID
	return Link{
		From: s.Modules[i].ID, To: s.Modules[i+1].ID, FromBox: id, ToBox: id,
		Path: in.world, LengthMM: in.length,
	}
}

func (l innerLink) inVehicle(f *boxFacts) []r3.Vector {
	out := make([]r3.Vector, len(l.path))
	for i, p := range l.path {
		out[i] = f.box.Frame.ToVehicle(p)
	}
	return out
}

// lead is the way from the pole nearest to a port to that port, in the vehicle.
func (f *boxFacts) lead(ps []pole, to int) (pole, []r3.Vector) {
	port := f.ports[to]
	best := ps[0]
	for _, p := range ps[1:] {
		if alongAxes(p.p, port.at) < alongAxes(best.p, port.at) {
			best = p
		}
	}
	path := f.way(best.p, best.lifted, port.at, port.at)
	return best, innerLink{path: path[:len(path)-1]}.inVehicle(f)
}

// cableLink joins modules in two boxes: a lead to the one box's port, a cable, a lead in the other box.
func (r *Result) cableLink(s *String, a, b place, exit, entry int) Link {
	i := slices.IndexFunc(s.Modules, func(m Member) bool { return m.Body == a.body() })
	from, out := a.facts.lead(a.facts.slots[a.slot].pos, exit)
	to, in := b.facts.lead(b.facts.slots[b.slot].neg, entry)
	s.Modules[i].Pos, s.Modules[i+1].Neg = from.at, to.at
	slices.Reverse(in)
	l := Link{From: s.Modules[i].ID, To: s.Modules[i+1].ID, FromBox: a.facts.box.Box.ID, ToBox: b.facts.box.Box.ID}
	r.between(&l, out, in)
	return l
}

// between fills in the way between two leads: by the plan's cable where it has one, else along the axes.
func (r *Result) between(l *Link, out, in []r3.Vector) {
	a, b := out[len(out)-1], in[0]
	mid := alongAxesPath(a, b)
	if c, back := r.cable(l.endFrom(), l.endTo()); c != nil {
		l.SectionMM2 = c.SectionMM2
		if len(c.Via) > 0 {
			mid = via(c, back)
		}
	}
	outside := append(append([]r3.Vector{a}, mid...), b)
	l.OutsideMM = pathLength(outside)
	l.Path = append(append(append([]r3.Vector(nil), out...), mid...), in...)
	l.LengthMM = pathLength(l.Path)
}

// endFrom is what a cable of the plan would name as the link's end: the box, or the gear outside.
func (l *Link) endFrom() string { return firstNonEmpty(l.FromBox, l.From) }

func (l *Link) endTo() string { return firstNonEmpty(l.ToBox, l.To) }

func firstNonEmpty(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// cable finds the plan's cable between two ends; back is true where it runs the other way.
func (r *Result) cable(from, to string) (c *layout.Cable, back bool) {
	cs := r.Scene.Arrangement.Cables
	for i := range cs {
		switch {
		case cs[i].From == from && cs[i].To == to:
			return &cs[i], false
		case cs[i].From == to && cs[i].To == from:
			return &cs[i], true
		}
	}
	return nil, false
}

func via(c *layout.Cable, back bool) []r3.Vector {
	out := make([]r3.Vector, len(c.Via))
	for i, p := range c.Via {
		out[i] = p.Vector()
	}
	if back {
		slices.Reverse(out)
	}
	return out
}

// alongAxesPath is the corners of the way from a to b along x, then y, then z.
func alongAxesPath(a, b r3.Vector) []r3.Vector {
	return []r3.Vector{{X: b.X, Y: a.Y, Z: a.Z}, {X: b.X, Y: b.Y, Z: a.Z}}
}

// ends lays the leads from both ends of a string to the hub, where there is one.
func (r *Result) ends(s *String, ps []place, entry, exit int) {
	hub := r.hubGear()
	if hub == nil || len(ps) == 0 {
		return
	}
	first, last := ps[0], ps[len(ps)-1]
	neg, in := first.facts.lead(first.facts.slots[first.slot].neg, entry)
	slices.Reverse(in)
	s.Modules[0].Neg = neg.at
	s.Negative = &Link{From: hub.ID, To: first.body().ID, ToBox: first.facts.box.Box.ID}
	r.between(s.Negative, []r3.Vector{terminalOf(hub, "negative")}, in)

	pos, out := last.facts.lead(last.facts.slots[last.slot].pos, exit)
	s.Modules[len(ps)-1].Pos = pos.at
	s.Positive = &Link{From: last.body().ID, To: hub.ID, FromBox: last.facts.box.Box.ID}
	r.between(s.Positive, out, []r3.Vector{terminalOf(hub, "positive")})
}

// terminalOf is the gear's terminal of a polarity, or its middle.
func terminalOf(g *layout.GearBody, polarity string) r3.Vector {
	for i := range g.Terminals {
		if g.Terminals[i].Polarity == polarity {
			return g.Terminals[i].Place
		}
	}
	return g.CG
}

// pickEnds names the first terminals where no link has.
func (s *String) pickEnds(ps []place) {
	if n := len(ps); n > 0 {
		if s.Modules[0].Neg == nil {
			s.Modules[0].Neg = ps[0].facts.slots[ps[0].slot].neg[0].at
		}
		if s.Modules[n-1].Pos == nil {
			s.Modules[n-1].Pos = ps[n-1].facts.slots[ps[n-1].slot].pos[0].at
		}
	}
}
