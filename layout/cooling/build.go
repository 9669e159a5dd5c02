package cooling

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// loop is a network being built.
type loop struct {
	r      *Result
	heat   Heat
	bore   float64
	plates []plateNode
	seen   map[*layout.Body]bool
	tips   []tip // first and last module of each branch
}

// plateNode is a plate's part of the network.
type plateNode struct {
	body   *layout.Body
	branch string
	node   *Node
}

type tip struct {
	branch      string
	first, last *layout.Body
}

// place is a stop of a hose: its id, and where the hose arrives.
type place struct {
	id string
	at r3.Vector
}

// branches returns the plan's branches, or one through every box with a plate, modules in series.
func branches(s *layout.Scene) []layout.LoopBranch {
	if bs := s.Arrangement.Loop.Branches; len(bs) > 0 {
		return bs
	}
	one := layout.LoopBranch{ID: "loop"}
	for _, b := range s.Boxes {
		if len(cooled(b)) > 0 {
			one.Boxes = append(one.Boxes, b.Box.ID)
		}
	}
	return []layout.LoopBranch{one}
}

// whole builds the loop: back from the radiator to the pump, then the branches side by side.
func (l *loop) whole() (n *Node, sides []*Node, names []string) {
	start := place{l.r.Pump.ID, l.r.Pump.CG}
	end := start
	n = &Node{}
	if rad := l.r.Radiator; rad != nil {
		end = place{rad.ID, rad.CG}
		n.Series = append(n.Series, l.hose(end, start))
	}
	all := &Node{}
	for _, b := range branches(l.r.Scene) {
		if !l.leadsSomewhere(b) {
			continue
		}
		side := l.branch(b, start, end)
		all.Parallel = append(all.Parallel, side)
		sides, names = append(sides, side), append(names, b.ID)
	}
	if len(all.Parallel) > 0 {
		n.Series = append(n.Series, all)
	}
	return n, sides, names
}

// leadsSomewhere tells whether a branch passes a plate or a piece of gear that is there.
func (l *loop) leadsSomewhere(b layout.LoopBranch) bool {
	for _, id := range b.Boxes {
		if box := l.r.Scene.Box(id); box != nil && len(cooled(box)) > 0 {
			return true
		}
		for _, g := range l.r.Scene.Gear {
			if g.ID == id {
				return true
			}
		}
	}
	return false
}

func (l *loop) hose(from, to place) *Node {
	r := run(from.id, to.id, from.at, to.at)
	l.r.Routes = append(l.r.Routes, r)
	l.r.HoseMM += r.LengthMM
	n := r.hose(l.bore)
	l.r.VolumeL += n.Pipe.VolumeL()
	return n
}

// branch builds the parts of one branch. Stops that lead nowhere are passed over; the scene reports them.
func (l *loop) branch(b layout.LoopBranch, from, end place) *Node {
	n := &Node{}
	t := tip{branch: b.ID}
	for _, id := range b.Boxes {
		if box := l.r.Scene.Box(id); box != nil {
			from = l.box(n, b, box, from, &t)
			continue
		}
		for _, g := range l.r.Scene.Gear {
			if g.ID == id {
				to := place{id, g.CG}
				n.Series = append(n.Series, l.hose(from, to), &Node{Pipe: &Pipe{}, HeatW: g.Gear.HeatW})
				l.r.LoopW += g.Gear.HeatW
				from = to
			}
		}
	}
	if t.first != nil {
		l.tips = append(l.tips, t)
	}
	n.Series = append(n.Series, l.hose(from, end))
	return n
}

// box puts a box's plates into a branch and returns where the coolant leaves it.
func (l *loop) box(n *Node, b layout.LoopBranch, box *layout.BoxScene, from place, t *tip) place {
	ms := cooled(box)
	if len(ms) == 0 {
		return from
	}
	if t.first == nil {
		t.first = ms[0]
	}
	t.last = ms[len(ms)-1]
	in, out := mouths(box)
	if in != nil {
		to := place{box.Box.ID, *in}
		n.Series = append(n.Series, l.hose(from, to))
		from = to
	}
	if b.Modules == "parallel" {
		from = l.sideBySide(n, b.ID, ms, from)
	} else {
		from = l.oneByOne(n, b.ID, ms, from)
	}
	if out != nil {
		to := place{box.Box.ID, *out}
		n.Series = append(n.Series, l.hose(from, to))
		from = to
	}
	return from
}

func (l *loop) oneByOne(n *Node, branch string, ms []*layout.Body, from place) place {
	for _, m := range ms {
		n.Series = append(n.Series, l.hose(from, place{m.ID, port(m, "coolant_in")}), l.plate(branch, m))
		from = place{m.ID, port(m, "coolant_out")}
	}
	return from
}

// sideBySide feeds every module from the first one's inlet and gathers at the last one's outlet.
func (l *loop) sideBySide(n *Node, branch string, ms []*layout.Body, from place) place {
	first, last := ms[0], ms[len(ms)-1]
	split := place{first.ID, port(first, "coolant_in")}
	join := place{last.ID, port(last, "coolant_out")}
	n.Series = append(n.Series, l.hose(from, split))
	all := &Node{}
	for _, m := range ms {
		all.Parallel = append(all.Parallel, &Node{Series: []*Node{
			l.hose(split, place{m.ID, port(m, "coolant_in")}), l.plate(branch, m), l.hose(place{m.ID, port(m, "coolant_out")}, join),
		}})
	}
	n.Series = append(n.Series, all)
	return join
}

func (l *loop) plate(branch string, m *layout.Body) *Node {
	c := m.Module.Cooling
	n := &Node{HeatW: l.heat.W[m.ID], Pipe: &Pipe{DiameterMM: c.ChannelMM, LengthMM: c.ChannelLenMM, Channels: c.Channels, LossK: c.LossK}}
	if c.ChannelMM <= 0 || c.ChannelLenMM <= 0 {
		l.r.Unsized = append(l.r.Unsized, m)
	}
	l.plates = append(l.plates, plateNode{m, branch, n})
	l.seen[m] = true
	l.r.LoopW += n.HeatW
	if c.VolumeL > 0 {
		l.r.VolumeL += c.VolumeL
	} else {
		l.r.VolumeL += n.Pipe.VolumeL()
	}
	return n
}
