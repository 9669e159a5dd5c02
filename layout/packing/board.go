package packing

// board solves the plane when it is one rectangle with nothing in it and one size
// of block: first by five blocks and simple bounds, then as any grid.
func (s *session) board(p *plane) (planeResult, bool) {
	m, at, unit, ok := asPallet(p)
	if !ok {
		return planeResult{}, false
	}
	blocks, bound := solvePallet(m, boardWork, func() bool { return s.ctx.Err() != nil })
	r := planeResult{bound: bound, gridBound: bound, argument: byBoard}
	standing := p.options[0].w < p.options[0].h
	for _, b := range blocks {
		opt := 0
		if p.usable > 1 && b.standing != standing {
			opt = 1
		}
		r.spots = append(r.spots, spot{opt, vec{at.x + int64(b.x)*unit, at.y + int64(b.y)*unit}})
	}
	if len(blocks) >= bound {
		return r, true
	}
	return s.boardByGrid(p, r), true
}

const (
	// boardWork bounds the cuts tried by five blocks.
	boardWork = 4_000_000
	byBoard   = "the known bounds for a plain rectangle (Barnes, area) allow no more"
)

// boardByGrid closes what the simple bounds leave open.
func (s *session) boardByGrid(p *plane, r planeResult) planeResult {
	spots, ok := candidates(p)
	if !ok {
		return r
	}
	env, _ := p.envelopes()
	gs := s.newSolver(newGrid(spots, env), spots)
	gs.floor, gs.bound, gs.by = len(r.spots), r.bound, r.argument
	return s.through(p, gs, spots, r)
}

// asPallet recognises a rectangle without obstacles and two turns of one block
// with one gap all round, in units of the greatest common divisor.
func asPallet(p *plane) (m pallet, at vec, unit int64, ok bool) {
	env, plain := p.envelopes()
	if !plain || len(p.fixed) > 0 || p.usable != 2 && (p.usable != 1 || env[0].hi.x != env[0].hi.y) {
		return m, at, 0, false
	}
	f := p.fields[p.options[0].parts[0].field]
	last := p.options[p.usable-1]
	if f != p.fields[last.parts[0].field] || len(f.voids) > 0 || len(f.outer) != 1 || !isRectangle(f.outer[0]) {
		return m, at, 0, false
	}
	if env[0].hi.x != env[p.usable-1].hi.y || env[0].hi.y != env[p.usable-1].hi.x {
		return m, at, 0, false
	}
	o := p.options[0]
	gap, wallGap := env[0].hi.x-o.w, f.gap
	X := f.bounds.w() - 2*wallGap + gap
	Y := f.bounds.h() - 2*wallGap + gap
	a, b := max(env[0].hi.x, env[0].hi.y), min(env[0].hi.x, env[0].hi.y)
	unit = gcd64(gcd64(a, b), 0)
	if X <= 0 || Y <= 0 || X/unit > maxBoard || Y/unit > maxBoard || (X/b)*(Y/b) > maxCount {
		return m, at, 0, false
	}
	at = vec{f.bounds.lo.x + wallGap, f.bounds.lo.y + wallGap}
	return pallet{int(X / unit), int(Y / unit), int(a / unit), int(b / unit)}, at, unit, true
}

const (
	maxBoard = 2_000_000 // longest side, in units
	maxCount = 30_000    // counts fit 16 bits
)

func isRectangle(r []vec) bool {
	if len(r) != 4 {
		return false
	}
	b := boundsOf([][]vec{r})
	for _, v := range r {
		if (v.x != b.lo.x && v.x != b.hi.x) || (v.y != b.lo.y && v.y != b.hi.y) {
			return false
		}
	}
	return true
}
