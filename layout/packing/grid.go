package packing

import (
	"math"
	"slices"
	"sort"
)

// grid is the set-packing model of a plane whose conflicts are all overlaps of one
// envelope rectangle per option. Its rows are the points at which lower left
// corners may meet: rectangles that overlap pairwise share such a point, so the rows
// are all the maximal cliques. A candidate covers a block of points.
type grid struct {
	xs, ys []int64
	spots  []spot
	blocks []cells
	boxes  []rect // envelopes in place
	nx, ny int
	sums   []float64 // scratch of cover and load, which are not for use side by side
}

// areas prices each point some candidate covers by the area up to the next points,
// in units of the least envelope, so that the sum is the area bound.
func (g *grid) areas() []float64 {
	least, right, top := math.Inf(1), int64(0), int64(0)
	for _, e := range g.boxes {
		least = math.Min(least, float64(e.w())*float64(e.h()))
		right, top = max(right, e.hi.x), max(top, e.hi.y)
	}
	xs, ys := append(slices.Clone(g.xs), right), append(slices.Clone(g.ys), top)
	out := make([]float64, g.rows())
	ones := make([]float64, len(g.spots))
	for i := range ones {
		ones[i] = 1
	}
	g.load(ones, out)
	for y := range g.ny {
		for x := range g.nx {
			if k := y*g.nx + x; out[k] > 0.5 {
				out[k] = float64(xs[x+1]-xs[x]) * float64(ys[y+1]-ys[y]) / least
			}
		}
	}
	return out
}

// scratch is a zeroed table of one more column and row than the grid has.
func (g *grid) scratch() []float64 {
	if n := (g.nx + 1) * (g.ny + 1); len(g.sums) != n {
		g.sums = make([]float64, n)
	} else {
		clear(g.sums)
	}
	return g.sums
}

// cells is a block of grid points: x0 <= column < x1, y0 <= row < y1.
type cells struct{ x0, x1, y0, y1 int32 }

// envelopes gives the envelope of each usable option, when there is one.
func (p *plane) envelopes() ([]rect, bool) {
	out := make([]rect, p.usable)
	for i := range out {
		if len(p.zone[i][i]) != 1 {
			return nil, false
		}
		out[i] = rect{vec{}, p.zone[i][i][0].hi}
	}
	for i := range out {
		for j := range out {
			zs := p.zone[i][j]
			if len(zs) != 1 || zs[0].hi != out[i].hi || zs[0].lo != (vec{-out[j].hi.x, -out[j].hi.y}) {
				return nil, false
			}
		}
	}
	return out, true
}

// newGrid models candidates whose envelopes, relative to their place, are given.
func newGrid(spots []spot, env []rect) *grid {
	g := &grid{spots: spots}
	for _, s := range spots {
		g.xs = append(g.xs, s.x+env[s.opt].lo.x)
		g.ys = append(g.ys, s.y+env[s.opt].lo.y)
	}
	g.xs, g.ys = sortedUnique(g.xs), sortedUnique(g.ys)
	g.nx, g.ny = len(g.xs), len(g.ys)
	g.blocks = make([]cells, len(spots))
	g.boxes = make([]rect, len(spots))
	for k, s := range spots {
		e := env[s.opt].at(s.vec)
		g.boxes[k] = e
		g.blocks[k] = cells{below(g.xs, e.lo.x), below(g.xs, e.hi.x), below(g.ys, e.lo.y), below(g.ys, e.hi.y)}
	}
	return g
}

// below counts the members of a sorted list that are less than v.
func below(list []int64, v int64) int32 {
	return int32(sort.Search(len(list), func(k int) bool { return list[k] >= v }))
}

func (g *grid) columns() int { return len(g.spots) }
func (g *grid) rows() int    { return g.nx * g.ny }

// cover sums the prices of the points under each candidate.
func (g *grid) cover(price, out []float64) {
	stride := g.nx + 1
	sum := g.scratch()
	for y := range g.ny {
		var run float64
		row, up, src := sum[(y+1)*stride:(y+2)*stride], sum[y*stride:(y+1)*stride], price[y*g.nx:(y+1)*g.nx]
		for x, v := range src {
			run += v
			row[x+1] = up[x+1] + run
		}
	}
	for k, b := range g.blocks {
		top, bottom := int(b.y1)*stride, int(b.y0)*stride
		out[k] = sum[top+int(b.x1)] - sum[top+int(b.x0)] - sum[bottom+int(b.x1)] + sum[bottom+int(b.x0)]
	}
}

// load sums over each point the weights of the candidates that cover it.
func (g *grid) load(weight, out []float64) {
	stride := g.nx + 1
	d := g.scratch()
	for k, b := range g.blocks {
		w := weight[k]
		if w == 0 {
			continue
		}
		top, bottom := int(b.y1)*stride, int(b.y0)*stride
		d[bottom+int(b.x0)] += w
		d[bottom+int(b.x1)] -= w
		d[top+int(b.x0)] -= w
		d[top+int(b.x1)] += w
	}
	for y := range g.ny {
		var run float64
		row := d[y*stride : (y+1)*stride]
		for x := range g.nx {
			run += row[x]
			out[y*g.nx+x] = run
			if y > 0 {
				out[y*g.nx+x] += out[(y-1)*g.nx+x]
			}
		}
	}
}
