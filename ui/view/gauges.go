package view

import (
	"fmt"
	"math"
	"strings"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/vehicles"
)

// Caution is what stands under readings and findings wherever they are shown.
const Caution = "Stowbay computes and compares; it certifies nothing. Local vehicle codes, the makers' data and a licensed engineer or electrician decide."

// Gauges sets the readings pane: what the arrangement comes to now, against how it was and against the donor. A
// row's key is the key of the reading that it explains.
func (m *Model) Gauges(width float64, fonts *paint.Fonts) *Page {
	g := &gauges{writer: newWriter(width, fonts), m: m, e: m.eval, start: m.Start(), u: m.Units()}
	g.y = 10
	g.count()
	g.voltage()
	g.energy()
	g.figure("worst_gap_mm", "Tightest gap")
	g.mass()
	g.wheels()
	g.balance()
	g.y += 8
	g.wrapped(g.pad, g.w-g.pad, RoleFaint, 10.5, Caution, 0)
	g.y += 10
	return g.done()
}

type gauges struct {
	*writer
	m        *Model
	e, start *check.Evaluation
	u        Units
}

// delta is the change of a reading since the start, in words; "" where it did not change.
func (g *gauges) delta(key string) string {
	if g.start == nil || g.start == g.e {
		return ""
	}
	now, ok := g.e.Reading(key)
	was, ok2 := g.start.Reading(key)
	if !ok || !ok2 || math.Abs(now.Value-was.Value) < 1e-6 {
		return ""
	}
	if s := g.u.Delta(now.Value-was.Value, now.Unit); !strings.HasPrefix(s, "±") {
		return s
	}
	return "" // too small to show
}

// doubt marks a figure that rests on an estimate or an assumption.
func doubt(r layout.Reading) string {
	if r.Basis == layout.Computed || r.Basis == "" {
		return ""
	}
	return " ~"
}

// figure sets one line: name, figure, change since the start.
func (g *gauges) figure(key, name string) {
	r, ok := g.e.Reading(key)
	if !ok {
		return
	}
	g.pair(key, name, g.u.Text(r.Value, r.Unit)+doubt(r), g.delta(key), basisTip(r))
}

func basisTip(r layout.Reading) string {
	tip := r.Label
	if r.Basis != layout.Computed && r.Basis != "" {
		tip += " (rests on an " + string(r.Basis) + ")"
	}
	return tip + ". Click to see how it was worked out."
}

// pair sets a name, a figure and a change on one line.
func (g *gauges) pair(key, name, figure, delta, tip string) {
	top := g.y
	mid := g.y + 8
	right := g.w - g.pad - 62
	g.text(g.pad, mid, RoleBody, 12.5, drawing.West, g.fonts.Cut(name, 12.5, right-g.pad-g.fonts.Width(figure, 12.5, true)-8, false))
	g.text(right, mid, RoleFigure, 12.5, drawing.East, figure)
	g.text(g.w-g.pad, mid, RoleFaint, 11, drawing.East, delta)
	g.y += 17
	g.row(top, key, tip)
}

func (g *gauges) count() {
	top := g.y
	n := g.e.Value("count")
	g.text(g.pad, g.y+14, RoleBig, 26, drawing.West, Number(n, 0))
	x := g.pad + g.fonts.Width(Number(n, 0), 26, true) + 8
	g.text(x, g.y+8, RoleBody, 12, drawing.West, plural(int(n), "module"))
	s := "no string yet"
	if series := g.e.Value("series"); series > 0 {
		s = fmt.Sprintf("%.0f in series, %.0f parallel", series, g.e.Value("parallel"))
	}
	if left := g.e.Value("leftover"); left > 0 {
		s += fmt.Sprintf("; %.0f in no string", left)
	}
	g.text(x, g.y+23, RoleFaint, 11, drawing.West, g.fonts.Cut(s, 11, g.w-g.pad-x, false))
	g.text(g.w-g.pad, g.y+8, RoleFaint, 11, drawing.East, g.delta("count"))
	g.y += 34
	g.row(top, "count", "Modules placed and how they are connected")
}

func plural(n int, what string) string {
	switch {
	case n == 1:
		return what
	case what == "box":
		return "boxes"
	}
	return what + "s"
}

// many is a number of things: "1 box", "3 modules".
func many(n int, what string) string { return fmt.Sprintf("%d %s", n, plural(n, what)) }

func (g *gauges) energy() {
	g.figure("energy_kwh", "Energy")
	g.figure("usable_kwh", "  of it usable")
	g.figure("continuous_a", "Continuous current")
}

func (g *gauges) mass() {
	g.head("Mass and loads at kerb")
	g.figure("mass_kg", "Kerb mass")
	if c, ok := g.e.Reading("change.mass_kg"); ok {
		g.pair("change.mass_kg", "  against the donor", g.u.Delta(c.Value, "kg"), "", basisTip(c))
	}
	g.figure("payload_kg", "Payload left")
}

