package packing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Postures of several heights share a box in many ways, and one sum seldom bounds
// them all. Every way of sharing the height, u, and every choice of worths, y, bounds
// the numbers N of the postures: as in the bound by shares, the sum of u(i) y(i) N(i)
// is at most the greatest worth of one planar packing. All these bounds hold
// together, so the greatest sum of whole numbers N that keeps them is a bound.

const byMix = "the height was shared out among modules one over another in several ways, and no mix of postures keeps within all of them with more"

// mixLimit says that the coefficients times the numbers of modules, by group of equal
// rise, are at most a sum.
type mixLimit struct {
	coef []float64
	most float64
}

// maxGroups bounds the groups of postures of equal rise in a mix.
const maxGroups = 3

// mixBound is the bound by all limits together.
func (k *stacker) mixBound() int {
	groups := k.byRise(k.fitting(k.f.z))
	w := k.weigherAt(k.f.z)
	if w.p == nil {
		return 0
	}
	if len(groups) < 1 || len(groups) > maxGroups {
		return math.MaxInt
	}
	var rises []int64
	for _, g := range groups {
		rises = append(rises, k.s.rise(&k.s.p.Postures[g[0]]))
	}
	shares := shareCorners(rises, k.f.ceiling-k.f.z)
	var limits []mixLimit
	all := k.worths(groups, rises, shares)
	w.prepare(k.s.ctx)
	for level := 1; level <= mixLevels; level++ {
		lift := k.s.portion(0.4, level < mixLevels)
		for i, y := range all {
			limits = append(limits, k.limitsBy(w, groups, shares, y, 1/float64(len(all)-i))...)
		}
		lift()
		if level < mixLevels && (k.s.ctx.Err() != nil || !w.refine(k.s.ctx)) {
			break
		}
	}
	return greatestMix(limits, len(groups))
}

// mixLevels is on how many divisions of the plane worths are weighed, coarse first.
const mixLevels = 2

// limitsBy are the limits by one choice of worths, within a part of the work left.
func (k *stacker) limitsBy(w *weigher, groups [][]int, shares [][]float64, y []float64, part float64) []mixLimit {
	lift := k.s.portion(part, true)
	most := k.mostWorth(w, groups, y)
	lift()
	var out []mixLimit
	for _, u := range shares {
		l := mixLimit{most: most}
		for g := range groups {
			l.coef = append(l.coef, u[g]*y[g])
		}
		out = append(out, l)
	}
	return out
}

// worths lists worths of the groups that are likely to bound their mixes: all alike,
// by area, one over each way of sharing the height, and each group alone.
func (k *stacker) worths(groups [][]int, rises []int64, shares [][]float64) [][]float64 {
	var out [][]float64
	even, area := make([]float64, len(groups)), make([]float64, len(groups))
	for g, ps := range groups {
		q := &k.s.p.Postures[ps[0]]
		even[g], area[g] = 1, q.LengthMM*q.WidthMM
	}
	least := slices.Min(area)
	for g := range area {
		area[g] /= least
	}
	out = append(out, even, area)
	for _, u := range shares {
		if slices.Min(u) <= 0 {
			continue
		}
		y := make([]float64, len(u))
		for g := range u {
			y[g] = slices.Max(u) / u[g]
		}
		out = append(out, y)
	}
	for g := range groups {
		alone := make([]float64, len(groups))
		alone[g] = 1
		out = append(out, alone)
	}
	return out
}

// mostWorth bounds the worth of one planar packing.
func (k *stacker) mostWorth(w *weigher, groups [][]int, y []float64) float64 {
	of := map[int]float64{}
	whole := true
	for g, ps := range groups {
		whole = whole && y[g] == math.Floor(y[g])
		for _, i := range ps {
			of[i] = y[g]
		}
	}
	worth := w.p.worths(func(posture int) float64 { return of[posture] })
	most := math.Min(k.s.weighed(w, worth), w.p.areaWorth(worth))
	if whole {
		most = math.Floor(most + slack)
	}
	return math.Min(most, k.searched(groups, y))
}

// searched is what the search of a layer on the floor proved of a planar packing of
// the groups worth 1, where that layer is like any level cut: nothing that stands or is
// forbidden at some heights only is in its way.
func (k *stacker) searched(groups [][]int, y []float64) float64 {
	if len(k.s.p.Fixed) > 0 || len(k.beside) > 0 || len(k.bay.Forbidden) > 0 {
		return math.Inf(1)
	}
	var of []int
	for g, ps := range groups {
		switch y[g] {
		case 1:
			of = append(of, ps...)
		case 0:
		default:
			return math.Inf(1)
		}
	}
	slices.Sort(of)
	for _, l := range k.planes {
		if l.z == k.f.z && slices.Equal(l.postures, of) {
			return float64(l.bound)
		}
	}
	return math.Inf(1)
}

