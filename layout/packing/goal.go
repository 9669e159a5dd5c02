package packing

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// arranger improves a packing of one plane by the second goals. It moves and turns
// modules and never changes their number.
type arranger struct {
	p       *plane
	goal    *Goal
	mirrorY int64
	lat     lattice
	spots   []spot
	rows    map[rowKey][]span64 // free of walls, by option and y
	heights [][]int64           // at walls, by option
	ctx     context.Context
}

type rowKey struct {
	opt int
	y   int64
}

// row is the plane's row, remembered.
func (a *arranger) row(opt int, y int64) []span64 {
	k := rowKey{opt, y}
	ivs, ok := a.rows[k]
	if !ok {
		ivs = a.p.row(opt, y)
		a.rows[k] = ivs
	}
	return ivs
}

// passes bounds the rounds of moving every module once.
const passes = 12

// arrange gives spots as the goals prefer them.
func (s *session) arrange(p *plane, spots []spot) []spot {
	g := &s.p.Goal
	a := s.arranger(p, spots, g)
	if g.Forward || g.Rearward || g.Centre || g.Rows {
		a.push(passes)
	}
	if g.Mirror {
		a.mirror()
	}
	return a.spots
}

func (s *session) arranger(p *plane, spots []spot, g *Goal) *arranger {
	return &arranger{p: p, goal: g, mirrorY: s.lat.steps(g.MirrorYMM), lat: s.lat,
		spots: slices.Clone(spots), rows: map[rowKey][]span64{}, heights: make([][]int64, p.usable), ctx: s.ctx}
}

// push moves each module in turn to its best free place, until none moves.
func (a *arranger) push(passes int) {
	for pass := 0; pass < passes && a.ctx.Err() == nil; pass++ {
		order := make([]int, len(a.spots))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(i, j int) int {
			return cmp.Compare(a.cost(a.spots[i], nil), a.cost(a.spots[j], nil))
		})
		moved := false
		for _, i := range order {
			if a.ctx.Err() != nil {
				return
			}
			moved = a.move(i) || moved
		}
		if !moved {
			return
		}
	}
}

// move puts one module where it costs least among contacts with the others.
func (a *arranger) move(i int) bool {
	others := slices.Delete(slices.Clone(a.spots), i, i+1)
	best := a.spots[i]
	least := a.cost(best, others)
	for _, t := range a.contacts(a.spots[i], others) {
		if c := a.cost(t, others); c < least-1e-9 {
			best, least = t, c
		}
	}
	if best == a.spots[i] {
		return false
	}
	a.spots[i] = best
	return true
}

// contacts lists free places of any option at the heights of the other modules,
// of contacts above and below them, at corners of walls, and of the module itself.
func (a *arranger) contacts(t spot, others []spot) []spot {
	var out []spot
	for o := range a.p.usable {
		ys := append([]int64{t.y, a.mirrorY - a.p.options[o].h/2}, a.wallHeights(o)...)
		for _, fs := range [2][]spot{others, a.p.fixed} {
			for _, f := range fs {
				ys = append(ys, f.y)
				for _, z := range a.p.zone[f.opt][o] {
					ys = append(ys, f.y+z.hi.y, f.y+z.lo.y)
				}
			}
		}
		ys = sortedUnique(ys)
		spend(a.ctx, int64(len(ys)*(400+80*len(others))))
		for _, y := range ys {
			row := a.row(o, y)
			if len(row) == 0 {
				continue
			}
			for _, iv := range a.p.freeBeside(o, y, row, others) {
				out = append(out, spot{o, vec{iv.lo, y}}, spot{o, vec{iv.hi, y}})
			}
		}
	}
	return out
}

// maxWallHeights bounds the heights taken from walls, where a bay has many corners.
const maxWallHeights = 24

// wallHeights lists heights at which an option touches a corner of a wall from
// above or below, evenly thinned out.
func (a *arranger) wallHeights(opt int) []int64 {
	if a.heights[opt] == nil {
		var ys []int64
		for _, pt := range a.p.options[opt].parts {
			for _, w := range a.p.fields[pt.field].walls {
				for _, v := range w {
					ys = append(ys, v.y-pt.lo.y, v.y-pt.hi.y)
				}
			}
		}
		ys = sortedUnique(ys)
		for k := 0; k < maxWallHeights && len(ys) > 0; k++ {
			a.heights[opt] = append(a.heights[opt], ys[k*len(ys)/maxWallHeights])
		}
		a.heights[opt] = sortedUnique(append(a.heights[opt], ys[len(ys)-1]))
	}
	return a.heights[opt]
}

// cost is what a module at a spot costs by the goals, in mm; lower is better. In
// line with another of the same turn it costs a tenth of its length less each.
func (a *arranger) cost(t spot, others []spot) float64 {
	o := &a.p.options[t.opt]
	x := a.lat.mm(2*t.x+o.w) / 2
	y := a.lat.mm(2*t.y+o.h) / 2
	var c float64
	if a.goal.Forward {
		c += x
	}
	if a.goal.Rearward {
		c -= x
	}
	if a.goal.Centre {
		c += math.Abs(y - a.goal.MirrorYMM)
	}
	if a.goal.Rows {
		c -= a.inLine(t, others) * a.lat.mm(o.w+o.h) / 20
	}
	return c
}

