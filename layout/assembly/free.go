package assembly

// freeOrder finds the joints of a row of circuits to open so that one of them stands alone, in the best order: fewest
// hazardous steps, then lowest voltage, then fewest joints. The part that holds the one wanted is always a stretch
// [l, r] of the row, and opening a joint inside cuts it shorter, so the best way from the whole row to the one alone is
// found stretch by stretch, the shortest first. can says which joints may be opened.
func freeOrder(volts []float64, can []bool, want int, limit float64) ([]int, cost) {
	f := freeing{volts: volts, can: can, want: want, limit: limit, n: len(volts), best: map[[2]int]freed{}}
	f.sum = make([]float64, f.n+1)
	for i, v := range volts {
		f.sum[i+1] = f.sum[i] + v
	}
	for r := want; r < f.n; r++ {
		for l := want; l >= 0; l-- {
			f.solve(l, r)
		}
	}
	var cuts []int
	for at := [2]int{0, f.n - 1}; ; {
		b := f.best[at]
		if b.cut < 0 {
			break
		}
		cuts = append(cuts, b.cut)
		at = b.next
	}
	return cuts, f.best[[2]int{0, f.n - 1}].cost
}

type freeing struct {
	volts, sum []float64
	can        []bool
	want, n    int
	limit      float64
	best       map[[2]int]freed
}

// freed is the best way on from a stretch.
type freed struct {
	cost   cost
	joints int
	cut    int // -1: done, as far as it can be
	next   [2]int
}

func (f *freeing) solve(l, r int) {
	best := freed{cut: -1}
	for j := l; j < r; j++ {
		if !f.can[j] {
			continue
		}
		at := [2]int{l, j}
		if j < f.want {
			at = [2]int{j + 1, r}
		}
		on := f.best[at]
		c := on.cost.plus(jointCost(f.sum[j+1]-f.sum[l], f.sum[r+1]-f.sum[j+1], f.limit))
		if best.cut < 0 || c.less(best.cost) || !best.cost.less(c) && on.joints+1 < best.joints {
			best = freed{c, on.joints + 1, j, at}
		}
	}
	f.best[[2]int{l, r}] = best
}
