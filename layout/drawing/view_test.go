package drawing

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

var views = []View{PlanView, SideView, RearView}

// fullOptions turns everything on that a view can show.
func fullOptions() Options {
	kg := [4]float64{412, 405, 518, 530}
	donor, now := r3.Vector{X: 1290, Y: 4, Z: 610}, r3.Vector{X: 1360, Y: 12, Z: 560}
	return Options{
		GridMM: 100, Dimensions: true, CGDonor: &donor, CG: &now, WheelKg: &kg,
		WheelMarks: [4]Mark{0, 0, 0, Breached},
		Marks:      map[string]Mark{"left/7": Selected, "right/8": Breached, "right/7": Warned, "rear": Locked},
		Places:     []Place{{A: r3.Vector{X: 800, Y: -500, Z: 300}, B: r3.Vector{X: 800, Y: -480, Z: 300}, Text: "12 mm, needs 15", Mark: Breached}},
		Lines:      []Line{{Role: RoleCable, Ref: "c1", Text: "cable 1", Points: []r3.Vector{{X: 420, Y: -650, Z: 320}, {X: 200, Y: -650, Z: 320}, {X: 200, Y: 650, Z: 320}, {X: 420, Y: 650, Z: 320}}}},
	}
}

func TestEveryModuleAndWheelIsDrawnInEveryView(t *testing.T) {
	s := inventedScene(3, 2)
	for _, v := range views {
		l := v.Draw(s, Options{})
		refs := map[string]bool{}
		wheels := 0
		for _, it := range l.Items {
			refs[it.Tag().Ref] = true
			if f, ok := it.(Fill); ok && f.Of.Role == RoleWheel {
				wheels++
			}
		}
		if want := map[View]int{PlanView: 4, SideView: 2, RearView: 2}[v]; wheels != want {
			t.Errorf("%v: %d wheels, want %d", v, wheels, want)
		}
		for _, b := range s.Boxes {
			if !refs[b.Box.ID] {
				t.Errorf("%v: box %s is not drawn", v, b.Box.ID)
			}
		}
	}
}

// A module's area in a view is its face by the module's own sheet: 355 x 152 from above, 355 x 108 from the
// left, 152 x 108 from behind.
func TestModuleFacesHaveTheSizesOfTheSheet(t *testing.T) {
	s := inventedScene(3, 2)
	want := map[View]float64{PlanView: 355 * 152, SideView: 355 * 108, RearView: 152 * 108}
	for _, v := range views {
		n := 0
		for _, it := range v.Draw(s, Options{}).Items {
			if f, ok := it.(Fill); ok && f.Of.Role == RoleModule {
				n++
				if got := f.Area.Area(); math.Abs(got-want[v]) > 1e-6 {
					t.Fatalf("%v: %s covers %v mm2, want %v", v, f.Of.Ref, got, want[v])
				}
			}
		}
		if n == 0 {
			t.Errorf("%v: no modules", v)
		}
	}
}

func TestBoundsHoldEveryPoint(t *testing.T) {
	s := inventedScene(3, 2)
	for _, v := range views {
		l := v.Draw(s, fullOptions())
		for _, it := range l.Items {
			for _, q := range pointsOf(it) {
				if it.Tag().Role != RoleGrid && !l.Bounds.ContainsPoint(q) {
					t.Fatalf("%v: %v of %v lies outside %v", v, q, it.Tag(), l.Bounds)
				}
			}
		}
	}
}

func pointsOf(it Item) []r2.Point {
	switch it := it.(type) {
	case Fill:
		return it.Area.Outer
	case Stroke:
		return it.Points
	case Hatch:
		return it.Area.Outer
	case Text:
		return []r2.Point{it.At}
	case Dimension:
		return []r2.Point{it.A, it.B}
	}
	return nil
}

func TestHiddenLayersDrawNothing(t *testing.T) {
	s := inventedScene(3, 2)
	for _, layer := range Layers() {
		o := fullOptions()
		o.Off = layer
		for _, v := range views {
			for _, it := range v.Draw(s, o).Items {
				if it.Tag().Role.Layer() == layer && layer != LayerLabels && layer != LayerFindings {
					t.Errorf("%v: %v drawn though %v is off", v, it.Tag(), layer)
				}
			}
		}
	}
}

