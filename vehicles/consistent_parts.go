package vehicles

import (
	"fmt"
	"math"
	"slices"
)

// Problems reports what is wrong with the module as a whole.
func (m *Module) Problems(report func(path, msg string)) {
	size := XYZ{m.LengthMM, m.WidthMM, m.HeightMM}
	if m.WidthMM > m.LengthMM {
		report("width_mm", fmt.Sprintf("%g is more than length_mm; the length is the longer of the two", m.WidthMM))
	}
	for i, p := range m.Postures {
		if slices.Contains(m.Postures[:i], p) {
			report(fmt.Sprintf("postures[%d]", i), string(p)+" is given twice")
		}
	}
	terminals(m.Terminals, size, report)
	bothPoles(m.Terminals, report)
	unique("ports", ".id", m.Ports, func(p *Port) string { return p.ID }, report)
	for i, p := range m.Ports {
		onFace(fmt.Sprintf("ports[%d].at_mm", i), p.Face, p.At, size, report)
	}
	if m.CGAt != nil && !inBody(*m.CGAt, size, 0) {
		report("cg_at_mm", fmt.Sprintf("lies outside the module; allowed is up to [%g, %g, %g]", m.LengthMM, m.WidthMM, m.HeightMM))
	}
	if m.TempMaxC != 0 && m.TempMinC >= m.TempMaxC {
		report("temperature_max_c", fmt.Sprintf("%g must be above temperature_min_c, which is %g", m.TempMaxC, m.TempMinC))
	}
}

// Problems reports what is wrong with the cell's voltages.
func (c *Cell) Problems(report func(path, msg string)) {
	if c.MinV >= c.NominalV {
		report("min_v", fmt.Sprintf("%g must be below nominal_v, which is %g", c.MinV, c.NominalV))
	}
	if c.MaxV <= c.NominalV {
		report("max_v", fmt.Sprintf("%g must be above nominal_v, which is %g", c.MaxV, c.NominalV))
	}
	c.openCircuit(report)
}

// openCircuit wants the curve to rise, from empty to full, within the cell's window.
func (c *Cell) openCircuit(report report) {
	for i, p := range c.OpenV {
		at := fmt.Sprintf("open_circuit[%d]", i)
		if p.V < c.MinV || p.V > c.MaxV {
			report(at+".v", fmt.Sprintf("%g lies outside the cell's window of %g to %g V", p.V, c.MinV, c.MaxV))
		}
		if i == 0 {
			continue
		}
		if last := c.OpenV[i-1]; p.SOCPct <= last.SOCPct {
			report(at+".soc_pct", fmt.Sprintf("%g must be more than the %g before it", p.SOCPct, last.SOCPct))
		} else if p.V <= last.V {
			report(at+".v", fmt.Sprintf("%g must be more than the %g before it; the curve rises", p.V, last.V))
		}
	}
	if n := len(c.OpenV); n > 0 && (n < 2 || c.OpenV[0].SOCPct != 0 || c.OpenV[n-1].SOCPct != 100) {
		report("open_circuit", "must run from 0 to 100 % state of charge: the first point at soc_pct 0, the last at 100")
	}
}

// Problems reports what is wrong with the current limits.
func (c *Currents) Problems(report func(path, msg string)) {
	peak("peak_a", c.PeakA, c.ContinuousA, "continuous_a", report)
	peak("regen_a", c.RegenA, c.ChargeA, "charge_a", report)
	if c.PeakA > 0 && c.PeakS == 0 {
		report("peak_s", "is missing; a peak current needs its time")
	}
}

// peak wants a peak that is given to be no less than the continuous value.
func peak(field string, peak, continuous float64, other string, report report) {
	if peak > 0 && peak < continuous {
		report(field, fmt.Sprintf("%g is less than %s, which is %g", peak, other, continuous))
	}
}

// Problems reports what is wrong with the swelling allowance.
func (s *Swelling) Problems(report func(path, msg string)) {
	if s.MM > 0 && s.Axis == "" {
		report("axis", "is missing; want length, width or height")
	}
}

// Problems reports what is wrong with the piece of gear as a whole.
func (g *Gear) Problems(report func(path, msg string)) {
	terminals(g.Terminals, XYZ{g.LengthMM, g.WidthMM, g.HeightMM}, report)
	if g.VoltageMaxV > 0 && g.VoltageMinV >= g.VoltageMaxV {
		report("voltage_min_v", fmt.Sprintf("%g must be below voltage_max_v, which is %g", g.VoltageMinV, g.VoltageMaxV))
	}
	peak("peak_a", g.PeakA, g.ContinuousA, "continuous_a", report)
	peak("peak_power_kw", g.PeakPowerKW, g.PowerKW, "power_kw", report)
	peak("clearing_a2s", g.ClearingA2S, g.MeltingA2S, "melting_a2s", report)
}

// terminals wants every terminal to have a name of its own and to sit on its face.
func terminals(ts []Terminal, size XYZ, report report) {
	unique("terminals", ".id", ts, func(t *Terminal) string { return t.ID }, report)
	for i, t := range ts {
		onFace(fmt.Sprintf("terminals[%d].at_mm", i), t.Face, t.At, size, report)
	}
}

func bothPoles(ts []Terminal, report report) {
	poles := map[string]bool{}
	for _, t := range ts {
		poles[t.Polarity] = true
	}
	for _, p := range []string{"positive", "negative"} {
		if len(ts) > 0 && !poles[p] {
			report("terminals", "have no "+p+" one; a module needs both")
		}
	}
}

// faceReach is how far a terminal or port may stand out of its face or be sunk into it, in millimetres.
const faceReach = 30

// onFace wants a terminal or port to be where its face is.
func onFace(path string, f Face, at, size XYZ, report report) {
	axis, far := f.axis()
	if axis < 0 {
		return // an unknown face is reported by its own field
	}
	plane := 0.0
	if far {
		plane = size[axis]
	}
	if math.Abs(at[axis]-plane) > faceReach || !inBody(at, size, faceReach) {
		report(path, fmt.Sprintf("[%g, %g, %g] is not on the %s face of a body of %g x %g x %g mm; that face lies at %s = %g, and up to %d mm out of it are allowed",
			at[0], at[1], at[2], f, size[0], size[1], size[2], "xyz"[axis:axis+1], plane, faceReach))
	}
}

// axis is the coordinate that a face is square to, and whether it is the face away from the origin.
func (f Face) axis() (axis int, far bool) {
	switch f {
	case Front, Back:
		return 0, f == Back
	case Left, Right:
		return 1, f == Right
	case Bottom, Top:
		return 2, f == Top
	}
	return -1, false
}

func inBody(at, size XYZ, margin float64) bool {
	for i := range at {
		if at[i] < -margin || at[i] > size[i]+margin {
			return false
		}
	}
	return true
}
