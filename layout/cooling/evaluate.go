package cooling

import (
	"fmt"

	"stowbay/layout"
)

// Evaluate works out how a scene's modules are cooled at a heat.
func Evaluate(s *layout.Scene, h Heat) *Result {
	set := s.Plan.Settings.Cooling
	r := &Result{Scene: s, CurrentA: h.CurrentA, Worst: -1, InletC: or(set.InletC, 25), Coolant: Coolant{Glycol: or(set.GlycolPct, 50) / 100}}
	s.Bodies(func(_ *layout.BoxScene, b *layout.Body) {
		w := h.W[b.ID]
		r.HeatW += w
		if isPlate(b) {
			r.Cooled++
		} else {
			r.Air = append(r.Air, AirCooled{b, w, b.Module.Cooling.AirLimitW})
		}
	})
	if r.Cooled == 0 {
		return r
	}
	r.findGear()
	r.solve(h)
	r.warmUp()
	return r
}

func or(v, d float64) float64 {
	if v == 0 {
		return d
	}
	return v
}

// findGear finds pump and radiator: those the loop names, else the first of their kind outside the boxes.
func (r *Result) findGear() {
	l := r.Scene.Arrangement.Loop
	r.Pump, r.Radiator = r.gear(l.Pump, "pump"), r.gear(l.Radiator, "radiator")
}

func (r *Result) gear(id, kind string) *layout.GearBody {
	for _, g := range r.Scene.Gear {
		if id != "" && g.ID == id || id == "" && g.Gear.Kind == kind {
			return g
		}
	}
	return nil
}

// solve builds the network and, where there is a pump with a curve, solves it.
func (r *Result) solve(h Heat) {
	switch {
	case r.Pump == nil:
		r.Stopped = "no pump is placed"
		return
	case r.Pump.Gear.FlowLPerMin <= 0 || r.Pump.Gear.HeadKPa <= 0:
		r.Stopped = fmt.Sprintf("the pump %s states no flow or no pressure", r.Pump.ID)
		return
	}
	l := &loop{r: r, heat: h, bore: or(r.Scene.Arrangement.Loop.HoseMM, 16), seen: map[*layout.Body]bool{}}
	n, sides, names := l.whole()
	r.findOutside(l.seen)
	if len(l.plates) == 0 {
		r.Stopped = "no branch of the loop passes a module with a plate"
		return
	}
	p := Pump{HeadPa: 1000 * r.Pump.Gear.HeadKPa, MostFlow: r.Pump.Gear.FlowLPerMin / litresPerMinute}
	if !n.Solve(p, r.Coolant, r.InletC) {
		r.Stopped = "the flows did not settle"
		return
	}
	r.Flows = true
	r.FlowLPM, r.HeadKPa, r.OutC = n.Flow*litresPerMinute, p.At(n.Flow)/1000, n.OutC
	r.fill(l, sides, names)
	r.assume(l)
}

func (r *Result) findOutside(seen map[*layout.Body]bool) {
	r.Scene.Bodies(func(_ *layout.BoxScene, b *layout.Body) {
		if isPlate(b) && !seen[b] {
			r.Outside = append(r.Outside, b)
		}
	})
}

// fill reads the solved network out.
func (r *Result) fill(l *loop, sides []*Node, names []string) {
	count := map[string]int{}
	for _, p := range l.plates {
		r.Plates = append(r.Plates, r.plate(p))
		count[p.branch]++
	}
	for i, s := range sides {
		r.Branches = append(r.Branches, Branch{ID: names[i], FlowLPM: s.Flow * litresPerMinute, OutC: s.OutC, Modules: count[names[i]]})
	}
	r.extremes()
	for _, t := range l.tips {
		r.Sensors = append(r.Sensors,
			Sensor{t.branch, "inlet", t.first.ID, port(t.first, "coolant_in")},
			Sensor{t.branch, "outlet", t.last.ID, port(t.last, "coolant_out")})
	}
	if r.Worst >= 0 {
		p := &r.Plates[r.Worst]
		r.Sensors = append(r.Sensors, Sensor{p.Branch, "hottest", p.Body.ID, port(p.Body, "coolant_out")})
	}
}

func (r *Result) plate(p plateNode) Plate {
	n := p.node
	out := Plate{Body: p.body, Branch: p.branch, HeatW: n.HeatW, FlowLPM: n.Flow * litresPerMinute, DropKPa: n.DropPa / 1000, InC: n.InC, OutC: n.OutC}
	if n.Pipe.DiameterMM > 0 {
		out.Re = n.Pipe.Reynolds(n.Flow, n.fluid)
	}
	if k := p.body.Module.Cooling.WPerK; k > 0 {
		out.CellC, out.Known = (n.InC+n.OutC)/2+n.HeatW/k, true
	}
	return out
}

// extremes finds the hottest module and the spread.
func (r *Result) extremes() {
	var least float64
	for i := range r.Plates {
		p := &r.Plates[i]
		if !p.Known {
			continue
		}
		if r.Worst < 0 {
			r.Worst, least = i, p.CellC
		}
		if p.CellC > r.Plates[r.Worst].CellC {
			r.Worst = i
		}
		least = min(least, p.CellC)
	}
	if r.Worst >= 0 {
		r.SpreadK = r.Plates[r.Worst].CellC - least
	}
}

// assume says what was taken where nothing is stated.
func (r *Result) assume(l *loop) {
	add := func(is bool, words string) {
		if is {
			r.Assumed = append(r.Assumed, words)
		}
	}
	loop := r.Scene.Arrangement.Loop
	add(loop.HoseMM == 0, "hoses of 16 mm bore")
	add(len(loop.Branches) == 0, "all boxes in one branch, in their order, modules in series in the order in which they were placed")
	add(len(loop.Branches) > 0, "modules in a box passed in the order in which they were placed")
	add(r.Radiator == nil, "no radiator: the loop runs from the pump and back")
	add(r.Radiator != nil, "no pressure lost in the radiator or in gear, as their data state none")
	add(true, "hoses run along the axes; 1.5 velocity heads for the fittings of a hose and 0.9 for a bend, from memory")
}

// jPerKgK is the heat capacity of a module that states none, J a kilogram and kelvin (common practice, from memory).
const jPerKgK = 1000

// warmUp works out the heat that warming the plated modules and their coolant takes, and how long the heaters placed
// need for it.
func (r *Result) warmUp() {
	set := r.Scene.Plan.Settings.Cooling
	w := &r.Warm
	w.FromC, w.ToC = set.WarmFromC, or(set.WarmToC, 15)
	r.Scene.Bodies(func(_ *layout.BoxScene, b *layout.Body) {
		if !isPlate(b) {
			return
		}
		if j := b.Module.Cooling.JPerK; j > 0 {
			w.JPerK += j
		} else {
			w.JPerK += jPerKgK * b.Module.MassKg
			w.Estimated = true
		}
	})
	for _, g := range r.Scene.Gear {
		if g.Gear.Kind == "heater" {
			w.HeaterW += 1000 * g.Gear.PowerKW
		}
	}
	mean := (w.FromC + w.ToC) / 2
	w.JPerK += r.VolumeL / 1000 * r.Coolant.DensityKgM3(mean) * r.Coolant.HeatCapacityJKgK(mean)
	if w.HeaterW > 0 {
		w.Seconds = max(0, w.JPerK*(w.ToC-w.FromC)/w.HeaterW)
	}
}
