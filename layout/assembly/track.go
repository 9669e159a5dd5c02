package assembly

import "stowbay/layout"

// layer lays one string as pieces and seams.
type layer struct {
	m     *Model
	index int
	t     track
}

func (m *Model) lay(i int) {
	l := layer{m: m, index: i}
	c := &m.Circuit.Strings[i]
	for k := range c.Passages {
		l.passage(c, k)
	}
	m.tracks = append(m.tracks, l.t)
	m.potentials(i)
}

// passage lays gear, modules and gear of one box.
func (l *layer) passage(c *Chain, k int) {
	p := &c.Passages[k]
	entry := l.entry(c, k)
	for i := len(p.Negative) - 1; i >= 0; i-- {
		l.gear(p, p.Negative[i], "negative", entry)
		entry = seam{kind: bolted}
	}
	for i := p.From; i < p.To; i++ {
		if c.Disconnect != nil && i == c.After && i > 0 && p.holds(c.Disconnect) {
			l.opening(p, c.Disconnect, disconnect, entry)
			entry = seam{kind: bolted}
		}
		l.module(p, c, i, entry)
		entry = seam{kind: bolted}
	}
	if c.Disconnect != nil && c.After == p.To && p.To < len(c.Members) && p.holds(c.Disconnect) {
		l.opening(p, c.Disconnect, disconnect, entry)
	}
	for _, g := range p.Positive {
		l.gear(p, g, "positive", seam{kind: bolted})
	}
}

// entry is how a passage hangs on the one before: by a plug where both boxes have touch-proof connectors.
func (l *layer) entry(c *Chain, k int) seam {
	if k > 0 && plugged(c.Passages[k-1].Box) && plugged(c.Passages[k].Box) {
		return seam{kind: plug}
	}
	return seam{kind: bolted}
}

// plugged tells whether conductors leave a box by a connector.
func plugged(b *layout.BoxScene) bool {
	for _, g := range b.Gear {
		if g.Gear.Kind == "connector" {
			return true
		}
	}
	for i := range b.Box.Openings {
		if b.Box.Openings[i].Kind == "connector" {
			return true
		}
	}
	return false
}

func (l *layer) module(p *Passage, c *Chain, i int, s seam) {
	x := &c.Members[i]
	d := x.Body.Module
	l.put(piece{lo: l.conductor(x.Body.ID, x.Neg), hi: l.conductor(x.Body.ID, x.Pos), volts: d.MaxV(), ohm: d.Ohmic.MilliOhm / 1000,
		joul: d.EnergyKWh() * 3.6e6, body: x.Body, member: i, box: p.Box}, s)
}

func (l *layer) conductor(of string, t *layout.TerminalAt) int { return l.m.byID[of+"/"+t.ID] }

// gear lays a piece of gear at an end of a passage: a contactor as two sides that are open to each other, a connector
// by the terminal of the end's polarity, anything else as one conductor with two terminals.
func (l *layer) gear(p *Passage, g *layout.GearBody, pole string, s seam) {
	switch g.Gear.Kind {
	case "contactor":
		l.opening(p, g, contactor, s)
	case "connector":
		i := l.pole(p, g, pole)
		l.put(piece{lo: i, hi: i, gear: g, box: p.Box}, s)
	default:
		a, b := l.pair(p, g)
		l.put(piece{lo: a, hi: b, gear: g, box: p.Box}, s)
	}
}

func (l *layer) opening(p *Passage, g *layout.GearBody, k seamKind, s seam) {
	a, b := l.pair(p, g)
	l.put(piece{lo: a, hi: a, gear: g, box: p.Box}, s)
	l.put(piece{lo: b, hi: b, gear: g, box: p.Box}, seam{kind: k, gear: g})
}

// pair are the two terminals of a piece of gear. Where the gear states none, they are made up at its middle.
func (l *layer) pair(p *Passage, g *layout.GearBody) (a, b int) {
	return l.terminal(p, g, 0), l.terminal(p, g, 1)
}

func (l *layer) terminal(p *Passage, g *layout.GearBody, i int) int {
	if i < len(g.Terminals) {
		return l.m.byID[g.ID+"/"+g.Terminals[i].ID]
	}
	id := g.ID + "/" + [2]string{"one end", "other end"}[i]
	if k, ok := l.m.byID[id]; ok {
		return k
	}
	return l.m.add(Conductor{ID: id, Of: g.ID, Box: p.Box, At: g.CG, RadiusMM: plainRadius})
}

func (l *layer) pole(p *Passage, g *layout.GearBody, pole string) int {
	for i := range g.Terminals {
		if g.Terminals[i].Polarity == pole {
			return l.m.byID[g.ID+"/"+g.Terminals[i].ID]
		}
	}
	if pole == "positive" {
		return l.terminal(p, g, 1)
	}
	return l.terminal(p, g, 0)
}

// put hangs a piece on the track's end.
func (l *layer) put(p piece, s seam) {
	if n := len(l.t.pieces); n > 0 {
		s.joint = -1
		if s.kind == bolted {
			s.joint = l.join(&l.t.pieces[n-1], &p)
		}
		l.t.seams = append(l.t.seams, s)
	}
	l.t.pieces = append(l.t.pieces, p)
}

func (l *layer) join(a, b *piece) int {
	j := Joint{Kind: LinkJoint, A: a.hi, B: b.lo, String: l.index, Box: b.box}
	switch {
	case a.box != b.box:
		j.Kind, j.Box = CableJoint, nil
	case a.gear != nil || b.gear != nil:
		j.Kind = GearJoint
	}
	if j.Box != nil {
		l.m.Conductors[j.A].mate, l.m.Conductors[j.B].mate = j.B, j.A
	}
	l.m.Joints = append(l.m.Joints, j)
	return len(l.m.Joints) - 1
}

// potentials puts the potentials of a closed string on its conductors.
func (m *Model) potentials(i int) {
	t := &m.tracks[i]
	t.volts, t.ohms = make([]float64, len(t.pieces)+1), make([]float64, len(t.pieces)+1)
	for k := range t.pieces {
		p := &t.pieces[k]
		t.volts[k+1], t.ohms[k+1] = t.volts[k]+p.volts, t.ohms[k]+p.ohm
		m.at(p.lo, i, k, t.volts[k])
		m.at(p.hi, i, k, t.volts[k+1])
	}
}

func (m *Model) at(c, str, piece int, v float64) {
	x := &m.Conductors[c]
	x.String, x.piece, x.V = str, piece, v
}
