package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/electric"
	"stowbay/vehicles"
)

// linePlan is two boxes of invented modules with gear in them.
func linePlan(parallel int) *electric.Result {
	cat := vehicles.Catalogue()
	box := func(id string, x float64, n int, gear ...string) *layout.Box {
		b := &layout.Box{ID: id, At: vehicles.XYZ{x, -300, 300}, Shell: layout.Shell{LinerMM: 2}}
		b.Levels = []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {900, 0}, {900, 1400}, {0, 1400}}, CeilingMM: 220}}
		for i := range n {
			b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i+1), Module: "nmc-355", Posture: vehicles.Flat, At: vehicles.XYZ{60, 20 + 160*float64(i), 4}})
		}
		for i, g := range gear {
			kind, role, _ := strings.Cut(g, ":")
			b.Gear = append(b.Gear, layout.PlacedGear{ID: fmt.Sprintf("g%d", i+1), Gear: kind, Role: role, At: vehicles.XYZ{600, 20 + 150*float64(i), 4}})
		}
		return b
	}
	a := &layout.Arrangement{ID: "a", Parallel: parallel, Boxes: []*layout.Box{
		box("front", 0, 6, "contactor-250:positive", "fuse-200", "precharge-47"),
		box("middle", 1200, 5, "fuse-200", "service-disconnect-250:middle"),
		box("rear", 2400, 5, "contactor-250:negative", "fuse-200", "current-sensor-500"),
	}, Gear: []layout.PlacedGear{{ID: "inverter", Gear: "inverter-360", At: vehicles.XYZ{-600, 0, 500}}, {ID: "charger", Gear: "charger-6k6", At: vehicles.XYZ{-600, 400, 500}}}}
	p := &layout.Plan{Arrangements: []*layout.Arrangement{a}}
	return electric.Evaluate(layout.Resolve(p, a, cat, nil), nil)
}

// Everything drawn lies inside the bounds, has finite coordinates, and every box and every piece of gear in the
// path is shown with a reference of its own.
func TestSingleLineShowsEverything(t *testing.T) {
	for parallel := range 4 {
		r := linePlan(parallel)
		l := SingleLine(r)
		refs := map[string]bool{}
		for _, i := range l.Items {
			refs[i.Tag().Ref] = true
			for _, p := range pointsOf(i) {
				if math.IsNaN(p.X+p.Y) || !l.Bounds.ContainsPoint(p) {
					t.Errorf("%T at %v is outside %v", i, p, l.Bounds)
				}
			}
		}
		want := []string{"front", "middle", "rear", "inverter", "charger"}
		if parallel <= 1 {
			want = append(want, "front/g1", "front/g2", "front/g3", "middle/g1", "middle/g2", "rear/g1", "rear/g2", "rear/g3")
		}
		for _, w := range want {
			if !refs[w] {
				t.Errorf("%d strings: %s is not shown", parallel, w)
			}
		}
	}
}

// The potentials written at the boxes are those of the strings.
func TestSingleLineWritesPotentials(t *testing.T) {
	r := linePlan(1)
	var words []string
	for _, i := range SingleLine(r).Items {
		if x, ok := i.(Text); ok {
			words = append(words, x.S)
		}
	}
	all := strings.Join(words, "|") + "|"
	for _, p := range r.Strings[0].Passes {
		for _, v := range []float64{p.NegV, p.PosV} {
			if !strings.Contains(all, fmt.Sprintf("|%.0f V|", v)) {
				t.Errorf("%.0f V is not written", v)
			}
		}
	}
}

// No two texts lie on each other: taken as 0.6 of their height a letter.
func TestSingleLineTextsAreApart(t *testing.T) {
	for parallel := range 3 {
		var boxes []r2.Rect
		var words []string
		for _, i := range SingleLine(linePlan(parallel)).Items {
			if x, ok := i.(Text); ok && x.S != "" {
				b := textBox(x)
				if !SingleLine(linePlan(parallel)).Bounds.Contains(b) {
					t.Errorf("%q at %v runs out of the drawing", x.S, x.At)
				}
				for k, o := range boxes {
					if o.Intersects(b) {
						t.Errorf("%q at %v lies on %q", x.S, x.At, words[k])
					}
				}
				boxes, words = append(boxes, b), append(words, x.S)
			}
		}
	}
}

func textBox(x Text) r2.Rect {
	w, h := 0.6*x.InMM*float64(len([]rune(x.S))), x.InMM
	c := x.At
	switch x.Anchor {
	case West:
		c.X += w / 2
	case East:
		c.X -= w / 2
	}
	return r2.RectFromCenterSize(c, r2.Point{X: w, Y: h * 0.9})
}

