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
func (p *pen) balance() {
	if !p.o.on(LayerBalance) {
		return
	}
	if p.o.CGDonor != nil && p.o.CG != nil {
		a, b := p.at(*p.o.CGDonor), p.at(*p.o.CG)
		if b.Sub(a).Norm() > 2.2*cgRadiusMM*p.o.names() {
			p.segment(Tag{Role: RoleCGDonor}, a, b)
		}
	}
	p.cg(p.o.CGDonor, RoleCGDonor, "CG donor")
	p.cg(p.o.CG, RoleCG, "CG now")
}

func (p *pen) cg(at *r3.Vector, role Role, name string) {
	if at == nil {
		return
	}
	p.cgAt(Tag{Role: role, Ref: string(role)}, p.at(*at), name)
}

// cgAt draws the symbol with its name beside it.
func (p *pen) cgAt(t Tag, c r2.Point, name string) {
	radius := cgRadiusMM * p.o.names()
	p.cgSymbol(t, c, radius, t.Role == RoleCG)
	r := r2.RectFromCenterSize(c, pt(2*radius, 2*radius))
	p.taken = append(p.taken, r)
	p.wish(wish{s: name, size: 50, role: t.Role, ref: t.Ref, at: []spot{
		{pt(r.X.Hi+10, c.Y), West}, {pt(r.X.Lo-10, c.Y), East}, {pt(c.X, r.Y.Hi+8), South}, {pt(c.X, r.Y.Lo-8), North},
		{pt(r.X.Hi+10, r.Y.Hi+20), West}, {pt(r.X.Lo-10, r.Y.Hi+20), East}, {pt(r.X.Hi+10, r.Y.Lo-20), West}, {pt(r.X.Lo-10, r.Y.Lo-20), East},
	}})
}

// cgSymbol is the quartered circle.
func (p *pen) cgSymbol(t Tag, c r2.Point, r float64, filled bool) {
	if filled {
		p.fill(t, p.quarter(c, r, math.Pi/2))
		p.fill(t, p.quarter(c, r, 3*math.Pi/2))
	}
	p.loop(t, p.disc(c, r, 32).Outer)
	p.segment(t, c.Sub(pt(1.25*r, 0)), c.Add(pt(1.25*r, 0)))
	p.segment(t, c.Sub(pt(0, 1.25*r)), c.Add(pt(0, 1.25*r)))
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
	p.loadBox(wheelNames[i]+" "+mass(p.o.WheelKg[i], p.o.Imperial), p.o.WheelMarks[i], at)
}

func (p *pen) axleLoad(name string, left, right int, at r2.Point) {
	kg := p.o.WheelKg[left] + p.o.WheelKg[right]
	p.loadBox(name+" "+mass(kg, p.o.Imperial), 0, at)
}

func (p *pen) loadBox(s string, m Mark, at r2.Point) {
	size := 50 * p.o.names()
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
