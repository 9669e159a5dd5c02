package drawing

import (
	"fmt"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/electric"
)

// Sizes of the single-line diagram in millimetres of its plane.
const (
	slCell   = 26.0  // width of one symbol with its line
	slRow    = 64.0  // height of one string
	slMargin = 9.0   // from a box's frame to the first and last symbol
	slCable  = 34.0  // line between two boxes
	slBar    = 20.0  // from the bars to the first and last box
	slWide   = 360.0 // a string wider than that goes on in a new row
	slText   = 3.2
	slSmall  = 2.6
)

// SingleLine draws the pack's single-line diagram with general symbols in the manner of IEC 60617: every string
// from pack negative at the left to pack positive at the right, box by box, with the gear in its path, the
// potentials at the boxes' ends with every cell at its highest voltage, and what the pack feeds.
func SingleLine(r *electric.Result) *List {
	d := &single{r: r, l: &List{Title: "Single-line diagram"}}
	if len(r.Strings) == 0 {
		d.text(RoleLabel, "", r2.Point{}, slText, Middle, "No string to draw: the arrangement has no wired modules.")
		d.l.Bounds = r2.RectFromCenterSize(r2.Point{}, r2.Point{X: 160, Y: 30})
		return d.l
	}
	d.measure()
	for i := range r.Strings {
		d.string(i)
	}
	d.bars()
	d.consumers()
	d.legend()
	d.l.Bounds = r2.Rect{X: r1.Interval{Lo: -30, Hi: d.right + 30}, Y: r1.Interval{Lo: d.bottom - 10, Hi: 34}}
	return d.l
}

// single is a diagram being drawn.
type single struct {
	r      *electric.Result
	l      *List
	rows   [][]row // the rows of each string
	right  float64 // place of the positive bar
	low    float64 // height of the lowest row
	bottom float64 // height below which nothing is drawn yet
}

// row is the boxes From to To of a string, drawn along one line.
type row struct {
	from, to int
	y, end   float64
}

// measure lays the strings out in rows and finds the place of the positive bar.
func (d *single) measure() {
	y := 0.0
	for i := range d.r.Strings {
		var rows []row
		x := slBar
		for k := range d.r.Strings[i].Passes {
			w := d.width(i, k)
			if n := len(rows); n == 0 || x+slCable+w > slWide {
				rows = append(rows, row{from: k, to: k, y: y})
				y -= slRow
				x = slBar
			} else {
				x += slCable
			}
			x += w
			n := len(rows) - 1
			rows[n].to, rows[n].end = k+1, x
			d.right = max(d.right, x+slBar)
		}
		d.rows = append(d.rows, rows)
	}
	d.low = y + slRow
	d.bottom = d.low - 38
}

func (d *single) width(i, k int) float64 {
	return 2*slMargin + slCell*float64(len(d.symbols(i, k)))
}

// symbol is one thing in the line.
type symbol struct {
	kind     string // "battery" or a kind of gear
	gear     *layout.GearBody
	from, to int // modules of a battery
	bypass   *layout.GearBody
}

// symbols lists what a string passes in one box: the negative pole's contactor, the modules with the fuse behind
// them and the service disconnect between, the positive pole's contactor.
func (d *single) symbols(i, k int) []symbol {
	p := d.r.Strings[i].Passes[k]
	var out []symbol
	if c := d.contactor(i, "negative"); c != nil && k == 0 {
		out = append(out, symbol{kind: "contactor", gear: c})
	}
	if g := sensorIn(p.Box); g != nil && k == 0 && i == 0 {
		out = append(out, symbol{kind: "current_sensor", gear: g})
	}
	out = append(out, d.batteries(i, p)...)
	if f := d.fuse(i, p.Box); f != nil {
		out = append(out, symbol{kind: "fuse", gear: f})
	}
	if c := d.contactor(i, "positive"); c != nil && k == len(d.r.Strings[i].Passes)-1 {
		out = append(out, symbol{kind: "contactor", gear: c, bypass: d.prechargeFor(p.Box)})
	}
	return out
}

func (d *single) batteries(i int, p electric.Passage) []symbol {
	q := d.r.Protection.Disconnects[i]
	whole := symbol{kind: "battery", from: p.From, to: p.To}
	if q.Gear == nil || !inBox(p.Box, q.Gear) || q.After < p.From || q.After > p.To {
		return []symbol{whole}
	}
	cut := symbol{kind: "service_disconnect", gear: q.Gear}
	switch q.After {
	case p.From:
		return []symbol{cut, whole}
	case p.To:
		return []symbol{whole, cut}
	}
	return []symbol{{kind: "battery", from: p.From, to: q.After}, cut, {kind: "battery", from: q.After, to: p.To}}
}

