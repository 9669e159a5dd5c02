package packing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// windows improves a packing of a grid by large neighbourhood search: the modules
// nearest to a random one are taken out, and the hole is packed again, for one more
// if the relaxation of the hole allows it, or else differently.
type windows struct {
	g    *grid
	rng  *rand.Rand
	best []int32
	stop func() bool
}

func newWindows(g *grid, start []int32, seed uint64, stop func() bool) *windows {
	own := *g
	own.sums = nil
	return &windows{g: &own, rng: rand.New(rand.NewPCG(seed, 77)), best: slices.Clone(start), stop: stop}
}

// run tries a number of windows and gives the packing it ends with.
func (w *windows) run(target, tries int) []int32 {
	for k := 0; k < tries && len(w.best) < target && !w.stop(); k++ {
		w.try()
	}
	return w.best
}

func (w *windows) try() {
	if len(w.best) == 0 {
		return
	}
	size := min(len(w.best), 6+w.rng.IntN(13))
	out := w.nearest(w.best[w.rng.IntN(len(w.best))], size)
	kept := w.best[:0:0]
	for _, c := range w.best {
		if !slices.Contains(out, c) {
			kept = append(kept, c)
		}
	}
	hole := w.free(kept)
	if repacked := w.repack(hole, size); repacked != nil {
		w.best = append(kept, repacked...)
	}
}

// nearest lists the modules closest to one of them, that one included.
func (w *windows) nearest(centre int32, size int) []int32 {
	order := slices.Clone(w.best)
	at := w.g.spots[centre]
	aspect := 0.5 + w.rng.Float64()
	far := func(c int32) float64 {
		s := w.g.spots[c]
		return math.Abs(float64(s.x-at.x))*aspect + math.Abs(float64(s.y-at.y))/aspect
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a, b)) })
	return order[:size]
}

// free lists the candidates that overlap none of the kept ones.
func (w *windows) free(kept []int32) []int32 {
	weight := make([]float64, len(w.g.blocks))
	for _, c := range kept {
		weight[c] = 1
	}
	taken := make([]float64, w.g.rows())
	w.g.load(weight, taken)
	over := make([]float64, len(w.g.blocks))
	w.g.cover(taken, over)
	var out []int32
	for c, v := range over {
		if v < 0.5 {
			out = append(out, int32(c))
		}
	}
	return out
}

// repack packs the candidates of a hole that held size modules.
func (w *windows) repack(hole []int32, size int) []int32 {
	sub := w.g.part(hole)
	d := newDualSolver(sub)
	d.run(float64(size+1)-slack, 120)
	target := size
	if d.best.sum >= float64(size+1)-slack {
		target = size + 1
	}
	v := views[w.rng.IntN(len(views))]
	seen, prices := v.grid(sub), v.prices(sub, d.best)
	for ; target >= size; target-- {
		s := newSweep(seen, []priced{prices}, target, 1500, w.stop)
		for _, at := range s.at {
			if len(at) > 1 && w.rng.IntN(2) == 0 {
				slices.Reverse(at)
			}
		}
		if found, _ := s.run(); found != nil {
			for i, c := range found {
				found[i] = hole[c]
			}
			return found
		}
	}
	return nil
}

// part is the grid of some of the candidates, with coordinates that none uses left out.
func (g *grid) part(some []int32) *grid {
	usedX, usedY := make([]int32, g.nx+1), make([]int32, g.ny+1)
	for _, c := range some {
		usedX[g.blocks[c].x0], usedY[g.blocks[c].y0] = 1, 1
	}
	out := &grid{}
	for x, used := range usedX[:g.nx] {
		if used == 1 {
			out.xs = append(out.xs, g.xs[x])
		}
	}
	for y, used := range usedY[:g.ny] {
		if used == 1 {
			out.ys = append(out.ys, g.ys[y])
		}
	}
	out.nx, out.ny = renumber(usedX), renumber(usedY)
	for _, c := range some {
		b := g.blocks[c]
		out.boxes = append(out.boxes, g.boxes[c])
		out.blocks = append(out.blocks, cells{usedX[b.x0], usedX[b.x1], usedY[b.y0], usedY[b.y1]})
	}
	out.spots = make([]spot, len(some))
	return out
}

// renumber turns marks into the count of marks before each place.
func renumber(marks []int32) int {
	var n int32
	for i, m := range marks {
		marks[i] = n
		n += m
	}
	return int(n)
}
