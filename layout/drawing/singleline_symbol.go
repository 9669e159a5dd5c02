package drawing

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
)

// symbol draws one symbol in a cell of the line that starts at x, with its name below.
func (d *single) symbol(i int, s symbol, x, y float64) {
	c := r2.Point{X: x + slCell/2, Y: y}
	if s.kind == "battery" {
		d.battery(i, s, x, y)
		return
	}
	ref := s.gear.ID
	switch s.kind {
	case "fuse":
		d.fuseSymbol(ref, x, y)
	case "contactor":
		d.contactSymbol(ref, x, y)
		d.add(Stroke{Of: Tag{Role: RoleGear, Ref: ref}, Points: arc(r2.Point{X: c.X + 5, Y: y}, 1.5, 180), Pt: 1})
	case "service_disconnect":
		d.contactSymbol(ref, x, y)
		d.wire(RoleGear, ref, r2.Point{X: c.X + 5, Y: y - 2}, r2.Point{X: c.X + 5, Y: y + 2})
	case "current_sensor":
		d.wire(RoleLink, "", r2.Point{X: x, Y: y}, r2.Point{X: x + slCell, Y: y})
		d.add(Stroke{Of: Tag{Role: RoleGear, Ref: ref}, Points: arc(c, 3.5, 360), Closed: true, Pt: 1})
	}
	if s.bypass != nil {
		d.precharge(s.bypass.ID, x, y)
	}
	d.text(RoleLabel, ref, r2.Point{X: c.X, Y: y - 7.5}, slSmall, Middle, shortName(s.gear))
	d.text(RoleLabel, ref, r2.Point{X: c.X, Y: y - 11}, slSmall, Middle, rating(s.gear))
}

func shortName(g *layout.GearBody) string { return g.Placed.ID }

func rating(g *layout.GearBody) string {
	if g.Gear.ContinuousA == 0 {
		return ""
	}
	return fmt.Sprintf("%.0f A", g.Gear.ContinuousA)
}

// battery is two cells with a broken line between: the long thin plate is positive, the short thick one negative.
func (d *single) battery(i int, s symbol, x, y float64) {
	str := &d.r.Strings[i]
	first := str.Modules[s.from]
	ref := first.Box.Box.ID
	c := x + slCell/2
	d.wire(RoleLink, ref, r2.Point{X: x, Y: y}, r2.Point{X: c - 6, Y: y})
	d.cell(ref, c-6, y)
	d.add(Stroke{Of: Tag{Role: RoleModule, Ref: ref}, Points: []r2.Point{{X: c - 4, Y: y}, {X: c + 4, Y: y}}, Pt: 1, Dash: []float64{3, 2}})
	d.cell(ref, c+4, y)
	d.wire(RoleLink, ref, r2.Point{X: c + 6, Y: y}, r2.Point{X: x + slCell, Y: y})
	d.text(RoleLabel, ref, r2.Point{X: c - 8.5, Y: y + 4}, slSmall, Middle, "−")
	d.text(RoleLabel, ref, r2.Point{X: c + 8.5, Y: y + 4}, slSmall, Middle, "+")
	d.text(RoleLabel, ref, r2.Point{X: c, Y: y + 13}, slSmall, Middle, fmt.Sprintf("%d × %s", s.to-s.from, first.Module.ID))
	d.text(RoleLabel, ref, r2.Point{X: c, Y: y + 9.5}, slSmall, Middle, moduleSpan(str.Modules[s.from].Placement.ID, str.Modules[s.to-1].Placement.ID))
	d.text(RoleLabel, ref, r2.Point{X: c, Y: y - 9}, slSmall, Middle, volts(str.Modules[s.to-1].PosV-first.NegV))
}

func moduleSpan(first, last string) string {
	if first == last {
		return first
	}
	return first + " … " + last
}

