package drawing

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
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

// All 21 layers are listed, each once, and have names.
func TestLayersAreListed(t *testing.T) {
	var all Layer
	for _, l := range Layers() {
		if all&l != 0 || l&(l-1) != 0 || l.String() == "" {
			t.Errorf("%b %q after %b", l, l, all)
		}
		all |= l
	}
	if all != 1<<21-1 {
		t.Errorf("%b", all)
	}
}

// The factor on names is the one stated, be it less than one, or else 1.
func TestNamesAreAsLargeAsStated(t *testing.T) {
	for k, want := range map[float64]float64{0: 1, 0.5: 0.5, 3: 3} {
		if got := (&Options{NameScale: k}).names(); got != want {
			t.Errorf("%g: %g", k, got)
		}
	}
}

// A box is marked where it or something in it bears a mark; a mark of nothing marks nothing.
func TestMarkedBoxes(t *testing.T) {
	o := Options{Marks: map[string]Mark{"left/7": Selected, "rear": Warned, "right": 0, "front/2": 0}}
	if got := o.markedBoxes(); len(got) != 2 || !got["left"] || !got["rear"] {
		t.Errorf("%v", got)
	}
}

// A box that is selected, and nothing else, has its outline and handles.
func TestSelectedBoxHasHandles(t *testing.T) {
	n := 0
	for _, it := range Plan(inventedScene(1, 1), Options{Marks: map[string]Mark{"left": Selected}}).Items {
		if it.Tag().Role == RoleHandle {
			n++
		}
	}
	if n < 8 {
		t.Errorf("%d items of handles", n)
	}
}

// A space is as near to the eye as its nearest solid, whichever that is, on either side of the vehicle's middle.
func TestSpaceIsAsNearAsItsNearestSolid(t *testing.T) {
	box := func(x, y, z float64) geometry.Prism {
		return geometry.NewBox(r3.Vector{X: x, Y: y, Z: z}, r3.Vector{X: x + 10, Y: y + 10, Z: z + 10})
	}
	for _, at := range []float64{-500, -0.5, 500} {
		a, b := box(at, at, at), box(at+30, at+40, at+50)
		for v, want := range map[View]float64{PlanView: at + 60, SideView: -at, RearView: at + 40} {
			for _, solids := range [][]geometry.Prism{{a, b}, {b, a}, {a, b, a}} {
				if got := spaceNearness(v, geometry.Space{Solids: solids}); got != want {
					t.Errorf("%v, at %g: %g, want %g", v, at, got, want)
				}
			}
			if got := spaceNearness(v, geometry.Space{Solids: []geometry.Prism{a}}); got != v.nearness(a) {
				t.Errorf("%v, one at %g: %g", v, at, got)
			}
		}
	}
}

// A module's number takes 62 % of its width and 36 % of its height at most, and 70 mm; less than 6 is left out. What it stands on is
// said under it in a fifth of the height, from 5 mm on.
func TestSizesOfModuleNumbers(t *testing.T) {
	for _, c := range []struct{ w, h, number, under float64 }{
		{400, 100, 36, 36 * 0.55}, {400, 60, 21.6, 21.6 * 0.55}, {30, 100, 0.62 * 30 / 0.57, 0.62 * 30 / 0.57 * 0.55}, {1000, 1000, 70, 38.5},
		{400, 17, 6.12, 0}, {400, 16.4, 0, 0}, {10, 100, 10.877, 0}, {100, 27, 9.72, 5.346}, {400, 24, 8.64, 0},
	} {
		p := newPen(PlanView, &Options{})
		p.moduleNumber(Tag{}, &layout.Body{Placement: &layout.Placement{ID: "1"}}, []string{"2"}, r2.RectFromPoints(pt(0, 0), pt(c.w, c.h)))
		var got [2]float64
		for _, it := range p.items {
			if x := it.(Text); x.S == "1" {
				got[0] = x.InMM
			} else {
				got[1] = x.InMM
			}
		}
		if math.Abs(got[0]-c.number) > 1e-3 || c.under == 0 != (got[1] == 0) {
			t.Errorf("%g x %g: %v, want %g and %g", c.w, c.h, got, c.number, c.under)
		}
	}
}

