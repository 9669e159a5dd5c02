package mass

import (
	"testing"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// computedFrom are the packages that results are computed from.
var computedFrom = []string{"stowbay/layout", "stowbay/vehicles", "stowbay/geometry"}

// Every figure of an arrangement, so that none changes unnoticed. What they ought to be other tests check.
func TestNoFigureChangesUnnoticed(t *testing.T) {
	d, a := donor(), fleet(2, 6)
	b := *a.Boxes[0]
	b.TurnDeg = 25
	b.Levels = []vehicles.Level{
		{Outline: []vehicles.XY{{0, 0}, {700, 0}, {700, 800}, {0, 800}}, CeilingMM: 260},
		{Outline: []vehicles.XY{{700, 0}, {1300, 150}, {1300, 800}, {700, 800}}, FloorMM: 90, CeilingMM: 260},
	}
	b.Shell = layout.Shell{WallMM: 1.5, LinerMM: 2, FlangeMM: 25}
	a.Boxes[0] = &b
	r := Evaluate(sceneOf(d, a, nil), nil, nil)
	goldentest.Compare(t, "fleet", computedFrom, r.Readings(), r, r.Ledger())
}

// The second moments of a flat shape laid along two directions are R A R' (the transformation of a tensor): compared with a
// general matrix library.
func TestLiftedMomentsAgainstAMatrixLibrary(t *testing.T) {
	a := plane{area: 7, xx: 3, yy: 11, xy: -2.5}
	for _, axes := range [][2]r3.Vector{
		{{X: 1}, {Y: 1}}, {{X: 0.6, Y: 0.8}, {X: -0.8, Y: 0.6}}, {{X: 0.6, Z: 0.8}, {Y: 1}},
		{{X: 1.0 / 3, Y: 2.0 / 3, Z: 2.0 / 3}, {X: 2.0 / 3, Y: 1.0 / 3, Z: -2.0 / 3}},
	} {
		u, v := axes[0], axes[1]
		turn := mat.NewDense(3, 2, []float64{u.X, v.X, u.Y, v.Y, u.Z, v.Z})
		var half, want mat.Dense
		half.Mul(turn, mat.NewDense(2, 2, []float64{a.xx, a.xy, a.xy, a.yy}))
		want.Mul(&half, turn.T())
		got := a.lifted(u, v)
		for i, c := range []struct{ got, want float64 }{
			{got.XX, want.At(0, 0)}, {got.YY, want.At(1, 1)}, {got.ZZ, want.At(2, 2)}, {got.XY, want.At(0, 1)}, {got.XZ, want.At(0, 2)}, {got.YZ, want.At(1, 2)},
		} {
			near(t, string(rune('a'+i)), c.got, c.want, 1e-12)
		}
	}
}
