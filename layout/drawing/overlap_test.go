package drawing

import (
	"fmt"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// asShown is a view as the desktop shows it: how much larger names are, and how much wider and higher than the vehicle what is
// seen is, mm. Read off the program's window.
type asShown struct {
	v          View
	names      float64
	off        Layer
	wide, high float64
}

var windows = map[string][]asShown{
	"1280x800":  {{PlanView, 2, 0, 120, 300}, {SideView, 3.17, LayerLabels, 150, 900}, {RearView, 5.04, LayerLabels, 1200, 400}},
	"1920x1080": {{PlanView, 1, 0, 500, 300}, {SideView, 2, 0, 150, 900}, {RearView, 2, 0, 200, 700}},
}

// shownViews visits the views of the demonstration plan as both windows show them: at rest, with a module picked, with findings
// about it.
func shownViews(t *testing.T, visit func(name string, v View, s *layout.Scene, o Options)) {
	t.Helper()
	plan, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range plan.Arrangements {
		s := layout.Resolve(plan, a, plan.LibraryOver(vehicles.Catalogue()), nil)
		m := s.Boxes[0].Modules[0]
		for window, views := range windows {
			for _, w := range views {
				name := fmt.Sprintf("%s, %s, %v", a.Name, window, w.v)
				o := w.options(s)
				visit(name, w.v, s, o)
				o.Marks, o.Dimensions = map[string]Mark{m.ID: Selected}, true
				visit(name+", picked", w.v, s, o)
				c := m.Prism.Base.Bounds().Center()
				for i := range 5 {
					at := r3.Vector{X: c.X + 60*float64(i), Y: c.Y, Z: m.Prism.Top}
					o.Places = append(o.Places, Place{A: at, B: at, Text: fmt.Sprintf("%d mm, needs 13", i), Mark: Breached, Ref: "f"})
				}
				visit(name+", with findings", w.v, s, o)
			}
		}
	}
}

// options are those of the desktop, with centres of gravity as far from each other as those of the plan.
func (w asShown) options(s *layout.Scene) Options {
	now, donor := r3.Vector{X: 1298, Y: -14, Z: 621}, r3.Vector{X: 1291, Z: 675}
	seen := w.v.Draw(s, Options{Off: LayerLabels, OnScreen: true}).Bounds.Expanded(r2.Point{X: w.wide / 2, Y: w.high / 2})
	return Options{Off: w.off, OnScreen: true, Coarse: w.names > 1.25, NameScale: w.names, Within: seen,
		CG: &now, CGDonor: &donor, WheelKg: &[4]float64{413, 388, 470, 447}}
}

func TestNamesOfTheDemonstrationDoNotOverlap(t *testing.T) {
	shownViews(t, func(name string, v View, s *layout.Scene, o Options) {
		var named []Text
		for _, it := range v.Draw(s, o).Items {
			x, ok := it.(Text)
			if !ok {
				continue
			}
			for _, y := range named {
				if (x.Halo || y.Halo) && x.extent().Intersects(y.extent()) {
					t.Errorf("%s: %q lies over %q", name, x.S, y.S)
				}
			}
			named = append(named, x)
		}
		if len(named) < 4 {
			t.Errorf("%s: %d names", name, len(named))
		}
	})
}

func TestNamesOfTheDemonstrationKeepOffSymbols(t *testing.T) {
	shownViews(t, func(name string, v View, s *layout.Scene, o Options) {
		var symbols []r2.Rect // from the lines of their crosses
		l := v.Draw(s, o)
		for _, it := range l.Items {
			if x, ok := it.(Stroke); ok && (x.Of.Role == RoleCG || x.Of.Role == RoleCGDonor) {
				symbols = append(symbols, r2.RectFromPoints(x.Points...))
			}
		}
		if len(symbols) < 6 {
			t.Fatalf("%s: %d lines of symbols", name, len(symbols))
		}
		for _, it := range l.Items {
			if x, ok := it.(Text); ok && !clearOf(symbols, x.extent()) {
				t.Errorf("%s: %q lies over a centre of gravity", name, x.S)
			}
		}
	})
}

func TestBothCentresOfGravityOfTheDemonstrationAreNamed(t *testing.T) {
	shownViews(t, func(name string, v View, s *layout.Scene, o Options) {
		got := texts(v.Draw(s, o))
		for _, cg := range []string{"CG now", "CG donor"} {
			if _, ok := got[cg]; !ok && o.Marks == nil { // among the figures of what is picked there may be no room
				t.Errorf("%s: no %q", name, cg)
			}
		}
	})
}

func TestLeadersOfTheDemonstrationCrossNoName(t *testing.T) {
	shownViews(t, func(name string, v View, s *layout.Scene, o Options) {
		items := v.Draw(s, o).Items
		for _, it := range items {
			x, ok := it.(Stroke)
			if !ok || x.Of.Role != RoleLeader {
				continue
			}
			// A leader begins at its own name; one to a place that another name covers ends under that.
			l := lead{x.Points[0].Add(x.Points[1].Sub(x.Points[0]).Mul(0.01)), x.Points[1]}
			for _, it := range items {
				if n, ok := it.(Text); ok && n.Halo && n.Of.Ref != x.Of.Ref && !n.extent().ContainsPoint(l.tip) && l.crosses(n.extent()) {
					t.Errorf("%s: the leader of %s runs under %q", name, x.Of.Ref, n.S)
				}
			}
		}
	})
}

func TestNameAsLongAsItsLineIsLeftOut(t *testing.T) {
	s := inventedScene(1, 1)
	for k, want := range map[float64]bool{1: true, 6: false} {
		_, got := texts(RearView.Draw(s, Options{NameScale: k}))["clearance "+length(s.Donor.GroundClearMM, false)]
		if got != want {
			t.Errorf("at a name scale of %v: named %v", k, got)
		}
	}
}

// A module's number goes aside from under a symbol, and stays on its module; where there is no room it is left out.
func TestNumbersAreSeenBesideSymbols(t *testing.T) {
	s := inventedScene(2, 1)
	m := s.Boxes[0].Modules[len(s.Boxes[0].Modules)-1]
	r := m.Prism.Base.Bounds()
	c := r.Center()
	at := r3.Vector{X: c.X, Y: c.Y, Z: 300}
	number := func(o Options) (Text, bool) {
		for _, it := range PlanView.Draw(s, o).Items {
			if x, ok := it.(Text); ok && x.Of.Ref == m.ID && x.S == m.Placement.ID {
				return x, true
			}
		}
		return Text{}, false
	}
	if x, ok := number(Options{}); !ok || x.At != c {
		t.Fatalf("number at %v, %v; want %v", x.At, ok, c)
	}
	x, ok := number(Options{CG: &at, NameScale: 0.4})
	if symbol := r2.RectFromCenterSize(c, r2.Point{X: 2 * 0.4 * cgRadiusMM, Y: 2 * 0.4 * cgRadiusMM}); !ok || !r.Contains(x.extent()) || x.extent().Intersects(symbol) {
		t.Errorf("number at %v, %v on the module %v", x.extent(), ok, r)
	}
	if x, ok := number(Options{CG: &at, NameScale: 3}); ok {
		t.Errorf("number at %v though the symbol hides the module", x.At)
	}
}

func TestLeaderCrossesWhatLiesOnItsWay(t *testing.T) {
	r := r2.RectFromPoints(r2.Point{X: 10, Y: 10}, r2.Point{X: 20, Y: 30})
	for _, c := range []struct {
		l    lead
		want bool
	}{
		{lead{r2.Point{X: 0, Y: 0}, r2.Point{X: 30, Y: 40}}, true},
		{lead{r2.Point{X: 0, Y: 20}, r2.Point{X: 9, Y: 20}}, false},
		{lead{r2.Point{X: 0, Y: 20}, r2.Point{X: 11, Y: 20}}, true},
		{lead{r2.Point{X: 15, Y: 0}, r2.Point{X: 15, Y: 9}}, false},
		{lead{r2.Point{X: 15, Y: 0}, r2.Point{X: 15, Y: 50}}, true},
		{lead{r2.Point{X: 0, Y: 25}, r2.Point{X: 12, Y: 37}}, false},
		{lead{r2.Point{X: 5, Y: 0}, r2.Point{X: 5, Y: 50}}, false},
		{lead{r2.Point{X: 15, Y: 20}, r2.Point{X: 15, Y: 20}}, true},
		{lead{r2.Point{X: 9.5, Y: 20}, r2.Point{X: 10.5, Y: 20}}, true},
		{lead{r2.Point{X: 15, Y: 9.5}, r2.Point{X: 15, Y: 10.5}}, true},
	} {
		if got := c.l.crosses(r); got != c.want {
			t.Errorf("%v: %v", c.l, got)
		}
	}
}