// A long string goes on in further rows, none of them wider than a sheet can show.
func TestSingleLineGoesOnInRows(t *testing.T) {
	a := &layout.Arrangement{ID: "a"}
	for i := range 9 {
		b := &layout.Box{ID: fmt.Sprintf("b%d", i+1), At: vehicles.XYZ{float64(i) * 700, 0, 300}}
		b.Levels = []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {500, 0}, {500, 400}, {0, 400}}, CeilingMM: 200}}
		b.Modules = []layout.Placement{{ID: "m1", Module: "nmc-355", Posture: vehicles.Flat, At: vehicles.XYZ{60, 20, 4}}}
		b.Gear = []layout.PlacedGear{{ID: "f", Gear: "fuse-200"}}
		a.Boxes = append(a.Boxes, b)
	}
	p := &layout.Plan{Arrangements: []*layout.Arrangement{a}}
	l := SingleLine(electric.Evaluate(layout.Resolve(p, a, vehicles.Catalogue(), nil), nil))
	if w := l.Bounds.X.Length(); w > slWide+100 {
		t.Errorf("%.0f mm wide", w)
	}
	boxes := map[string]bool{}
	for _, i := range l.Items {
		if i.Tag().Role == RoleBox {
			boxes[i.Tag().Ref] = true
		}
	}
	if len(boxes) != 9 {
		t.Errorf("%d boxes shown", len(boxes))
	}
}

// A wave is one period of a sine of 1.4 over 4.8; half a circle goes from its right over its top to its left.
func TestSignsOfTheSingleLine(t *testing.T) {
	d := &single{l: &List{}}
	d.alternating("", r2.Point{X: 10, Y: 20})
	ps := d.l.Items[0].(Stroke).Points
	for i, q := range ps {
		if want := (r2.Point{X: 7.6 + 0.2*float64(i), Y: 20 + 1.4*math.Sin(float64(i)*15/57.29577951308232)}); q.Sub(want).Norm() > 1e-9 || len(ps) != 25 {
			t.Errorf("point %d of %d at %v, want %v", i, len(ps), q, want)
		}
	}
	half := arc(r2.Point{X: 5, Y: 5}, 2, 180)
	for i, want := range map[int]r2.Point{0: {X: 7, Y: 5}, 12: {X: 5, Y: 7}, 24: {X: 3, Y: 5}} {
		if half[i].Sub(want).Norm() > 1e-9 {
			t.Errorf("half a circle at %v, want %v", half[i], want)
		}
	}
	for a, want := range map[float64]string{0: "", 0.6: "1 A", 250: "250 A"} {
		if got := rating(&layout.GearBody{Gear: &vehicles.Gear{ContinuousA: a}}); got != want {
			t.Errorf("%g A: %q", a, got)
		}
	}
}

// The sign of a contactor, what switches it, is a half circle of 1.5.
func TestContactorsHaveAHalfCircle(t *testing.T) {
	d := &single{l: &List{}}
	d.symbol(0, symbol{kind: "contactor", gear: &layout.GearBody{ID: "k", Gear: &vehicles.Gear{}, Placed: &layout.PlacedGear{}}}, 0, 10)
	found := false
	for _, it := range d.l.Items {
		if s, ok := it.(Stroke); ok && len(s.Points) == 25 {
			a, b := s.Points[0], s.Points[24]
			found = math.Abs(a.X-b.X-3) < 1e-9 && math.Abs(a.Y-10) < 1e-9 && math.Abs(b.Y-10) < 1e-9
		}
	}
	if !found {
		t.Error("none")
	}
}

// Sections and lengths of cables are those of the links, in metres to the centimetre, also of long ones.
func TestCablesAreLabelledByTheirLinks(t *testing.T) {
	r := linePlan(0)
	s := &r.Strings[0]
	for i := range s.Links {
		s.Links[i].LengthMM, s.Links[i].SectionMM2 = 12340, 50
	}
	d := &single{r: r, l: &List{}}
	d.cable(s, 1, 0, 0)
	d.turn(s, 1, row{}, row{})
	got := textsOf(d.l)
	if got != "50 mm²\n12.34 m\n50 mm², 12.34 m\n" {
		t.Errorf("%q", got)
	}
}

func TestSingleLineOfNothing(t *testing.T) {
	p := &layout.Plan{Arrangements: []*layout.Arrangement{{ID: "a"}}}
	r := electric.Evaluate(layout.Resolve(p, p.Arrangements[0], vehicles.Catalogue(), nil), nil)
	if l := SingleLine(r); len(l.Items) != 1 || l.Bounds.IsEmpty() {
		t.Errorf("%+v", l)
	}
}
