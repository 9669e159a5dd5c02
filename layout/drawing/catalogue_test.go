package drawing

import (
	"math"
	"testing"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// scenes are the demonstration plan's arrangements and every donor of the catalogue with boxes in its bays.
func scenes(t *testing.T) []*layout.Scene {
	t.Helper()
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	cat := vehicles.Catalogue()
	lib := cat.With(vehicles.Records{Donors: p.Library.Donors, Modules: p.Library.Modules, Gear: p.Library.Gear})
	var out []*layout.Scene
	for _, a := range p.Arrangements {
		out = append(out, layout.Resolve(p, a, lib, nil))
	}
	for _, d := range cat.Donors() {
		p := layout.NewPlan(d, d.Name)
		a := p.Arrangements[0]
		for i := range a.Bays {
			if b, _, err := layout.BoxForBay(&a.Bays[i], nil, "box-"+a.Bays[i].ID, layout.Shell{LinerMM: 2}); err == nil {
				a.Boxes = append(a.Boxes, b)
			}
		}
		out = append(out, layout.Resolve(p, a, cat, nil))
	}
	return append(out, &layout.Scene{})
}

func drawings(s *layout.Scene) []*List {
	o := fullOptions()
	o.Cuts = []float64{500}
	out := []*List{Plan(s, o), Side(s, o), Rear(s, o), Axonometric(s, o, -35, 30), Axonometric(s, o, 120, 80)}
	for _, x := range []float64{-700, 0, 1000, 2500, 9000} {
		out = append(out, Section(s, x, o))
	}
	for _, b := range s.Boxes {
		out = append(out, BoxSheet(s, b, o))
	}
	return out
}

// Every drawing of every donor lies inside its bounds, and no name lies over another.
func TestEveryDonorCanBeDrawn(t *testing.T) {
	for _, s := range scenes(t) {
		for _, l := range drawings(s) {
			checkPlaces(t, l)
			checkNames(t, l)
		}
	}
}

func checkPlaces(t *testing.T, l *List) {
	t.Helper()
	for _, it := range l.Items {
		for _, q := range pointsOf(it) {
			if math.IsNaN(q.X+q.Y) || it.Tag().Role != RoleGrid && !l.Bounds.ExpandedByMargin(0.01).ContainsPoint(q) {
				t.Fatalf("%s: %v of %v lies outside %v", l.Title, q, it.Tag(), l.Bounds)
			}
		}
	}
}

func checkNames(t *testing.T, l *List) {
	t.Helper()
	var set []Text
	for _, it := range l.Items {
		x, ok := it.(Text)
		if !ok || !x.Halo || x.InMM == 0 || x.Of.Role == RoleLabel {
			continue
		}
		for _, y := range set {
			if x.extent().Intersects(y.extent()) {
				t.Errorf("%s: %q lies over %q", l.Title, x.S, y.S)
			}
		}
		set = append(set, x)
	}
}

func TestFineGridIsBounded(t *testing.T) {
	n := 0
	for _, it := range Plan(inventedScene(1, 1), Options{GridMM: 0.5}).Items {
		if it.Tag().Role == RoleGrid {
			n++
		}
	}
	if n == 0 || n > mostGridLines+2 {
		t.Errorf("%d lines", n)
	}
}
