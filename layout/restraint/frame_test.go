package restraint

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func drawVector(t *rapid.T, name string, span float64) r3.Vector {
	f := rapid.Float64Range(-span, span)
	return r3.Vector{X: f.Draw(t, name+".x"), Y: f.Draw(t, name+".y"), Z: f.Draw(t, name+".z")}
}

var axes = []r3.Vector{{Z: -1}, {Z: 1}, {Y: -1}, {Y: 1}, {X: 1}, {X: -1}}

func drawSprings(t *rapid.T) []Spring {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Spring {
		return Spring{
			At: drawVector(t, "at", 1000), Axis: rapid.SampledFrom(axes).Draw(t, "axis"),
			AlongNPerMM: rapid.Float64Range(1e3, 1e5).Draw(t, "along"), AcrossNPerMM: rapid.Float64Range(1e3, 1e6).Draw(t, "across"),
		}
	}), 3, 12).Draw(t, "springs")
}

// Whatever the feet, their forces and moments balance the load: statics, about any point.
func TestReactionsAreInEquilibrium(t *testing.T) {
	held := 0
	rapid.Check(t, func(t *rapid.T) {
		springs := drawSprings(t)
		f, ok := NewFrame(springs)
		if !ok {
			return
		}
		held++
		force, at := drawVector(t, "force", 1e5), drawVector(t, "load", 1000)
		sum, moment := force, at.Cross(force)
		for i, r := range f.Reactions(force, at) {
			sum = sum.Add(r)
			moment = moment.Add(springs[i].At.Cross(r))
		}
		if sum.Norm() > 1e-6*(1+force.Norm()) || moment.Norm() > 1e-3*(1+force.Norm()) {
			t.Fatalf("left over: force %v, moment %v", sum, moment)
		}
	})
	if held == 0 {
		t.Fatal("no frame was held")
	}
}

// The reactions are those of the least elastic energy among all that balance the load (Castigliano): compared with
// the least-squares solution of the balance equations by a general matrix library, weighted by the flexibilities.
func TestReactionsAreThoseOfLeastEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		springs := drawSprings(t)
		f, ok := NewFrame(springs)
		if !ok {
			return
		}
		force, at := drawVector(t, "force", 1e4), drawVector(t, "load", 500)
		got := f.Reactions(force, at)
		want := leastEnergy(springs, force, at)
		for i := range got {
			if got[i].Sub(want[i]).Norm() > 1e-4*(1+force.Norm()) {
				t.Fatalf("spring %d: %v, least energy %v", i, got[i], want[i])
			}
		}
	})
}

// leastEnergy minimises the sum of r^2/k over balanced reactions: with r = sqrt(k) y it is the minimum-norm solution y
// of A sqrt(k) y = -load, which the singular value decomposition gives.
func leastEnergy(springs []Spring, force, at r3.Vector) []r3.Vector {
	n := 3 * len(springs)
	a := mat.NewDense(6, n, nil)
	root := make([]float64, n)
	const scale = 500 // of moments
	for i, s := range springs {
		for k, e := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
			c := 3*i + k
			root[c] = math.Sqrt(s.AcrossNPerMM)
			if s.Axis.Dot(e) != 0 {
				root[c] = math.Sqrt(s.AlongNPerMM)
			}
			m := s.At.Cross(e).Mul(1.0 / scale)
			for row, v := range []float64{e.X, e.Y, e.Z, m.X, m.Y, m.Z} {
				a.Set(row, c, v*root[c])
			}
		}
	}
	m := at.Cross(force).Mul(1.0 / scale)
	b := mat.NewVecDense(6, []float64{-force.X, -force.Y, -force.Z, -m.X, -m.Y, -m.Z})
	var svd mat.SVD
	svd.Factorize(a, mat.SVDThin)
	var y mat.VecDense
	svd.SolveVecTo(&y, b, 6)
	out := make([]r3.Vector, len(springs))
	for i := range out {
		out[i] = r3.Vector{X: y.AtVec(3*i) * root[3*i], Y: y.AtVec(3*i+1) * root[3*i+1], Z: y.AtVec(3*i+2) * root[3*i+2]}
	}
	return out
}

// By hand: four like feet on a rectangle 1000 x 600, the load 200 mm over them. Thrown forward with 12 000 N, each
// takes 3000 N of shear, and the overturning moment of 2400 N m is taken by pulls of 2400/1000/2 = 1.2 kN.
func TestOverturningByHand(t *testing.T) {
	var springs []Spring
	for _, p := range []r3.Vector{{X: 0, Y: 0}, {X: 1000, Y: 0}, {X: 1000, Y: 600}, {X: 0, Y: 600}} {
		springs = append(springs, Spring{At: p, Axis: r3.Vector{Z: -1}, AlongNPerMM: 2e4, AcrossNPerMM: 1e5})
	}
	f, ok := NewFrame(springs)
	if !ok {
		t.Fatal("not held")
	}
	for i, r := range f.Reactions(r3.Vector{X: -12000}, r3.Vector{X: 500, Y: 300, Z: 200}) {
		up := 1200.0 // in front the frame presses the box up
		if i == 1 || i == 2 {
			up = -1200
		}
		near(t, "shear", r.X, 3000, 1e-6)
		near(t, "pull", r.Z, up, 1e-6)
	}
}

func TestNothingHoldsOnALine(t *testing.T) {
	s := func(x, y float64) Spring {
		return Spring{At: r3.Vector{X: x, Y: y}, Axis: r3.Vector{Z: -1}, AlongNPerMM: 1e4, AcrossNPerMM: 1e5}
	}
	for name, springs := range map[string][]Spring{
		"none": nil, "one": {s(0, 0)}, "two": {s(0, 0), s(1, 1)}, "three on a line": {s(0, 0), s(100, 50), s(300, 150)}, "three in one place": {s(5, 5), s(5, 5), s(5, 5)},
	} {
		if _, ok := NewFrame(springs); ok {
			t.Errorf("%s: held", name)
		}
	}
	if _, ok := NewFrame([]Spring{s(0, 0), s(100, 0), s(0, 100)}); !ok {
		t.Error("three in a triangle: not held")
	}
}

// Rotations are scaled by the radius of gyration of the springs about their middle: for the corners of a rectangle of 1000 by 600 half its
// diagonal. Springs within a millimetre of their middle hold as well as others, if not in one place.
func TestFrameIsScaledByItsSize(t *testing.T) {
	at := func(x, y float64) Spring {
		return Spring{At: r3.Vector{X: x, Y: y}, Axis: r3.Vector{Z: -1}, AlongNPerMM: 1e5, AcrossNPerMM: 1e5}
	}
	f, ok := NewFrame([]Spring{at(0, 0), at(1000, 0), at(1000, 600), at(0, 600)})
	if !ok || f.centre.Sub(r3.Vector{X: 500, Y: 300}).Norm() > 1e-9 {
		t.Errorf("held %v, middle at %v", ok, f.centre)
	}
	near(t, "radius", f.length, math.Hypot(500, 300), 1e-9)
	if _, ok = NewFrame([]Spring{at(1, 0), at(0, 1), at(-1, 0), at(0, -1)}); !ok {
		t.Error("four at a millimetre from their middle: not held")
	}
}
