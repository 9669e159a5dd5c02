package electric

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// nearMM is how far apart in mm live parts are looked at; parts farther apart are not a matter of insulation at
// any voltage of the tables.
const nearMM = 60.0

// plainRadius stands in for the bare metal of a terminal whose diameter is not stated (an assumption).
const plainRadius = 8.0

// live is a bare terminal in the box's frame: a ball of the radius of its bare metal.
type live struct {
	ref      string
	body     *layout.Body // nil for gear
	gear     *layout.GearBody
	positive bool
	terminal string
	p        r3.Vector
	radius   float64
}

// gap is a measured distance from a live part to another or to metal, in the box's frame.
type gap struct {
	a, b    int // indices of live parts; b is none for metal
	kind    string
	metal   string // what metal: "wall", "lid", a module's id
	length  float64
	to, by  r3.Vector // where it ends and, round a barrier, bends
	barrier string
}

// path is the way in the box's frame.
func (g *gap) path(from r3.Vector) []r3.Vector {
	if g.barrier == "" || math.IsInf(g.length, 1) {
		return []r3.Vector{from, g.to}
	}
	return []r3.Vector{from, g.by, g.to}
}

// The kinds of gaps.
const (
	ToTerminal = "terminal"
	ToWall     = "wall"
	ToLid      = "lid"
	ToFloor    = "floor"
	ToCase     = "case"
)

// measured holds all gaps of one box.
type measured struct {
	parts []live
	gaps  []gap
}

// measure finds the gaps in a box once.
//
// How far the method goes: bare metal is a ball about the terminal; ways run straight through air and round the
// open edges of barriers; links and lugs count as covered; module bodies, which only lengthen a way, are left
// out, so that no way is taken for longer than it is. A liner keeps walls and floor from counting as metal: the
// way to them leads over its upper edge and is no shorter than that to the bare lid. Terminals of one module or
// one piece of gear among each other are their maker's matter.
func (f *boxFacts) measure() *measured {
	f.once.Do(func() {
		m := &measured{parts: f.liveParts()}
		room := roomOf(f.box.Box)
		var sheets []sheet
		for i := range f.box.Box.Barriers {
			sheets = append(sheets, sheetOf(&f.box.Box.Barriers[i], &room))
		}
		for i := range m.parts {
			m.toBox(i, &room, f.box.Box.Shell.LinerMM > 0, sheets)
		}
		m.toCases(f.slots, sheets)
		m.toEachOther(sheets)
		f.measured = m
	})
	return f.measured
}

func (f *boxFacts) liveParts() []live {
	var out []live
	for i := range f.slots {
		s := &f.slots[i]
		for _, p := range s.neg {
			out = append(out, liveAt(s.body, p, false))
		}
		for _, p := range s.pos {
			out = append(out, liveAt(s.body, p, true))
		}
	}
	for _, g := range f.box.Gear {
		if !highVoltage(g.Gear.Kind) {
			continue
		}
		for i := range g.Terminals {
			t := &g.Terminals[i]
			out = append(out, live{ref: g.ID, gear: g, positive: t.Polarity == "positive", terminal: t.ID,
				p: g.Pose.Point(t.At.Vector()), radius: radiusOf(t.DiameterMM)})
		}
	}
	return out
}

func liveAt(b *layout.Body, p pole, positive bool) live {
	return live{ref: b.ID, body: b, positive: positive, terminal: p.at.ID, p: p.p, radius: radiusOf(p.at.DiameterMM)}
}

func radiusOf(diameter float64) float64 {
	if diameter == 0 {
		return plainRadius
	}
	return diameter / 2
}

// highVoltage tells whether a kind of gear has terminals at the pack's voltage.
func highVoltage(kind string) bool {
	switch kind {
	case "precharge", "inverter", "charger", "dc_dc", "heater", "isolation_monitor":
		return true
	}
	return inPath(kind)
}

// toBox measures a live part against lid, and walls and floor unless a liner covers them.
func (m *measured) toBox(i int, room *roomFacts, lined bool, sheets []sheet) {
	l := &m.parts[i]
	plan := r2.Point{X: l.p.X, Y: l.p.Y}
	floor, ceiling, inside := room.heights(plan, l.p.Z)
	if !inside {
		return
	}
	m.add(i, none, ToLid, "lid", lift(plan, ceiling), sheets)
	if lined {
		return
	}
	m.add(i, none, ToFloor, "floor", lift(plan, floor), sheets)
	if n, _, ok := room.nearestWall(plan, l.p.Z); ok {
		m.add(i, none, ToWall, "wall", lift(n, l.p.Z), sheets)
	}
}

// add keeps the gap from part i to a point, less the bare metal's radius.
func (m *measured) add(i, k int, kind, metal string, to r3.Vector, sheets []sheet) {
	bare := m.parts[i].radius
	if k != none {
		bare += m.parts[k].radius
	}
	length, by, barrier := airWay(m.parts[i].p, to, sheets)
	m.gaps = append(m.gaps, gap{a: i, b: k, kind: kind, metal: metal, length: math.Max(0, length-bare), to: to, by: by, barrier: barrier})
}

// toCases measures live parts against the metal cases of other modules near them.
func (m *measured) toCases(slots []slot, sheets []sheet) {
	order, at := m.alongX()
	var near []int
	for k := range slots {
		s := &slots[k]
		if s.body.Module.Case != "metal" {
			continue
		}
		from, _ := slices.BinarySearch(at, s.lo.X-nearMM)
		to, _ := slices.BinarySearch(at, s.hi.X+nearMM)
		near = append(near[:0], order[from:to]...)
		slices.Sort(near)
		for _, i := range near {
			l := &m.parts[i]
			if l.body == s.body {
				continue
			}
			n := clamp(l.p, s.lo, s.hi)
			if d := l.p.Sub(n).Abs(); d.X < nearMM && d.Y < nearMM && d.Z < nearMM {
				m.add(i, none, ToCase, s.body.ID, n, sheets)
			}
		}
	}
}

// alongX is the order of the parts along x, with their places there.
func (m *measured) alongX() (order []int, at []float64) {
	order, at = make([]int, len(m.parts)), make([]float64, len(m.parts))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(m.parts[a].p.X, m.parts[b].p.X) })
	for k, i := range order {
		at[k] = m.parts[i].p.X
	}
	return order, at
}

func clamp(p, lo, hi r3.Vector) r3.Vector {
	return r3.Vector{X: min(max(p.X, lo.X), hi.X), Y: min(max(p.Y, lo.Y), hi.Y), Z: min(max(p.Z, lo.Z), hi.Z)}
}

// toEachOther measures live parts near one another, sweeping along x.
func (m *measured) toEachOther(sheets []sheet) {
	order, _ := m.alongX()
	widest := m.widest()
	for n, i := range order {
		for _, k := range order[n+1:] {
			a, b := &m.parts[i], &m.parts[k]
			d, reach := b.p.Sub(a.p).Abs(), nearMM+a.radius+b.radius
			if d.X > nearMM+a.radius+widest {
				break
			}
			if d.X < reach && d.Y < reach && d.Z < reach && a.ref != b.ref {
				m.add(min(i, k), max(i, k), ToTerminal, "", m.parts[max(i, k)].p, sheets)
			}
		}
	}
}

// widest is the largest radius of bare metal.
func (m *measured) widest() float64 {
	var r float64
	for i := range m.parts {
		r = max(r, m.parts[i].radius)
	}
	return r
}
