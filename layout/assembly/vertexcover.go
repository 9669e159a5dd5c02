package assembly

import "slices"

// vertexCover finds the fewest of n points so that every edge has one of them, with the forced points among them. It
// branches on the point with most edges left and stops a branch at a matching's bound; where the work runs out, what
// it has is a cover all the same, and least is the bound that was proved.
func vertexCover(n int, edges [][2]int, forced []int) (chosen []int, least int, proved bool) {
	v := coverSearch{in: make([]bool, n), work: 20000}
	for _, f := range forced {
		if !v.in[f] {
			v.in[f] = true
			v.size++
		}
	}
	seen := map[[2]int]bool{}
	for _, e := range edges {
		e = [2]int{min(e[0], e[1]), max(e[0], e[1])}
		if e[0] != e[1] && !v.in[e[0]] && !v.in[e[1]] && !seen[e] {
			v.edges, seen[e] = append(v.edges, e), true
		}
	}
	least = v.size + v.matching()
	v.best = v.greedy()
	v.most = len(v.best)
	v.search()
	if v.work > 0 {
		least = v.most
	}
	return v.best, least, least == v.most
}

// coverSearch is a search under way.
type coverSearch struct {
	edges [][2]int
	in    []bool
	size  int
	best  []int
	most  int
	work  int
}

// search tries the point with most uncovered edges: in the cover, or else all its neighbours.
func (v *coverSearch) search() {
	if v.work--; v.work <= 0 || v.size+v.matching() >= v.most {
		return
	}
	p, neighbours := v.busiest()
	if p < 0 {
		v.best, v.most = v.chosen(), v.size
		return
	}
	v.with([]int{p})
	v.with(neighbours)
}

func (v *coverSearch) with(ps []int) {
	for _, p := range ps {
		v.in[p] = true
	}
	v.size += len(ps)
	v.search()
	v.size -= len(ps)
	for _, p := range ps {
		v.in[p] = false
	}
}

// busiest is the point with most edges left and its neighbours along them; -1 where none is left.
func (v *coverSearch) busiest() (int, []int) {
	next := make([][]int, len(v.in))
	best := -1
	for _, e := range v.edges {
		if v.in[e[0]] || v.in[e[1]] {
			continue
		}
		for k := range 2 {
			p := e[k]
			next[p] = append(next[p], e[1-k])
			if best < 0 || len(next[p]) > len(next[best]) {
				best = p
			}
		}
	}
	if best < 0 {
		return -1, nil
	}
	return best, next[best]
}

// matching is a bound: edges that share no point need a point each.
func (v *coverSearch) matching() int {
	used := make([]bool, len(v.in))
	n := 0
	for _, e := range v.edges {
		if !v.in[e[0]] && !v.in[e[1]] && !used[e[0]] && !used[e[1]] {
			used[e[0]], used[e[1]] = true, true
			n++
		}
	}
	return n
}

// greedy covers by the busiest point each time.
func (v *coverSearch) greedy() []int {
	keep := slices.Clone(v.in)
	for {
		p, _ := v.busiest()
		if p < 0 {
			break
		}
		v.in[p] = true
	}
	out := v.chosen()
	v.in = keep
	return out
}

func (v *coverSearch) chosen() []int {
	var out []int
	for i, is := range v.in {
		if is {
			out = append(out, i)
		}
	}
	return out
}
