package electric

import "math"

// exactOrder is the number of places up to which the shortest order is found exactly.
const exactOrder = 11

// none stands in place of an index where there is none.
const none = -1

// costs are the costs of an open path: from place i to place k, from the start to i, from i to the end.
type costs struct {
	n          int
	step       []float64 // n*n, row from, column to
	start, end []float64
}

func newCosts(n int) *costs {
	return &costs{n: n, step: make([]float64, n*n), start: make([]float64, n), end: make([]float64, n)}
}

func (c *costs) at(i, k int) float64 { return c.step[i*c.n+k] }

// total is the cost of visiting the places in that order.
func (c *costs) total(order []int) float64 {
	sum := c.start[order[0]] + c.end[order[len(order)-1]]
	for i := 1; i < len(order); i++ {
		sum += c.at(order[i-1], order[i])
	}
	return sum
}

// shortest returns an order of all places with a small total cost: the least for up to exactOrder places, else
// nearest neighbour improved by moving and reversing stretches until nothing helps. It depends on the costs alone.
func (c *costs) shortest() []int {
	switch {
	case c.n == 0:
		return nil
	case c.n <= exactOrder:
		return c.exact()
	}
	return c.improved(c.greedy())
}

// exact is the dynamic programme over subsets of Held and Karp (J. SIAM 10, 1962).
func (c *costs) exact() []int {
	n := c.n
	full := 1 << n
	best := make([]float64, full*n)
	from := make([]int8, full*n)
	for i := range best {
		best[i] = math.Inf(1)
	}
	for i := range n {
		best[(1<<i)*n+i] = c.start[i]
	}
	for set := 1; set < full; set++ {
		for last := range n {
			if b := best[set*n+last]; set&(1<<last) != 0 && !math.IsInf(b, 1) {
				c.extend(best, from, set, last, b)
			}
		}
	}
	return c.trace(best, from)
}

func (c *costs) extend(best []float64, from []int8, set, last int, b float64) {
	row := c.step[last*c.n : (last+1)*c.n]
	for next, d := range row {
		if set&(1<<next) != 0 {
			continue
		}
		k := (set|1<<next)*c.n + next
		if b+d < best[k] {
			best[k], from[k] = b+d, int8(last)
		}
	}
}

func (c *costs) trace(best []float64, from []int8) []int {
	var last int
	set, least := 1<<c.n-1, math.Inf(1)
	for i := range c.n {
		if v := best[set*c.n+i] + c.end[i]; v < least {
			least, last = v, i
		}
	}
	order := make([]int, c.n)
	for k := c.n - 1; k >= 0; k-- {
		order[k] = last
		prev := int(from[set*c.n+last])
		set &^= 1 << last
		last = prev
	}
	return order
}

// greedy starts at the place nearest to the start and goes on to the nearest place left.
func (c *costs) greedy() []int {
	used := make([]bool, c.n)
	order := make([]int, 0, c.n)
	row := c.start
	for range c.n {
		at := none
		for i, d := range row {
			if !used[i] && (at == none || d < row[at]) {
				at = i
			}
		}
		used[at] = true
		order = append(order, at)
		row = c.step[at*c.n : (at+1)*c.n]
	}
	return order
}
