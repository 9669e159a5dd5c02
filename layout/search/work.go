package search

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// run searches a stance. done is called after every group.
func (t *task) run(ctx context.Context, done func(n, found int)) (stopped bool) {
	breaks := map[[2]int]map[Limit]*breaking{}
	all := map[[2]int]tally{}
	for _, boxes := range t.subsets() {
		s, _ := t.weighSubset(boxes, nil)
		rests := make([][][]rest, len(t.pushes))
		for p := range t.pushes {
			rests[p] = t.restsOf(boxes, p)
		}
		var before *group
		for _, c := range t.choices {
			if ctx.Err() != nil {
				return true
			}
			key := [2]int{c.Series, c.Parallel}
			if breaks[key] == nil {
				breaks[key] = map[Limit]*breaking{}
			}
			g := t.groupOf(c, s, t.moduleKg*float64(c.Count))
			sum, halt := t.explore(ctx, g, before, rests, breaks[key])
			before = g
			was := all[key]
			was.plus(sum)
			all[key] = was
			t.tally.plus(sum)
			if halt {
				return true
			}
			done(1, len(g.front.members))
		}
	}
	t.conclude(breaks, all)
	return false
}

// explore goes through one group under every push. before is the group of the count before in the same boxes, or nil.
func (t *task) explore(ctx context.Context, g, before *group, rests [][][]rest, breaks map[Limit]*breaking) (sum tally, stopped bool) {
	g.laden = t.ground.rules.laden(g.values[Mass])
	g.front.others = t.others(g)
	g.seed(before)
	for p := range t.pushes {
		d := descent{ctx: ctx, g: g, push: p, rests: rests[p], breaks: breaks}
		d.run()
		sum.plus(d.tally)
		if d.stopped {
			return sum, true
		}
	}
	g.front.others = nil
	if len(g.front.members) > 0 {
		t.groups = append(t.groups, g)
	}
	return sum, false
}

// others are the spots of the groups before that are nowhere worse in what is settled.
func (t *task) others(g *group) []spot {
	var out []spot
	for _, o := range t.groups {
		if o.key.reaches(&g.key) {
			for i := range o.front.members {
				out = append(out, o.front.members[i].spot)
			}
		}
	}
	return thin(out)
}

// conclude says what the limits of mass and stability cost each choice.
func (t *task) conclude(breaks map[[2]int]map[Limit]*breaking, all map[[2]int]tally) {
	for _, c := range t.choices {
		key := [2]int{c.Series, c.Parallel}
		names := make([]Limit, 0, len(breaks[key]))
		for l := range breaks[key] {
			names = append(names, l)
		}
		slices.Sort(names)
		whole := all[key]
		for _, l := range names {
			b := breaks[key][l]
			e := Excluded{Series: c.Series, Parallel: c.Parallel, Limit: l, Actual: b.nearest.actual, Need: b.nearest.need, Unit: b.nearest.unit,
				Arrangements: b.ways, All: whole.Limited == whole.All}
			e.Text = t.limitWords(c.Series, c.Parallel, l, b, whole)
			t.exclude(e)
		}
		if whole.All == 0 {
			t.exclude(Excluded{Series: c.Series, Parallel: c.Parallel, Limit: Room, Actual: float64(c.Count), All: true,
				Text: fmt.Sprintf("%s, %d in series, %d in parallel: no set of boxes takes %d modules.", t.stance.name(), c.Series, c.Parallel, c.Count)})
		}
	}
}

func (t *task) limitWords(series, parallel int, l Limit, b *breaking, whole tally) string {
	share := fmt.Sprintf("at least %.0f of %.0f arrangements", b.ways, whole.All)
	if b.ways == whole.All {
		share = fmt.Sprintf("all %.0f arrangements", whole.All)
	}
	at := strings.TrimSpace(fmt.Sprintf("%.1f %s", b.nearest.actual, b.nearest.unit))
	need := strings.TrimSpace(fmt.Sprintf("%.1f %s", b.nearest.need, b.nearest.unit))
	if l == Stability {
		at, need = fmt.Sprintf("%.3f", b.nearest.actual), fmt.Sprintf("%.3f", b.nearest.need)
	}
	return fmt.Sprintf("%s, %d in series, %d in parallel: left out for the %s: %s; the nearest comes to %s where the limit is %s.",
		t.stance.name(), series, parallel, l, share, at, need)
}
