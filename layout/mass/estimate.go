package mass

import (
	"math"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// The estimates below stand in until the electric and cooling subjects say more. Each is stated in its entry's
// note, has a half width of a quarter, and is from practice without a source.
const (
	copperKgPerMM3   = 8.9e-6 // conductor copper, as the table of DIN 43671 has it
	linkMM2          = 50     // section of a link where none is given
	cableMM2         = 50     // section of a traction cable where none is given
	cableOverCopper  = 1.5    // screened cable with insulation against its bare copper
	hoseKgPerM       = 0.35   // empty coolant hose
	estimatePlaceMM  = 50
	slackOverTheAxes = 1.1 // cable and hose against the way along the axes
)

// linkEntry estimates the links between a box's modules: one for each module but the last, as long as the
// shorter side of the module's plan.
func linkEntry(b *layout.BoxScene, el layout.Electric, d defaults) Entry {
	var s sum
	for i, m := range b.Modules {
		if i > 0 {
			e := m.Pose.Extent()
			kg := or(el.LinkMM2, linkMM2) * min(e.X, e.Y) * copperKgPerMM3
			s.exact(kg, r3.Vector{X: m.CG.X, Y: m.CG.Y, Z: m.Prism.Top}, Second{})
		}
	}
	e := s.entry(b.Box.ID+"/links", Links, b.Box.ID, "links between modules", len(b.Modules)-1, Estimate)
	e.PlaceMM = estimatePlaceMM
	e.Note = "one copper link a module, as long as the module's shorter side in plan"
	return e.settle(0, d)
}

// coolantEntry is the coolant in a box's module plates.
func coolantEntry(b *layout.BoxScene, c layout.Cooling, d defaults) Entry {
	var s sum
	n := 0
	for _, m := range b.Modules {
		if v := m.Module.Cooling.VolumeL; v > 0 {
			s.exact(v*coolantKgPerL(c), m.CG, Second{})
			n++
		}
	}
	e := s.entry(b.Box.ID+"/coolant", Coolant, b.Box.ID, "coolant in the modules", n, "datasheet")
	return e.settle(0, d)
}

// coolantKgPerL is the density of ethylene glycol and water at 20 C: a straight line from water (998.2 kg/m3)
// to 50 % by mass (1064.9 kg/m3, Melinder 2010), which meets his 40 % within 0.1 %.
func coolantKgPerL(c layout.Cooling) float64 {
	return (998.2 + (1064.9-998.2)*or(c.GlycolPct, 50)/50) / 1000
}

// cableEntries estimates the traction cables: those of the plan, or else one conductor from the inverter through
// the boxes in their order and back, along the axes.
func (r *Result) cableEntries(d defaults) []Entry {
	s := r.Scene
	el := s.Plan.Settings.Electric
	if len(s.Arrangement.Cables) > 0 {
		return plannedCables(s, el, d)
	}
	stops := r.round(s.Plan.Settings.Inverter, func(*boxWeight) bool { return true })
	if len(stops) < 2 {
		return nil
	}
	e := cableEntry("cables", "traction cables", stops, or(el.CableMM2, cableMM2))
	e.Note = "one conductor from the inverter through the boxes in their order and back, along the axes"
	return []Entry{e.settle(0, d)}
}

// round is the way through the middles of the boxes wanted, in their order, from and to the gear given where
// that stands outside the boxes.
func (r *Result) round(gear string, wanted func(*boxWeight) bool) []r3.Vector {
	stops := make([]r3.Vector, 0, len(r.boxes)+2)
	p, ok := gearMiddle(r.Scene, gear)
	if ok {
		stops = append(stops, p)
	}
	for _, b := range r.boxes {
		if wanted(b.of) {
			stops = append(stops, b.of.middle)
		}
	}
	if ok && len(stops) > 1 {
		stops = append(stops, p)
	}
	return stops
}

func plannedCables(s *layout.Scene, el layout.Electric, d defaults) []Entry {
	var out []Entry
	for i := range s.Arrangement.Cables {
		c := &s.Arrangement.Cables[i]
		from, ok := middle(s, c.From)
		to, ok2 := middle(s, c.To)
		if !ok || !ok2 {
			continue
		}
		stops := []r3.Vector{from}
		for _, v := range c.Via {
			stops = append(stops, v.Vector())
		}
		e := cableEntry("cables/"+c.ID, "cable "+c.ID, append(stops, to), or(c.SectionMM2, or(el.CableMM2, cableMM2)))
		e.Note = "from middle to middle along the axes over the points given"
		out = append(out, e.settle(0, d))
	}
	return out
}

func cableEntry(id, name string, stops []r3.Vector, mm2 float64) Entry {
	e := run(stops, mm2*copperKgPerMM3*cableOverCopper).entry(id, Cables, "", name, 1, Estimate)
	e.PlaceMM = estimatePlaceMM
	return e
}

// run is a line laid along x, then y, then z from stop to stop, with a mass for each millimetre.
func run(stops []r3.Vector, kgPerMM float64) *sum {
	var s sum
	for i := 1; i < len(stops); i++ {
		p, q := stops[i-1], stops[i]
		corners := []r3.Vector{p, {X: q.X, Y: p.Y, Z: p.Z}, {X: q.X, Y: q.Y, Z: p.Z}, q}
		for k := 1; k < 4; k++ {
			a, b := corners[k-1], corners[k]
			kg := b.Sub(a).Norm() * kgPerMM * slackOverTheAxes
			s.exact(kg, a.Add(b).Mul(0.5), pointSecond(kg/12, b.Sub(a)))
		}
	}
	return &s
}

// hoseEntries estimates hoses and the coolant in them: from the pump through the boxes with plates and back.
func (r *Result) hoseEntries(d defaults) []Entry {
	loop := r.Scene.Arrangement.Loop
	stops := r.round(loop.Pump, (*boxWeight).cooled)
	if len(stops) < 2 {
		return nil
	}
	bore := or(loop.HoseMM, 16)
	perMM := math.Pi/4*bore*bore*1e-6*coolantKgPerL(r.Scene.Plan.Settings.Cooling) + hoseKgPerM/1000
	e := run(stops, perMM).entry("hoses", Coolant, "", "hoses and the coolant in them", 1, Estimate)
	e.PlaceMM = estimatePlaceMM
	e.Note = "from the pump through the cooled boxes in their order and back, along the axes"
	return []Entry{e.settle(0, d)}
}

// cooled tells whether any module in the box has a coolant plate.
func (w *boxWeight) cooled() bool {
	for _, t := range w.types {
		if t.module.Cooling.Kind == "plate" || t.module.Cooling.VolumeL > 0 {
			return true
		}
	}
	return false
}

func boxMiddle(b *layout.BoxScene) r3.Vector {
	lo, hi := b.Outer.Bounds()
	return lo.Add(hi).Mul(0.5)
}

// middle is the middle of a box or of a piece of gear outside the boxes.
func middle(s *layout.Scene, id string) (r3.Vector, bool) {
	if b := s.Box(id); b != nil {
		return boxMiddle(b), true
	}
	return gearMiddle(s, id)
}

// gearMiddle finds gear outside the boxes by the id of its place or, failing that, of its record.
func gearMiddle(s *layout.Scene, id string) (r3.Vector, bool) {
	for _, g := range s.Gear {
		if g.ID == id {
			return g.CG, true
		}
	}
	for _, g := range s.Gear {
		if g.Gear.ID == id {
			return g.CG, true
		}
	}
	return r3.Vector{}, false
}
