package electric

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// visit is one box on a string's way, with the ports it comes in and goes out by.
type visit struct {
	facts       *boxFacts
	entry, exit int // indices of ports; none: nothing leads there
}

// visit orders boxes so that the cables between them and to the inverter are short. Where poles is true, a box
// that holds the gear of the negative pole comes first and one that holds that of the positive pole last.
func (r *Result) visit(boxes []*boxFacts, poles bool) []visit {
	order := r.orderBoxes(boxes, poles)
	entries, exits := r.portsAlong(order)
	out := make([]visit, len(order))
	for i, f := range order {
		out[i] = visit{facts: f, entry: entries[i], exit: exits[i]}
	}
	return out
}

// portsAlong says by which ports a string that passes boxes in an order enters and leaves each: those nearest to
// the box before and after, or to the hub at its ends; none where nothing leads there.
func (r *Result) portsAlong(order []*boxFacts) (entries, exits []int) {
	entries, exits = make([]int, len(order)), make([]int, len(order))
	hub := r.hub()
	towards := func(f *boxFacts, i, skip int) int {
		switch {
		case i >= 0 && i < len(order):
			return f.nearestPort(centreOf(order[i].box), skip)
		case hub != nil:
			return f.nearestPort(*hub, skip)
		}
		return none
	}
	for i, f := range order {
		entries[i] = towards(f, i-1, none)
		exits[i] = towards(f, i+1, entries[i])
	}
	return entries, exits
}

// hub is where both ends of the strings lead to: a junction placed outside the boxes, else the inverter.
func (r *Result) hub() *r3.Vector {
	if g := r.hubGear(); g != nil {
		c := g.CG
		return &c
	}
	return nil
}

func (r *Result) hubGear() *layout.GearBody {
	for _, g := range r.Scene.Gear {
		if g.Gear.Kind == "junction" {
			return g
		}
	}
	return r.Load.InverterAt
}

func (r *Result) orderBoxes(boxes []*boxFacts, poles bool) []*boxFacts {
	if len(boxes) < 2 {
		return boxes
	}
	c := newCosts(len(boxes))
	centres := make([]r3.Vector, len(boxes))
	for i, f := range boxes {
		centres[i] = centreOf(f.box)
	}
	for i := range boxes {
		for k := range boxes {
			c.step[i*c.n+k] = alongAxes(centres[i], centres[k])
		}
		if hub := r.hub(); hub != nil {
			c.start[i] = alongAxes(centres[i], *hub)
			c.end[i] = c.start[i]
		}
	}
	if poles {
		hold(c.start, boxes, "negative")
		hold(c.end, boxes, "positive")
	}
	var out []*boxFacts
	for _, i := range c.shortest() {
		out = append(out, boxes[i])
	}
	return out
}

// far stands for a place that an end of the string may not be at.
const far = 1e9

// hold makes the only box with gear of a role the one that the string starts or ends in.
func hold(ends []float64, boxes []*boxFacts, role string) {
	has := func(f *boxFacts) bool {
		return slices.ContainsFunc(f.box.Gear, func(g *layout.GearBody) bool { return g.Placed.Role == role })
	}
	if n := slices.IndexFunc(boxes, has); n < 0 || slices.ContainsFunc(boxes[n+1:], has) {
		return
	}
	for i, f := range boxes {
		if !has(f) {
			ends[i] = math.Max(ends[i], far)
		}
	}
}
