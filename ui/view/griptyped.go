package view

import (
	"errors"
	"strings"

	"github.com/golang/geo/r2"
)

// asks says what can be typed for a grip that was clicked.
func (d *gripDrag) asks() string {
	switch d.grip.Kind {
	case CornerGrip:
		side := "before"
		if d.other {
			side = "after"
		}
		return "type the length of the side " + side + ", length<angle or =x,y. O: the other side"
	case EdgeGrip:
		return "type its length, or +20 or -20 to move it out or in. O: the other end stays"
	}
	return "type its height above the ground"
}

// key hears a key while the grip waits; false where it means nothing here.
func (d *gripDrag) key(name string) bool {
	switch name {
	case "BackSpace":
		d.typed = d.typed.back()
		d.show()
	case "Return", "KP_Enter":
		d.enter()
	default:
		return d.typed != "" && len(name) == 1
	}
	d.m.tell(TheTool)
	return true
}

// show shows what is typed so far as it would be, where it can be read.
func (d *gripDrag) show() {
	status := d.m.Status()
	if run, err := d.wanted(); d.typed == "" || err != nil || d.m.Preview(run) != nil {
		d.m.Drop()
	}
	d.m.Say(status)
}

// enter makes what is typed one step of the history. What cannot be read stays, to be mended.
func (d *gripDrag) enter() {
	if d.typed == "" {
		return
	}
	run, err := d.wanted()
	if err != nil {
		d.m.Say(err.Error())
		return
	}
	if d.m.Do(run) == nil {
		d.typed = ""
		d.settle()
	}
}

// settle takes the grip's place and the shape as they are now.
func (d *gripDrag) settle() {
	for _, g := range d.m.grips(d.view, 0) {
		if g.Grip == d.grip {
			d.from, d.to = g.at, g.at
		}
	}
	if s := shapes(d.m.Arrangement(), d.grip.Ref); d.grip.Level < len(s) {
		d.ring = s[d.grip.Level].ring
	}
}

// wanted is the edit that what is typed asks for.
func (d *gripDrag) wanted() (Act, error) {
	e := *d
	var err error
	switch d.grip.Kind {
	case CornerGrip:
		e.to, err = d.wantedCorner()
	case EdgeGrip:
		return d.wantedEdge()
	default:
		e.to.Y, err = d.m.Units().Evaluate(string(d.typed), Length)
	}
	return e.act, err
}

// wantedCorner is where the corner goes: along the side that is measured, or as the direction typed says.
func (d *gripDrag) wantedCorner() (r2.Point, error) {
	a, err := d.typed.aim(d.m.Units())
	if err != nil {
		return d.to, err
	}
	base, before := d.neighbour(-1), d.neighbour(-2)
	if d.other {
		base, before = d.neighbour(1), d.neighbour(2)
	}
	return a.corner(base, base.Sub(before), d.from)
}

// neighbour is the corner so many on from the one taken.
func (d *gripDrag) neighbour(k int) r2.Point {
	n := len(d.ring)
	return d.ring[((d.grip.Index+k)%n+n)%n]
}

// wantedEdge gives the edge a length by moving one end along it, or moves it out or in by a signed length.
func (d *gripDrag) wantedEdge() (Act, error) {
	text := strings.TrimSpace(string(d.typed))
	v, err := d.m.Units().Evaluate(strings.TrimPrefix(text, "+"), Length)
	if err != nil {
		return nil, err
	}
	a, b := d.edge()
	e := *d
	if strings.HasPrefix(text, "+") || strings.HasPrefix(text, "-") {
		out := b.Sub(a).Ortho().Normalize().Mul(-1) // to the right of an edge that runs anticlockwise
		if ringArea(d.ring) < 0 {
			out = out.Mul(-1)
		}
		e.to = d.from.Add(out.Mul(v))
		return e.act, nil
	}
	if v <= 0 {
		return nil, errors.New("a length must be above 0")
	}
	e.grip.Kind = CornerGrip
	way := b.Sub(a).Normalize().Mul(v)
	e.grip.Index, e.to = (d.grip.Index+1)%len(d.ring), tidyPoint(a.Add(way))
	if d.other {
		e.grip.Index, e.to = d.grip.Index, tidyPoint(b.Sub(way))
	}
	return e.act, nil
}

// ringArea is above 0 for a ring that runs anticlockwise.
func ringArea(ring []r2.Point) float64 {
	sum := 0.0
	for i, p := range ring {
		sum += p.Cross(ring[(i+1)%len(ring)])
	}
	return sum / 2
}
