package search

import (
	"math"
	"slices"
)

// Objective is one figure by which arrangements are compared.
type Objective int

// The objectives. All but Energy are the better the less they are.
const (
	Energy    Objective = iota // nominal energy, kWh
	Mass                       // kerb mass of the converted vehicle, kg
	FrontOff                   // front axle's share at kerb off the target, percentage points
	Height                     // centre of gravity above the ground, mm
	Side                       // right or left side over an even split, percentage points
	Cable                      // traction cable, m
	Boxes                      // boxes used
	LiveSteps                  // joints made at a hazardous voltage
	Cost                       // modules and the gear in the boxes used, in the plan's money

	objectives = int(Cost) + 1
)

// objectiveOf describes the objectives.
var objectiveOf = [objectives]struct {
	key, label, unit string
	step             float64
}{
	{"energy_kwh", "energy", "kWh", 0.1},
	{"mass_kg", "kerb mass", "kg", 1},
	{"front_off_points", "front share off target", "points", 0.1},
	{"cg_height_mm", "centre of gravity above the ground", "mm", 1},
	{"side_points", "side over an even split", "points", 0.1},
	{"cable_m", "traction cable", "m", 0.1},
	{"boxes", "boxes", "", 1},
	{"live_steps", "live assembly steps", "", 1},
	{"cost", "cost", "money", 1},
}

// Objectives are all objectives in their order.
func Objectives() []Objective {
	out := make([]Objective, objectives)
	for i := range out {
		out[i] = Objective(i)
	}
	return out
}

// Key is the objective's stable name.
func (o Objective) Key() string { return objectiveOf[o].key }

// Label is the objective in words, Unit its unit.
func (o Objective) Label() string { return objectiveOf[o].label }

// Unit is the unit of the objective's values; empty for counts, "money" for the plan's.
func (o Objective) Unit() string { return objectiveOf[o].unit }

// More tells whether a greater value is better.
func (o Objective) More() bool { return o == Energy }

// ObjectiveOf finds an objective by its key.
func ObjectiveOf(key string) (Objective, bool) {
	for i, o := range objectiveOf {
		if o.key == key {
			return Objective(i), true
		}
	}
	return 0, false
}

// Values are an arrangement's figures, one an objective.
type Values [objectives]float64

// Resolution is the step to which each objective is rounded before arrangements are compared. A zero means the
// default: 0.1 kWh, 1 kg, 0.1 points, 1 mm, 0.1 points, 0.1 m, 1 of boxes, steps and money.
type Resolution [objectives]float64

func (r Resolution) filled() Resolution {
	for i := range r {
		if r[i] <= 0 {
			r[i] = objectiveOf[i].step
		}
	}
	return r
}

// rounded is a figure in whole steps, less being better.
func (r *Resolution) rounded(o Objective, v float64) int32 {
	n := int32(math.Round(v / r[o]))
	if o.More() {
		return -n
	}
	return n
}

// active says which objectives count.
func active(want []Objective, priced bool) (on [objectives]bool) {
	for i := range on {
		on[i] = len(want) == 0 || slices.Contains(want, Objective(i))
	}
	on[Cost] = on[Cost] && priced
	return on
}
