package drawing

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// turnedBox is the left box of the invented scene, turned about its corner.
func turnedBox(deg float64) *layout.BoxScene {
	s := inventedScene(2, 1)
	a := *s.Arrangement
	b := *a.Boxes[0]
	b.TurnDeg = deg
	a.Boxes = []*layout.Box{&b}
	return layout.Resolve(s.Plan, &a, s.Library, nil).Boxes[0]
}

// M8 is 8 mm; what is no thread is taken for that.
func TestThreadsInMillimetres(t *testing.T) {
	for thread, want := range map[string]float64{"M6": 6, "M10": 10, "M12": 12, "": 8, "bolt": 8} {
		if got := boltMM(thread); got != want {
			t.Errorf("%q is %g mm, want %g", thread, got, want)
		}
	}
}

// A foot's plate begins at the wall and reaches beyond the bolt by the edge distance, as wide as stated, square to the wall; that of
// a bolt on the wall or within the box reaches as far to both sides.
func TestPlateReachesFromTheWallBeyondTheBolt(t *testing.T) {
	b := turnedBox(0)
	lo, hi := b.Outer.Bounds()
	mid := (lo.X + hi.X) / 2
	for _, c := range []struct {
		v    View
		bolt r2.Point
		want r2.Rect
	}{
		{PlanView, pt(mid, hi.Y+25), r2.RectFromPoints(pt(mid-20, hi.Y), pt(mid+20, hi.Y+25+16))},
		{PlanView, pt(mid, lo.Y-25), r2.RectFromPoints(pt(mid-20, lo.Y), pt(mid+20, lo.Y-25-16))},
		{PlanView, pt(hi.X+25, (lo.Y+hi.Y)/2), r2.RectFromPoints(pt(hi.X, (lo.Y+hi.Y)/2-20), pt(hi.X+25+16, (lo.Y+hi.Y)/2+20))},
		{PlanView, pt(mid, hi.Y+0.52), r2.RectFromPoints(pt(mid-20, hi.Y), pt(mid+20, hi.Y+0.52+16))},
		{PlanView, pt(mid, hi.Y+0.4), r2.RectFromPoints(pt(mid-16, hi.Y+0.4-20), pt(mid+16, hi.Y+0.4+20))},
		{PlanView, pt(mid, hi.Y-10), r2.RectFromPoints(pt(mid-20, hi.Y-10-16), pt(mid+20, hi.Y-10+16))},
		{SideView, pt(mid, hi.Z-10), r2.RectFromPoints(pt(mid-20, hi.Z-10-16), pt(mid+20, hi.Z))}, // on the side wall: to its edge
	} {
		p := newPen(c.v, &Options{})
		got := r2.RectFromPoints(p.plate(b, c.bolt, 40, 16)...)
		if d := max(got.Lo().Sub(c.want.Lo()).Norm(), got.Hi().Sub(c.want.Hi()).Norm()); d > 1e-9 {
			t.Errorf("%v, bolt at %v: %v, want %v", c.v, c.bolt, got, c.want)
		}
	}
}

// The nearest point of a segment: its foot, or an end; by trying many places along it.
func TestNearestPointOfASegment(t *testing.T) {
	c := pt(3, 4)
	for _, s := range [][2]r2.Point{{pt(0, 0), pt(10, 0)}, {pt(5, 0), pt(10, 5)}, {pt(0, 4.5), pt(0, 9)}, {pt(2.5, 0), pt(3.5, 0)}, {pt(2.4, 0), pt(3.4, 0)}, {pt(1, 1), pt(1, 1)}} {
		best := s[0]
		for k := range 10001 {
			if q := s[0].Add(s[1].Sub(s[0]).Mul(float64(k) / 10000)); q.Sub(c).Norm() < best.Sub(c).Norm() {
				best = q
			}
		}
		if got := onSegment(c, s[0], s[1]); got.Sub(best).Norm() > 0.001 {
			t.Errorf("%v: %v, want %v", s, got, best)
		}
	}
}

// A plate seen on its edge is as wide and thick as it is, whatever the length that its normal is seen in, with its bolt through it
// from the side that it is put in: three thicknesses out and four in.
func TestPlateOnItsEdge(t *testing.T) {
	for _, n := range []r2.Point{{Y: 1}, {Y: 0.4}, {Y: 3}} {
		p := newPen(SideView, &Options{})
		p.plateEdgeOn(Tag{Role: RoleFoot}, pt(100, 50), n, 40, 5)
		got := p.items[0].(Fill).Area.Bounds()
		if want := r2.RectFromPoints(pt(80, 45), pt(120, 50)); got.Lo().Sub(want.Lo()).Norm()+got.Hi().Sub(want.Hi()).Norm() > 1e-9 {
			t.Errorf("normal %v: %v, want %v", n, got, want)
		}
		if bolt := p.items[len(p.items)-1].(Stroke).Points; bolt[0].Sub(pt(100, 30)).Norm()+bolt[1].Sub(pt(100, 65)).Norm() > 1e-9 {
			t.Errorf("normal %v: the bolt %v", n, bolt)
		}
	}
	p := newPen(SideView, &Options{})
	p.plateEdgeOn(Tag{Role: RoleFoot}, pt(100, 50), r2.Point{}, 40, 5)
	for _, it := range p.items {
		for _, q := range pointsOf(it) {
			if q != pt(100, 50) {
				t.Errorf("without a normal: %v", q)
			}
		}
	}
}

