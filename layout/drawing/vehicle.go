package drawing

import (
	"math"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// defaultTyreMM is drawn where the survey gives no tyre width (an assumption for the picture only).
const defaultTyreMM = 180

// twinGapMM is drawn between twin tyres (an assumption for the picture only).
const twinGapMM = 30

// vehicleUnder draws what lies under bays and boxes: grid, ground, body, wheels, axle lines.
func (p *pen) vehicleUnder(s *layout.Scene) {
	d := s.Donor
	if d == nil {
		return
	}
	if p.o.on(LayerGrid) && p.o.GridMM > 0 {
		p.grid(donorExtent(p.v, d))
	}
	if !p.o.on(LayerVehicle) {
		return
	}
	if p.v != PlanView {
		p.ground(d)
	}
	p.body(d)
	p.wheels(d)
	p.axles(d)
}

// vehicleOver draws what has to stay readable over the boxes: centre plane, clearance line, the front's arrow.
func (p *pen) vehicleOver(s *layout.Scene) {
	if s.Donor == nil || !p.o.on(LayerVehicle) {
		return
	}
	e := donorExtent(p.v, s.Donor)
	if p.v != PlanView {
		p.taken = append(p.taken, groundStrip(e))
	}
	switch p.v {
	case PlanView:
		p.segment(Tag{Role: RoleCentre}, pt(e.X.Lo-60, 0), pt(e.X.Hi+60, 0))
		p.front(e)
		p.cutLines(e)
	case SideView:
		p.clearance(s.Donor, e)
		p.front(e)
		p.cutLines(e)
	case RearView:
		p.segment(Tag{Role: RoleCentre}, pt(0, -60), pt(0, e.Y.Hi+60))
		p.clearance(s.Donor, e)
		p.sides(e)
	}
}

func (p *pen) body(d *vehicles.Donor) {
	t := Tag{Role: RoleBody}
	switch p.v {
	case PlanView:
		p.shape(t, vehicles.Points(d.PlanOutline))
	case SideView:
		p.shape(t, vehicles.Points(d.SideOutline))
	case RearView:
		p.shape(t, rearOutline(d))
	}
}

func (p *pen) shape(t Tag, ps []r2.Point) {
	if !p.o.Hollow || t.Role != RoleBody && t.Role != RoleWheel {
		p.fill(t, geometry.Polygon{Outer: ps})
	}
	p.loop(t, ps)
}

// rearOutline is the surveyed outline, or the rectangle that plan and side view span where none was surveyed.
func rearOutline(d *vehicles.Donor) []r2.Point {
	if len(d.RearOutline) > 2 {
		return vehicles.Points(d.RearOutline)
	}
	plan := r2.RectFromPoints(vehicles.Points(d.PlanOutline)...)
	side := r2.RectFromPoints(vehicles.Points(d.SideOutline)...)
	r := r2.Rect{X: plan.Y, Y: side.Y}
	v := r.Vertices()
	return v[:]
}

// donorExtent is the rectangle that the vehicle's body and wheels cover in a view.
func donorExtent(v View, d *vehicles.Donor) r2.Rect {
	r := r2.EmptyRect()
	switch v {
	case PlanView:
		r = r2.RectFromPoints(vehicles.Points(d.PlanOutline)...)
	case SideView:
		r = r2.RectFromPoints(vehicles.Points(d.SideOutline)...).AddPoint(r2.Point{})
	case RearView:
		r = r2.RectFromPoints(rearOutline(d)...).AddPoint(r2.Point{})
	}
	return r
}

// tyres lists the middles of the tyres of one axle along y.
func tyres(d *vehicles.Donor, track float64, rear bool) []float64 {
	if !rear || !d.TwinRearTyres {
		return []float64{-track / 2, track / 2}
	}
	off := (tyreWidth(d) + twinGapMM) / 2
	return []float64{-track/2 - off, -track/2 + off, track/2 - off, track/2 + off}
}

func tyreWidth(d *vehicles.Donor) float64 {
	if d.TyreWidthMM > 0 {
		return d.TyreWidthMM
	}
	return defaultTyreMM
}

func (p *pen) wheels(d *vehicles.Donor) {
	r, w := d.WheelRadiusMM, tyreWidth(d)
	switch p.v {
	case PlanView:
		p.wheelRects(tyres(d, d.TrackFrontMM, false), 0, r, w)
		p.wheelRects(tyres(d, d.TrackRearMM, true), d.WheelbaseMM, r, w)
	case SideView:
		p.wheelDisc(pt(0, r), r)
		p.wheelDisc(pt(d.WheelbaseMM, r), r)
	case RearView:
		for _, y := range tyres(d, d.TrackRearMM, true) {
			p.shape(Tag{Role: RoleWheel}, p.rect(pt(y-w/2, 0), pt(y+w/2, 2*r)).Outer)
		}
	}
}

func (p *pen) wheelRects(ys []float64, x, r, w float64) {
	for _, y := range ys {
		p.shape(Tag{Role: RoleWheel}, p.rect(pt(x-r, y-w/2), pt(x+r, y+w/2)).Outer)
	}
}

func (p *pen) wheelDisc(c r2.Point, r float64) {
	t := Tag{Role: RoleWheel}
	p.shape(t, p.disc(c, r, 48).Outer)
	p.loop(t, p.disc(c, 0.6*r, 32).Outer)
}

func (p *pen) axles(d *vehicles.Donor) {
	t := Tag{Role: RoleAxle}
	e := donorExtent(p.v, d)
	switch p.v {
	case PlanView:
		for _, x := range []float64{0, d.WheelbaseMM} {
			p.segment(t, pt(x, e.Y.Lo-60), pt(x, e.Y.Hi+60))
		}
	case SideView:
		for _, x := range []float64{0, d.WheelbaseMM} {
			p.segment(t, pt(x, 0), pt(x, 2.4*d.WheelRadiusMM))
			p.segment(t, pt(x-0.25*d.WheelRadiusMM, d.WheelRadiusMM), pt(x+0.25*d.WheelRadiusMM, d.WheelRadiusMM))
		}
	case RearView:
		p.segment(t, pt(-d.TrackRearMM/2-150, d.WheelRadiusMM), pt(d.TrackRearMM/2+150, d.WheelRadiusMM))
	}
}

func (p *pen) ground(d *vehicles.Donor) {
	r := groundStrip(donorExtent(p.v, d))
	t := Tag{Role: RoleGround}
	p.hatch(t, p.rect(r.Lo(), r.Hi()), Hatch{Deg: 45})
	p.items = append(p.items, Stroke{Of: t, Points: []r2.Point{pt(r.X.Lo, 0), pt(r.X.Hi, 0)}, Pt: 1.2})
}

// groundStrip is where the ground's hatch lies under a vehicle.
func groundStrip(e r2.Rect) r2.Rect {
	return r2.RectFromPoints(pt(e.X.Lo-150, -45), pt(e.X.Hi+150, 0))
}

// clearance draws the lowest height at which a box may end, and in the side view the angles before the
// conversion.
func (p *pen) clearance(d *vehicles.Donor, e r2.Rect) {
	t, z := Tag{Role: RoleClearance}, d.GroundClearMM
	a, b := pt(0, z), pt(d.WheelbaseMM, z)
	if p.v == RearView {
		a, b = pt(-d.TrackRearMM/2, z), pt(d.TrackRearMM/2, z)
	}
	p.segment(t, a, b)
	p.clearanceName("clearance "+length(z, p.o.Imperial), a, b)
	if p.v == SideView {
		p.rampLine(0, -1, d.ApproachDeg, d.WheelRadiusMM, -e.X.Lo)
		p.rampLine(d.WheelbaseMM, 1, d.DepartureDeg, d.WheelRadiusMM, e.X.Hi-d.WheelbaseMM)
	}
}

// widestOfLine is how much of a line its name may be as wide as; a wider one would hide more than it tells.
const widestOfLine = 0.6

// clearanceName names the line under it, where it is long enough.
func (p *pen) clearanceName(s string, a, b r2.Point) {
	if TextWidth(s)*leastNameMM*p.o.names() > widestOfLine*(b.X-a.X) {
		return
	}
	z := a.Y - 0.5*p.gapAround()
	p.wish(wish{s: s, size: leastNameMM, role: RoleClearance, last: p.o.OnScreen,
		at: []spot{{At: pt((a.X+b.X)/2, z), Anchor: North}, {At: pt(a.X+0.3*(b.X-a.X), z), Anchor: North}}})
}

// rampLine draws the approach or departure angle as the line that touches the tyre: it leaves the tyre where
// its normal points down and outward by the angle.
func (p *pen) rampLine(x, outward, deg, r, overhang float64) {
	if deg <= 0 || overhang <= r {
		return
	}
	sin, cos := math.Sincos(deg * math.Pi / 180)
	from := pt(x+outward*r*sin, r-r*cos)
	run := max(overhang-r*sin, 50)
	p.segment(Tag{Role: RoleClearance}, from, from.Add(pt(outward*run, run*sin/cos)))
}

// front draws the arrow that says where the vehicle's front is.
func (p *pen) front(e r2.Rect) {
	if p.o.OnScreen {
		return
	}
	t := Tag{Role: RoleFront}
	y := e.Center().Y
	if p.v == SideView {
		y = e.Y.Lo + 0.6*(e.Y.Hi-e.Y.Lo)
	}
	tip := pt(e.X.Lo-330, y)
	p.segment(t, tip.Add(pt(200, 0)), tip)
	head := p.room(3)
	head[0], head[1], head[2] = tip, tip.Add(pt(70, 32)), tip.Add(pt(70, -32))
	p.fill(t, geometry.Polygon{Outer: head})
	p.text(Text{Of: t, At: tip.Add(pt(100, 50)), S: "front", InMM: 62 * p.o.names(), Anchor: South})
}

// cutLines shows where sections are taken: a heavy stroke at either end, an arrow the way one looks, and the
// distance behind the front axle.
func (p *pen) cutLines(e r2.Rect) {
	t := Tag{Role: RoleCut}
	for _, x := range p.o.Cuts {
		lo, hi := pt(x, e.Y.Lo-40), pt(x, e.Y.Hi+40)
		p.items = append(p.items, Stroke{Of: t, Points: []r2.Point{lo, hi}, Pt: 0.4, Dash: []float64{12, 2.5, 2, 2.5}})
		for _, end := range []r2.Point{lo, hi} {
			out := math.Copysign(60, end.Y-e.Center().Y)
			tip := end.Add(pt(-70, out))
			p.segment(t, end, end.Add(pt(0, out)))
			p.segment(t, end.Add(pt(0, out)), tip)
			head := p.room(3)
			head[0], head[1], head[2] = tip.Sub(pt(25, 0)), tip.Add(pt(15, 14)), tip.Add(pt(15, -14))
			p.fill(Tag{Role: RoleFront}, geometry.Polygon{Outer: head})
		}
		p.wish(wish{s: "section " + length(x, p.o.Imperial), size: leastNameMM, role: RoleLabel, at: []spot{
			{hi.Add(pt(12, 40)), West}, {lo.Add(pt(12, -40)), West}, {hi.Add(pt(-12, 90)), East}, {lo.Add(pt(-12, -90)), East}}})
	}
}

// sides names left and right in the view from behind.
func (p *pen) sides(e r2.Rect) {
	if p.o.OnScreen {
		return
	}
	t := Tag{Role: RoleFront}
	y := e.Y.Hi + 40
	p.text(Text{Of: t, At: pt(e.X.Lo, y), S: "left", InMM: 62 * p.o.names(), Anchor: South})
	p.text(Text{Of: t, At: pt(e.X.Hi, y), S: "right", InMM: 62 * p.o.names(), Anchor: South})
}

// mostGridLines bounds the grid; a finer one is drawn five times as coarse, and so on.
const mostGridLines = 400

// grid draws lines at whole multiples of the pitch; every fifth is heavier.
func (p *pen) grid(e r2.Rect) {
	g := p.o.GridMM
	r := e.ExpandedByMargin(300)
	for (r.X.Length()+r.Y.Length())/g > mostGridLines {
		g *= 5
	}
	for i := math.Ceil(r.X.Lo / g); i*g <= r.X.Hi; i++ {
		p.gridLine(i, pt(i*g, r.Y.Lo), pt(i*g, r.Y.Hi))
	}
	for i := math.Ceil(r.Y.Lo / g); i*g <= r.Y.Hi; i++ {
		p.gridLine(i, pt(r.X.Lo, i*g), pt(r.X.Hi, i*g))
	}
}

func (p *pen) gridLine(i float64, a, b r2.Point) {
	ps := p.room(2)
	ps[0], ps[1] = a, b
	s := Stroke{Of: Tag{Role: RoleGrid}, Points: ps}
	if math.Mod(i, 5) == 0 {
		s.Pt = 0.5
	}
	p.items = append(p.items, s)
}
