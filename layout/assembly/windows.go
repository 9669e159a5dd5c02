package assembly

import (
	"cmp"
	"math"
	"slices"

	"stowbay/layout"
)

// window is when a joint can be made: from phase first, when both its sides are in place, to phase last, after which a
// module stands over it. A layer of modules has two phases: 2k for fuses, contactors and other gear, 2k+1 for links.
type window struct{ first, last int }

// ready is the phase in which the last of a stretch's joints can be made at the earliest.
func (w *table) ready(l, r int) int {
	phase := 0
	if w.when != nil {
		for _, x := range w.when[l:r] {
			phase = max(phase, x.first)
		}
	}
	return phase
}

// timed is a joint of a row and the phase in which it is made.
type timed struct{ joint, phase int }

// joinWithin is [joinOrder] for joints that each have a window. A joint comes after all others of its stretch, so it can
// be the last of it only if its window is still open when the latest of them can be made; and if that holds all over the
// tree, each joint made as late as its window and the joint after it allow keeps to its window. So the programme stays
// exact. proved is false for rows that are too long for it.
func joinWithin(volts []float64, limit float64, when []window) (order []timed, least int, proved bool) {
	if len(volts) > exactPieces {
		list, _ := joinRoughly(volts, limit)
		for _, j := range list {
			order = append(order, timed{j, when[j].first})
		}
		return byPhase(order), leastSteps(volts, limit), false
	}
	w := newTable(volts, limit)
	w.when = when
	w.solveAll()
	w.unfoldIn(0, w.n-1, math.MaxInt, &order)
	return byPhase(order), w.best[w.at(0, w.n-1)].steps, true
}

func byPhase(order []timed) []timed {
	slices.SortStableFunc(order, func(a, b timed) int { return cmp.Compare(a.phase, b.phase) })
	return order
}

// unfoldIn lists the joints of a stretch that has to be whole by a phase.
func (w *table) unfoldIn(l, r, phase int, out *[]timed) {
	if l >= r {
		return
	}
	j := w.split[w.at(l, r)]
	phase = min(phase, w.when[j].last)
	w.unfoldIn(l, j, phase, out)
	w.unfoldIn(j+1, r, phase, out)
	*out = append(*out, timed{j, phase})
}

// row is the joints of a string that follow each other in a box, in the order in which they are made.
type row struct {
	str, from int
	order     []timed
}

// rows orders the joints of a box and adds their bound.
func (w *writer) rows(b *layout.BoxScene, ls layers) []row {
	var out []row
	for t := range w.b.m.tracks {
		tr := &w.b.m.tracks[t]
		for i := 0; i < len(tr.pieces); {
			k := i + 1
			for k < len(tr.pieces) && tr.pieces[k].box == tr.pieces[i].box && tr.seams[k-1].kind == bolted {
				k++
			}
			if tr.pieces[i].box == b {
				out = append(out, w.rowOf(t, i, k, ls))
			}
			i = k
		}
	}
	return out
}

func (w *writer) rowOf(t, from, to int, ls layers) row {
	var volts []float64
	var when []window
	for i := from; i < to; i++ {
		volts = append(volts, w.b.m.tracks[t].pieces[i].volts)
		if i+1 < to {
			when = append(when, w.windowOf(seamAt{t, i}, ls))
		}
	}
	order, least, proved := joinWithin(volts, w.b.m.Limits.TouchV, when)
	w.q.LeastSteps += least
	w.exact = w.exact && proved
	return row{t, from, order}
}

func (w *writer) windowOf(s seamAt, ls layers) window {
	tr := &w.b.m.tracks[s.str]
	layer := max(ls.of[tr.pieces[s.at].body], ls.of[tr.pieces[s.at+1].body])
	if w.isGear(s) {
		return window{2 * layer, 2 * layer}
	}
	x := window{2*layer + 1, 2*len(ls.order) - 1}
	j := w.b.m.Joints[w.seam(s).joint]
	for _, end := range [2]int{j.A, j.B} {
		if over := lowestOver(&w.b.m.Conductors[end], ls); over > 0 {
			x.last = min(x.last, 2*over-1)
		}
	}
	x.last = max(x.last, x.first)
	return x
}

// make makes the joints of one phase.
func (w *writer) make(rows []row, phase int) {
	for _, r := range rows {
		for _, x := range r.order {
			if x.phase == phase && w.ctx.Err() == nil {
				w.join(r.str, r.from+x.joint)
			}
		}
	}
}
