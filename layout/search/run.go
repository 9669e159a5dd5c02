package search

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Run searches the choices that an arrangement's boxes and bays leave. lib is the library the plan's names are
// looked up in, as for check.Evaluate. progress may be nil; it is called from goroutines of the search, one call at a
// time and no more often than every 50 ms. On cancel the arrangements found so far come back with Stopped set and
// without an error. The result is the same for the same input, unless a packing's time limit cuts it short. The error
// says why there is nothing to search.
func Run(ctx context.Context, p *layout.Plan, a *layout.Arrangement, lib *vehicles.Library, o Options, progress func(Progress)) (Result, error) {
	start := time.Now()
	ms, err := o.modules(p, lib)
	if err != nil {
		return Result{}, err
	}
	pushes, err := o.pushes()
	if err != nil {
		return Result{}, err
	}
	packings := o.Packings
	if packings == nil {
		packings = NewPackings()
	}
	boxes := packings.boxesOf(a, lib.Donor(p.Donor))
	if len(boxes) == 0 || len(boxes) > mostBoxes {
		return Result{}, fmt.Errorf("arrangement %s has %d boxes; the search takes 1 to %d", a.ID, len(boxes), mostBoxes)
	}
	g, err := groundOf(p, a, lib, boxes, o.Strict)
	if err != nil {
		return Result{}, err
	}
	r := &runner{ctx: ctx, ground: g, options: &o, pushes: pushes, packings: packings, report: reporter{to: progress, start: start}}
	r.on = active(o.Objectives, !slices.ContainsFunc(ms, func(m *vehicles.Module) bool { return m.Price <= 0 }))
	for _, m := range ms {
		r.stances = append(r.stances, stances(m))
	}
	return r.run(start), nil
}

// runner is one search.
type runner struct {
	ctx      context.Context
	ground   *ground
	options  *Options
	pushes   []Push
	packings *Packings
	stances  [][]Stance // by module type
	on       [objectives]bool
	report   reporter
}

func (r *runner) run(start time.Time) Result {
	out := Result{Resolution: r.options.Resolution.filled(), TargetPct: r.ground.target, ground: r.ground}
	for i, on := range r.on {
		if on {
			out.Objectives = append(out.Objectives, Objective(i))
		}
	}
	ok := r.packings.pack(r.ctx, r.ground.boxes, slices.Concat(r.stances...), r.ground.lib, r.options.PackLimit, func(n, of int) { r.report.say("packing", n, of, 0) })
	out.Packing = time.Since(start)
	if ok {
		r.search(&out)
	}
	out.Stopped = out.Stopped || !ok
	out.Elapsed = time.Since(start)
	return out
}

// search goes through the module types one after the other, each on all workers, and puts what they found together.
func (r *runner) search(out *Result) {
	tasks := make([]*task, len(r.stances))
	var done, total, found atomic.Int64
	var halted atomic.Bool
	each(len(tasks), r.workers(), func(i int) {
		tasks[i] = newTask(r.ctx, r.ground, r.stances[i], r.packings, r.options, r.pushes, r.on)
		total.Add(int64(len(tasks[i].choices) * len(tasks[i].sets)))
	})
	var before []*group
	for _, t := range fewestModulesFirst(tasks) {
		for _, u := range t.units {
			u.before = before
		}
		each(len(t.units), r.workers(), func(i int) {
			halt := t.units[i].run(r.ctx, func(n, more int) {
				r.report.say("comparing", int(done.Add(int64(n))), int(total.Load()), int(found.Add(int64(more))))
			})
			if halt {
				halted.Store(true)
			}
		})
		for _, u := range t.units {
			before = append(before, u.groups...)
		}
	}
	out.Stopped = r.ctx.Err() != nil || halted.Load()
	var groups []*group
	for _, t := range tasks {
		sum, of := t.conclude()
		groups = append(groups, of...)
		out.Tally.plus(sum)
		out.Excluded = append(out.Excluded, t.excluded...)
	}
	out.gather(groups, merge(groups, r.workers()))
	r.remark(out, tasks)
}

