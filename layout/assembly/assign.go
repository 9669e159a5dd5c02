package assembly

import (
	"fmt"
	"math"
)

// assign gives every row a column of its own so that the sum of the costs is least. cost has rows in n lines of m
// columns, n <= m. bound is the value of the dual problem: no assignment costs less. It is the shortest augmenting path
// form of the Hungarian method (Jonker and Volgenant, Computing 38, 1987), O(n² m).
func assign(cost [][]float64) (column []int, sum, bound float64, err error) {
	n := len(cost)
	if n == 0 {
		return nil, 0, 0, nil
	}
	a := assignment{cost: cost, n: n, m: len(cost[0])}
	if a.n > a.m {
		return nil, 0, 0, fmt.Errorf("%d places and only %d modules to put into them", a.n, a.m)
	}
	a.u, a.v = make([]float64, n+1), make([]float64, a.m+1)
	a.row, a.way = make([]int, a.m+1), make([]int, a.m+1)
	for i := 1; i <= n; i++ {
		a.augment(i)
	}
	column = make([]int, n)
	for j := 1; j <= a.m; j++ {
		if i := a.row[j]; i > 0 {
			column[i-1] = j - 1
			sum += cost[i-1][j-1]
		}
	}
	for i := 1; i <= n; i++ {
		bound += a.u[i]
	}
	for j := 1; j <= a.m; j++ {
		bound += a.v[j]
	}
	return column, sum, bound, nil
}

// assignment holds prices of rows and columns; row 0 and column 0 are a start that costs nothing.
type assignment struct {
	cost     [][]float64
	n, m     int
	u, v     []float64
	row, way []int // of each column: its row, and the column before it on the path
}

// augment brings row i in along the shortest path to a free column.
func (a *assignment) augment(i int) {
	least := make([]float64, a.m+1)
	for j := range least {
		least[j] = math.Inf(1)
	}
	done := make([]bool, a.m+1)
	a.row[0] = i
	j := 0
	for a.row[j] != 0 {
		done[j] = true
		j = a.nearest(j, least, done)
	}
	for j != 0 {
		before := a.way[j]
		a.row[j], j = a.row[before], before
	}
}

// nearest reaches on from a column and returns the nearest column not yet reached.
func (a *assignment) nearest(from int, least []float64, done []bool) int {
	i, next, delta := a.row[from], 0, math.Inf(1)
	for j := 1; j <= a.m; j++ {
		if done[j] {
			continue
		}
		if c := a.cost[i-1][j-1] - a.u[i] - a.v[j]; c < least[j] {
			least[j], a.way[j] = c, from
		}
		if least[j] < delta {
			delta, next = least[j], j
		}
	}
	for j := 0; j <= a.m; j++ {
		if done[j] {
			a.u[a.row[j]] += delta
			a.v[j] -= delta
		} else {
			least[j] -= delta
		}
	}
	return next
}
