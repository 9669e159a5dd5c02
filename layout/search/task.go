package search

import (
	"fmt"
	"math/bits"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
)

// task is the search of one stance.
type task struct {
	ground *ground
	stance Stance
	pushes []Push
	on     [objectives]bool
	steps  Resolution

	full     []*layout.Box // every box packed full
	loads    [][][]load    // by box, push, count
	fewest   []int         // by box: locked modules
	most     []int         // by box
	moduleKg float64       // with its coolant and its link
	choices  []electric.Choice
	groups   []*group
	excluded []Excluded
	tally    tally
	packed   []*Packing
}

// newTask weighs the full boxes module by module.
func newTask(g *ground, s Stance, packings *Packings, o *Options, pushes []Push, on [objectives]bool) *task {
	t := &task{ground: g, stance: s, pushes: pushes, on: on, steps: o.Resolution.filled()}
	t.full, t.most, t.fewest = make([]*layout.Box, len(g.boxes)), make([]int, len(g.boxes)), make([]int, len(g.boxes))
	for i, b := range g.boxes {
		p := packings.Of(b, s)
		t.packed = append(t.packed, p)
		full := *b
		full.Modules = p.Placements
		if p.Problem != "" {
			t.exclude(Excluded{Box: b.ID, Limit: Packed, All: true, Text: fmt.Sprintf("%s in box %s: %s.", s.name(), b.ID, p.Problem)})
			full.Modules = nil
		}
		if g.blocked[i] != "" && !g.always[i] {
			full.Modules = nil
		}
		t.full[i], t.most[i] = &full, len(full.Modules)
	}
	t.weigh()
	t.settle(o.minEnergy(g.plan))
	return t
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
	e.Module, e.Posture = t.stance.Module.ID, t.stance.Posture
	t.excluded = append(t.excluded, e)
}

// weigh works out the loads of every box.
func (t *task) weigh() {
	g := t.ground
	s := g.sceneWith(t.full, nil)
	coolant := t.coolantKg(mass.Evaluate(s, noCables, nil))
	m := t.stance.Module
	mm2 := g.plan.Settings.Electric.LinkMM2
	if mm2 == 0 {
		mm2 = cableMM2
	}
	link := electric.CopperKg(min(m.LengthMM, m.WidthMM), mm2)
	t.moduleKg = m.MassKg + coolant + link
	for i, b := range s.Boxes {
		rows := make([]row, len(b.Modules))
		for k, q := range b.Modules {
			rows[k] = pointRow(m.MassKg+coolant, q.CG).plus(pointRow(link, r3.Vector{X: q.CG.X, Y: q.CG.Y, Z: q.Prism.Top}), 1)
		}
		by := make([][]load, len(t.pushes))
		for p, push := range t.pushes {
			by[p] = loadsOf(b, rows, push)
		}
		t.loads = append(t.loads, by)
		t.fewest[i] = least(by[0])
	}
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

// settle finds the usable counts. A posture that takes no more than others excludes nothing of its own: the
// exclusions by voltage, current and energy are said once, with any posture.
func (t *task) settle(leastKWh float64) {
	room := 0
	for _, n := range t.most {
		room += n
	}
	usable, out := t.ground.counts(t.stance, room, leastKWh)
	t.choices = usable
	for _, e := range out {
		if t.stance.Posture == "" || e.Limit == Room {
			t.exclude(e)
		}
	}
}

// subsets are the sets of boxes that can be used, smaller ones first.
func (t *task) subsets() [][]int {
	var out [][]int
	n := len(t.full)
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
		if ok {
			out = append(out, boxes)
		}
	}
	slices.SortStableFunc(out, func(a, b []int) int { return len(a) - len(b) })
	return out
}

// mostBoxes is how many boxes are searched: beyond that there are too many sets of them.
const mostBoxes = bits.UintSize / 4

// bounds are how few and how many modules a box of a set holds.
func (t *task) bounds(box int) (lo, hi int) {
	if t.ground.always[box] {
		return t.fewest[box], t.most[box]
	}
	return max(1, t.fewest[box]), t.most[box]
}

// weighSubset weighs the vehicle with the boxes of a set, their gear, hoses and what else stands in it.
func (t *task) weighSubset(boxes []int, prev *mass.Result) (*subset, *mass.Result) {
	g := t.ground
	var with []*layout.Box
	for _, b := range boxes {
		one := *t.full[b]
		one.Modules = one.Modules[:min(1, len(one.Modules))]
		with = append(with, &one)
	}
	r := mass.Evaluate(g.sceneWith(with, nil), noCables, prev)
	s := &subset{boxes: boxes, base: rowOf(r.Now), round: shortestRound(g.hub, g.at, boxes)}
	coolant := t.coolantKg(r)
	r.Scene.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
		s.base = s.base.plus(pointRow(m.Module.MassKg+coolant, m.CG), -1)
	})
	return s, r
}