func (r *runner) workers() int {
	if r.options.Workers > 0 {
		return r.options.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// each calls f for 0 to n-1 on some goroutines.
func each(n, workers int, f func(int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range max(min(workers, n), 1) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		}()
	}
	wait.Wait()
}

// fewestModulesFirst orders the module types by how many go into the boxes: what the quick ones find cuts the long ones
// short.
func fewestModulesFirst(tasks []*task) []*task {
	out := slices.Clone(tasks)
	room := func(t *task) (n int) {
		for _, m := range t.most {
			n += m
		}
		return n
	}
	slices.SortStableFunc(out, func(a, b *task) int { return room(a) - room(b) })
	return out
}

// gather lists what is not beaten, the most energy first.
func (out *Result) gather(groups []*group, beaten [][]bool) {
	for i, g := range groups {
		for k := range g.members {
			if !beaten[i][k] {
				out.Found = append(out.Found, g.found(k))
			}
		}
	}
	slices.SortStableFunc(out.Found, func(a, b Found) int {
		for o := range objectives {
			if c := cmp.Compare(out.Resolution.rounded(Objective(o), a.Values[o]), out.Resolution.rounded(Objective(o), b.Values[o])); c != 0 {
				return c
			}
		}
		return 0
	})
}

func (g *group) found(k int) Found {
	m := &g.members[k]
	t := g.task
	f := Found{Values: g.values, Module: t.module, Series: g.choice.Series, Parallel: g.choice.Parallel, group: g, member: k}
	w := &t.ground.rules.wheels
	f.Values[FrontOff] = abs(w.frontPct(&m.first) - t.ground.target)
	f.Values[Height] = m.first[3] / m.first[0]
	f.Values[Side] = abs(w.sidePct(m.first[0], m.first[2], w.rollShare(&m.first)))
	if !t.on[Cost] {
		f.Values[Cost] = 0
	}
	for i, b := range g.subset.boxes {
		o := &g.field.bays[b].all[m.picks[i]]
		s := t.stances[o.stance]
		f.Boxes = append(f.Boxes, InBox{t.ground.boxes[b].ID, len(o.kept), len(t.full[o.stance][b].Modules), s.Posture, t.pushes[o.push]})
	}
	for _, b := range g.subset.round.order {
		f.Order = append(f.Order, t.ground.boxes[b].ID)
	}
	return f
}

func abs(v float64) float64 { return max(v, -v) }

// remark says what the completeness rests on.
func (r *runner) remark(out *Result, tasks []*task) {
	out.Complete = !out.Stopped
	for i, b := range r.ground.boxes {
		if why := r.ground.blocked[i]; why != "" {
			all := !r.ground.always[i]
			out.Excluded = append(out.Excluded, Excluded{Box: b.ID, Limit: Fit, All: all, Text: why})
		}
	}
	r.sayClashes(out)
	for _, t := range tasks {
		for n, s := range t.stances {
			for i, p := range t.packed[n] {
				if p.Problem == "" && !p.Proved {
					out.Complete = false
					out.Remarks = append(out.Remarks, fmt.Sprintf("%s in box %s: %s. Nothing is said of arrangements with more.", s.name(), r.ground.boxes[i].ID, p.Words))
				}
			}
		}
	}
	if !r.on[Cost] && (len(r.options.Objectives) == 0 || slices.Contains(r.options.Objectives, Cost)) {
		out.Remarks = append(out.Remarks, "Cost is left out: not every module type has a price.")
	}
	if len(r.ground.boxes) > mostOrdered {
		out.Remarks = append(out.Remarks, fmt.Sprintf("With more than %d boxes used the round passes them as they are listed.", mostOrdered))
	}
}

// sayClashes says which boxes cannot be used together.
func (r *runner) sayClashes(out *Result) {
	for _, c := range r.ground.clashes {
		a, b := r.ground.boxes[c[0]].ID, r.ground.boxes[c[1]].ID
		out.Excluded = append(out.Excluded, Excluded{Box: b, Limit: Together, All: true, Text: fmt.Sprintf("Boxes %s and %s stand in each other: no arrangement uses both.", a, b)})
	}
}

// reporter passes progress on, one call at a time.
type reporter struct {
	to    func(Progress)
	start time.Time
	lock  sync.Mutex
	last  time.Time
}

// reportEvery is the least time between two reports.
const reportEvery = 50 * time.Millisecond

func (r *reporter) say(stage string, done, total, found int) {
	if r.to == nil {
		return
	}
	r.lock.Lock()
	defer r.lock.Unlock()
	now := time.Now()
	if now.Sub(r.last) < reportEvery && done < total {
		return
	}
	r.last = now
	r.to(Progress{Stage: stage, Done: done, Total: total, Found: found, Elapsed: now.Sub(r.start)})
}