func TestNamesDoNotOverlap(t *testing.T) {
	s := inventedScene(3, 2)
	for _, v := range views {
		var set []Text
		for _, it := range v.Draw(s, fullOptions()).Items {
			x, ok := it.(Text)
			if !ok || !x.Halo {
				continue
			}
			for _, y := range set {
				if x.extent().Intersects(y.extent()) {
					t.Errorf("%v: %q lies over %q", v, x.S, y.S)
				}
			}
			set = append(set, x)
		}
	}
}

func TestCachedViewEqualsFresh(t *testing.T) {
	s := inventedScene(3, 2)
	o := fullOptions()
	fresh := Plan(s, o)
	o.Cache = &Cache{}
	for range 3 {
		if got := Plan(s, o); !sameList(got, fresh) {
			t.Fatal("the cached view differs from the fresh one")
		}
	}
	o.Off = LayerTerminals
	if sameList(Plan(s, o), fresh) {
		t.Error("switching terminals off changed nothing")
	}
}

func sameList(a, b *List) bool {
	if a.Bounds != b.Bounds || len(a.Items) != len(b.Items) {
		return false
	}
	for i := range a.Items {
		if a.Items[i].Tag() != b.Items[i].Tag() || len(pointsOf(a.Items[i])) != len(pointsOf(b.Items[i])) {
			return false
		}
	}
	return true
}

// The CG symbol now has two filled quarters; the donor's has none.
func TestDonorsCentreOfGravityIsHollow(t *testing.T) {
	l := Plan(inventedScene(3, 2), fullOptions())
	fills := map[Role]int{}
	for _, it := range l.Items {
		if _, ok := it.(Fill); ok {
			fills[it.Tag().Role]++
		}
	}
	if fills[RoleCG] != 2 || fills[RoleCGDonor] != 0 {
		t.Errorf("filled quarters: now %d, donor %d; want 2 and 0", fills[RoleCG], fills[RoleCGDonor])
	}
}

func TestAnEmptySceneDrawsWithoutPanic(t *testing.T) {
	for _, v := range views {
		v.Draw(&layout.Scene{}, fullOptions())
	}
}

// Four hundred modules, nothing cached.
func BenchmarkPlan400(b *testing.B) {
	s := inventedScene(10, 10)
	b.ReportAllocs()
	b.ReportMetric(float64(s.Count()), "modules")
	for b.Loop() {
		Plan(s, Options{GridMM: 100})
	}
}

// Four hundred modules, one box marked, as in a drag.
func BenchmarkPlan400Cached(b *testing.B) {
	s := inventedScene(10, 10)
	o := Options{GridMM: 100, Cache: &Cache{}, Marks: map[string]Mark{"rear/1": Selected}}
	b.ReportAllocs()
	for b.Loop() {
		Plan(s, o)
	}
}

// Module left/1 lies under left/7: in breach it is shown by dashed edges, though its face is hidden.
func TestHiddenBreachIsShown(t *testing.T) {
	s := inventedScene(3, 2)
	for _, it := range Plan(s, Options{Marks: map[string]Mark{"left/1": Breached}}).Items {
		if k, ok := it.(Stroke); ok && k.Of.Ref == "left/1" && k.Of.Role == RoleBreach && len(k.Dash) > 0 {
			return
		}
	}
	t.Error("nothing shows the breach of the lower module")
}

// The radiator in front is painted before the boxes behind it in the view from behind.
func TestGearOutsideTakesItsTurn(t *testing.T) {
	s := inventedScene(3, 2)
	a := *s.Arrangement
	a.Gear = []layout.PlacedGear{{ID: "far", Gear: "relay", At: vehicles.XYZ{-900, 0, 300}}, {ID: "near", Gear: "relay", At: vehicles.XYZ{3200, 0, 300}}}
	order := map[string]int{}
	for i, it := range Rear(layout.Resolve(s.Plan, &a, s.Library, nil), Options{}).Items {
		if _, ok := it.(Fill); ok && it.Tag().Ref != "" {
			order[it.Tag().Ref] = i
		}
	}
	if !(order["far"] < order["left"] && order["rear"] < order["near"]) {
		t.Errorf("order of painting: %v", order)
	}
}

func TestSectionsAreShownWhereTheyAreTaken(t *testing.T) {
	s := inventedScene(3, 2)
	for _, v := range []View{PlanView, SideView} {
		found := false
		for _, it := range v.Draw(s, Options{Cuts: []float64{700}}).Items {
			if k, ok := it.(Stroke); ok && k.Of.Role == RoleCut && k.Dash != nil {
				found = found || k.Points[0].X == 700 && k.Points[1].X == 700
			}
		}
		if !found {
			t.Errorf("%v: no line at 700", v)
		}
	}
}
