package assembly

// cost is what joining costs, in the order in which it counts: steps with something bare in a circuit above the limit,
// then the highest voltage between a bare conductor and anything else of its circuit.
type cost struct {
	steps int
	volts float64
}

// less orders costs. Voltages that differ by less than a microvolt count as equal, so that rounding decides nothing.
func (c cost) less(d cost) bool {
	return c.steps < d.steps || c.steps == d.steps && c.volts < d.volts-1e-6
}

func (c cost) plus(d cost) cost { return cost{c.steps + d.steps, max(c.volts, d.volts)} }

// over tells whether a voltage is hazardous. A limit is met by a voltage that equals it.
func over(v, limit float64) bool { return v > limit+1e-9 }

// jointCost is the cost of one joint between a circuit of v volts and one of w: the side of the lower voltage is
// uncovered first, then the other; with the link in, both bolts are tightened and both ends covered, all in a circuit
// of v + w volts. Between the joint and the rest of its circuit stand v or w, whichever is more.
func jointCost(v, w, limit float64) cost {
	low, high := min(v, w), max(v, w)
	c := cost{volts: high}
	for _, s := range [...]struct {
		v float64
		n int
	}{{low, 1}, {high, 1}, {v + w, stepsTogether}} {
		if over(s.v, limit) {
			c.steps += s.n
		}
	}
	return c
}

// stepsTogether are the steps of a joint during which both sides are one circuit: fit, tighten twice, cover twice.
const stepsTogether = 5

// joinOrder finds the order in which a row of circuits with the voltages given, joined one to the next, is best
// joined. It returns the joints in that order (joint i is between circuit i and i+1) and the cost.
//
// The cost of a joint depends only on the two circuits that it joins, so every order is a binary tree over the row,
// and the best tree of a stretch is made of the best trees of its two parts: sums and maxima keep their order. This is
// the chain-ordering dynamic programme (Godbole, IEEE Trans. Computers C-22, 1973), O(n³).
func joinOrder(volts []float64, limit float64) ([]int, cost) {
	n := len(volts)
	if n > exactPieces {
		return joinRoughly(volts, limit)
	}
	w := newTable(volts, limit)
	w.solveAll()
	var order []int
	w.unfold(0, n-1, &order)
	return order, w.best[w.at(0, n-1)]
}

func (w *table) solveAll() {
	for length := 2; length <= w.n; length++ {
		for from := 0; from+length <= w.n; from++ {
			w.solve(from, from+length-1)
		}
	}
}

// exactPieces is the longest row that is ordered exactly; 400³/6 steps take a fraction of a second.
const exactPieces = 400

// table holds the best cost and split of every stretch of a row.
type table struct {
	n     int
	sum   []float64
	best  []cost
	split []int
	limit float64
	when  []window // of each joint; nil: any time
}

func newTable(volts []float64, limit float64) *table {
	n := len(volts)
	w := &table{n: n, sum: make([]float64, n+1), best: make([]cost, n*n), split: make([]int, n*n), limit: limit}
	for i, v := range volts {
		w.sum[i+1] = w.sum[i] + v
	}
	return w
}

func (w *table) at(l, r int) int { return l*w.n + r }

// solve finds the best last joint of a stretch; of equal ones the first that splits it most evenly.
func (w *table) solve(l, r int) {
	at := w.at(l, r)
	even, found := 0.0, false
	ready := w.ready(l, r)
	for j := l; j < r; j++ {
		if w.when != nil && w.when[j].last < ready {
			continue
		}
		v, u := w.sum[j+1]-w.sum[l], w.sum[r+1]-w.sum[j+1]
		c := w.best[w.at(l, j)].plus(w.best[w.at(j+1, r)]).plus(jointCost(v, u, w.limit))
		off := max(v, u)
		if !found || c.less(w.best[at]) || !w.best[at].less(c) && off < even-1e-6 {
			w.best[at], w.split[at], even, found = c, j, off, true
		}
	}
}

func (w *table) unfold(l, r int, out *[]int) {
	if l >= r {
		return
	}
	j := w.split[w.at(l, r)]
	w.unfold(l, j, out)
	w.unfold(j+1, r, out)
	*out = append(*out, j)
}

// joinRoughly orders a long row: full groups within the limit first, then neighbours of about equal voltage pairwise.
// It is not proved best.
func joinRoughly(volts []float64, limit float64) ([]int, cost) {
	r := rough{limit: limit, done: make([]bool, len(volts)-1)}
	ends, sums := groups(volts, limit)
	from := 0
	for _, to := range ends {
		r.inside(volts[from:to], from)
		from = to
	}
	r.pairwise(ends, sums)
	return r.order, r.cost
}

type rough struct {
	limit float64
	order []int
	cost  cost
	done  []bool
}

// inside joins a group from its negative end on.
func (r *rough) inside(volts []float64, from int) {
	sum := volts[0]
	for i := 1; i < len(volts); i++ {
		r.join(from+i-1, sum, volts[i])
		sum += volts[i]
	}
}

func (r *rough) join(j int, v, w float64) {
	r.order = append(r.order, j)
	r.cost = r.cost.plus(jointCost(v, w, r.limit))
}

// pairwise joins neighbouring groups in rounds, each with the next.
func (r *rough) pairwise(ends []int, sums []float64) {
	for len(sums) > 1 {
		var e []int
		var s []float64
		for i := 0; i < len(sums); i += 2 {
			if i+1 == len(sums) {
				e, s = append(e, ends[i]), append(s, sums[i])
				continue
			}
			r.join(ends[i]-1, sums[i], sums[i+1])
			e, s = append(e, ends[i+1]), append(s, sums[i]+sums[i+1])
		}
		ends, sums = e, s
	}
}

// groups cuts a row into the fewest stretches that each stay within the limit, by filling each as far as it goes: no
// cut into fewer exists, as the first stretch of any other ends no later. A single entry above the limit stands alone.
func groups(volts []float64, limit float64) (ends []int, sums []float64) {
	sum, any := 0.0, false
	for i, v := range volts {
		if any && over(sum+v, limit) {
			ends, sums = append(ends, i), append(sums, sum)
			sum = 0
		}
		sum, any = sum+v, true
	}
	return append(ends, len(volts)), append(sums, sum)
}

// leastSteps is a lower bound of the hazardous steps of any order: every two groups next to each other in the fewest
// groups within the limit need a joint between circuits that are above it together.
func leastSteps(volts []float64, limit float64) int {
	ends, _ := groups(volts, limit)
	return (len(ends) - 1) * stepsTogether
}
