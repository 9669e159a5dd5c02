package electric

import (
	"math"

	"stowbay/layout"
)

// Rated is a piece of gear at the pack's voltage, besides contactors, fuses, inverter and charger, and what it has
// to stand. LoadA is 0 where the string's current does not pass it.
type Rated struct {
	Gear  *layout.GearBody
	MaxV  float64 // the highest voltage it meets
	MinV  float64 // the lowest in use, for converters and heaters; 0: of no matter
	LoadA float64
}

// rated lists the gear whose ratings are compared in Rated.
func (r *Result) rated() {
	if len(r.Strings) == 0 {
		return
	}
	for _, g := range r.Scene.Gear {
		r.addRated(g, r.Load.ContinuousA)
	}
	for _, b := range r.Scene.Boxes {
		load := 0.0
		for _, i := range r.sharing(b) {
			load = max(load, math.Abs(r.Strings[i].ShareA))
		}
		for _, g := range b.Gear {
			r.addRated(g, load)
		}
	}
}

func (r *Result) addRated(g *layout.GearBody, load float64) {
	out := Rated{Gear: g, MaxV: r.highestV()}
	switch g.Gear.Kind {
	case "connector", "service_disconnect", "current_sensor", "junction":
		out.LoadA = load
	case "dc_dc", "heater":
		out.MinV = r.Window.MinV
	case "precharge", "isolation_monitor":
	default:
		return
	}
	r.Rated = append(r.Rated, out)
}
