package electric

// worth is the least saving in mm for which an order is changed, so that rounding never makes it go round in circles.
const worth = 1e-6

// longestMove is the longest stretch that is moved to another place in one piece (Or, 1976).
const longestMove = 3

// improved applies moves of short stretches and reversals of any stretch while they save anything.
func (c *costs) improved(order []int) []int {
	w := &walk{costs: c, order: order}
	for range 4 * c.n {
		if !w.moveOne() && !w.reverseOne() {
			break
		}
	}
	return w.order
}

// walk is an order being improved.
type walk struct {
	*costs
	order     []int
	fwd, back []float64 // sums of steps up to each place, as walked and the other way round
}

// join is the cost of coming to position k from position i, of which one may lie just before or behind the order: the
// start or the end.
func (w *walk) join(i, k int) float64 {
	switch {
	case i < 0:
		return w.start[w.order[k]]
	case k >= w.n:
		return w.end[w.order[i]]
	}
	return w.at(w.order[i], w.order[k])
}

// moveOne goes once over all short stretches and moves each to where it saves most.
func (w *walk) moveOne() bool {
	any := false
	for l := 1; l <= longestMove && l < w.n; l++ {
		for i := 0; i+l <= w.n; i++ {
			if to, save := w.bestPlace(i, l); save > worth {
				w.move(i, l, to)
				any = true
			}
		}
	}
	return any
}

// bestPlace finds where the stretch of l places from i saves most: between to-1 and to of the order as it is.
func (w *walk) bestPlace(i, l int) (to int, save float64) {
	gain := w.join(i-1, i) + w.join(i+l-1, i+l) - w.join(i-1, i+l)
	if gain <= worth {
		return to, save
	}
	first, last := w.order[i], w.order[i+l-1]
	for k := 0; k <= w.n; k++ {
		if k >= i && k <= i+l {
			continue
		}
		if s := gain - w.insertion(k, first, last); s > save {
			to, save = k, s
		}
	}
	return to, save
}

// insertion is what it costs to put a stretch between positions k-1 and k.
func (w *walk) insertion(k, first, last int) float64 {
	switch k {
	case 0:
		return w.start[first] + w.at(last, w.order[0]) - w.start[w.order[0]]
	case w.n:
		e := w.order[w.n-1]
		return w.at(e, first) + w.end[last] - w.end[e]
	}
	a, b := w.order[k-1], w.order[k]
	return w.at(a, first) + w.at(last, b) - w.at(a, b)
}

func (w *walk) move(i, l, to int) {
	piece := append([]int(nil), w.order[i:i+l]...)
	rest := append(append([]int(nil), w.order[:i]...), w.order[i+l:]...)
	if to > i {
		to -= l
	}
	w.order = append(append(append([]int(nil), rest[:to]...), piece...), rest[to:]...)
}

// reverseOne goes once over all stretches and reverses those that save.
func (w *walk) reverseOne() bool {
	any := false
	w.sum()
	for i := range w.n {
		for k := i + 1; k < w.n; k++ {
			if w.reversalSaves(i, k) > worth {
				for a, b := i, k; a < b; a, b = a+1, b-1 {
					w.order[a], w.order[b] = w.order[b], w.order[a]
				}
				w.sum()
				any = true
			}
		}
	}
	return any
}

func (w *walk) sum() {
	if w.fwd == nil {
		w.fwd, w.back = make([]float64, w.n), make([]float64, w.n)
	}
	for i := 1; i < w.n; i++ {
		w.fwd[i] = w.fwd[i-1] + w.at(w.order[i-1], w.order[i])
		w.back[i] = w.back[i-1] + w.at(w.order[i], w.order[i-1])
	}
}

// reversalSaves is what reversing positions i to k saves; steps cost differently in the two directions.
func (w *walk) reversalSaves(i, k int) float64 {
	was := w.join(i-1, i) + w.fwd[k] - w.fwd[i] + w.join(k, k+1)
	first, last := w.order[i], w.order[k]
	now := w.back[k] - w.back[i]
	if i == 0 {
		now += w.start[last]
	} else {
		now += w.at(w.order[i-1], last)
	}
	if k == w.n-1 {
		now += w.end[first]
	} else {
		now += w.at(first, w.order[k+1])
	}
	return was - now
}
