package mass

import (
	"math"

	"github.com/golang/geo/r3"
)

// Figure is a value with the half width of its uncertainty in the same unit.
type Figure struct{ Value, PlusMinus float64 }

// Most is the value with the whole uncertainty on top.
func (f Figure) Most() float64 { return f.Value + f.PlusMinus }

// Least is the value with the whole uncertainty taken off.
func (f Figure) Least() float64 { return f.Value - f.PlusMinus }

// row is the weights of mass and of the first moments in x, y, z in some figure.
type row [4]float64

var (
	oneKg = row{1, 0, 0, 0}
	inX   = row{0, 1, 0, 0}
	inY   = row{0, 0, 1, 0}
	inZ   = row{0, 0, 0, 1}
)

func (r row) plus(s row, k float64) row {
	for i := range r {
		r[i] += k * s[i]
	}
	return r
}

func (r row) times(k float64) row { return row{}.plus(r, k) }

// at is the row of one kilogram at a place.
func at(p r3.Vector) row { return row{1, p.X, p.Y, p.Z} }

// sum is the mass, the first moments (kg mm) with their covariance, and the second moments of some masses.
type sum struct {
	first  row
	cov    [4][4]float64
	second Second
}

// exact puts a mass in that has no error.
func (s *sum) exact(kg float64, p r3.Vector, own Second) {
	s.first = s.first.plus(at(p), kg)
	s.second = s.second.plus(own).plus(pointSecond(kg, p))
}

// add puts one independent mass in. pmMM is the half width of its place, the same in each direction.
func (s *sum) add(kg, pmKg float64, p r3.Vector, pmMM float64, own Second) {
	s.exact(kg, p, own)
	s.spread(at(p).times(pmKg))
	s.blur(kg * kg * pmMM * pmMM)
}

// blur puts the same independent error into each moment.
func (s *sum) blur(square float64) {
	for i := 1; i < 4; i++ {
		s.cov[i][i] += square
	}
}

// spread puts one independent source of error in: by how much it moves mass and moments.
func (s *sum) spread(r row) {
	for i := range r {
		for j := range r {
			s.cov[i][j] += r[i] * r[j]
		}
	}
}

func (s *sum) plus(t *sum) {
	s.first = s.first.plus(t.first, 1)
	s.second = s.second.plus(t.second)
	for i := range s.cov {
		for j := range s.cov {
			s.cov[i][j] += t.cov[i][j]
		}
	}
}

// fill adds mass at p until the whole is the mass given, whatever the errors: what is added makes up for them.
func (s *sum) fill(kg float64, p r3.Vector) {
	s.first = s.first.plus(at(p), kg)
	s.second = s.second.plus(pointSecond(kg, p))
	v := at(p)
	c := s.cov
	for i := range c {
		for j := range c {
			s.cov[i][j] = c[i][j] - v[i]*c[0][j] - c[i][0]*v[j] + v[i]*v[j]*c[0][0]
		}
	}
}

func (s *sum) kg() float64 { return s.first[0] }

func (s *sum) moments() r3.Vector { return r3.Vector{X: s.first[1], Y: s.first[2], Z: s.first[3]} }

// cg is the centre of gravity; the origin for no mass.
func (s *sum) cg() r3.Vector {
	if s.kg() == 0 {
		return r3.Vector{}
	}
	return s.moments().Mul(1 / s.kg())
}

// linear is a figure that is linear in mass and moments.
func (s *sum) linear(g row) Figure { return Figure{dot(g, s.first), s.half(g)} }

// ratio is the quotient of two such figures; zero where the divisor is.
func (s *sum) ratio(num, den row) Figure {
	d := dot(den, s.first)
	if d == 0 {
		return Figure{}
	}
	v := dot(num, s.first) / d
	return Figure{v, s.half(num.plus(den, -v).times(1 / d))}
}

// half is the half width of a figure with the gradient g.
func (s *sum) half(g row) float64 {
	v := 0.0
	for i := range g {
		own := g[i] * s.cov[i][i]
		for j := range i {
			own += 2 * g[j] * s.cov[i][j]
		}
		v += g[i] * own
	}
	return math.Sqrt(max(0, v))
}

func dot(a, b row) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3] }

// Body is a mass with its centre of gravity.
type Body struct {
	Kg      Figure
	X, Y, Z Figure // centre of gravity, mm
}

// CG returns the centre of gravity in mm.
func (b Body) CG() r3.Vector { return r3.Vector{X: b.X.Value, Y: b.Y.Value, Z: b.Z.Value} }

func (s *sum) body() Body {
	return Body{Kg: s.linear(oneKg), X: s.ratio(inX, oneKg), Y: s.ratio(inY, oneKg), Z: s.ratio(inZ, oneKg)}
}