func inBox(b *layout.BoxScene, g *layout.GearBody) bool {
	for _, x := range b.Gear {
		if x == g {
			return true
		}
	}
	return false
}

func sensorIn(b *layout.BoxScene) *layout.GearBody {
	for _, g := range b.Gear {
		if g.Gear.Kind == "current_sensor" {
			return g
		}
	}
	return nil
}

func (d *single) contactor(i int, pole string) *layout.GearBody {
	for _, p := range d.r.Protection.Poles {
		if p.String == i && p.Pole == pole {
			return p.Contactor
		}
	}
	return nil
}

func (d *single) fuse(i int, b *layout.BoxScene) *layout.GearBody {
	for k := range d.r.Fuses {
		if f := &d.r.Fuses[k]; f.String == i && f.Box == b {
			return f.Fuse
		}
	}
	return nil
}

// prechargeFor is the precharge drawn round a positive contactor: where it sits in that box.
func (d *single) prechargeFor(b *layout.BoxScene) *layout.GearBody {
	if g := d.r.Precharge.Gear; g != nil && inBox(b, g) {
		return g
	}
	return nil
}

// string draws one string row by row, from the negative bar to the positive one.
func (d *single) string(i int) {
	s := &d.r.Strings[i]
	rows := d.rows[i]
	d.text(RoleLabel, "", r2.Point{X: -4, Y: rows[0].y + 4}, slText, East, s.ID)
	for n, w := range rows {
		if n == 0 {
			d.wire(RoleCable, "", r2.Point{X: 0, Y: w.y}, r2.Point{X: slBar, Y: w.y})
		} else {
			d.turn(s, w.from, rows[n-1], w)
		}
		x := slBar
		for k := w.from; k < w.to; k++ {
			if k > w.from {
				d.cable(s, k, x, w.y)
				x += slCable
			}
			x = d.box(i, k, x, w.y)
		}
	}
	last := rows[len(rows)-1]
	d.wire(RoleCable, "", r2.Point{X: last.end, Y: last.y}, r2.Point{X: d.right, Y: last.y})
}

// turn is the cable from the end of one row back to the start of the next.
func (d *single) turn(s *electric.String, k int, from, to row) {
	const out, down = 8.0, 25.0
	y := from.y - down
	d.add(Stroke{Of: Tag{Role: RoleCable}, Points: []r2.Point{{X: from.end, Y: from.y}, {X: from.end + out, Y: from.y}, {X: from.end + out, Y: y},
		{X: slBar - out, Y: y}, {X: slBar - out, Y: to.y}, {X: slBar, Y: to.y}}})
	l := &s.Links[s.Passes[k].From-1]
	d.text(RoleLabel, "", r2.Point{X: (slBar + from.end) / 2, Y: y - 3}, slSmall, Middle, fmt.Sprintf("%.0f mm², %.2f m", l.SectionMM2, l.LengthMM/1000))
}

// cable is the line from one box to the next with its section and length.
func (d *single) cable(s *electric.String, k int, x, y float64) {
	l := &s.Links[s.Passes[k].From-1]
	d.wire(RoleCable, "", r2.Point{X: x, Y: y}, r2.Point{X: x + slCable, Y: y})
	mid := x + slCable/2
	d.text(RoleLabel, "", r2.Point{X: mid, Y: y + 3.5}, slSmall, Middle, fmt.Sprintf("%.0f mm²", l.SectionMM2))
	d.text(RoleLabel, "", r2.Point{X: mid, Y: y - 3.5}, slSmall, Middle, fmt.Sprintf("%.2f m", l.LengthMM/1000))
}

// box draws a box's frame with what the string passes in it, and returns where the line leaves it.
func (d *single) box(i, k int, x, y float64) float64 {
	p := d.r.Strings[i].Passes[k]
	id := p.Box.Box.ID
	end := x + d.width(i, k)
	frame := []r2.Point{{X: x, Y: y - 19}, {X: end, Y: y - 19}, {X: end, Y: y + 24}, {X: x, Y: y + 24}}
	d.add(Stroke{Of: Tag{Role: RoleBox, Ref: id}, Points: frame, Closed: true, Dash: []float64{6, 3}})
	d.text(RoleLabel, id, r2.Point{X: (x + end) / 2, Y: y + 27.5}, slText, Middle, boxTitle(p.Box))
	d.text(RoleLabel, id, r2.Point{X: x + 1.5, Y: y - 16}, slSmall, West, volts(p.NegV))
	d.text(RoleLabel, id, r2.Point{X: end - 1.5, Y: y - 16}, slSmall, East, volts(p.PosV))
	d.wire(RoleLink, id, r2.Point{X: x, Y: y}, r2.Point{X: x + slMargin, Y: y})
	at := x + slMargin
	for _, sym := range d.symbols(i, k) {
		d.symbol(i, sym, at, y)
		at += slCell
	}
	d.wire(RoleLink, id, r2.Point{X: at, Y: y}, r2.Point{X: end, Y: y})
	return end
}

