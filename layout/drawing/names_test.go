package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// A name may be 13 ems wide; of a longer one what stands before its comma or bracket is taken, or else the id.
func TestLongNamesAreShortened(t *testing.T) {
	wide := strings.Repeat("A", 18) // 12.6 ems
	for name, want := range map[string]string{wide: wide, wide + ".": wide + ".", wide + "..": "id", "left box, the one that is behind the wheel": "left box",
		"left box (the one behind the wheel)": "left box", "": "id"} {
		if got := short(name, "id"); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
	r := r2.RectFromPoints(pt(0, 0), pt(10, 10))
	if !covered([]r2.Rect{r}, r.ExpandedByMargin(0.9)) || covered([]r2.Rect{r}, r.ExpandedByMargin(1.1)) {
		t.Error("one is covered by another that is up to a millimetre smaller on each side")
	}
}

// A name of which no spot is free goes to the nearest ring of 55 mm about its first spot that is; its leader is drawn if it is longer
// than a millimetre.
func TestLedNamesGoToTheNearestRing(t *testing.T) {
	for rings := range 4 {
		p := newPen(PlanView, &Options{})
		p.taken = []r2.Rect{r2.RectFromCenterSize(pt(0, 0), pt(80*float64(rings), 80*float64(rings)))}
		if rings == 0 {
			p.taken = nil
		}
		w := wish{s: "i", size: 10, at: []spot{{}}, tip: func(r2.Point) r2.Point { return r2.Point{} }}
		if !p.grantLed(w) {
			t.Fatal("no place")
		}
		far := p.items[0].(Text).At.Norm() / 55
		if k := math.Round(far); math.Abs(far-k) > 1e-9 || k < 1 || rings == 0 && k != 1 || rings > 0 && k < 0.7*float64(rings) {
			t.Errorf("%d: %g steps off", rings, far)
		}
	}
	for long, want := range map[float64]int{0.9: 0, 1.1: 1, 1.9: 1} {
		p := newPen(PlanView, &Options{})
		p.leader(wish{tip: func(r2.Point) r2.Point { return r2.Point{X: 10 + long} }}, r2.RectFromPoints(pt(0, -5), pt(10, 5)))
		if len(p.items) != want || len(p.led) != want {
			t.Errorf("%g mm: %d leaders", long, len(p.items))
		}
	}
}

// A keep-out is named in itself where 45 mm are eight tenths of its height and the name nine tenths of its width, else beside it.
func TestKeepOutsAreNamedInThemselvesWhereTheyAreLarge(t *testing.T) {
	wide, high := TextWidth("shaft")*45/0.9, 45/0.8
	for _, c := range []struct {
		w, h   float64
		inside bool
	}{{wide + 0.1, high + 0.1, true}, {wide - 0.1, high + 0.1, false}, {wide + 0.1, high - 0.1, false}} {
		p := newPen(PlanView, &Options{})
		r := r2.RectFromPoints(pt(100, 100), pt(100+c.w, 100+c.h))
		p.keepOutName(&layout.KeepOutScene{KeepOut: &vehicles.KeepOut{Name: "shaft"}}, r, nil)
		if got := p.wishes[0].at[0].At == r.Center(); got != c.inside {
			t.Errorf("%g x %g: inside %v", c.w, c.h, got)
		}
	}
}

// Kinds of keep-outs and zones differ in the way, distance or crossing of their lines; hot ones are crossed.
func TestHatchesTellKindsApart(t *testing.T) {
	seen := map[string]string{}
	for _, kind := range []string{"moving", "hot", "path", "structure", "fixed"} {
		h := keepOutHatch(kind)
		key := fmt.Sprint(math.Mod(h.Deg, 180), h.PitchPt, h.Cross)
		if seen[key] != "" {
			t.Errorf("%s is hatched as %s", kind, seen[key])
		}
		seen[key] = kind
		if h.Cross != (kind == "hot") || h.Cross && (h.Deg != 45 || h.PitchPt != 6) || math.Mod(h.Deg, 45) != 0 || h.PitchPt > 7 || h.PitchPt < 4 {
			t.Errorf("%s: %+v", kind, h)
		}
	}
}

// On a screen, names of keep-outs give way to those of boxes however small the views are.
func TestEveryBoxIsNamedOnAScreen(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	s := layout.Resolve(p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue()), nil)
	for v, within := range map[View]r2.Rect{
		PlanView: r2.RectFromPoints(pt(-1500, -1250), pt(4100, 1250)),
		SideView: r2.RectFromPoints(pt(-1300, -1200), pt(3900, 2500)),
		RearView: r2.RectFromPoints(pt(-1300, -900), pt(1300, 2500)),
	} {
		for step := -3; step <= 4; step++ {
			o := Options{OnScreen: true, Within: within, NameScale: math.Pow(2, float64(step)/3),
				CG: &r3.Vector{X: 1291, Y: -14, Z: 550}, CGDonor: &r3.Vector{X: 1284, Z: 604}, WheelKg: &[4]float64{413, 388, 470, 447}}
			named := map[string]bool{}
			for _, it := range v.Draw(s, o).Items {
				if t, ok := it.(Text); ok && t.Of.Role == RoleLabel {
					named[t.Of.Ref] = true
				}
			}
			for _, b := range s.Boxes {
				if !named[b.Box.ID] {
					t.Errorf("%s, names larger by %.2f: %s is not named", v, o.NameScale, b.Box.ID)
				}
			}
		}
	}
}
