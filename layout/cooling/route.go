package cooling

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// The loss coefficients of a hose: in and out of its fittings together, and each right-angled bend. From memory, not
// checked against a handbook's text.
const (
	fittingsK = 1.5
	bendK     = 0.9
)

// run is a hose between two places: along x, then y, then z.
func run(from, to string, a, b r3.Vector) Route {
	r := Route{From: from, To: to, Path: []r3.Vector{a}}
	for _, p := range []r3.Vector{{X: b.X, Y: a.Y, Z: a.Z}, {X: b.X, Y: b.Y, Z: a.Z}, b} {
		if d := p.Sub(r.Path[len(r.Path)-1]).Norm(); d > 0.5 {
			r.Path = append(r.Path, p)
			r.LengthMM += d
		}
	}
	return r
}

// hose is a route as a pipe.
func (r Route) hose(boreMM float64) *Node {
	bends := max(0, len(r.Path)-2)
	return &Node{Pipe: &Pipe{DiameterMM: boreMM, LengthMM: r.LengthMM, LossK: fittingsK + bendK*float64(bends)}}
}

// port is where coolant enters or leaves a module: its port of that kind, else its centre of gravity.
func port(b *layout.Body, kind string) r3.Vector {
	for _, p := range b.Ports {
		if p.Kind == kind {
			return p.Place
		}
	}
	return b.CG
}

// mouths are where hoses enter and leave a box: its hose openings, those nearest to where the hose comes from and goes
// to, else the ports of the modules themselves.
func mouths(b *layout.BoxScene) (in, out *r3.Vector) {
	var at []r3.Vector
	for i := range b.Box.Openings {
		if o := &b.Box.Openings[i]; o.Kind == "hose" {
			at = append(at, b.Frame.ToVehicle(o.At.Vector()))
		}
	}
	switch len(at) {
	case 0:
		return nil, nil
	case 1:
		return &at[0], &at[0]
	}
	return &at[0], &at[1]
}

func isPlate(b *layout.Body) bool { return b.Module.Cooling.Kind == "plate" }

// cooled are the modules of a box with a plate, in the order in which they were placed.
func cooled(b *layout.BoxScene) []*layout.Body {
	var out []*layout.Body
	for _, m := range b.Modules {
		if isPlate(m) {
			out = append(out, m)
		}
	}
	return out
}

const litresPerMinute = 60000 // in a cubic metre a second
