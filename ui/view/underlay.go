package view

import (
	"math"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// Landmark is a place of the vehicle that a picture shows.
type Landmark struct {
	Name string
	At   r2.Point // in the view's plane, mm
}

// Landmarks are the places of a donor whose measures are known and that a picture of a view shows.
func Landmarks(d *vehicles.Donor, v drawing.View) []Landmark {
	if d == nil {
		return nil
	}
	r, l, track := d.WheelRadiusMM, d.WheelbaseMM, d.TrackRearMM/2
	switch v {
	case drawing.SideView:
		return []Landmark{{"front wheel's centre", r2.Point{Y: r}}, {"rear wheel's centre", r2.Point{X: l, Y: r}},
			{"ground under the front wheel", r2.Point{}}, {"ground under the rear wheel", r2.Point{X: l}}}
	case drawing.RearView:
		return []Landmark{{"left wheel's centre", r2.Point{X: -track, Y: r}}, {"right wheel's centre", r2.Point{X: track, Y: r}},
			{"ground under the left wheel", r2.Point{X: -track}}, {"ground under the right wheel", r2.Point{X: track}}}
	}
	front := d.TrackFrontMM / 2
	return []Landmark{{"front axle at the centre plane", r2.Point{}}, {"rear axle at the centre plane", r2.Point{X: l}},
		{"front left wheel's middle", r2.Point{Y: -front}}, {"front right wheel's middle", r2.Point{Y: front}},
		{"rear left wheel's middle", r2.Point{X: l, Y: -track}}, {"rear right wheel's middle", r2.Point{X: l, Y: track}}}
}

// Turning says how a picture is turned by two points clicked on it.
type Turning uint8

// The ways.
const (
	AsItIs  Turning = iota
	Level           // the two points lie level
	Upright         // the second point lies above the first
)

// Fitting is what is known of two points clicked on a picture.
type Fitting struct {
	Distance      float64   // between them, mm
	Turn          Turning   // not heeded where both points are known
	First, Second *r2.Point // where they are, if known
}

// Fitted returns a picture scaled, turned and moved so that two points a and b clicked on it are where they truly are.
// Where neither place is known the first point stays.
func Fitted(u layout.Underlay, a, b r2.Point, f Fitting) layout.Underlay {
	d := b.Sub(a)
	length, turn := f.Distance, turning(d, f.Turn)
	if f.First != nil && f.Second != nil {
		real := f.Second.Sub(*f.First)
		length, turn = real.Norm(), math.Atan2(real.Y, real.X)-math.Atan2(d.Y, d.X)
	}
	k := length / d.Norm()
	sin, cos := math.Sincos(turn)
	mapped := func(p r2.Point) r2.Point {
		o := p.Sub(a).Mul(k)
		return r2.Point{X: o.X*cos - o.Y*sin, Y: o.X*sin + o.Y*cos}
	}
	origin := a
	switch {
	case f.First != nil:
		origin = *f.First
	case f.Second != nil:
		origin = f.Second.Sub(mapped(b))
	}
	at := origin.Add(mapped(u.At.Point()))
	u.At = vehicles.XY{at.X, at.Y}
	u.MMPerPx *= k
	u.TurnDeg = math.Remainder(u.TurnDeg-turn*180/math.Pi, 360)
	return u
}

// turning is the turn in radians, anticlockwise, that puts the way from one point to another level or upright.
func turning(d r2.Point, t Turning) float64 {
	switch t {
	case Level:
		if d.X < 0 {
			d = d.Mul(-1)
		}
		return -math.Atan2(d.Y, d.X)
	case Upright:
		return math.Pi/2 - math.Atan2(d.Y, d.X)
	}
	return 0
}

// Moved returns a picture moved by mm of its view's plane.
func Moved(u layout.Underlay, by r2.Point) layout.Underlay {
	at := u.At.Point().Add(by)
	u.At = vehicles.XY{tidy(at.X), tidy(at.Y)}
	return u
}

// NewMovePicture returns the tool that takes a place on a picture and where it belongs.
func NewMovePicture(m *Model, done func(v drawing.View, a, b r2.Point)) *TwoPoints {
	return &TwoPoints{m: m, name: "Move the picture", done: done, snapTo: true,
		hints: [2]string{"Click a place on the picture that you know.", "Click where in the vehicle it belongs."}}
}
