package packing

import "math"

// vec is a point of the lattice.
type vec struct{ x, y int64 }

// rect is the rectangle from lo to hi in lattice steps.
type rect struct{ lo, hi vec }

func (r rect) w() int64 { return r.hi.x - r.lo.x }
func (r rect) h() int64 { return r.hi.y - r.lo.y }

func (r rect) at(p vec) rect {
	return rect{vec{r.lo.x + p.x, r.lo.y + p.y}, vec{r.hi.x + p.x, r.hi.y + p.y}}
}

// holds reports whether d lies in the open interior.
func (r rect) holds(d vec) bool {
	return r.lo.x < d.x && d.x < r.hi.x && r.lo.y < d.y && d.y < r.hi.y
}

// turned is the rectangle turned by quarter turns from +x to +y about the origin.
func (r rect) turned(quarters int) rect {
	for ; quarters > 0; quarters-- {
		r = rect{vec{-r.hi.y, r.lo.x}, vec{-r.lo.y, r.hi.x}}
	}
	return r
}

// lattice turns millimetres into whole steps. The step is 0.01 mm, or a tenth or
// hundredth of that when an input has more decimals.
type lattice struct{ perMM float64 }

// MaxMM is the greatest magnitude of a coordinate; beyond it products of
// differences would not fit 64 bits on the finest lattice.
const MaxMM = 100_000

func newLattice(values []float64) lattice {
	for _, k := range []float64{100, 1000} {
		if allWhole(values, k) {
			return lattice{k}
		}
	}
	return lattice{10_000}
}

func allWhole(values []float64, k float64) bool {
	for _, v := range values {
		if math.Abs(v*k-math.Round(v*k)) > 1e-5 {
			return false
		}
	}
	return true
}

// finest bounds the steps in a millimetre.
const finest = 10_000

// onSlants is a lattice fine enough that a module on whole coordinates along one axis
// touches slanted walls on whole coordinates along the other; or the lattice as it is,
// where that would be too fine. Packings that fit exactly between slants stand on
// such coordinates only.
func (l lattice) onSlants(rings [][]Point) lattice {
	overX, overY := int64(1), int64(1)
	for _, ring := range rings {
		r := l.ring(ring)
		for i, p := range r {
			q := r[(i+1)%len(r)]
			dx, dy := abs64(q.x-p.x), abs64(q.y-p.y)
			if dx == 0 || dy == 0 {
				continue
			}
			g := gcd64(dx, dy)
			overX, overY = l.multiple(overX, dx/g), l.multiple(overY, dy/g)
		}
	}
	for _, k := range [3]int64{l.multiple(overX, overY), overX, overY} {
		if float64(k)*l.perMM <= finest {
			return lattice{float64(k) * l.perMM}
		}
	}
	return l
}

// multiple is the least common multiple, or one too great for any lattice.
func (l lattice) multiple(a, b int64) int64 {
	if a > finest || b > finest {
		return finest + 1
	}
	return min(finest+1, a/gcd64(a, b)*b)
}

func (l lattice) steps(mm float64) int64 { return int64(math.Round(mm * l.perMM)) }
func (l lattice) mm(steps int64) float64 { return float64(steps) / l.perMM }
func (l lattice) point(p Point) vec      { return vec{l.steps(p.X), l.steps(p.Y)} }

func (l lattice) ring(ps []Point) []vec {
	out := make([]vec, 0, len(ps))
	for _, p := range ps {
		v := l.point(p)
		if len(out) == 0 || out[len(out)-1] != v {
			out = append(out, v)
		}
	}
	if len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

func ceilDiv(a, b int64) int64 { return -floorDiv(-a, b) }
