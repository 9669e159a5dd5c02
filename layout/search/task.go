package search

import (
	"context"
	"fmt"
	"math/bits"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// task is the search of one module type.
type task struct {
	ground  *ground
	module  *vehicles.Module
	stances []Stance
	pushes  []Push
	on      [objectives]bool
	steps   Resolution
	per     moments // steps a kg mm, about
	slopes  tilts

	packed   [][]*Packing    // by stance and box
	full     [][]*layout.Box // by stance and box, packed full
	moduleKg float64         // with its coolant and its link
	free     []*bay          // by box, before the limits of the box
	most     []int           // by box
	choices  []electric.Choice
	fields   []*field
	fieldOf  map[int]*field // by series count
	sets     [][]int
	subsets  []lazy[*subset] // by set
	excluded []Excluded
	units    []*unit
}

// newTask weighs the full boxes module by module and finds out what each box allows.
func newTask(ctx context.Context, g *ground, ss []Stance, packings *Packings, o *Options, pushes []Push, on [objectives]bool) *task {
	t := &task{ground: g, module: ss[0].Module, stances: ss, pushes: pushes, on: on, steps: o.Resolution.filled()}
	t.per = t.perMoment()
	t.slopes = slopesOf(t.per)
	for _, s := range ss {
		t.take(s, packings)
	}
	t.weigh()
	t.settle(o.minEnergy(g.plan))
	t.sets = t.setsOfBoxes()
	t.subsets = make([]lazy[*subset], len(t.sets))
	if ctx.Err() == nil {
		t.limitBoxes()
	}
	t.units = unitsOf(t)
	return t
}

// take fills the boxes in one stance.
func (t *task) take(s Stance, packings *Packings) {
	g := t.ground
	full, packed := make([]*layout.Box, len(g.boxes)), make([]*Packing, len(g.boxes))
	for i, b := range g.boxes {
		p := packings.Of(b, s)
		one := *b
		one.Modules = p.Placements
		if p.Problem != "" {
			t.exclude(Excluded{Box: b.ID, Posture: s.Posture, Limit: Packed, All: true, Text: fmt.Sprintf("%s in box %s: %s.", s.name(), b.ID, p.Problem)})
			one.Modules = nil
		}
		if g.blocked[i] != "" && !g.always[i] {
			one.Modules = nil
		}
		full[i], packed[i] = &one, p
	}
	t.full, t.packed = append(t.full, full), append(t.packed, packed)
}

// name is the stance in words.
func (s Stance) name() string {
	if s.Posture == "" {
		return s.Module.Name
	}
	return fmt.Sprintf("%s, %s", s.Module.Name, postureWords[string(s.Posture)])
}

var postureWords = map[string]string{"flat": "all lying flat", "side": "all on their sides", "end": "all on their ends"}

func (t *task) exclude(e Excluded) {
	e.Module = t.module.ID
	t.excluded = append(t.excluded, e)
}

// weigh works out the options of every box.
func (t *task) weigh() {
	all := make([][]option, len(t.ground.boxes))
	fewest := make([]int, len(t.ground.boxes))
	t.most = make([]int, len(t.ground.boxes))
	for n := range t.stances {
		s := t.ground.sceneWith(t.full[n], nil)
		coolant, link := t.coolantKg(mass.Evaluate(s, noCables, nil)), t.linkKg()
		if s.Count() > 0 {
			t.moduleKg = t.module.MassKg + coolant + link
		}
		for i, b := range s.Boxes {
			if box := t.ground.boxes[i]; t.packed[n][i].Problem != "" && (holdsLocked(box) || box.Locked && len(box.Modules) > 0) {
				continue // what is locked in it does not go with this stance
			}
			rows := make([]row, len(b.Modules))
			for k, q := range b.Modules {
				rows[k] = pointRow(t.module.MassKg+coolant, q.CG).plus(pointRow(link, r3.Vector{X: q.CG.X, Y: q.CG.Y, Z: q.Prism.Top}), 1)
			}
			for p, push := range t.pushes {
				ls := loadsOf(b, rows, push)
				fewest[i] = least(ls)
				for _, l := range ls[fewest[i]:] {
					all[i] = append(all[i], option{first: l.first, kept: l.kept, stance: n, push: p})
				}
			}
			t.most[i] = max(t.most[i], len(b.Modules))
		}
	}
	for i := range all {
		lo := fewest[i]
		if !t.ground.always[i] {
			lo = max(lo, 1)
		}
		t.free = append(t.free, bayOf(i, lo, t.most[i], all[i]))
	}
}

// linkKg is the link of one module.
func (t *task) linkKg() float64 {
	mm2 := t.ground.plan.Settings.Electric.LinkMM2
	if mm2 == 0 {
		mm2 = cableMM2
	}
	return electric.CopperKg(min(t.module.LengthMM, t.module.WidthMM), mm2)
}

func pointRow(kg float64, p r3.Vector) row { return row{kg, kg * p.X, kg * p.Y, kg * p.Z} }

// coolantKg is the coolant in one module, as the mass ledger has it.
func (t *task) coolantKg(r *mass.Result) float64 {
	kg, n := 0.0, 0
	r.Each(func(e *mass.Entry) {
		if e.Group == mass.Coolant && e.Of != "" {
			kg, n = kg+e.Kg, n+e.Count
		}
	})
	if n == 0 {
		return 0
	}
	return kg / float64(n)
}

// settle finds the usable counts.
func (t *task) settle(leastKWh float64) {
	room := 0
	for _, n := range t.most {
		room += n
	}
	usable, out := t.ground.counts(t.module, room, leastKWh)
	t.choices = usable
	for _, e := range out {
		t.exclude(e)
	}
}

// setsOfBoxes are the sets of boxes that can be used, smaller ones first.
func (t *task) setsOfBoxes() [][]int {
	var out [][]int
	n := len(t.free)
	for mask := 1; mask < 1<<n; mask++ {
		var boxes []int
		ok := true
		for b := range n {
			used := mask&(1<<b) != 0
			if used && (t.most[b] == 0 && !t.ground.always[b]) || !used && t.ground.always[b] {
				ok = false
				break
			}
			if used {
				boxes = append(boxes, b)
			}
		}
		if ok && !t.ground.clash(boxes) {
			out = append(out, boxes)
		}
	}
	slices.SortStableFunc(out, func(a, b []int) int { return len(a) - len(b) })
	return out
}

// mostBoxes is how many boxes are searched: beyond that there are too many sets of them.
const mostBoxes = bits.UintSize / 4

// subset is a set of boxes, weighed when it is first asked for.
func (t *task) subset(n int) *subset {
	return t.subsets[n].get(func() *subset { return t.weighSubset(t.sets[n]) })
}

// fewFull are boxes with one module each where they have any.
func (t *task) fewFull(boxes []int) []*layout.Box {
	var out []*layout.Box
	for _, b := range boxes {
		one := *t.full[0][b]
		for n := range t.full {
			if len(one.Modules) == 0 {
				one.Modules = t.full[n][b].Modules
			}
		}
		one.Modules = one.Modules[:min(1, len(one.Modules))]
		out = append(out, &one)
	}
	return out
}

// weighSubset weighs the vehicle with the boxes of a set, their gear, hoses and what else stands in it.
func (t *task) weighSubset(boxes []int) *subset {
	g := t.ground
	r := mass.Evaluate(g.sceneWith(t.fewFull(boxes), nil), noCables, nil)
	s := &subset{boxes: boxes, base: rowOf(r.Now), round: shortestRound(g.hub, g.at, boxes)}
	coolant := t.coolantKg(r)
	r.Scene.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
		s.base = s.base.plus(pointRow(m.Module.MassKg+coolant, m.CG), -1)
	})
	return s
}
