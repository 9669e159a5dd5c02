package search

import "stowbay/layout/electric"

// settled are the objectives that are the same for all arrangements of a group, in their order, in steps.
type settled [6]int32

// reaches tells whether a is nowhere worse than b.
func (a *settled) reaches(b *settled) bool {
	return a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2] && a[3] <= b[3] && a[4] <= b[4] && a[5] <= b[5]
}

// settledOf are the objectives settled for a group.
var settledOf = [6]Objective{Energy, Mass, Cable, Boxes, LiveSteps, Cost}

// spotOf are the objectives that differ inside a group.
var spotOf = [3]Objective{FrontOff, Height, Side}

// group is all arrangements of one module type, series and parallel count and set of boxes. They weigh and cost the
// same and differ only in how many modules stand in which box and how.
type group struct {
	task    *task
	field   *field
	choice  electric.Choice
	subset  *subset
	base    row   // the vehicle with the boxes and cables but without modules
	laden   []row // what each load case puts on board
	values  Values
	key     settled
	members []member
}

// subset is a set of boxes used.
type subset struct {
	boxes []int
	base  row
	round round
}

func (f *field) groupOf(c electric.Choice, s *subset, moduleKg float64) *group {
	t := f.task
	g := t.ground
	r := &group{task: t, field: f, choice: c, subset: s}
	mm := s.round.lengthMM + float64(c.Parallel-1)*2*s.round.leadMM
	at := s.round.centre
	r.base = s.base.plus(row{1, at.X, at.Y, at.Z}, mm/1000*g.cableKg)
	kg := r.base[0] + moduleKg
	r.values[Energy], r.values[Mass], r.values[Cable] = c.EnergyKWh, kg, mm/1000
	r.values[Boxes] = float64(len(s.boxes))
	r.values[LiveSteps] = float64(g.liveSteps(c.Module, c.Series, c.Parallel))
	r.values[Cost] = float64(c.Count) * c.Module.Price
	for _, b := range s.boxes {
		r.values[Cost] += g.gearCost(b)
	}
	for i, o := range settledOf {
		if t.on[o] {
			r.key[i] = t.steps.rounded(o, r.values[o])
		}
	}
	return r
}
