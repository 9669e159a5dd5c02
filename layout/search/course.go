package search

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// field is what the boxes can hold of a module type within the limits of the boxes. Some of those depend on the
// voltage: there is a field for every series count at which they differ.
type field struct {
	task  *task
	bays  []*bay // by box
	mutex sync.Mutex
	pools map[[2]int]*lazy[*pool]
	ways  []lazy[*course] // by the task's sets of boxes
}

// lazy is something worked out once, when it is first asked for.
type lazy[T any] struct {
	once sync.Once
	v    T
}

func (l *lazy[T]) get(make func() T) T {
	l.once.Do(func() { l.v = make() })
	return l.v
}

// course is how a set of boxes is gone through: some boxes option by option, then two pools against each other.
type course struct {
	subset *subset
	outer  []*bay
	a, b   *pool
	rests  [][]rest // by how many outer boxes are settled, by modules left to place
}

// rest is what the boxes not settled yet can still add for a number of modules.
type rest struct {
	span
	ways float64
}

func (f *field) course(n int) *course {
	return f.ways[n].get(func() *course { return f.courseOf(f.task.subset(n)) })
}

// courseOf leaves the boxes with most options for the pools.
func (f *field) courseOf(s *subset) *course {
	var bays []*bay
	for _, b := range s.boxes {
		bays = append(bays, f.bays[b])
	}
	slices.SortStableFunc(bays, func(a, b *bay) int { return cmp.Compare(len(a.all), len(b.all)) })
	n := max(0, len(bays)-4)
	c := &course{subset: s, outer: bays[:n]}
	inner := bays[n:]
	half := len(inner) / 2
	c.a, c.b = f.pool(inner[:half]), f.pool(inner[half:])
	c.rest(&f.task.slopes)
	return c
}

func (f *field) pool(bays []*bay) *pool {
	key := [2]int{-1, -1}
	for i, b := range bays {
		key[i] = b.box
	}
	f.mutex.Lock()
	l := f.pools[key]
	if l == nil {
		l = &lazy[*pool]{}
		f.pools[key] = l
	}
	f.mutex.Unlock()
	return l.get(func() *pool { return poolOf(f.task.per, &f.task.slopes, bays...) })
}

// perMoment is how many steps of the objectives a kg mm makes, for a vehicle of the donor's mass: where to halve
// points follows from it, no figure does.
func (t *task) perMoment() moments {
	w, kg := &t.ground.rules.wheels, t.ground.bare.Now.Kg.Value
	per := moments{100 / w.base / kg / t.steps[FrontOff], 200 / (w.front + w.rear) / kg / t.steps[Side], 1 / kg / t.steps[Height]}
	for i, o := range [3]Objective{FrontOff, Side, Height} {
		if !t.on[o] {
			per[i] /= 100 // it counts for the limits only
		}
	}
	return per
}

// rest works out the least and the greatest moments, and the number of ways, for every number of modules left.
func (c *course) rest(slopes *tilts) {
	c.rests = make([][]rest, len(c.outer)+1)
	inner := emptyRests(len(c.a.at) + len(c.b.at) - 1)
	for n := range c.a.at {
		for m := range c.b.at {
			if a, b := &c.a.at[n], &c.b.at[m]; len(a.nodes) > 0 && len(b.nodes) > 0 {
				x, y := &a.nodes[0], &b.nodes[0]
				inner[n+m].take(&x.span, &rest{y.span, y.ways() * x.ways()})
			}
		}
	}
	c.rests[len(c.outer)] = inner
	for k := len(c.outer) - 1; k >= 0; k-- {
		after := c.rests[k+1]
		now := emptyRests(len(after) + c.outer[k].hi)
		c.outer[k].each(func(_, count int, o *option) {
			at := slopes.spanOf(o.first.moments())
			for n := range after {
				now[n+count].take(&at, &after[n])
			}
		})
		c.rests[k] = now
	}
}

func emptyRests(n int) []rest {
	out := make([]rest, n)
	for i := range out {
		s := &out[i]
		for d := range s.lo {
			s.lo[d], s.hi[d] = math.Inf(1), math.Inf(-1)
		}
		for k := range s.tilt {
			s.tilt[k] = math.Inf(1)
		}
	}
	return out
}

// take widens a rest by ways to go on.
func (r *rest) take(at *span, after *rest) {
	if after.ways == 0 {
		return
	}
	r.ways += after.ways
	s := at.plus(&after.span)
	r.widen(&s)
}

// whole is what so many modules in the boxes of the set span, if they go in.
func (c *course) whole(count int) (rest, bool) {
	if count >= len(c.rests[0]) || c.rests[0][count].ways == 0 {
		return rest{}, false
	}
	return c.rests[0][count], true
}
