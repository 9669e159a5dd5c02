package packing

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// rebuilder betters a packing at real positions by taking some modules out and
// filling up again, always at contacts with walls and with other modules, from a
// corner chosen at random (ruin and recreate: Schrimpf and others 2000). It serves
// where walls are slanted or gaps and strips unequal, so that no grid holds the best.
type rebuilder struct {
	a    *arranger
	p    *plane
	rng  *rand.Rand
	free []spot // contacts that are free beside the modules placed
}

// rebuild tries a number of times; most is a count that is enough.
func (s *session) rebuild(p *plane, spots []spot, tries, most int) []spot {
	b := &rebuilder{a: s.arranger(p, nil, &s.p.Goal), p: p, rng: rand.New(rand.NewPCG(7, uint64(len(spots))))}
	best := spots
	for k := 0; k < tries && len(best) < most && s.ctx.Err() == nil; k++ {
		now := b.refilled(b.thinned(best), most)
		if len(now) >= len(best) {
			best = now
		}
	}
	return best
}

// rebuilds is how often a plane is rebuilt before its count is left at that.
const rebuilds = 80

// rebuildAll rebuilds the packing of a plane within a part of the work left.
func (s *session) rebuildAll(p *plane, r *planeResult, tries int) {
	if s.enough(r) {
		return
	}
	defer s.portion(0.3, true)()
	if out := s.rebuild(p, r.spots, tries, r.bound); len(out) > len(r.spots) {
		r.spots = out
		s.hear(r, r.bound)
	}
}

// thinned leaves out the modules nearest to a random one, or all on one side of it.
func (b *rebuilder) thinned(spots []spot) []spot {
	if len(spots) == 0 {
		return nil
	}
	at := spots[b.rng.IntN(len(spots))]
	out := slices.Clone(spots)
	n := 1 + b.rng.IntN(min(len(spots), 8))
	far := func(t spot) int64 { return abs64(t.x-at.x) + abs64(t.y-at.y) }
	switch b.rng.IntN(4) {
	case 0:
		far = func(t spot) int64 { return t.x }
		n = b.rng.IntN(len(spots)) + 1
	case 1:
		far = func(t spot) int64 { return -t.y }
		n = b.rng.IntN(len(spots)) + 1
	}
	slices.SortStableFunc(out, func(t, u spot) int { return cmp.Compare(far(t), far(u)) })
	return out[n:]
}

// refilled adds modules one by one until no contact is free.
func (b *rebuilder) refilled(spots []spot, most int) []spot {
	v := views[b.rng.IntN(len(views))]
	by := b.rng.IntN(3)
	b.a.spots = slices.Clone(spots)
	b.free = b.a.contacts(spot{}, b.a.spots)
	for len(b.a.spots) < most && b.a.ctx.Err() == nil {
		if len(b.free) == 0 {
			if b.free = b.a.contacts(spot{}, b.a.spots); len(b.free) == 0 {
				break
			}
		}
		t := b.choice(v, by)
		b.a.spots = append(b.a.spots, t)
		b.narrow(t)
	}
	return b.a.spots
}

// choice is the free contact nearest to a view's corner by far or near corner of the
// body, now and then another near it.
func (b *rebuilder) choice(v view, by int) spot {
	key := func(t spot) vec {
		if by == 2 {
			return t.vec
		}
		return b.p.farCorner(t, v)
	}
	best := b.free[0]
	for _, t := range b.free[1:] {
		if c := v.compare(key(t), key(best)); c < 0 || (c == 0 && b.rng.IntN(3) == 0) {
			if b.rng.IntN(12) > 0 {
				best = t
			}
		}
	}
	return best
}

// narrow drops the contacts that a new module takes and adds those it offers.
func (b *rebuilder) narrow(t spot) {
	var kept []spot
	ys := map[rowKey]bool{}
	for _, f := range b.free {
		ys[rowKey{f.opt, f.y}] = true
		if !b.p.conflict(t, f) {
			kept = append(kept, f)
		}
	}
	spend(b.a.ctx, int64(len(b.free)*60))
	for o := range b.p.usable {
		for _, z := range b.p.zone[t.opt][o] {
			for _, y := range [3]int64{t.y, t.y + z.lo.y, t.y + z.hi.y} {
				if k := (rowKey{o, y}); !ys[k] {
					ys[k] = true
				}
			}
		}
	}
	b.free = kept
	for _, k := range sortedRowKeys(ys) {
		for _, z := range b.p.zone[t.opt][k.opt] {
			if k.y-t.y < z.lo.y || k.y-t.y > z.hi.y {
				continue
			}
			for _, x := range [2]int64{t.x + z.lo.x, t.x + z.hi.x} {
				b.offer(spot{k.opt, vec{x, k.y}})
			}
			for _, iv := range b.a.row(k.opt, k.y) {
				b.offer(spot{k.opt, vec{iv.lo, k.y}})
				b.offer(spot{k.opt, vec{iv.hi, k.y}})
			}
		}
	}
}

// offer adds a contact that is free.
func (b *rebuilder) offer(t spot) {
	spend(b.a.ctx, int64(40+15*len(b.a.spots)))
	in := slices.ContainsFunc(b.a.row(t.opt, t.y), func(iv span64) bool { return iv.lo <= t.x && t.x <= iv.hi })
	if in && !slices.ContainsFunc(b.a.spots, func(u spot) bool { return b.p.conflict(u, t) }) {
		b.free = append(b.free, t)
	}
}

func sortedRowKeys(m map[rowKey]bool) []rowKey {
	out := make([]rowKey, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b rowKey) int { return cmp.Or(cmp.Compare(a.opt, b.opt), cmp.Compare(a.y, b.y)) })
	return out
}