func (a *arranger) inLine(t spot, others []spot) float64 {
	n := 0.0
	for _, f := range others {
		if f.opt == t.opt && (f.x == t.x || f.y == t.y) {
			n++
		}
	}
	return n
}

// mirror replaces the packing by one half of it and that half's image, when as
// many modules stand so.
func (a *arranger) mirror() {
	for _, left := range []bool{true, false} {
		var out []spot
		for _, t := range a.spots {
			twice := 2*t.y + a.p.options[t.opt].h
			switch {
			case twice == 2*a.mirrorY:
				out = append(out, t)
			case (twice < 2*a.mirrorY) == left:
				if image, ok := a.image(t); ok {
					out = append(out, t, image)
				}
			}
		}
		if len(out) == len(a.spots) && a.p.stands(out) {
			a.spots = out
			return
		}
	}
}

// image is a spot seen in the mirror y = mirrorY.
func (a *arranger) image(t spot) (spot, bool) {
	o := &a.p.options[t.opt]
	y := 2*a.mirrorY - t.y - o.h
	want := make([]rect, len(o.strips))
	for i, s := range o.strips {
		want[i] = rect{vec{s.lo.x, o.h - s.hi.y}, vec{s.hi.x, o.h - s.lo.y}}
	}
	for i := range a.p.usable {
		q := &a.p.options[i]
		if q.posture == o.posture && q.w == o.w && q.h == o.h && sameStrips(q.strips, want) {
			return spot{i, vec{t.x, y}}, true
		}
	}
	return spot{}, false
}

func sameStrips(a, b []rect) bool {
	if len(a) != len(b) {
		return false
	}
	for _, r := range a {
		if !slices.Contains(b, r) {
			return false
		}
	}
	return true
}

// stands reports whether spots are allowed and free of conflict.
func (p *plane) stands(spots []spot) bool {
	for i, t := range spots {
		if !p.allowed(t) {
			return false
		}
		for _, u := range spots[:i] {
			if p.conflict(t, u) {
				return false
			}
		}
	}
	return true
}

// facing chooses, among turns that are the same shape, those that bring terminals
// nearest to terminals of other modules.
func (s *session) facing(p *plane, spots []spot) []turned {
	out := make([]turned, len(spots))
	for i, t := range spots {
		out[i] = turned{p.options[t.opt].posture, p.options[t.opt].turn}
	}
	if !s.p.Goal.FacingTerminals {
		return out
	}
	for range passes {
		changed := false
		for i, t := range spots {
			if spend(s.ctx, int64(len(spots)*3000)); s.ctx.Err() != nil {
				return out
			}
			best, least := out[i], s.reach(p, spots, out, i)
			o := &p.options[t.opt]
			for _, alt := range append([]turned{{o.posture, o.turn}}, o.same...) {
				out[i] = alt
				if d := s.reach(p, spots, out, i); d < least-1e-9 {
					best, least, changed = alt, d, true
				}
			}
			out[i] = best
		}
		if !changed {
			break
		}
	}
	return out
}

// reach is how far the terminals of module i are from the nearest of each of the
// two nearest other modules, and of those from it.
func (s *session) reach(p *plane, spots []spot, turns []turned, i int) float64 {
	mine := s.terminals(p, spots[i], turns[i])
	if len(mine) == 0 {
		return 0
	}
	var ds []float64
	for j := range spots {
		if j == i {
			continue
		}
		d := math.Inf(1)
		for _, a := range mine {
			for _, b := range s.terminals(p, spots[j], turns[j]) {
				d = math.Min(d, math.Hypot(a.X-b.X, a.Y-b.Y))
			}
		}
		if !math.IsInf(d, 1) {
			ds = append(ds, d)
		}
	}
	slices.Sort(ds)
	sum := 0.0
	for _, d := range ds[:min(2, len(ds))] {
		sum += d
	}
	return sum
}

// terminals lists the middles of the terminal faces, in mm.
func (s *session) terminals(p *plane, t spot, as turned) []Point {
	o := &p.options[t.opt]
	var out []Point
	for _, f := range s.p.Postures[as.posture].Terminals {
		x, y := float64(2*t.x+o.w)/2, float64(2*t.y+o.h)/2
		if f != Top {
			switch (int(f) + as.turn/90) % 4 {
			case 0:
				x += float64(o.w) / 2
			case 1:
				y += float64(o.h) / 2
			case 2:
				x -= float64(o.w) / 2
			case 3:
				y -= float64(o.h) / 2
			}
		}
		out = append(out, Point{x / s.lat.perMM, y / s.lat.perMM})
	}
	return out
}

// preferred orders modules with those to keep first when a target asks for fewer:
// low before high, then by the pushes.
func (s *session) preferred(a, b solid) int {
	return cmp.Or(cmp.Compare(a.z, b.z), cmp.Compare(s.away(a), s.away(b)), cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y))
}

func (s *session) away(t solid) float64 {
	g := &s.p.Goal
	var c float64
	if g.Forward {
		c += s.lat.mm(t.x)
	}
	if g.Rearward {
		c -= s.lat.mm(t.x)
	}
	if g.Centre {
		c += math.Abs(s.lat.mm(t.y) - g.MirrorYMM)
	}
	return c
}
