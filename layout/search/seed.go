package search

// seed puts neighbours of what was found for another count into the front before the descent, so that the bound cuts
// from the start: each member with the difference in modules put into, or taken from, one box. The descent meets them
// again and counts them.
func (g *group) seed(before *group) {
	if before == nil || g.task.ground.rules.isHeavy(g.values[Mass]) {
		return
	}
	more := g.choice.Count - before.choice.Count
	for i := range before.front.members {
		m := &before.front.members[i]
		for k := range m.counts {
			g.trySeed(m, k, more)
		}
	}
}

func (r *rules) isHeavy(kg float64) bool {
	_, bad := r.heavy(kg)
	return bad
}

// trySeed judges one neighbour.
func (g *group) trySeed(m *member, k, more int) {
	t := g.task
	lo, hi := t.bounds(g.subset.boxes[k])
	n := int(m.counts[k]) + more
	if n < lo || n > hi {
		return
	}
	counts := append([]uint16(nil), m.counts...)
	counts[k] = uint16(n)
	v := g.base
	for i, b := range g.subset.boxes {
		v = v.plus(t.loads[b][m.push][counts[i]].first, 1)
	}
	s := t.spotOfVehicle(&v)
	if g.front.reached(s) {
		return
	}
	if _, bad := t.ground.rules.broken(&v, g.laden); !bad {
		g.front.add(member{spot: s, push: m.push, counts: counts, first: v})
	}
}