// A section near a wheel shows the wheels of its axle, one before the front wheels none, as no wheel is seen from there. The front
// track is 1380, the rear one 1370.
func TestSectionShowsTheNextWheels(t *testing.T) {
	s := inventedScene(1, 1)
	for x, want := range map[float64]float64{-311: 0, -309: 690, 0: 690, 305: 690, 2089: 690, 2091: 685, 3000: 685} {
		got := 0.0
		for _, it := range Section(s, x, Options{}).Items {
			if f, ok := it.(Fill); ok && f.Of.Role == RoleWheel {
				got = max(got, f.Area.Bounds().Center().X)
			}
		}
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("at %g: wheels %g from the middle, want %g", x, got, want)
		}
	}
	for pitch, want := range map[float64]bool{0: false, 0.9: true} {
		got := false
		for _, it := range Section(s, 700, Options{GridMM: pitch}).Items {
			got = got || it.Tag().Role == RoleGrid
		}
		if got != want {
			t.Errorf("a pitch of %g: a grid %v", pitch, got)
		}
	}
}

// What is selected is dimensioned under it and at its left; the room of the figures is kept free above the lower line and left of the
// other one. A gap's figure stands on its line where that is 1.3 times as long, and half a millimetre is no gap.
func TestRoomOfDimensions(t *testing.T) {
	p := newPen(PlanView, &Options{Dimensions: true, NameScale: 2})
	r := r2.RectFromPoints(pt(100, 200), pt(500, 450))
	p.sizes(Selected, r)
	off := max(40+0.06*400, 1.4*80)
	below, left := p.taken[0], p.taken[1]
	if math.Abs(below.Y.Lo-(200-off)) > 1e-9 || math.Abs(below.Y.Length()-80) > 1e-9 || math.Abs(below.Center().X-300) > 1e-9 {
		t.Errorf("under it: %v", below)
	}
	if math.Abs(left.X.Hi-(100-off)) > 1e-9 || math.Abs(left.X.Length()-80) > 1e-9 || math.Abs(left.Center().Y-325) > 1e-9 {
		t.Errorf("at its left: %v", left)
	}
	least := 1.3 * TextWidth("130") * 80 // about 178
	for n, want := range map[float64]string{0.48: "", 0.52: "line", 130: "line", least - 0.5: "line", least + 0.5: "dimension"} {
		p := newPen(PlanView, &Options{NameScale: 2})
		p.gap(pt(0, 0), pt(n, 0))
		got := ""
		for _, it := range p.items {
			if _, ok := it.(Dimension); ok {
				got = "dimension"
			} else if got == "" {
				got = "line"
			}
		}
		if got != want {
			t.Errorf("a gap of %g: %q, want %q", n, got, want)
		}
	}
}

// The text of a line of one place stands there; a hidden layer hides it.
func TestLineOfOnePlaceIsNamed(t *testing.T) {
	for off, want := range map[Layer]int{0: 1, LayerCables: 0} {
		p := newPen(PlanView, &Options{Off: off, Lines: []Line{{Role: RoleCable, Text: "cable", Points: []r3.Vector{{X: 5}}}, {Role: RoleCable, Text: "none"}}})
		if p.lines(); len(p.wishes) != want {
			t.Errorf("%d names, want %d", len(p.wishes), want)
		}
	}
}

// Texts sized in millimetres count for what a view has to show, small ones too; turned ones do not.
func TestTextsAreWithinTheBounds(t *testing.T) {
	for deg, want := range map[float64]bool{0: true, 90: false} {
		p := newPen(PlanView, &Options{})
		p.reach(pt(0, 0))
		x := Text{At: pt(50, 20), S: "name", InMM: 0.8, Deg: deg}
		if p.text(x); p.bounds.Contains(x.extent()) != want {
			t.Errorf("turned by %g degrees: bounds %v", deg, p.bounds)
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
