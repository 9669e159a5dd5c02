package electric

import (
	"math"

	"stowbay/layout"
)

// prechargedShare is how far the bus is precharged when the main contactor closes (common practice).
const prechargedShare = 0.95

// ContactorCheck is a contactor in a box and what is asked of it.
type ContactorCheck struct {
	Box       *layout.BoxScene
	Contactor *layout.GearBody
	NeedV     float64
	LoadA     float64
	PeakA     float64
	MakeA     float64 // what flows when it closes on a bus precharged to 95 %
	BreakA    float64 // the peak current: what it must open on at worst in service
	FaultA    float64 // prospective current; above its breaking current a fuse has to be quicker
}

// contactors checks every contactor in the boxes that strings pass.
func (r *Result) contactors() {
	for _, b := range r.Scene.Boxes {
		share := r.sharing(b)
		if len(share) == 0 {
			continue
		}
		load := 0.0
		for _, i := range share {
			load = max(load, math.Abs(r.Strings[i].ShareA))
		}
		for _, g := range b.Gear {
			if g.Gear.Kind == "contactor" {
				r.Contactors = append(r.Contactors, r.contactorCheck(b, g, load))
			}
		}
	}
}

func (r *Result) contactorCheck(b *layout.BoxScene, g *layout.GearBody, load float64) ContactorCheck {
	c := ContactorCheck{Box: b, Contactor: g, NeedV: r.highestV(), LoadA: load, FaultA: r.Sections.FaultA}
	if r.Load.ContinuousA > 0 {
		c.PeakA = r.Load.PeakA * load / r.Load.ContinuousA
	}
	c.BreakA = c.PeakA
	if r.Precharge.CapacitanceF > 0 {
		c.MakeA = (1 - prechargedShare) * r.highestV() / r.Window.Ohm
	}
	return c
}
