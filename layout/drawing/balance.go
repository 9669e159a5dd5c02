package drawing

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// cgRadiusMM is the size of the centre of gravity's symbol.
const cgRadiusMM = 42

// balance draws the donor's centre of gravity hollow and the present one with two filled quarters, and the way
// from one to the other.
func (p *pen) balance(s *layout.Scene) {
	if !p.o.on(LayerBalance) {
		return
	}
	if p.o.CGDonor != nil && p.o.CG != nil {
		a, b := p.at(*p.o.CGDonor), p.at(*p.o.CG)
		if b.Sub(a).Norm() > 2.2*cgRadiusMM*p.o.names() {
			p.segment(Tag{Role: RoleCGDonor}, a, b)
		}
	}
	w := wish{last: true, off: p.bodyExtents(s), across: p.boxExtents(s)}
	p.uncover(s, p.cgExtents())
	p.cgDrawn(p.o.CGDonor, RoleCGDonor)
	p.cgDrawn(p.o.CG, RoleCG)
	p.cgNamed(p.o.CG, RoleCG, "CG now", w)
	w.near = p.o.OnScreen
	p.cgNamed(p.o.CGDonor, RoleCGDonor, "CG donor", w)
}

// bodyExtents are the places of modules and gear, which names that need not be there keep off.
func (p *pen) bodyExtents(s *layout.Scene) []r2.Rect {
	out := make([]r2.Rect, 0, s.Count()+len(s.Gear))
	eachBody(s, func(l Layer, _ string, b *geometry.Prism) {
		if p.o.on(l) {
			out = append(out, p.prismExtent(*b))
		}
	})
	return out
}

func (p *pen) cgDrawn(at *r3.Vector, role Role) {
	if at != nil {
		p.cgMark(cgTag(role), p.at(*at))
	}
}

// cgNamed wishes for the name of a centre of gravity; the one that is wished for first has the choice.
func (p *pen) cgNamed(at *r3.Vector, role Role, name string, w wish) {
	if at != nil {
		p.cgName(cgTag(role), p.at(*at), name, w)
	}
}

func cgTag(role Role) Tag { return Tag{Role: role, Ref: string(role)} }

// donorRing is how much larger the donor's symbol is, so that it is seen round the present one when they coincide.
const donorRing = 1.35

// mostCG bounds how much symbols grow in views of little scale, where they would hide the vehicle.
const mostCG = 3

// cgAt draws the symbol with its name beside it, or with a leader off what the wish keeps free.
func (p *pen) cgAt(t Tag, c r2.Point, name string, w wish) {
	p.cgMark(t, c)
	p.cgName(t, c, name, w)
}

func (p *pen) cgMark(t Tag, c r2.Point) {
	p.cgSymbol(t, c, p.cgRadius(t.Role), t.Role == RoleCG)
	p.taken = append(p.taken, p.cgExtent(t.Role, c))
}

func (p *pen) cgName(t Tag, c r2.Point, name string, w wish) {
	r, radius, gap := p.cgExtent(t.Role, c), p.cgRadius(t.Role), p.gapAround()
	p.wish(wish{s: name, size: 50, role: t.Role, ref: t.Ref, off: w.off, last: w.last, across: w.across, near: w.near, soft: !w.near, tip: rim(c, radius), at: []spot{
		{pt(r.X.Hi+gap, c.Y), West}, {pt(r.X.Lo-gap, c.Y), East}, {pt(c.X, r.Y.Hi+gap), South}, {pt(c.X, r.Y.Lo-gap), North},
		{pt(r.X.Hi+gap, r.Y.Hi+gap), West}, {pt(r.X.Lo-gap, r.Y.Hi+gap), East}, {pt(r.X.Hi+gap, r.Y.Lo-gap), West}, {pt(r.X.Lo-gap, r.Y.Lo-gap), East},
	}})
}

func (p *pen) cgRadius(role Role) float64 {
	r := cgRadiusMM * min(p.o.names(), mostCG)
	if role == RoleCGDonor {
		r *= donorRing
	}
	return r
}

// cgArm is how far the arms of a symbol's cross reach, in its radii.
const cgArm = 1.25

// cgExtent is what a symbol covers, with the arms of its cross.
func (p *pen) cgExtent(role Role, c r2.Point) r2.Rect {
	d := 2 * cgArm * p.cgRadius(role)
	return r2.RectFromCenterSize(c, pt(d, d))
}

func (p *pen) cgExtents() []r2.Rect {
	var out []r2.Rect
	if p.o.CGDonor != nil {
		out = append(out, p.cgExtent(RoleCGDonor, p.at(*p.o.CGDonor)))
	}
	if p.o.CG != nil {
		out = append(out, p.cgExtent(RoleCG, p.at(*p.o.CG)))
	}
	return out
}