// cell is one pair of plates, negative at x and positive 2 mm on.
func (d *single) cell(ref string, x, y float64) {
	d.add(Stroke{Of: Tag{Role: RoleModule, Ref: ref}, Points: []r2.Point{{X: x, Y: y - 2.5}, {X: x, Y: y + 2.5}}, Pt: 2.5})
	d.add(Stroke{Of: Tag{Role: RoleModule, Ref: ref}, Points: []r2.Point{{X: x + 2, Y: y - 5}, {X: x + 2, Y: y + 5}}, Pt: 1})
}

// fuseSymbol is a rectangle with the line through it.
func (d *single) fuseSymbol(ref string, x, y float64) {
	c := x + slCell/2
	d.add(Stroke{Of: Tag{Role: RoleGear, Ref: ref}, Points: geometry.NewRect(c-6, y-2.2, c+6, y+2.2).Outer, Closed: true, Pt: 1})
	d.wire(RoleLink, ref, r2.Point{X: x, Y: y}, r2.Point{X: x + slCell, Y: y})
}

// contactSymbol is a make contact, drawn open.
func (d *single) contactSymbol(ref string, x, y float64) {
	c := x + slCell/2
	d.wire(RoleLink, ref, r2.Point{X: x, Y: y}, r2.Point{X: c - 5, Y: y})
	d.wire(RoleLink, ref, r2.Point{X: c + 5, Y: y}, r2.Point{X: x + slCell, Y: y})
	d.add(Stroke{Of: Tag{Role: RoleGear, Ref: ref}, Points: []r2.Point{{X: c - 5, Y: y}, {X: c + 3.5, Y: y + 5}}, Pt: 1})
}

// precharge is a contact and a resistor in a line round a contactor.
func (d *single) precharge(ref string, x, y float64) {
	const up = 14.0
	tag := Tag{Role: RoleGear, Ref: ref}
	lines := [][]r2.Point{
		{{X: x + 2, Y: y}, {X: x + 2, Y: y + up}, {X: x + 5, Y: y + up}},
		{{X: x + 5, Y: y + up}, {X: x + 9.5, Y: y + up + 3}},
		{{X: x + 10, Y: y + up}, {X: x + 12, Y: y + up}},
		{{X: x + 21, Y: y + up}, {X: x + slCell - 2, Y: y + up}, {X: x + slCell - 2, Y: y}},
	}
	for _, l := range lines {
		d.add(Stroke{Of: tag, Points: l, Pt: 1})
	}
	d.add(Stroke{Of: tag, Points: geometry.NewRect(x+12, y+up-1.5, x+21, y+up+1.5).Outer, Closed: true, Pt: 1})
	d.text(RoleLabel, ref, r2.Point{X: x + slCell/2, Y: y + up + 5.5}, slSmall, Middle, fmt.Sprintf("%.0f Ω", d.r.Precharge.Ohm))
}

// direct is the sign for direct current, alternating the one for alternating current.
func (d *single) direct(ref string, c r2.Point) {
	for _, y := range []float64{-0.9, 0.9} {
		d.wire(RoleGear, ref, r2.Point{X: c.X - 2.2, Y: c.Y + y}, r2.Point{X: c.X + 2.2, Y: c.Y + y})
	}
}

func (d *single) alternating(ref string, c r2.Point) {
	var pts []r2.Point
	for i := range 25 {
		t := float64(i) / 24
		pts = append(pts, r2.Point{X: c.X - 2.4 + 4.8*t, Y: c.Y + 1.4*math.Sin(2*math.Pi*t)})
	}
	d.add(Stroke{Of: Tag{Role: RoleGear, Ref: ref}, Points: pts, Pt: 1})
}

// arc is points on a circle from its right, counter-clockwise, to an angle in degrees.
func arc(c r2.Point, radius, to float64) []r2.Point {
	const n = 24
	pts := make([]r2.Point, n+1)
	for i := range pts {
		s, co := math.Sincos(to * float64(i) / n * math.Pi / 180)
		pts[i] = r2.Point{X: c.X + radius*co, Y: c.Y + radius*s}
	}
	return pts
}
