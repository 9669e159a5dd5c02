package search

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"stowbay/layout/electric"
)

// unit is all arrangements of a module type with one number of modules. The units of a module type are gone through side
// by side: what one finds does not cut another off, so that the result does not depend on which comes first. Little
// is lost by it, as fewer modules weigh less and more modules hold more energy.
type unit struct {
	task    *task
	choices []electric.Choice
	all     []tally  // by choice
	breaks  []breaks // by choice
	before  []*group // of module types before
	groups  []*group
	front   front

	ended bool // all of it was gone through
}

// unitsOf sorts the choices of a task by how many modules they have.
func unitsOf(t *task) []*unit {
	var out []*unit
	of := map[int]*unit{}
	for _, c := range t.choices {
		u := of[c.Count]
		if u == nil {
			u = &unit{task: t}
			of[c.Count] = u
			out = append(out, u)
		}
		u.choices = append(u.choices, c)
	}
	slices.Reverse(out) // the long ones first, so that none is left for the end
	return out
}

// run searches a unit. done is called after every group.
func (u *unit) run(ctx context.Context, done func(n, found int)) (stopped bool) {
	t := u.task
	u.all, u.breaks = make([]tally, len(u.choices)), make([]breaks, len(u.choices))
	for i, c := range u.choices {
		u.breaks[i] = breaks{}
		f := t.fieldOf[c.Series]
		for n := range t.sets {
			if ctx.Err() != nil {
				return true
			}
			course := f.course(n)
			whole, ok := course.whole(c.Count)
			if !ok {
				done(1, 0)
				continue
			}
			g := f.groupOf(c, course.subset, t.moduleKg*float64(c.Count))
			sum, halt := u.explore(ctx, g, course, whole, u.breaks[i])
			u.all[i].plus(sum)
			if halt {
				return true
			}
			done(1, len(g.members))
		}
	}
	u.ended = true
	return false
}

// explore goes through one group.
func (u *unit) explore(ctx context.Context, g *group, c *course, whole rest, b breaks) (sum tally, stopped bool) {
	t := u.task
	g.laden = t.ground.rules.laden(g.values[Mass])
	w := walk{ctx: ctx, g: g, c: c, front: &u.front, bounds: t.boundsOf(g), breaks: b}
	base := t.slopes.spanOf(g.base.moments())
	all := base.plus(&whole.span)
	u.open(g, &w.bounds, all.lo, all.hi)
	w.run(whole, base)
	g.members = u.front.members
	if len(g.members) > 0 {
		u.groups = append(u.groups, g)
	}
	return w.tally, w.stopped
}

// open readies the front for a group with what groups before it reach that are nowhere worse in what is settled.
func (u *unit) open(g *group, b *bounds, lo, hi moments) {
	f := &u.front
	f.members, f.spots = nil, f.spots[:0]
	f.table.reset(b.least(&lo, &hi), b.most(&lo, &hi))
	for _, groups := range [2][]*group{u.before, u.groups} {
		for _, o := range groups {
			if o.key.reaches(&g.key) {
				for i := range o.members {
					f.mark(o.members[i].spot)
				}
			}
		}
	}
}

// conclude says what the limits of mass and stability cost each choice.
func (t *task) conclude() (sum tally, groups []*group) {
	for _, u := range slices.Backward(t.units) {
		groups = append(groups, u.groups...)
		for i := range u.all {
			sum.plus(u.all[i])
			t.concludeChoice(u.choices[i], u.breaks[i], u.all[i], u.ended)
		}
	}
	return sum, groups
}

func (t *task) concludeChoice(c electric.Choice, b breaks, whole tally, ended bool) {
	names := make([]Limit, 0, len(b))
	for l := range b {
		names = append(names, l)
	}
	slices.Sort(names)
	for _, l := range names {
		b := b[l]
		t.exclude(Excluded{Series: c.Series, Parallel: c.Parallel, Limit: l, Actual: b.nearest.actual, Need: b.nearest.need, Unit: b.nearest.unit,
			Arrangements: b.ways, All: ended && whole.Limited == whole.All, Text: t.limitWords(c.Series, c.Parallel, l, b, whole, ended)})
	}
	if whole.All == 0 && ended {
		t.exclude(Excluded{Series: c.Series, Parallel: c.Parallel, Limit: Room, Actual: float64(c.Count), All: true,
			Text: fmt.Sprintf("%s, %d in series, %d in parallel: no set of boxes takes %d modules.", t.module.Name, c.Series, c.Parallel, c.Count)})
	}
}

func (t *task) limitWords(series, parallel int, l Limit, b *breaking, whole tally, ended bool) string {
	share := fmt.Sprintf("at least %s of %s arrangements", Many(b.ways), Many(whole.All))
	if ended && b.ways == whole.All {
		share = fmt.Sprintf("all %s arrangements", Many(whole.All))
	}
	at := strings.TrimSpace(fmt.Sprintf("%.1f %s", b.nearest.actual, b.nearest.unit))
	need := strings.TrimSpace(fmt.Sprintf("%.1f %s", b.nearest.need, b.nearest.unit))
	if l == Stability || at == need {
		at, need = strings.TrimSpace(fmt.Sprintf("%.3f %s", b.nearest.actual, b.nearest.unit)), strings.TrimSpace(fmt.Sprintf("%.3f %s", b.nearest.need, b.nearest.unit))
	}
	return fmt.Sprintf("%s, %d in series, %d in parallel: left out for the %s: %s; the nearest comes to %s where the limit is %s.",
		t.module.Name, series, parallel, l, share, at, need)
}

// Many is a number of arrangements as it is read: 250000, 12.3 million, 2.5 × 10^12.
func Many(n float64) string {
	switch {
	case n < 1e7:
		return fmt.Sprintf("%.0f", n)
	case n < 999.5e6:
		return fmt.Sprintf("%.3g million", n/1e6)
	}
	figures, power, _ := strings.Cut(fmt.Sprintf("%.1e", n), "e+")
	return figures + " × 10^" + strings.TrimLeft(power, "0")
}
