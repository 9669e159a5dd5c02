package restraint

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
)

// Spring is an elastic support of a rigid body: stiff AlongNPerMM along Axis and AcrossNPerMM across it.
type Spring struct {
	At           r3.Vector // mm
	Axis         r3.Vector // unit vector
	AlongNPerMM  float64
	AcrossNPerMM float64
}

// force is the spring's force on the body for a displacement of its point.
func (s Spring) force(d r3.Vector) r3.Vector {
	along := s.Axis.Mul(d.Dot(s.Axis))
	return d.Sub(along).Mul(-s.AcrossNPerMM).Add(along.Mul(-s.AlongNPerMM))
}

// Frame is a rigid body on springs, its stiffness factored.
type Frame struct {
	springs []Spring
	centre  r3.Vector
	length  float64 // that rotations are scaled by, so that all degrees of freedom have one unit
	chol    mat.Cholesky
}

// most is the condition of the stiffness beyond which the springs are taken to leave the body a way to move.
const most = 1e9

// NewFrame factors the stiffness of a rigid body on springs. ok is false where they leave it a way to move: fewer
// than three, or all on one line.
func NewFrame(springs []Spring) (f *Frame, ok bool) {
	f = &Frame{springs: springs}
	for _, s := range springs {
		f.centre = f.centre.Add(s.At.Mul(1 / float64(len(springs))))
	}
	square := 0.0
	for _, s := range springs {
		square += s.At.Sub(f.centre).Norm2() / float64(len(springs))
	}
	if square == 0 {
		return f, false
	}
	f.length = math.Sqrt(square)
	if !f.chol.Factorize(f.stiffness()) {
		return f, false
	}
	return f, f.chol.Cond() < most
}

// stiffness is the 6 x 6 matrix: column i holds the force and moment that hold the body displaced by one unit of freedom i.
func (f *Frame) stiffness() *mat.SymDense {
	k := mat.NewSymDense(6, nil)
	for i := range 6 {
		var u [6]float64
		u[i] = 1
		force, moment := f.total(f.forces(u))
		col := [6]float64{-force.X, -force.Y, -force.Z, -moment.X / f.length, -moment.Y / f.length, -moment.Z / f.length}
		for j := range i + 1 {
			k.SetSym(j, i, col[j])
		}
	}
	return k
}

// forces are the springs' forces on the body for its displacement and scaled rotation about the centre.
func (f *Frame) forces(u [6]float64) []r3.Vector {
	d := r3.Vector{X: u[0], Y: u[1], Z: u[2]}
	turn := r3.Vector{X: u[3], Y: u[4], Z: u[5]}.Mul(1 / f.length)
	out := make([]r3.Vector, len(f.springs))
	for i, s := range f.springs {
		out[i] = s.force(d.Add(turn.Cross(s.At.Sub(f.centre))))
	}
	return out
}

// total is the resultant of forces at the springs and their moment about the centre.
func (f *Frame) total(forces []r3.Vector) (force, moment r3.Vector) {
	for i, v := range forces {
		force = force.Add(v)
		moment = moment.Add(f.springs[i].At.Sub(f.centre).Cross(v))
	}
	return force, moment
}

// Reactions are the springs' forces on the body, in N, when a force acts on it at a point. They are in equilibrium with it.
func (f *Frame) Reactions(force, at r3.Vector) []r3.Vector {
	m := at.Sub(f.centre).Cross(force).Mul(1 / f.length)
	b := mat.NewVecDense(6, []float64{force.X, force.Y, force.Z, m.X, m.Y, m.Z})
	var x mat.VecDense
	if err := f.chol.SolveVecTo(&x, b); err != nil {
		return make([]r3.Vector, len(f.springs))
	}
	return f.forces([6]float64(x.RawVector().Data))
}