// wheels sets the wheel loads as the vehicle is seen from above, its front at the left.
func (g *gauges) wheels() {
	d := g.e.Scene.Donor
	if _, ok := g.e.Reading(WheelKeys[0]); !ok || d == nil {
		return
	}
	top := g.y
	mid, cell := g.w/2, (g.w-2*g.pad-14)/2
	for i, key := range WheelKeys {
		r, _ := g.e.Reading(key)
		x := g.pad
		if i >= 2 {
			x = mid + 7
		}
		y := g.y + 17
		if i%2 == 1 {
			y = g.y
		}
		g.wheel(x, y, cell, r, donorWheel(d, i))
	}
	g.y += 35
	g.wheelRows(top, mid)
	g.axle("axles_kg.front", "Front axle", d.Ratings.FrontAxleKg)
	g.axle("axles_kg.rear", "Rear axle", d.Ratings.RearAxleKg)
}

// wheelRows make each wheel's load a row of its own.
func (g *gauges) wheelRows(top, mid float64) {
	for i, key := range WheelKeys {
		r, _ := g.e.Reading(key)
		row := Row{Top: top, Bottom: top + 17, Left: 0, Right: mid, Key: key, Tip: basisTip(r) + " Beside it the change against the donor."}
		if i >= 2 {
			row.Left, row.Right = mid, g.w
		}
		if i%2 == 0 {
			row.Top, row.Bottom = top+17, g.y
		}
		g.page.Rows = append(g.page.Rows, row)
	}
}

func donorWheel(d *vehicles.Donor, i int) float64 {
	return [4]float64{d.Scales.FrontLeftKg, d.Scales.FrontRightKg, d.Scales.RearLeftKg, d.Scales.RearRightKg}[i]
}

var wheelNames = map[string]string{WheelKeys[0]: "FL", WheelKeys[1]: "FR", WheelKeys[2]: "RL", WheelKeys[3]: "RR"}

func (g *gauges) wheel(x, y, w float64, r layout.Reading, was float64) {
	g.text(x, y+8, RoleFaint, 11, drawing.West, wheelNames[r.Key])
	g.text(x+w, y+8, RoleFaint, 11, drawing.East, g.u.bareDelta(r.Value-was, r.Unit))
	g.text(x+w-34, y+8, RoleFigure, 12.5, drawing.East, g.u.Text(r.Value, r.Unit)+doubt(r))
}

// axle sets an axle's load as a bar against its rating.
func (g *gauges) axle(key, name string, rating float64) {
	r, ok := g.e.Reading(key)
	if !ok {
		return
	}
	top := g.y
	share := 0.0
	if rating > 0 {
		share = r.Value / rating
	}
	g.text(g.pad, g.y+9, RoleBody, 12.5, drawing.West, name)
	g.text(g.w-g.pad, g.y+9, RoleFigure, 12.5, drawing.East, fmt.Sprintf("%s of %s", g.u.Text(r.Value, r.Unit), g.u.Text(rating, r.Unit)))
	g.y += 17
	g.bar(g.pad, g.w-g.pad, share)
	g.y += 9
	g.row(top, key, basisTip(r))
}

// bar sets a share of a limit; what lies over the limit is striped besides being coloured.
func (g *gauges) bar(x0, x1, share float64) {
	y0, y1 := g.y, g.y+6
	g.fill(x0, y0, x1, y1, RoleTrack)
	role := RoleBar
	switch {
	case share > 1:
		role = RoleBarOver
	case share > 0.9:
		role = RoleBarNear
	}
	end := x0 + (x1-x0)*min(max(share, 0), 1)
	g.fill(x0, y0, end, y1, role)
	if share > 1 {
		for x := x0 + 4; x < end-4; x += 8 {
			g.line(RolePane, 1.5, spot(x, y1), spot(x+4, y0))
		}
	}
}

func (g *gauges) balance() {
	if _, ok := g.e.Reading("cg_mm.x"); !ok {
		return
	}
	g.head("Centre of gravity against the donor; stability")
	g.moved()
	g.figure("front_share_pct", "Front axle share")
	if r, ok := g.e.Reading("ssf"); ok {
		g.pair("ssf", "Static stability factor", Number(r.Value, 2)+doubt(r), signed(g.e.Value("change.ssf"), 2), basisTip(r))
	}
	g.figure("tilt_deg", "Tips on a side slope of")
}

// moved sets how far the centre of gravity moved along each axis, side by side.
func (g *gauges) moved() {
	top, cell := g.y, (g.w-2*g.pad)/3
	names := [3][2]string{{"rearward", "forward"}, {"right", "left"}, {"up", "down"}}
	for i, key := range []string{"change.cg_mm.x", "change.cg_mm.y", "change.cg_mm.z"} {
		r, ok := g.e.Reading(key)
		if !ok {
			return
		}
		name := names[i][0]
		if r.Value < 0 {
			name = names[i][1]
		}
		x := g.pad + float64(i)*cell
		g.text(x, g.y+8, RoleFigure, 12.5, drawing.West, g.u.Text(math.Abs(r.Value), r.Unit)+doubt(r))
		g.text(x, g.y+21, RoleFaint, 10.5, drawing.West, name)
	}
	g.y += 30
	g.row(top, "change.cg_mm.x", "How far the centre of gravity moved from the donor's")
}

