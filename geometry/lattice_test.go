package geometry

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/peterstace/simplefeatures/geom"
)

func TestStepsAreHeldAtTheEdgeOfTheLattice(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		want int64
	}{
		{0.014, 1}, {0.016, 2}, {-0.016, -2}, {1e6, 1e8}, {1.99e6, 1.99e8}, {2.5e6, 2e8}, {-2.5e6, -2e8},
		{math.Inf(1), 2e8}, {math.Inf(-1), -2e8}, {math.NaN(), 0},
	} {
		if got := steps(c.mm); got != c.want {
			t.Errorf("%v mm are %d steps, want %d", c.mm, got, c.want)
		}
	}
}

func TestOverlayRefusesWhatLiesBeyondTheLattice(t *testing.T) {
	for x, ok := range map[float64]bool{1.9e6: true, 2.1e6: false, -2.1e6: false} {
		if err := measurable(NewRect(0, 0, x, 10)); (err == nil) != ok {
			t.Errorf("%v mm: %v", x, err)
		}
	}
}

func TestMeshDropsRepeatsAndKnowsItsBounds(t *testing.T) {
	var buf room
	m := meshOf(Polygon{Outer: ringOf(-10, 5, -10, 5.004, 20, 5, 20, 30, -10, 5.003)}, &buf)
	if n := len(m.ring(0)); n != 3 {
		t.Errorf("%d nodes, want 3", n)
	}
	if want := (box{node{-1000, 500}, node{2000, 3000}}); m.bounds != want {
		t.Errorf("bounds %v, want %v", m.bounds, want)
	}
}

// eachPairOfSegments calls f for every two segments between the nine nodes of a small grid.
func eachPairOfSegments(f func(a, b, c, d node)) {
	var segments [][2]node
	for i := range int64(9) {
		for k := range int64(9) {
			if i != k {
				segments = append(segments, [2]node{{i % 3, i / 3}, {k % 3, k / 3}})
			}
		}
	}
	for i, s := range segments {
		for k, t := range segments {
			if (i+k)%2 == 0 { // half of them say enough
				f(s[0], s[1], t[0], t[1])
			}
		}
	}
}

func line(a, b node) geom.Geometry {
	xy := []float64{float64(a.x), float64(a.y), float64(b.x), float64(b.y)}
	return geom.NewLineString(geom.NewSequence(xy, geom.DimXY)).AsGeometry()
}

// The outside check: the DE-9IM relation of simplefeatures. Its first sign is
// the dimension of what the two interiors have in common.
func TestSegmentsMeetAsTheLibrarySays(t *testing.T) {
	relations := map[[4]node]string{}
	eachPairOfSegments(func(a, b, c, d node) {
		rel, known := relations[[4]node{a, b, d, c}]
		if !known {
			var err error
			if rel, err = geom.Relate(line(a, b), line(c, d)); err != nil {
				t.Fatal(err)
			}
			relations[[4]node{a, b, c, d}] = rel
		}
		apart := rel[0] == 'F' && rel[1] == 'F' && rel[3] == 'F' && rel[4] == 'F'
		if got := meet(a, b, c, d); got == apart {
			t.Errorf("%v%v and %v%v: meet is %v, library says %s", a, b, c, d, got, rel)
		}
		if got, want := cross(a, b, c, d), rel[0] == '0'; got != want {
			t.Errorf("%v%v and %v%v: cross is %v, library says %s", a, b, c, d, got, rel)
		}
		if got, want := alongside(edge{a: a, b: b}, edge{a: c, b: d}), rel[0] == '1'; got != want {
			t.Errorf("%v%v and %v%v: alongside is %v, library says %s", a, b, c, d, got, rel)
		}
	})
}

func TestMeetingLiesOnBothSegments(t *testing.T) {
	eachPairOfSegments(func(a, b, c, d node) {
		if !meet(a, b, c, d) {
			return
		}
		p := meeting(a, b, c, d)
		for _, s := range [][2]r2.Point{{a.point(), b.point()}, {c.point(), d.point()}} {
			if e := pointByBrute(p, s[0], s[1]); !(e < 1e-9) {
				t.Errorf("%v%v and %v%v: %v is %v off", a, b, c, d, p, e)
			}
		}
	})
}

// A bar runs right across a square, slanted, and no corner of either is in the
// other: as an overlap counts what is wider than two lattice steps, 0.02 mm.
func TestBarAcrossASquareOverlapsFromTwoSteps(t *testing.T) {
	square := NewRect(0, 0, 50, 50)
	for _, c := range []struct {
		step float64 // sideways and down: the width is √2 times that
		want bool
	}{{0.01, false}, {0.02, true}} {
		bar := Polygon{Outer: ringOf(-20, -20, -20+c.step, -20-c.step, 80+c.step, 80-c.step, 80, 80)}
		if got := square.Overlaps(bar); got != c.want {
			t.Errorf("%v wide: Overlaps = %v, want %v", c.step*math.Sqrt2, got, c.want)
		}
	}
}
