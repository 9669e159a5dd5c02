package electric

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// crossingWorth is how many mm of link a crossing in plan may cost to avoid (common practice: crossing bare
// links need insulation between them).
const crossingWorth = 60.0

// crossingTries bounds the reversals and exchanges tried.
const crossingTries = 12

// uncrossed changes an order where that takes crossings away at little length. order holds positions in s.
func (f *boxFacts) uncrossed(c *costs, s, order []int) []int {
	u := uncrossing{f, c, s, make([][2]r2.Point, len(s))}
	found, at := u.crossings(order)
	price := c.total(order) + crossingWorth*float64(found)
	for tries := 0; found > 0 && tries < crossingTries; tries++ {
		better, p, n, where := u.best(order, at)
		if p >= price-worth {
			break
		}
		order, price, found, at = better, p, n, where
	}
	return order
}

// uncrossing is the search for an order without crossings, with room for the links of one order.
type uncrossing struct {
	f    *boxFacts
	c    *costs
	s    []int
	segs [][2]r2.Point
}

func (u *uncrossing) best(order []int, at [2]int) (best []int, price float64, n int, where [2]int) {
	price = math.Inf(1)
	i, k := at[0], at[1]
	for _, try := range u.others(order, i, k) {
		m, w := u.crossings(try)
		if p := u.c.total(try) + crossingWorth*float64(m); p < price {
			best, price, n, where = try, p, m, w
		}
	}
	return best, price, n, where
}

// fewModules is the number of modules up to which every place is tried for those whose links cross.
const fewModules = 24

// others are orders that may undo the crossing of the links that start from positions i and k.
func (u *uncrossing) others(order []int, i, k int) [][]int {
	out := [][]int{reversed(order, i+1, k), exchanged(order, i+1, k), exchanged(order, i, k+1), exchanged(order, i+1, k+1), exchanged(order, i, k)}
	if len(order) > fewModules {
		return out
	}
	for _, from := range []int{i, i + 1, k, k + 1} {
		for to := range order {
			if to != from {
				out = append(out, shifted(order, from, to))
			}
		}
	}
	return out
}

// shifted moves the place at one position to another.
func shifted(order []int, from, to int) []int {
	out := slices.Delete(slices.Clone(order), from, from+1)
	return slices.Insert(out, to, order[from])
}

func reversed(order []int, i, k int) []int {
	out := slices.Clone(order)
	slices.Reverse(out[i : k+1])
	return out
}

func exchanged(order []int, i, k int) []int {
	out := slices.Clone(order)
	out[i], out[k] = out[k], out[i]
	return out
}

// crossings counts the pairs of links that cross in plan, and gives the first pair as the positions they start from.
func (u *uncrossing) crossings(order []int) (n int, first [2]int) {
	segs := u.segs[:max(len(order)-1, 0)]
	for i := range segs {
		p, q := bestPoles(&u.f.slots[u.s[order[i]]], &u.f.slots[u.s[order[i+1]]])
		segs[i] = [2]r2.Point{{X: p.p.X, Y: p.p.Y}, {X: q.p.X, Y: q.p.Y}}
	}
	for k := range segs {
		for i := range k {
			if properCross(segs[i], segs[k]) {
				if n == 0 {
					first = [2]int{i, k}
				}
				n++
			}
		}
	}
	return n, first
}

// properCross tells whether two segments cross at a point inside both.
func properCross(a, b [2]r2.Point) bool {
	if max(a[0].X, a[1].X) <= min(b[0].X, b[1].X) || max(b[0].X, b[1].X) <= min(a[0].X, a[1].X) ||
		max(a[0].Y, a[1].Y) <= min(b[0].Y, b[1].Y) || max(b[0].Y, b[1].Y) <= min(a[0].Y, a[1].Y) {
		return false
	}
	return turn(a[0], a[1], b[0])*turn(a[0], a[1], b[1]) < 0 && turn(b[0], b[1], a[0])*turn(b[0], b[1], a[1]) < 0
}

func turn(a, b, p r2.Point) float64 { return b.Sub(a).Cross(p.Sub(a)) }

// countCrossings counts the pairs of a string's links that cross in plan inside a box, terminal to terminal.
func (s *String) countCrossings() int {
	n := 0
	for _, p := range s.Passes {
		segs := make([][2]r2.Point, 0, p.To-p.From)
		for i := p.From; i+1 < p.To; i++ {
			a, b := s.Modules[i].Pos.Place, s.Modules[i+1].Neg.Place
			seg := [2]r2.Point{{X: a.X, Y: a.Y}, {X: b.X, Y: b.Y}}
			for _, o := range segs {
				if properCross(o, seg) {
					n++
				}
			}
			segs = append(segs, seg)
		}
	}
	return n
}
