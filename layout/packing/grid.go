package packing

import "sort"

// grid is the set-packing model of a plane whose conflicts are all overlaps of one
// envelope rectangle per option. Its rows are the points at which lower left
// corners may meet: rectangles that overlap pairwise share such a point, so the rows
// are all the maximal cliques. A candidate covers a block of points.
type grid struct {
	xs, ys []int64
	spots  []spot
	blocks []cells
	nx, ny int
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
	for k, s := range spots {
		e := env[s.opt].at(s.vec)
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
	sum := make([]float64, stride*(g.ny+1))
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
	d := make([]float64, stride*(g.ny+1))
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