func signed(v float64, decimals int) string {
	s := Number(math.Abs(v), decimals)
	switch {
	case strings.Trim(s, "0.") == "":
		return ""
	case v < 0:
		return "−" + s
	}
	return "+" + s
}

// window is the range of direct voltage that a converter works in.
type window struct {
	name   string
	lo, hi float64
}

// windows are the converters placed or chosen.
func (m *Model) windows() []window {
	var out []window
	seen := map[string]bool{}
	add := func(r *vehicles.Gear) {
		if r != nil && r.VoltageMaxV > 0 && !seen[r.ID] && (r.Kind == "inverter" || r.Kind == "charger" || r.Kind == "dc_dc") {
			seen[r.ID] = true
			out = append(out, window{gearNames[r.Kind], r.VoltageMinV, r.VoltageMaxV})
		}
	}
	s := &m.eval.Plan.Settings
	add(m.Library().Gear(s.Inverter))
	add(m.Library().Gear(s.Charger))
	for _, b := range m.eval.Scene.Gear {
		add(b.Gear)
	}
	for _, b := range m.eval.Scene.Boxes {
		for _, p := range b.Gear {
			add(p.Gear)
		}
	}
	return out
}

var gearNames = map[string]string{"inverter": "inverter", "charger": "charger", "dc_dc": "DC-DC"}

// voltage sets the pack's voltages on a scale with the converters' windows under it.
func (g *gauges) voltage() {
	nominal, ok := g.e.Reading("voltage_v.nominal")
	if !ok {
		return
	}
	lo, hi := g.e.Value("voltage_v.min"), g.e.Value("voltage_v.max")
	g.head("Voltage")
	top := g.y
	g.text(g.pad, g.y+9, RoleFigure, 12.5, drawing.West, g.u.Text(lo, "V"))
	g.text(g.w/2, g.y+9, RoleFigure, 12.5, drawing.Middle, g.u.Text(nominal.Value, "V")+" nominal")
	g.text(g.w-g.pad, g.y+9, RoleFigure, 12.5, drawing.East, g.u.Text(hi, "V"))
	g.y += 20
	g.scale(lo, nominal.Value, hi)
	g.row(top, "voltage_v.nominal", "Lowest, nominal and highest pack voltage against what the converters take")
}

func (g *gauges) scale(lo, nominal, hi float64) {
	ws := g.m.windows()
	a, b := lo, hi
	for _, w := range ws {
		a, b = min(a, w.lo), max(b, w.hi)
	}
	pad := 0.04 * (b - a)
	a, b = a-pad, b+pad
	left, right := g.pad+56, g.w-g.pad
	at := func(v float64) float64 { return left + (right-left)*(v-a)/max(b-a, 1e-9) }
	g.text(g.pad, g.y+5, RoleFaint, 11, drawing.West, "pack")
	g.fill(left, g.y, right, g.y+9, RoleTrack)
	g.fill(at(lo), g.y, at(hi), g.y+9, RoleBar)
	g.fill(at(nominal)-1, g.y-3, at(nominal)+1, g.y+12, RoleFigure)
	g.y += 16
	for _, w := range ws {
		g.windowLine(w, lo, hi, at)
	}
	if len(ws) == 0 {
		g.text(g.pad, g.y+6, RoleFaint, 11, drawing.West, "No inverter or charger chosen: see Settings.")
		g.y += 16
	}
}

// windowLine sets one converter's window; an end that the pack passes is marked with a cross.
func (g *gauges) windowLine(w window, lo, hi float64, at func(float64) float64) {
	mid := g.y + 6
	g.text(g.pad, mid, RoleFaint, 11, drawing.West, w.name)
	role := RoleGood
	if lo < w.lo || hi > w.hi {
		role = RoleBad
	}
	x0, x1 := at(w.lo), at(w.hi)
	g.line(role, 1.6, spot(x0, mid-4), spot(x0, mid+4))
	g.line(role, 1.6, spot(x0, mid), spot(x1, mid))
	g.line(role, 1.6, spot(x1, mid-4), spot(x1, mid+4))
	if lo < w.lo {
		g.cross(x0, mid, role)
	}
	if hi > w.hi {
		g.cross(x1, mid, role)
	}
	g.y += 14
}

func (g *gauges) cross(x, y float64, role drawing.Role) {
	g.line(role, 2, spot(x-4, y-4), spot(x+4, y+4))
	g.line(role, 2, spot(x-4, y+4), spot(x+4, y-4))
}