// cgSymbol is the quartered circle.
func (p *pen) cgSymbol(t Tag, c r2.Point, r float64, filled bool) {
	if filled {
		p.fill(t, p.quarter(c, r, math.Pi/2))
		p.fill(t, p.quarter(c, r, 3*math.Pi/2))
	}
	p.loop(t, p.disc(c, r, 32).Outer)
	p.segment(t, c.Sub(pt(cgArm*r, 0)), c.Add(pt(cgArm*r, 0)))
	p.segment(t, c.Sub(pt(0, cgArm*r)), c.Add(pt(0, cgArm*r)))
}

func (p *pen) quarter(c r2.Point, r, from float64) geometry.Polygon {
	ps := p.room(10)
	ps[0] = c
	for i := 1; i < 10; i++ {
		sin, cos := math.Sincos(from + math.Pi/2*float64(i-1)/8)
		ps[i] = pt(c.X+r*cos, c.Y+r*sin)
	}
	return geometry.Polygon{Outer: ps}
}

// The places of Options.WheelKg.
const (
	frontLeft = iota
	frontRight
	rearLeft
	rearRight
)

var wheelNames = [4]string{"front left", "front right", "rear left", "rear right"}

// wheelLoads sets each wheel's load in a box at the wheel: all four in plan, the left ones and the axle sums
// in the side view, the rear ones from behind.
func (p *pen) wheelLoads(s *layout.Scene) {
	if s.Donor == nil || p.o.WheelKg == nil || !p.o.on(LayerLoads) {
		return
	}
	e := donorExtent(p.v, s.Donor)
	k := p.o.names()
	wb, track := s.Donor.WheelbaseMM, s.Donor.TrackRearMM
	p.shortLoads = p.v == RearView && !p.loadsFit(track)
	switch p.v {
	case PlanView:
		p.wheelLoad(frontLeft, pt(0, e.Y.Lo-60-70*k))
		p.wheelLoad(rearLeft, pt(wb, e.Y.Lo-60-70*k))
		p.wheelLoad(frontRight, pt(0, e.Y.Hi+60+70*k))
		p.wheelLoad(rearRight, pt(wb, e.Y.Hi+60+70*k))
	case SideView:
		p.wheelLoad(frontLeft, pt(0, -55-60*k))
		p.wheelLoad(rearLeft, pt(wb, -55-60*k))
		p.axleLoad("front axle", frontLeft, frontRight, pt(0, -55-160*k))
		p.axleLoad("rear axle", rearLeft, rearRight, pt(wb, -55-160*k))
	case RearView:
		p.wheelLoad(rearLeft, pt(-track/2, -55-60*k))
		p.wheelLoad(rearRight, pt(track/2, -55-60*k))
	}
}

func (p *pen) wheelLoad(i int, at r2.Point) {
	p.loadBox(p.loadText(i, p.shortLoads), p.o.WheelMarks[i], at)
}

// loadText words a wheel's load; the short way leaves the wheel's name to its place.
func (p *pen) loadText(i int, short bool) string {
	kg := mass(p.o.WheelKg[i], p.o.Imperial)
	if short {
		return kg
	}
	return wheelNames[i] + " " + kg
}

// loadWidth is how wide the box of a wheel's load is, mm of the view.
func (p *pen) loadWidth(i int, short bool) float64 {
	return (TextWidth(p.loadText(i, short)) + 1.4) * loadMM * p.o.names()
}

// loadsFit tells whether the loads of the rear wheels can be set with the wheels' names.
func (p *pen) loadsFit(track float64) bool {
	left, right := p.loadWidth(rearLeft, false), p.loadWidth(rearRight, false)
	return left+right < 2*track && p.o.holds(r2.RectFromPoints(pt(-(track+left)/2, 0), pt((track+right)/2, 0)))
}

// loadMM is the height of wheel loads at a name scale of 1.
const loadMM = 50

func (p *pen) axleLoad(name string, left, right int, at r2.Point) {
	kg := p.o.WheelKg[left] + p.o.WheelKg[right]
	p.loadBox(name+" "+mass(kg, p.o.Imperial), 0, at)
}

func (p *pen) loadBox(s string, m Mark, at r2.Point) {
	size := loadMM * p.o.names()
	t := Tag{Role: RoleLoad, Mark: m}
	if m&Breached != 0 {
		s += " over"
	}
	half := pt(TextWidth(s)*size/2+0.7*size, 0.9*size)
	area := p.rect(at.Sub(half), at.Add(half))
	p.taken = append(p.taken, area.Bounds())
	p.shape(t, area.Outer)
	p.text(Text{Of: t, At: at, S: s, InMM: size})
}
