package electric

import "math"

// Branch is a string as a source: its open-circuit voltage in volts behind its resistance in ohms.
type Branch struct{ V, Ohm float64 }

// Parallel is the solution of branches between two common bars.
type Parallel struct {
	V   float64   // between the bars
	A   []float64 // delivered by each branch; negative: it is being charged
	Ohm float64   // of all branches side by side
}

// SolveParallel returns the voltage and the branch currents of strings in parallel that together deliver a
// current, by Millman's theorem (Kirchhoff's current law at the positive bar). A resistance that is not
// positive counts as a micro-ohm. Without branches all is zero.
func SolveParallel(bs []Branch, load float64) Parallel {
	if len(bs) == 0 {
		return Parallel{}
	}
	g, inject := 0.0, 0.0
	for _, b := range bs {
		g += 1 / b.ohm()
		inject += b.V / b.ohm()
	}
	out := Parallel{V: (inject - load) / g, Ohm: 1 / g, A: make([]float64, len(bs))}
	for i, b := range bs {
		out.A[i] = (b.V - out.V) / b.ohm()
	}
	return out
}

func (b Branch) ohm() float64 { return math.Max(b.Ohm, 1e-6) }

// Potentials returns the potentials along a chain of sources in series against the chain's start: one more than
// there are sources. A source connected the other way round has a negative voltage.
func Potentials(sources []float64) []float64 {
	out := make([]float64, len(sources)+1)
	for i, v := range sources {
		out[i+1] = out[i] + v
	}
	return out
}
