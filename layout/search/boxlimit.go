package search

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/layout/restraint"
)

// ban is modules of a full box that do not go together, and why.
type ban struct {
	modules []int
	excess  excess
	why     string
}

// hits tells whether an option keeps all modules of a ban.
func (b *ban) hits(o *option) bool {
	for _, m := range b.modules {
		if _, ok := slices.BinarySearch(o.kept, m); !ok {
			return false
		}
	}
	return true
}

// boxBans are the bans of the full boxes, by stance and box.
type boxBans [][][]ban

// limitBoxes leaves out what a limit of a box alone forbids: distances between bodies, distances of live parts at a
// series count's voltage, and the feet.
func (t *task) limitBoxes() {
	if len(t.choices) == 0 {
		return
	}
	always := t.clearanceBans()
	heavy := t.restraintBans()
	gaps := t.gaps()
	t.fieldOf = map[int]*field{}
	seen := map[string]*field{}
	said := map[*field][]int{}
	why := map[*field]boxBans{}
	for _, c := range t.choices {
		if t.fieldOf[c.Series] != nil {
			continue
		}
		live := t.creepageBans(gaps, float64(c.Series)*t.module.MaxV())
		key := live.key()
		if seen[key] == nil {
			f := &field{task: t, pools: map[[2]int]*lazy[*pool]{}, ways: make([]lazy[*course], len(t.sets))}
			for b := range t.free {
				f.bays = append(f.bays, t.allowed(t.free[b], heavy, always, live))
			}
			seen[key], why[f] = f, live
			t.fields = append(t.fields, f)
		}
		t.fieldOf[c.Series] = seen[key]
		said[seen[key]] = append(said[seen[key]], c.Series)
	}
	t.sayBans(always, "")
	t.sayHeavy(heavy)
	for _, f := range t.fields {
		slices.Sort(said[f])
		t.sayBans(why[f], fmt.Sprintf("%s in series, ", numberList(said[f])))
	}
}

// allowed are the options of a box that no ban hits.
func (t *task) allowed(b *bay, heavy [][]excess, bans ...boxBans) *bay {
	var kept []option
	for i := range b.all {
		o := &b.all[i]
		hit := heavy != nil && heavy[b.box][i].limit != ""
		for _, bs := range bans {
			hit = hit || slices.ContainsFunc(bs[o.stance][b.box], func(x ban) bool { return x.hits(o) })
		}
		if !hit {
			kept = append(kept, *o)
		}
	}
	if len(kept) == len(b.all) {
		return b
	}
	return bayOf(b.box, b.lo, b.hi, kept)
}

// key is the same for bans that hit the same.
func (bs boxBans) key() string {
	var s strings.Builder
	for _, of := range bs {
		for _, box := range of {
			for i := range box {
				fmt.Fprint(&s, box[i].modules)
			}
			s.WriteByte(';')
		}
	}
	return s.String()
}