// greatestMix is the greatest sum of whole numbers within limits.
func greatestMix(limits []mixLimit, groups int) int {
	best := 0
	n := make([]int, groups)
	var from func(g, sum int) bool
	from = func(g, sum int) bool {
		if g == groups {
			best = max(best, sum)
			return true
		}
		most := roomFor(limits, n, g)
		if most == math.MaxInt {
			return false
		}
		for v := most; v >= 0; v-- {
			n[g] = v
			if g == groups-1 && sum+v <= best {
				break
			}
			if !from(g+1, sum+v) {
				return false
			}
		}
		n[g] = 0
		return true
	}
	if !from(0, 0) {
		return math.MaxInt
	}
	return best
}

// roomFor is how many of group g fit beside those chosen of the groups before it.
func roomFor(limits []mixLimit, n []int, g int) int {
	most := math.Inf(1)
	for _, l := range limits {
		if l.coef[g] <= 0 {
			continue
		}
		left := l.most
		for i := range g {
			left -= l.coef[i] * float64(n[i])
		}
		most = math.Min(most, left/l.coef[g])
	}
	if most > maxWorth {
		return math.MaxInt
	}
	return max(-1, int(math.Floor(most+slack)))
}

// shareCorners lists the corners of the set of valid shares that no other exceeds:
// for every stack of rises that fits the height the shares add up to 1 at most.
func shareCorners(rises []int64, height int64) [][]float64 {
	stacks := stacksOf(rises, height)
	var out [][]float64
	n := len(rises)
	rows := make([][]float64, 0, len(stacks)+n)
	for _, s := range stacks {
		rows = append(rows, append(slices.Clone(s), 1))
	}
	for i := range n {
		row := make([]float64, n+1)
		row[i] = 1
		rows = append(rows, row)
	}
	choose(len(rows), n, func(pick []int) {
		of, full, u := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
		for i, p := range pick {
			of.SetRow(i, rows[p][:n])
			full.SetVec(i, rows[p][n])
		}
		if u.SolveVec(of, full) == nil && validShares(u.RawVector().Data, stacks) {
			out = append(out, u.RawVector().Data)
		}
	})
	return undominated(out)
}

// stacksOf lists the numbers of each rise in stacks that fit a height and to which
// none can be added.
func stacksOf(rises []int64, height int64) [][]float64 {
	var out [][]float64
	n := make([]float64, len(rises))
	var from func(g int, left int64)
	from = func(g int, left int64) {
		if g == len(rises) {
			if left < slices.Min(rises) {
				out = append(out, slices.Clone(n))
			}
			return
		}
		for v := int64(0); v*rises[g] <= left; v++ {
			n[g] = float64(v)
			from(g+1, left-v*rises[g])
		}
		n[g] = 0
	}
	from(0, height)
	return out
}

// choose calls f with each choice of k of n.
func choose(n, k int, f func([]int)) {
	pick := make([]int, 0, k)
	var from func(i int)
	from = func(i int) {
		if len(pick) == k {
			f(pick)
			return
		}
		for ; i < n; i++ {
			pick = append(pick, i)
			from(i + 1)
			pick = pick[:len(pick)-1]
		}
	}
	from(0)
}

// validShares reports whether shares are, and makes up for rounding.
func validShares(u []float64, stacks [][]float64) bool {
	most := 0.0
	for i, v := range u {
		if v < -1e-9 {
			return false
		}
		u[i] = math.Max(0, v)
	}
	for _, s := range stacks {
		sum := 0.0
		for i, v := range u {
			sum += v * s[i]
		}
		most = math.Max(most, sum)
	}
	if most > 1+1e-9 {
		return false
	}
	if most > 1 {
		for i := range u {
			u[i] /= most
		}
	}
	return true
}

// undominated keeps the shares that no others equal or exceed throughout.
func undominated(all [][]float64) [][]float64 {
	var out [][]float64
	for i, u := range all {
		kept := true
		for j, v := range all {
			if i == j {
				continue
			}
			covers, same := true, true
			for g := range u {
				covers = covers && v[g] >= u[g]-1e-9
				same = same && math.Abs(v[g]-u[g]) < 1e-9
			}
			if covers && (!same || j < i) {
				kept = false
			}
		}
		if kept {
			out = append(out, u)
		}
	}
	return out
}
