package search

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/vehicles"
)

// Sensitivity is what one more module in a box would do at kerb. The module is of the box's first type and its
// place the middle of those that stand there, or of the box; whether it fits and makes a usable string is not asked.
type Sensitivity struct {
	Arrangement  int // index of the column
	Box, Module  string
	FrontKg      float64 // on the front axle
	RearKg       float64 // on the rear axle
	FrontPoints  float64 // of the front axle's share
	SidePoints   float64 // of the right side over an even split
	HeightMM     float64 // of the centre of gravity
	EnergyKWh    float64 // that the module holds
	Text         string
	PlacesMiddle bool // the box is empty, so that its middle was taken
}

func sensitivities(column int, e *check.Evaluation) []Sensitivity {
	if len(e.Mass.Cases) == 0 {
		return nil
	}
	var out []Sensitivity
	usual := usualModule(e.Scene)
	for _, b := range e.Scene.Boxes {
		m, at := typical(b, usual)
		if m == nil {
			continue
		}
		s := moreOf(e, m, at)
		s.Arrangement, s.Box, s.Module, s.PlacesMiddle = column, b.Box.ID, m.ID, len(b.Modules) == 0
		s.Text = s.words()
		out = append(out, s)
	}
	return out
}

// words say it in a sentence: "One more nmc-355 in engine-box puts 14 kg on the rear axle and takes 3 kg off the front
// axle; the centre of gravity goes 1 mm down."
func (s *Sensitivity) words() string {
	more, less := axle{"front", s.FrontKg}, axle{"rear", s.RearKg}
	if s.RearKg > s.FrontKg {
		more, less = less, more
	}
	second := fmt.Sprintf("%.0f kg on the %s axle", less.kg, less.name)
	if less.kg < 0 {
		second = fmt.Sprintf("takes %.0f kg off the %s axle", -less.kg, less.name)
	}
	return fmt.Sprintf("One more %s in %s puts %.0f kg on the %s axle and %s; the centre of gravity %s.", s.Module, s.Box, more.kg, more.name, second, heightWords(s.HeightMM))
}

type axle struct {
	name string
	kg   float64
}

func heightWords(mm float64) string {
	switch {
	case math.Abs(mm) < 0.5:
		return "keeps its height"
	case mm < 0:
		return fmt.Sprintf("goes %.0f mm down", -mm)
	}
	return fmt.Sprintf("goes %.0f mm up", mm)
}

// usualModule is the module type of the first box that holds any.
func usualModule(s *layout.Scene) *vehicles.Module {
	for _, b := range s.Boxes {
		if len(b.Modules) > 0 {
			return b.Modules[0].Module
		}
	}
	return nil
}

func typical(b *layout.BoxScene, usual *vehicles.Module) (*vehicles.Module, r3.Vector) {
	if len(b.Modules) == 0 {
		lo, hi := b.Outer.Bounds()
		return usual, lo.Add(hi).Mul(0.5)
	}
	var c r3.Vector
	for _, m := range b.Modules {
		c = c.Add(m.CG)
	}
	return b.Modules[0].Module, c.Mul(1 / float64(len(b.Modules)))
}

// moreOf works out a module more by moments about the axles.
func moreOf(e *check.Evaluation, m *vehicles.Module, at r3.Vector) Sensitivity {
	w := wheelsOf(e.Scene.Donor, &e.Mass.Cases[0].Now)
	before := rowOf(e.Mass.Now)
	after := before.plus(pointRow(m.MassKg, at), 1)
	return Sensitivity{
		FrontKg:     w.frontKg(&after) - w.frontKg(&before),
		RearKg:      w.rearKg(&after) - w.rearKg(&before),
		FrontPoints: w.frontPct(&after) - w.frontPct(&before),
		SidePoints:  w.sidePct(after[0], after[2], w.rollShare(&after)) - w.sidePct(before[0], before[2], w.rollShare(&before)),
		HeightMM:    after[3]/after[0] - before[3]/before[0],
		EnergyKWh:   m.EnergyKWh(),
	}
}