func boxTitle(b *layout.BoxScene) string {
	if b.Box.Name != "" {
		return b.Box.Name
	}
	return b.Box.ID
}

func volts(v float64) string { return fmt.Sprintf("%.0f V", v) }

// bars draws pack negative and pack positive.
func (d *single) bars() {
	top, low := 8.0, d.low-8
	for _, b := range []struct {
		x    float64
		role Role
		s    string
	}{{0, RoleNegative, "Pack −, 0 V"}, {d.right, RolePositive, "Pack +, " + volts(d.r.Window.MaxV)}} {
		d.add(Stroke{Of: Tag{Role: b.role}, Points: []r2.Point{{X: b.x, Y: top}, {X: b.x, Y: low}}, Pt: 2.5})
		d.text(RoleLabel, "", r2.Point{X: b.x, Y: top + 4}, slText, Middle, b.s)
	}
}

// consumers draws inverter and charger between the bars, below the strings.
func (d *single) consumers() {
	if g := d.r.Load.Inverter; g != nil {
		d.converter(g.Name, placedID(d.r.Load.InverterAt, g.ID), d.bottom, true)
		d.bottom -= 28
	}
	if g := d.r.Load.Charger; g != nil {
		d.converter(g.Name, placedID(d.r.Load.ChargerAt, g.ID), d.bottom, false)
		d.bottom -= 28
	}
}

func placedID(g *layout.GearBody, id string) string {
	if g != nil {
		return g.ID
	}
	return id
}

// converter is a block between the bars: direct to alternating current for an inverter, the other way for a charger.
func (d *single) converter(name, ref string, y float64, inverter bool) {
	const half = 8.0
	c := r2.Point{X: d.right / 2, Y: y}
	for _, x := range []float64{0, d.right} {
		d.wire(RoleCable, "", r2.Point{X: x, Y: d.low - 8}, r2.Point{X: x, Y: y})
	}
	d.wire(RoleCable, "", r2.Point{Y: y}, r2.Point{X: c.X - half, Y: y})
	d.wire(RoleCable, "", r2.Point{X: c.X + half, Y: y}, r2.Point{X: d.right, Y: y})
	d.block(ref, c, half)
	d.add(Stroke{Of: Tag{Role: RoleGear, Ref: ref}, Points: []r2.Point{{X: c.X - half, Y: c.Y - half}, {X: c.X + half, Y: c.Y + half}}, Pt: 1})
	dc, ac := r2.Point{X: c.X - 3.6, Y: c.Y + 3.8}, r2.Point{X: c.X + 3.6, Y: c.Y - 3.8}
	if !inverter {
		dc, ac = ac, dc
	}
	d.direct(ref, dc)
	d.alternating(ref, ac)
	d.text(RoleLabel, ref, r2.Point{X: c.X, Y: c.Y - half - 3.2}, slText, Middle, name)
}

// legend says what the figures are.
func (d *single) legend() {
	d.text(RoleLabel, "", r2.Point{X: 0, Y: d.bottom + 6}, slSmall, West,
		"Potentials against pack negative with every cell at its highest voltage. Symbols in the manner of IEC 60617. A plan, not a wiring approval.")
}

func (d *single) add(i Item) { d.l.Items = append(d.l.Items, i) }

func (d *single) wire(role Role, ref string, a, b r2.Point) {
	d.add(Stroke{Of: Tag{Role: role, Ref: ref}, Points: []r2.Point{a, b}})
}

func (d *single) text(role Role, ref string, at r2.Point, mm float64, anchor Anchor, s string) {
	d.add(Text{Of: Tag{Role: role, Ref: ref}, At: at, S: s, InMM: mm, Anchor: anchor})
}

func (d *single) block(ref string, c r2.Point, half float64) {
	area := geometry.NewRect(c.X-half, c.Y-half, c.X+half, c.Y+half)
	d.add(Stroke{Of: Tag{Role: RoleGear, Ref: ref}, Points: area.Outer, Closed: true, Pt: 1})
}
