package search

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Found is one arrangement that no other one of the choice beats.
type Found struct {
	Values           Values // before rounding
	Module           *vehicles.Module
	Series, Parallel int
	Boxes            []InBox  // in the order of the arrangement's boxes
	Order            []string // boxes in the order of the shortest round

	group  *group
	member int
}

// InBox is how many modules stand in a box, and how.
type InBox struct {
	Box           string
	Modules, Most int              // Most: in that posture
	Posture       vehicles.Posture // empty: any mix of those the maker allows
	Push          Push             // of a full box the first that was searched: there is no room to push
}

// Words say how the modules stand in the box: "12 in mid-box, all on their sides, forward".
func (b *InBox) Words() string {
	if b.Modules == 0 {
		return "none in " + b.Box
	}
	s := fmt.Sprintf("%d in %s", b.Modules, b.Box)
	if w := postureWords[string(b.Posture)]; w != "" {
		s += " " + w
	}
	if b.Modules == b.Most {
		return s + ", full"
	}
	return s + ", " + pushWords[b.Push]
}

// Name says the arrangement in a line: "nmc-355 14s 2p: 20 in mid-box, full; 8 in rear-box, low".
func (f *Found) Name() string {
	var in []string
	for i := range f.Boxes {
		in = append(in, f.Boxes[i].Words())
	}
	return fmt.Sprintf("%s %ds %dp: %s", f.Module.ID, f.Series, f.Parallel, strings.Join(in, "; "))
}

// Short says the arrangement in a few words, the modules in its boxes in their order: "nmc-355 14s2p: 20 + 8".
func (f *Found) Short() string {
	var in []string
	for _, b := range f.Boxes {
		in = append(in, fmt.Sprint(b.Modules))
	}
	return fmt.Sprintf("%s %ds%dp: %s", f.Module.ID, f.Series, f.Parallel, strings.Join(in, " + "))
}

// Result is what a search found. It is never changed once made.
type Result struct {
	Found      []Found // the most energy first
	Excluded   []Excluded
	Objectives []Objective // those that counted
	Resolution Resolution
	TargetPct  float64 // front share aimed at
	// Complete is set when the whole discretised choice was gone through and every packing's count is proved;
	// Remarks say what stands in the way, and what else there is to know.
	Complete bool
	Remarks  []string
	Stopped  bool
	Tally    Tally
	Packing  time.Duration // spent on packing
	Elapsed  time.Duration

	ground *ground
}

// Tally is how many arrangements the choice has and what became of them.
type Tally = tally

// Open returns a found arrangement as one that can be edited, with an id that the plan does not have yet. Boxes
// not used are left out with the gear that serves them alone; a box with other gear always stays. Mirror ties and strings are dropped,
// cables and coolant branches to boxes left out too. Series and parallel counts are set, so that strings are routed
// automatically. Its checks are the checks of any arrangement: call check.Evaluate.
func (r *Result) Open(i int) *layout.Arrangement {
	f := &r.Found[i]
	g := f.group
	m := &g.members[f.member]
	a := *r.ground.a
	a.ID = freshID(r.ground.plan, i)
	a.Name = f.Short()
	a.Note = "Found by the search: " + f.Name() + ". " + objectiveWords(f.Values)
	a.Series, a.Parallel = f.Series, f.Parallel
	a.Strings, a.Mirrors, a.Boxes = nil, nil, nil
	for k, b := range g.subset.boxes {
		box := *g.task.ground.boxes[b]
		box.Modules = g.task.placed(b, &g.field.bays[b].all[m.picks[k]])
		a.Boxes = append(a.Boxes, &box)
	}
	dropDangling(&a, r.ground.boxes)
	return &a
}

// freshID is the same for the same arrangement found, unless the plan has it already.
func freshID(p *layout.Plan, i int) string {
	id := fmt.Sprintf("found-%d", i+1)
	if p.Arrangement(id) == nil {
		return id
	}
	return layout.FreshID(id+"-", func(id string) bool { return p.Arrangement(id) != nil })
}

func objectiveWords(v Values) string {
	return fmt.Sprintf("%.1f kWh, %.0f kg at kerb, front share %.1f points off target, centre of gravity %.0f mm high, side %.1f points, about %.1f m of cable, %.0f boxes, %.0f live steps.",
		v[Energy], v[Mass], v[FrontOff], v[Height], v[Side], v[Cable], v[Boxes], v[LiveSteps])
}

// dropDangling takes out cables and coolant branches that lead to boxes left out.
func dropDangling(a *layout.Arrangement, all []*layout.Box) {
	gone := map[string]bool{}
	for _, b := range all {
		if a.Box(b.ID) == nil {
			gone[b.ID] = true
		}
	}
	if len(gone) == 0 {
		return
	}
	leads := func(end string) bool {
		box, _, _ := strings.Cut(end, "/")
		return gone[box]
	}
	a.Cables = slices.DeleteFunc(slices.Clone(a.Cables), func(c layout.Cable) bool { return leads(c.From) || leads(c.To) })
	var branches []layout.LoopBranch
	for _, b := range a.Loop.Branches {
		b.Boxes = slices.DeleteFunc(slices.Clone(b.Boxes), leads)
		if len(b.Boxes) > 0 {
			branches = append(branches, b)
		}
	}
	a.Loop.Branches = branches
}

// Weights say how much each objective counts in a ranking; none means all alike.
type Weights map[Objective]float64

// Rank orders the arrangements found by the weighted mean of their objectives, each from 0 at the best found to 1
// at the worst. It returns indices of Found, the best first; of equals the first found.
func (r *Result) Rank(w Weights) []int {
	lo, hi := r.ranges()
	score := make([]float64, len(r.Found))
	order := make([]int, len(r.Found))
	for i := range r.Found {
		order[i] = i
		for _, o := range r.Objectives {
			weight := 1.0
			if len(w) > 0 {
				weight = w[o]
			}
			if hi[o] > lo[o] {
				v := (r.Found[i].Values[o] - lo[o]) / (hi[o] - lo[o])
				if o.More() {
					v = 1 - v
				}
				score[i] += weight * v
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(score[a], score[b]) })
	return order
}

func (r *Result) ranges() (lo, hi Values) {
	for i := range r.Found {
		for o, v := range r.Found[i].Values {
			if i == 0 || v < lo[o] {
				lo[o] = v
			}
			if i == 0 || v > hi[o] {
				hi[o] = v
			}
		}
	}
	return lo, hi
}
