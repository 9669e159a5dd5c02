package electric

import (
	"math"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// port is a place where conductors leave a box, in the box's frame and the vehicle's.
type port struct {
	ref   string // opening or gear id; "" where the box has none and the middle of a wall stands in
	at    r3.Vector
	place r3.Vector
}

// portsOf returns the connectors of a box: openings for connectors, else connectors placed as gear, else the
// middles of its four walls.
func portsOf(b *layout.BoxScene) []port {
	var out []port
	for i := range b.Box.Openings {
		if o := &b.Box.Openings[i]; o.Kind == "connector" {
			out = append(out, portAt(b, o.ID, o.At.Vector()))
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, g := range b.Gear {
		if g.Gear.Kind == "connector" {
			out = append(out, portAt(b, g.ID, g.Pose.At.Add(g.Pose.Extent().Mul(0.5))))
		}
	}
	if len(out) > 0 {
		return out
	}
	return wallPorts(b)
}

func portAt(b *layout.BoxScene, ref string, at r3.Vector) port {
	return port{ref: ref, at: at, place: b.Frame.ToVehicle(at)}
}

func wallPorts(b *layout.BoxScene) []port {
	lo, hi := outerBounds(b.Box)
	c := lo.Add(hi).Mul(0.5)
	return []port{
		portAt(b, "", r3.Vector{X: lo.X, Y: c.Y, Z: c.Z}),
		portAt(b, "", r3.Vector{X: hi.X, Y: c.Y, Z: c.Z}),
		portAt(b, "", r3.Vector{X: c.X, Y: lo.Y, Z: c.Z}),
		portAt(b, "", r3.Vector{X: c.X, Y: hi.Y, Z: c.Z}),
	}
}

// outerBounds is the box's outer shape as its least and greatest corner, in its own frame.
func outerBounds(b *layout.Box) (lo, hi r3.Vector) {
	inf := math.Inf(1)
	lo, hi = r3.Vector{X: inf, Y: inf, Z: inf}, r3.Vector{X: -inf, Y: -inf, Z: -inf}
	for i := range b.Levels {
		l := &b.Levels[i]
		for _, p := range l.Outline {
			lo = r3.Vector{X: min(lo.X, p[0]), Y: min(lo.Y, p[1]), Z: min(lo.Z, l.FloorMM)}
			hi = r3.Vector{X: max(hi.X, p[0]), Y: max(hi.Y, p[1]), Z: max(hi.Z, l.CeilingMM)}
		}
	}
	if lo.X > hi.X {
		return r3.Vector{}, r3.Vector{}
	}
	return lo, hi
}

// nearestPort is the port nearest along the axes to a place in the vehicle. Where the box has several connectors it
// is not the one to skip, if any; where it has none yet, both cables may leave by one wall.
func (f *boxFacts) nearestPort(to r3.Vector, skip int) (at int) {
	best := math.Inf(1)
	for i, p := range f.ports {
		if i == skip && p.ref != "" && len(f.ports) > 1 {
			continue
		}
		if d := alongAxes(p.place, to); d < best {
			best, at = d, i
		}
	}
	return at
}

// alongAxes is the length of a way along the axes.
func alongAxes(a, b r3.Vector) float64 {
	d := a.Sub(b).Abs()
	return d.X + d.Y + d.Z
}

// centreOf is the middle of a box's bounds in the vehicle.
func centreOf(b *layout.BoxScene) r3.Vector {
	lo, hi := outerBounds(b.Box)
	return b.Frame.ToVehicle(lo.Add(hi).Mul(0.5))
}
