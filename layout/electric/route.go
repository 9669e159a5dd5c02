package electric

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r3"
)

// oneStrip is the number of modules above which a box is routed in strips one after the other.
const oneStrip = 64

// route returns the members (indices of slots) in an order that keeps the links and the leads from the entry
// and to the exit port short. Ports are indices; none where the string starts or ends with nothing to lead to. An
// order once found is kept.
func (f *boxFacts) route(members []int, entry, exit int) []int {
	members = slices.Sorted(slices.Values(members))
	key := routeKey{members: keyOf(members), entry: entry, exit: exit}
	f.mu.Lock()
	known, ok := f.routes[key]
	f.mu.Unlock()
	if ok {
		return known
	}
	order := f.findRoute(members, entry, exit)
	f.mu.Lock()
	f.routes[key] = order
	f.mu.Unlock()
	return order
}

func keyOf(members []int) string {
	b := make([]byte, 0, 2*len(members))
	for _, m := range members {
		b = append(b, byte(m), byte(m>>8))
	}
	return string(b)
}

func (f *boxFacts) findRoute(members []int, entry, exit int) []int {
	strips := f.strips(members, entry)
	var order []int
	for i, s := range strips {
		c := f.costsOf(s)
		f.leadIn(c, s, order, entry)
		if i == len(strips)-1 {
			f.leadOut(c, s, exit)
		}
		for _, k := range f.uncrossed(c, s, c.shortest()) {
			order = append(order, s[k])
		}
	}
	return order
}

// costsOf are the costs between some slots in rising order. They are not changed once made.
func (f *boxFacts) costsOf(s []int) *costs {
	n := len(s)
	if n > 1 && n == len(f.slots) {
		f.cost(s[0], s[1])
		return &costs{n: n, step: f.price, start: make([]float64, n), end: make([]float64, n)}
	}
	c := newCosts(n)
	for i, a := range s {
		for k, b := range s {
			if i != k {
				c.step[i*c.n+k] = f.cost(a, b)
			}
		}
	}
	return c
}

// leadIn makes the start of a strip the last module before it, or the port.
func (f *boxFacts) leadIn(c *costs, s, before []int, entry int) {
	for i, m := range s {
		switch {
		case len(before) > 0:
			c.start[i] = f.cost(before[len(before)-1], m)
		case entry != none:
			c.start[i] = nearestPole(f.slots[m].neg, f.ports[entry].at)
		}
	}
}

func (f *boxFacts) leadOut(c *costs, s []int, exit int) {
	if exit == none {
		return
	}
	for i, m := range s {
		c.end[i] = nearestPole(f.slots[m].pos, f.ports[exit].at)
	}
}

func nearestPole(ps []pole, to r3.Vector) float64 {
	best := alongAxes(ps[0].p, to)
	for _, p := range ps[1:] {
		best = min(best, alongAxes(p.p, to))
	}
	return best
}

// strips cuts many modules into strips across the box's longer side, from the entry on.
func (f *boxFacts) strips(members []int, entry int) [][]int {
	if len(members) <= oneStrip {
		return [][]int{members}
	}
	lo, hi := outerBounds(f.box.Box)
	place := func(i int) float64 { return f.slots[i].centre().X }
	back := entry != none && f.ports[entry].at.X > (lo.X+hi.X)/2
	if hi.Y-lo.Y > hi.X-lo.X {
		place = func(i int) float64 { return f.slots[i].centre().Y }
		back = entry != none && f.ports[entry].at.Y > (lo.Y+hi.Y)/2
	}
	slices.SortStableFunc(members, func(a, b int) int {
		if back {
			a, b = b, a
		}
		return cmp.Compare(place(a), place(b))
	})
	n := (len(members) + oneStrip - 1) / oneStrip
	return slices.Collect(slices.Chunk(members, (len(members)+n-1)/n))
}