// A face that looks at the eye by less than 45 degrees aside is drawn face on, else edge on; a hole on the far side is dashed. The
// box is turned so far that its left wall looks 42 and 46 degrees past the eye at the left.
func TestFacesAreDrawnAsTheyLook(t *testing.T) {
	for deg, faceOn := range map[float64]bool{0: true, 42: true, 46: false, 90: false} {
		b := turnedBox(deg)
		for face, far := range map[string]bool{"left": false, "right": true} {
			p := newPen(SideView, &Options{})
			p.opening(b, &layout.Opening{Face: face, At: vehicles.XYZ{100, 20, 100}, WidthMM: 30, HeightMM: 20})
			s := p.items[len(p.items)-1].(Stroke)
			got := len(p.items) == 1 // edge on it has a fill too
			size := r2.RectFromPoints(s.Points...).Size()
			if want := pt(30, 20); got != faceOn || got && (size.Sub(want).Norm() > 1e-9 || (s.Dash != nil) != far) {
				t.Errorf("%g degrees, %s: face on %v, %v, dash %v", deg, face, got, size, s.Dash)
			}
			if want := pt(14, 20); !faceOn && size.Sub(want).Norm() > 1e-9 {
				t.Errorf("%g degrees, %s: the bar is %v, want %v", deg, face, size, want)
			}
		}
		p := newPen(SideView, &Options{})
		p.foot(b, &layout.Foot{At: vehicles.XYZ{100, 0, 100}, Normal: "left", Bolt: "M10"})
		if got := len(p.items) == 5; got != faceOn { // plate, its edge, bolt and cross
			t.Errorf("%g degrees: %d items of a foot", deg, len(p.items))
		}
	}
}

// A hole's bar is as long as the side of it that lies along its wall: its width seen from above, or from the side where it is in
// a lid, and its height else.
func TestHolesOnEdge(t *testing.T) {
	o := layout.Opening{WidthMM: 30, HeightMM: 20}
	for v, want := range map[View]map[string]float64{
		PlanView: {"front": 30, "left": 30},
		SideView: {"front": 20, "top": 30, "bottom": 30},
		RearView: {"left": 20, "top": 20},
	} {
		for face, length := range want {
			o.Face = face
			if got := newPen(v, &Options{}).barLength(&o); got != length {
				t.Errorf("%v, %s: %g, want %g", v, face, got, length)
			}
		}
	}
	o = layout.Opening{DiameterMM: 0.8, WidthMM: 30}
	if got := newPen(PlanView, &Options{}).barLength(&o); got != 0.8 {
		t.Errorf("a round one: %g", got)
	}
	p := newPen(PlanView, &Options{})
	if p.cutOut(Tag{}, &o, pt(0, 0), false); len(pointsOf(p.items[0])) != 24 {
		t.Error("a small round one has corners")
	}
	if got := openingWords(&o, false); got != "dia 1" {
		t.Errorf("%q", got)
	}
}

// What looks away from the eye by more than 30 degrees past edge on is not seen. Terminals six tenths of a symbol apart are both
// drawn, nearer ones once.
func TestTerminalsThatAreSeen(t *testing.T) {
	p := newPen(PlanView, &Options{})
	for deg := 0.5; deg <= 180; deg++ {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		if got := p.seen(r3.Vector{X: sin, Z: cos}); got != (deg < 120) {
			t.Errorf("%g degrees: seen %v", deg, got)
		}
	}
	plus := vehicles.Terminal{Polarity: "positive"}
	for apart, want := range map[float64]int{11.9: 1, 12.1: 2} {
		p := newPen(PlanView, &Options{Coarse: true})
		p.terminals("m", []layout.TerminalAt{{Terminal: &plus, Out: r3.Vector{Z: 1}}, {Terminal: &plus, Place: r3.Vector{X: apart}, Out: r3.Vector{Z: 1}}}, 20)
		if len(p.items) != want {
			t.Errorf("%g apart: %d drawn, want %d", apart, len(p.items), want)
		}
	}
}

// The steps of a chain are sorted and 6 mm at least; the last place stays for one too near before it.
func TestStepsOfAChain(t *testing.T) {
	for _, c := range []struct{ vs, want []float64 }{
		{[]float64{0, 6, 20}, []float64{0, 6, 20}}, {[]float64{20, 5, 0}, []float64{0, 20}}, {[]float64{0, 3, 10, 13}, []float64{0, 13}},
		{[]float64{0, 50, 55, 58, 100}, []float64{0, 50, 58, 100}}, {[]float64{0, 3}, []float64{0}}, {[]float64{4, 4}, []float64{4}}, {nil, nil},
	} {
		if got := steps(slices.Clone(c.vs)); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.vs, got, c.want)
		}
	}
}