// indexed finds modules of a full box by the ids of a scene's bodies; ok is false where none is one.
func indexed(b *layout.BoxScene, refs ...string) (out []int, ok bool) {
	for _, r := range refs {
		if i := slices.IndexFunc(b.Modules, func(m *layout.Body) bool { return m.ID == r }); i >= 0 {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return slices.Compact(out), len(out) > 0
}

// clearanceBans are the bodies too close to each other, to walls and to lids. A packing leaves none, unless its box
// holds gear that was in the way before. What concerns gear alone is not the search's to mend, and remarked.
func (t *task) clearanceBans() boxBans {
	out := make(boxBans, len(t.stances))
	for n := range t.stances {
		s := t.ground.sceneWith(t.full[n], nil)
		out[n] = make([][]ban, len(s.Boxes))
		for _, f := range check.InsideBoxes(s) {
			for i, b := range s.Boxes {
				if at, ok := indexed(b, f.Refs...); ok && strings.HasPrefix(f.Subject, b.Box.ID+"/") {
					out[n][i] = append(out[n][i], ban{at, excess{Clearance, f.Actual, f.Required, f.Unit}, f.Text})
				}
			}
		}
	}
	return out
}

// gaps measures the live parts in the full boxes, by stance and box.
func (t *task) gaps() [][]*electric.Gaps {
	out := make([][]*electric.Gaps, len(t.stances))
	for n := range t.stances {
		s := t.ground.sceneWith(t.full[n], nil)
		for _, b := range s.Boxes {
			out[n] = append(out[n], electric.GapsIn(s, b))
		}
	}
	return out
}

// creepageBans are the live parts too close to each other or to metal for the voltage of a string, in whatever
// order its modules are joined.
func (t *task) creepageBans(gaps [][]*electric.Gaps, systemV float64) boxBans {
	out := make(boxBans, len(gaps))
	for n := range gaps {
		out[n] = make([][]ban, len(gaps[n]))
		for i, g := range gaps[n] {
			for _, p := range g.ShortAnyway(systemV) {
				if at, ok := indexed(p.Box, p.RefA, p.RefB); ok {
					why := fmt.Sprintf("%s to %s: %.1f mm, where %s insulation needs %.1f mm in any order of the strings", p.A, p.B, p.ActualMM, p.Insulation, p.NeedMM())
					out[n][i] = append(out[n][i], ban{at, excess{Creepage, p.ActualMM, p.NeedMM(), "mm"}, why})
				}
			}
		}
	}
	return out
}

// hit is an option that a limit leaves out, and why.
type hit struct {
	excess excess
	why    string
}

// sayBans says which options bans leave out.
func (t *task) sayBans(bs boxBans, at string) {
	for _, b := range t.free {
		for n := range t.stances {
			t.say(b, n, at, func(i int) (hit, bool) {
				bans := bs[n][b.box]
				k := slices.IndexFunc(bans, func(x ban) bool { return x.hits(&b.all[i]) })
				if k < 0 {
					return hit{}, false
				}
				return hit{bans[k].excess, bans[k].why}, true
			})
		}
	}
}

// say lists what a limit leaves out of a box in one stance: the counts of which nothing is left, and the other counts
// push by push.
func (t *task) say(b *bay, stance int, at string, judge func(i int) (hit, bool)) {
	var none []int
	first, found := hit{}, false
	some := make([][]int, len(t.pushes))
	why := make([]hit, len(t.pushes))
	for c := b.lo; c <= b.hi; c++ {
		of, hits := 0, 0
		for i := b.from[c]; i < b.from[c+1]; i++ {
			if b.all[i].stance != stance {
				continue
			}
			of++
			h, bad := judge(i)
			if !bad {
				continue
			}
			if hits++; !found {
				first, found = h, true
			}
			p := b.all[i].push
			some[p], why[p] = append(some[p], c), h
		}
		if hits > 0 && hits == of {
			none = append(none, c)
			for p := range some {
				some[p] = slices.DeleteFunc(some[p], func(n int) bool { return n == c })
			}
		}
	}
	if len(none) > 0 {
		t.excludeCounts(b, none, first, t.stances[stance], "", at)
	}
	for p, counts := range some {
		if len(counts) > 0 {
			t.excludeCounts(b, counts, why[p], t.stances[stance], t.pushes[p], at)
		}
	}
}

func (t *task) excludeCounts(b *bay, counts []int, h hit, s Stance, push Push, at string) {
	id, pushed, e := t.ground.boxes[b.box].ID, "", h.excess
	if push != "" {
		pushed = ", pushed " + pushWords[push]
	}
	t.exclude(Excluded{Box: id, Posture: s.Posture, Push: push, Limit: e.limit, Actual: e.actual, Need: e.need, Unit: e.unit, Counts: counts,
		Text: fmt.Sprintf("%s, %s%s in box %s%s: left out for the %s: %s.", s.name(), at, modulesWord(counts), id, pushed, e.limit, strings.TrimSuffix(h.why, "."))})
}

func modulesWord(counts []int) string {
	if len(counts) == 1 && counts[0] == 1 {
		return "one module"
	}
	return numberList(counts) + " modules"
}

// pushWords are the pushes after the word pushed.
var pushWords = map[Push]string{Low: "low", Forward: "forward", Rearward: "rearward", Centre: "to the centre plane"}

// numberList joins numbers, runs of them as "3 to 7".
func numberList(ns []int) string {
	var out []string
	for i := 0; i < len(ns); {
		k := i
		for k+1 < len(ns) && ns[k+1] <= ns[k]+1 {
			k++
		}
		out = append(out, numbers(ns[i], ns[k]))
		i = k + 1
	}
	return strings.Join(out, ", ")
}

// restraintBans judges the feet of every box under each of its options, by the set of accelerations chosen: for each
// box and option the excess, without a limit's name where it holds. Without a set there is nothing to judge by. A
// box that its feet leave a way to move, or that has none, is remarked: no choice of modules mends that.
func (t *task) restraintBans() [][]excess {
	g := t.ground
	if _, chosen := restraint.Chosen(g.plan.Settings.Restraint); !chosen {
		return nil
	}
	var all []int
	for i := range g.boxes {
		all = append(all, i)
	}
	r := mass.Evaluate(g.sceneWith(t.fewFull(all), nil), noCables, nil)
	coolant := t.coolantKg(r)
	out := make([][]excess, len(g.boxes))
	for i, b := range t.free {
		base := rowOf(r.Boxes[i].Body)
		for _, m := range r.Scene.Boxes[i].Modules {
			base = base.plus(pointRow(t.module.MassKg+coolant, m.CG), -1)
		}
		one := *g.empty
		one.Boxes = g.empty.Boxes[i : i+1]
		out[i] = make([]excess, len(b.all))
		for k := range b.all {
			out[i][k] = heldBy(&one, base.plus(b.all[k].first, 1))
		}
	}
	return out
}

// heldBy judges the feet of the one box of a scene at a weight.
func heldBy(s *layout.Scene, w row) excess {
	b := s.Boxes[0]
	r := restraint.Evaluate(s, []restraint.Weight{{Box: b.Box.ID, Kg: w[0], CG: r3.Vector{X: w[1] / w[0], Y: w[2] / w[0], Z: w[3] / w[0]}}}, nil)
	if p, ok := r.Boxes[0].Governing(); ok && p.Use.Ratio > 1 {
		return excess{Restraint, min(100*p.Use.Ratio, 9999), 100, "%"}
	}
	return excess{}
}

// sayHeavy says which options the feet do not hold.
func (t *task) sayHeavy(heavy [][]excess) {
	if heavy == nil {
		return
	}
	for _, b := range t.free {
		for n := range t.stances {
			t.say(b, n, "", func(i int) (hit, bool) {
				e := heavy[b.box][i]
				return hit{e, fmt.Sprintf("its feet would be used to %.0f %% of what they hold", e.actual)}, e.limit != ""
			})
		}
	}
}
