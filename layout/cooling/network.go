package cooling

import "math"

// Node is a part of a flow network: one pipe, or parts one after the other, or parts side by side. Solve fills in
// flow and temperatures.
type Node struct {
	Pipe     *Pipe
	Series   []*Node
	Parallel []*Node
	HeatW    float64 // given to the coolant in this pipe

	Flow          float64 // m3/s
	DropPa        float64
	InC, OutC     float64
	fluid         Fluid
	source, slope float64
}

// Pump is a pump's curve: HeadPa without flow, falling as a parabola to nothing at MostFlow in m3/s.
type Pump struct{ HeadPa, MostFlow float64 }

// At is the pressure at a flow.
func (p Pump) At(flow float64) float64 { return p.HeadPa * (1 - flow*flow/(p.MostFlow*p.MostFlow)) }

// meet is the flow at which the pump gives source + slope x flow.
func (p Pump) meet(source, slope float64) float64 {
	a := p.HeadPa / (p.MostFlow * p.MostFlow)
	c := p.HeadPa - source
	if c <= 0 {
		return 0
	}
	return 2 * c / (slope + math.Sqrt(slope*slope+4*a*c))
}

// The rounds and the accuracy of the solution.
const (
	mostRounds = 80
	passes     = 6    // of temperatures, each with the properties of the one before
	accuracy   = 1e-9 // of the pump's greatest flow
	sameC      = 1e-3 // temperatures that are taken as the same, K
)

// Solve finds the flows of a closed loop at the pump's curve and the temperatures along it from an inlet temperature.
// It returns whether the flows settled. The temperatures and the properties follow one another in a few passes.
func (n *Node) Solve(p Pump, c Coolant, inletC float64) (settled bool) {
	m := c.mixture()
	n.start(p.MostFlow/2, m.fluid(inletC))
	for range passes {
		was := n.OutC
		settled = n.flows(p)
		if out := n.warm(m, m.density.at(inletC), inletC); math.Abs(out-was) < sameC {
			break
		}
	}
	return settled
}

// start spreads a first flow.
func (n *Node) start(flow float64, f Fluid) {
	n.Flow, n.fluid = flow, f
	for _, m := range n.Series {
		m.start(flow, f)
	}
	for _, m := range n.Parallel {
		m.start(flow/float64(len(n.Parallel)), f)
	}
}

// flows is Newton's method on the whole network: every pipe is replaced by its tangent, pressure = source + slope x
// flow; tangents in series add, and in parallel give one tangent again, so that a round is exact for the tangents.
// After some rounds steps are halved, which settles what jumps about the kinks between laminar and turbulent.
func (n *Node) flows(p Pump) bool {
	for round := range mostRounds {
		n.tangent()
		q := p.meet(n.source, n.slope)
		share := 1.0
		if round > 12 {
			share = 0.5
		}
		if n.spread(q, share) < accuracy*p.MostFlow {
			n.tangent()
			return true
		}
	}
	return false
}

// tangent works out source and slope of the part, from the bottom up, and the drop at the flow.
func (n *Node) tangent() {
	switch {
	case n.Pipe != nil:
		pa, slope := n.Pipe.drop(n.Flow, n.fluid)
		n.DropPa, n.slope = pa, slope+leastSlope
		n.source = pa - slope*n.Flow
	case len(n.Parallel) > 0:
		n.side()
	default:
		n.source, n.slope, n.DropPa = 0, 0, 0
		for _, m := range n.Series {
			m.tangent()
			n.source += m.source
			n.slope += m.slope
			n.DropPa += m.DropPa
		}
	}
}

// leastSlope keeps a part without resistance from dividing by nothing, Pa s/m3.
const leastSlope = 1e-3

// side joins tangents in parallel: flow = sum of (pressure - source) / slope.
func (n *Node) side() {
	var conductance, from float64
	n.DropPa = 0
	for _, m := range n.Parallel {
		m.tangent()
		s := max(m.slope, leastSlope)
		conductance += 1 / s
		from += m.source / s
		n.DropPa += m.DropPa / float64(len(n.Parallel))
	}
	n.slope = 1 / conductance
	n.source = from / conductance
}

// spread hands a flow down by the tangents and returns the largest change of a pipe's flow.
func (n *Node) spread(flow, share float64) float64 {
	change := 0.0
	switch {
	case n.Pipe != nil:
		step := share * (flow - n.Flow)
		n.Flow += step
		return math.Abs(step)
	case len(n.Parallel) > 0:
		pressure := n.source + n.slope*flow
		for _, m := range n.Parallel {
			change = max(change, m.spread((pressure-m.source)/max(m.slope, leastSlope), share))
		}
	default:
		for _, m := range n.Series {
			change = max(change, m.spread(flow, share))
		}
	}
	n.Flow = flow
	return change
}

// warm carries a temperature through the part and returns the one at its end; properties follow the mean. The mass
// flow is the flow times the density at the loop's inlet, as mass is what stays the same along the loop.
func (n *Node) warm(x *mixture, inlet, inC float64) float64 {
	n.InC, n.OutC = inC, inC
	switch {
	case n.Pipe != nil:
		if flow := n.Flow * inlet; flow > 0 {
			n.OutC = x.tempAt(x.enthalpy(inC)+n.HeatW/flow, inC)
		}
		n.fluid = x.fluid((n.InC + n.OutC) / 2)
	case len(n.Parallel) > 0:
		n.OutC = n.mixed(x, inlet, inC)
	default:
		for _, m := range n.Series {
			n.OutC = m.warm(x, inlet, n.OutC)
		}
	}
	return n.OutC
}

// mixed is the temperature where parallel parts join.
func (n *Node) mixed(x *mixture, inlet, inC float64) float64 {
	flow, heat := 0.0, 0.0
	for _, m := range n.Parallel {
		out := m.warm(x, inlet, inC)
		flow += m.Flow
		heat += m.Flow * x.enthalpy(out)
	}
	if flow <= 0 {
		return inC
	}
	return x.tempAt(heat/flow, n.Parallel[0].OutC)
}
