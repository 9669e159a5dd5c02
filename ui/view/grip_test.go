package view

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// clickAt presses and lifts the mouse at a place of a view.
func clickAt(m *Model, v drawing.View, x, y float64) {
	p := m.pointer(x, y)
	p.View, p.Index = v, NewIndex(m.Scene(), v)
	m.Tool().Press(p)
	m.Tool().Release(p)
}

// pull drags in a view.
func pull(m *Model, v drawing.View, x0, y0, x1, y1 float64) {
	p := m.pointer(x0, y0)
	p.View, p.Index = v, NewIndex(m.Scene(), v)
	m.Tool().Press(p)
	p.At = r2.Point{X: x1, Y: y1}
	m.Tool().Move(p, true)
	m.Tool().Release(p)
}

func enter(t *testing.T, m *Model, s string) {
	t.Helper()
	for _, r := range s {
		if !m.Tool().Type(r) {
			t.Fatalf("%q of %q is not taken", r, s)
		}
	}
	m.Tool().Key("Return")
}

func bayLevel(m *Model, ref string) vehicles.Level {
	return m.Document().Plan().Arrangements[0].Bay(ref).Levels[0]
}

// The bay reaches from 500, -700 to 2500, 700.
func TestDragAnEdgeMovesItStraight(t *testing.T) {
	m := testModel(t, 0)
	m.Display.Snap = false
	m.Pick("mid")
	pull(m, drawing.PlanView, 2500, 0, 2380, 90)
	want := []r2.Point{{X: 500, Y: -700}, {X: 2380, Y: -700}, {X: 2380, Y: 700}, {X: 500, Y: 700}}
	for i, p := range outlineOf(m, "mid") {
		if p.Sub(want[i]).Norm() > 0.01 {
			t.Errorf("corner %d at %v, want %v", i, p, want[i])
		}
	}
	if steps, done := m.Document().History(); done != 1 || steps[0].Label != "Move an edge of mid" {
		t.Errorf("history %v, %d", steps, done)
	}
}

func TestCornerTakesTypedLengthsAnglesAndPlaces(t *testing.T) {
	for _, c := range []struct {
		typed string
		tab   bool
		want  r2.Point
	}{
		{"1000", false, r2.Point{X: 2500, Y: 300}},     // up from 2500, -700
		{"2*500 mm", false, r2.Point{X: 2500, Y: 300}}, //
		{"1500", true, r2.Point{X: 2000, Y: 700}},      // from 500, 700, the corner after
		{"1000<80", false, r2.Point{X: 2500 + 1000*math.Cos(80*math.Pi/180), Y: -700 + 1000*math.Sin(80*math.Pi/180)}},
		{"1000<<80", false, r2.Point{X: 2500 + 1000*math.Cos(80*math.Pi/180), Y: -700 + 1000*math.Sin(80*math.Pi/180)}}, // the side before runs along x
		{"=2450,650", false, r2.Point{X: 2450, Y: 650}},
	} {
		m := testModel(t, 0)
		m.Pick("mid")
		clickAt(m, drawing.PlanView, 2500, 700)
		if g, ok := m.Tool().(*Select).Current(); !ok || g.Kind != CornerGrip {
			t.Fatalf("%+v, %v taken by a click on a corner", g, ok)
		}
		if c.tab {
			m.Tool().Type('o')
		}
		enter(t, m, c.typed)
		if ring := outlineOf(m, "mid"); ring[2].Sub(c.want).Norm() > 0.02 {
			t.Errorf("%q: corner at %v, want %v", c.typed, ring[2], c.want)
		}
		if _, done := m.Document().History(); done != 1 {
			t.Errorf("%q: %d steps", c.typed, done)
		}
	}
}

func TestEdgeTakesALengthOrMovesOut(t *testing.T) {
	for _, c := range []struct {
		typed string
		want  []r2.Point
	}{
		{"1200", []r2.Point{{X: 500, Y: -700}, {X: 2500, Y: -700}, {X: 2500, Y: 500}, {X: 500, Y: 700}}},
		{"+25", []r2.Point{{X: 500, Y: -700}, {X: 2525, Y: -700}, {X: 2525, Y: 700}, {X: 500, Y: 700}}},
		{"-1 in", []r2.Point{{X: 500, Y: -700}, {X: 2474.6, Y: -700}, {X: 2474.6, Y: 700}, {X: 500, Y: 700}}},
	} {
		m := testModel(t, 0)
		m.Pick("mid")
		clickAt(m, drawing.PlanView, 2500, 0)
		enter(t, m, c.typed)
		for i, p := range outlineOf(m, "mid") {
			if p.Sub(c.want[i]).Norm() > 0.01 {
				t.Errorf("%q: corner %d at %v, want %v", c.typed, i, p, c.want[i])
			}
		}
	}
}

// The bay stands from 250 to 700 mm above the ground.
func TestFloorsAndCeilingsAreDraggedAndTyped(t *testing.T) {
	m := testModel(t, 0)
	m.Display.Snap = false
	m.Pick("mid")
	pull(m, drawing.SideView, 1500, 700, 1500, 640)
	if l := bayLevel(m, "mid"); l.CeilingMM != 640 || l.FloorMM != 250 {
		t.Errorf("from %v to %v after the ceiling was pulled down", l.FloorMM, l.CeilingMM)
	}
	clickAt(m, drawing.RearView, 0, 250)
	enter(t, m, "10 in")
	if l := bayLevel(m, "mid"); l.FloorMM != 254 {
		t.Errorf("floor at %v, want 254", l.FloorMM)
	}
	enter(t, m, "900")
	if l := bayLevel(m, "mid"); l.FloorMM != 254 || !strings.Contains(m.Status(), "ceiling lies above the floor") {
		t.Errorf("floor at %v, status %q", l.FloorMM, m.Status())
	}
}

func TestHeightsSnapToOthers(t *testing.T) {
	m := testModel(t, 0) // the box low stands on 260
	m.Pick("mid")
	pull(m, drawing.SideView, 1500, 250, 1500, 256)
	if l := bayLevel(m, "mid"); l.FloorMM != 260 {
		t.Errorf("floor at %v, want that of the box, 260", l.FloorMM)
	}
}

func TestArrowsNudgeTheCornerClicked(t *testing.T) {
	m := testModel(t, 0)
	m.Pick("mid")
	clickAt(m, drawing.PlanView, 2500, 700)
	if err := m.Nudge(r3.Vector{X: -1}); err != nil {
		t.Fatal(err)
	}
	if err := m.Nudge(r3.Vector{X: -10}); err != nil {
		t.Fatal(err)
	}
	if ring := outlineOf(m, "mid"); !cornerNear(ring, r2.Point{X: 2489, Y: 700}) || !cornerNear(ring, r2.Point{X: 2500, Y: -700}) {
		t.Errorf("bay is now %v", ring)
	}
	m.Tool().Key("Escape")
	if err := m.Nudge(r3.Vector{X: -1}); err != nil || !cornerNear(outlineOf(m, "mid"), r2.Point{X: 2488, Y: 700}) || !cornerNear(outlineOf(m, "mid"), r2.Point{X: 2499, Y: -700}) {
		t.Errorf("after Escape the whole bay moves: %v, %v", err, outlineOf(m, "mid"))
	}
}

func TestTypedFiguresShowBeforeTheyAreSet(t *testing.T) {
	m := testModel(t, 0)
	m.Pick("mid")
	clickAt(m, drawing.PlanView, 2500, 700)
	for _, r := range "1000" {
		m.Tool().Type(r)
	}
	shown := shapes(m.Arrangement(), "mid")[0].ring
	if _, done := m.Document().History(); done != 0 || !m.Previewing() || !cornerNear(shown, r2.Point{X: 2500, Y: 300}) {
		t.Errorf("%d steps, shown %v", done, shown)
	}
	m.Tool().Key("BackSpace")
	if shown = shapes(m.Arrangement(), "mid")[0].ring; !cornerNear(shown, r2.Point{X: 2500, Y: -600}) {
		t.Errorf("shown %v", shown)
	}
	m.Tool().Key("Escape")
	if m.Previewing() || !cornerNear(outlineOf(m, "mid"), r2.Point{X: 2500, Y: 700}) {
		t.Error("Escape does not bring back what was")
	}
}

// What cannot be read is said and stays to be mended; Escape lets go of the corner.
func TestTypedNonsenseChangesNothing(t *testing.T) {
	m := testModel(t, 0)
	m.Pick("mid")
	clickAt(m, drawing.PlanView, 2500, 700)
	enter(t, m, "12<<")
	if _, done := m.Document().History(); done != 0 || !strings.Contains(m.Status(), "angle") {
		t.Errorf("%d steps, status %q", done, m.Status())
	}
	m.Tool().Key("Escape")
	if m.Tool().Type('1') {
		t.Error("typing is still taken after Escape")
	}
}

func withNested(t *testing.T, ids ...string) *Model {
	t.Helper()
	m := testModel(t, 0)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		bay := *p.Arrangement(a).Bay("mid")
		for i, id := range ids {
			x := 2000 + 100*float64(i)
			bay.KeepOuts = append(bay.KeepOuts, vehicles.KeepOut{ID: id, Kind: "fixed", Outline: square(x, 400, x+60, 460), FloorMM: 300, CeilingMM: 400})
		}
		return layout.PutBay(p, a, bay)
	}); err != nil {
		t.Fatal(err)
	}
	m.Display.Snap = false
	return m
}

func TestKeepOutsOfBaysAreEditedToo(t *testing.T) {
	m := withNested(t, "post")
	m.Pick("post")
	pull(m, drawing.PlanView, 2060, 460, 2080, 470)
	k := m.Document().Plan().Arrangements[0].Bay("mid").KeepOuts[0]
	if k.Outline[2] != (vehicles.XY{2080, 470}) {
		t.Errorf("outline %v", k.Outline)
	}
	clickAt(m, drawing.SideView, 2040, 400)
	enter(t, m, "450")
	if err := m.Nudge(r3.Vector{Y: 10}); err != nil { // the ceiling is held, which moves up and down alone
		t.Log(err)
	}
	m.Tool().Key("Escape")
	if err := m.Nudge(r3.Vector{Y: 10}); err != nil {
		t.Fatal(err)
	}
	k = m.Document().Plan().Arrangements[0].Bay("mid").KeepOuts[0]
	if k.CeilingMM != 450 || k.Outline[0] != (vehicles.XY{2000, 410}) {
		t.Errorf("keep-out %+v", k)
	}
}

func TestStepsAreAddedInTheVehiclesHeights(t *testing.T) {
	m := testModel(t, 0) // the box low stands at 600, -300, 260
	for _, ref := range []string{"mid", "low"} {
		l := vehicles.Level{Outline: square(1600, -100, 1700, 100), FloorMM: 300, CeilingMM: 400}
		if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return AddLevel(p, a, ref, l) }); err != nil {
			t.Fatal(err)
		}
		got := Levels(m.Arrangement(), ref)
		if n := len(got); n != 2 || got[1].FloorMM != 300 || got[1].CeilingMM != 400 || got[1].Outline[0] != (vehicles.XY{1600, -100}) {
			t.Errorf("%s: levels %+v", ref, got)
		}
	}
	if l := m.Arrangement().Box("low").Levels[1]; l.FloorMM != 40 || l.Outline[0] != (vehicles.XY{1000, 200}) {
		t.Errorf("in the box's own frame %+v", l)
	}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return AddLevel(p, a, "nothing", vehicles.Level{Outline: square(0, 0, 1, 1), CeilingMM: 1})
	}); err == nil {
		t.Error("a step was added to nothing")
	}
}

// Two keep-outs of one id, in a bay and in the plan, are picked, dragged, reshaped, copied and taken out each for itself.
func TestKeepOutsOfOneID(t *testing.T) {
	m := withNested(t, "post")
	own := vehicles.KeepOut{ID: "post", Kind: "hot", Outline: square(2000, -500, 2060, -440), FloorMM: 300, CeilingMM: 400}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.PutKeepOut(p, a, own) }); err != nil {
		t.Fatal(err)
	}
	at := func(ref string) vehicles.KeepOut { return *m.Document().Plan().Arrangements[0].KeepOut(ref) }
	for ref, y := range map[string]float64{"post": -470, "mid:post": 430} {
		other := map[string]string{"post": "mid:post", "mid:post": "post"}[ref]
		still := at(other)
		if got := m.pointer(2030, y).Index.Top(r2.Point{X: 2030, Y: y}, 3); got.Ref != ref || got.Kind != KeepOutKind {
			t.Fatalf("at y = %v lies %+v", y, got)
		}
		drag(m, 2030, y, 2050, y+10)
		if !slices.Equal(m.Selection.Refs(), []string{ref}) || at(ref).Outline[0][0] != 2020 {
			t.Errorf("%s: picked %v, it stands at %v", ref, m.Selection.Refs(), at(ref).Outline)
		}
		pull(m, drawing.PlanView, 2080, y+40, 2090, y+50)
		if got := at(ref).Outline[2]; got != (vehicles.XY{2090, y + 50}) {
			t.Errorf("%s: its corner is at %v", ref, got)
		}
		clickAt(m, drawing.SideView, 2055, 400)
		enter(t, m, "450")
		if got := at(ref).CeilingMM; got != 450 {
			t.Errorf("%s: its ceiling is at %v", ref, got)
		}
		if c, err := m.Copy([]string{ref}); err != nil || c.KeepOuts[0].CeilingMM != 450 {
			t.Errorf("%s: copied %+v, %v", ref, c, err)
		}
		if !reflect.DeepEqual(at(other), still) {
			t.Errorf("%s was edited, %s changed", ref, other)
		}
		m.Pick()
		m.SetTool(NewSelect(m))
		for range 3 {
			_ = m.Undo()
		}
	}
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return RemoveKeepOut(p, a, "mid:post") }); err != nil {
		t.Fatal(err)
	}
	if len(m.Arrangement().KeepOuts) != 1 || len(m.Arrangement().Bay("mid").KeepOuts) != 0 {
		t.Error("the wrong one was taken out")
	}
}

// A bay takes its keep-outs along, once, though they are picked too; boxes picked with it move as well.
func TestABayTakesItsKeepOutsAlong(t *testing.T) {
	m := withNested(t, "post")
	m.Pick("mid", "post", "low")
	box := m.Arrangement().Box("low").At
	if err := m.Nudge(r3.Vector{X: 7}); err != nil {
		t.Fatal(err)
	}
	a := m.Arrangement()
	if x := a.KeepOut("post").Outline[0][0]; x != 2007 {
		t.Errorf("the keep-out stands at %v", x)
	}
	if x := a.Box("low").At[0]; x != box[0]+7 || a.Bay("mid").Levels[0].Outline[0][0] != 507 {
		t.Errorf("the box moved to %v, the bay to %v", x, a.Bay("mid").Levels[0].Outline[0])
	}
	_ = m.Undo()
	if m.Arrangement().Box("low").At != box {
		t.Error("undo leaves the box")
	}
}

func TestKeepOutsOfBaysAreTakenOut(t *testing.T) {
	m := withNested(t, "post", "pipe")
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return RemoveKeepOut(p, a, "post") }); err != nil {
		t.Fatal(err)
	}
	if ks := m.Document().Plan().Arrangements[0].Bay("mid").KeepOuts; len(ks) != 1 || ks[0].ID != "pipe" {
		t.Errorf("left are %+v", ks)
	}
	if err := m.Undo(); err != nil || m.Arrangement().KeepOut("post") == nil {
		t.Errorf("undo: %v", err)
	}
}

func TestGhostsOfAllThatCanBeDragged(t *testing.T) {
	m := withNested(t, "post")
	for _, ref := range []string{"low", "mid", "post"} {
		if n := len(m.ghosts([]string{ref})); n != 1 {
			t.Errorf("%d ghosts of %s", n, ref)
		}
	}
}

// Pulled 7 mm rearward m1 stops after 4, with the end gap of 6 mm to m2, which stands 10 mm behind it.
func TestDragSaysHowFarAndWhatItSnappedTo(t *testing.T) {
	m := testModel(t, 8)
	p := m.pointer(630, -270)
	m.Tool().Press(p)
	p.At = r2.Point{X: 637, Y: -243}
	m.Tool().Move(p, true)
	var texts []string
	for _, it := range m.Tool().Overlay(drawing.PlanView) {
		if x, ok := it.(drawing.Text); ok {
			texts = append(texts, x.S)
		}
	}
	if want := []string{"+4 mm, +27 mm", "6 mm from m2"}; !slices.Equal(texts, want) {
		t.Errorf("%q is said, want %q", texts, want)
	}
}

func TestDistancesLitUpAreWordedByTheirLimit(t *testing.T) {
	for _, c := range []struct {
		f    check.Finding
		want string
	}{
		{check.Finding{Actual: 12, Required: 15, Unit: "mm", Compare: "at least"}, "12 mm, needs 15 mm"},
		{check.Finding{Actual: 18, Unit: "mm", Compare: "at most"}, "18 mm too far in"},
		{check.Finding{Actual: 30, Required: 25, Unit: "mm", Compare: "at most"}, "30 mm, at most 25 mm"},
	} {
		if got := placeText(c.f, Metric); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// What was typed for a grip is not in the plan: it goes with the grip, whatever takes the grip's place.
func TestTypedForAGripGoesWithIt(t *testing.T) {
	for name, leave := range map[string]func(m *Model){
		"a click elsewhere":     func(m *Model) { clickAt(m, drawing.PlanView, 630, -270) },
		"a click on a grip":     func(m *Model) { clickAt(m, drawing.PlanView, 500, 700) },
		"picked in a list":      func(m *Model) { m.Pick("low/m1") },
		"another arrangement":   func(m *Model) { m.SetArrangement(m.Document().Plan().Arrangements[1].ID) },
		"a step of the history": func(m *Model) { _ = m.Undo() },
	} {
		m := testModel(t, 8)
		if err := m.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
			e, _, err = layout.DuplicateArrangement(p, a)
			return e, err
		}); err != nil {
			t.Fatal(err)
		}
		m.Pick("mid")
		clickAt(m, drawing.PlanView, 2500, 700)
		for _, r := range "900" {
			m.Tool().Type(r)
		}
		if !m.Previewing() {
			t.Fatal("what is typed does not show")
		}
		leave(m)
		if m.Previewing() || m.Plan() != m.Document().Plan() {
			t.Errorf("%s: what was typed still shows", name)
		}
	}
}

// A grip that waits is measured from where it is when something is typed, though the thing was moved meanwhile.
func TestGripThatWaitsFollowsItsThing(t *testing.T) {
	m := testModel(t, 0)
	m.Pick("mid")
	clickAt(m, drawing.PlanView, 2500, 700)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return MoveThings(p, a, []string{"mid"}, r3.Vector{X: 100, Y: 50})
	}); err != nil {
		t.Fatal(err)
	}
	enter(t, m, "1000") // up from 2600, -650
	if got, want := outlineOf(m, "mid")[2], (r2.Point{X: 2600, Y: 350}); got.Sub(want).Norm() > 0.01 {
		t.Errorf("corner at %v, want %v", got, want)
	}
}

// With Ctrl a rubber band is pulled from nothing though something is picked, and adds to it.
func TestRubberBandAddsToWhatIsPicked(t *testing.T) {
	m := testModel(t, 8)
	m.Pick("low/m8")
	p := m.pointer(450, -310)
	p.Ctrl = true
	m.Tool().Press(p)
	p.At = r2.Point{X: 860, Y: -200}
	m.Tool().Move(p, true)
	if items := m.Tool().Overlay(drawing.PlanView); len(items) != 2 {
		t.Errorf("%d items of a rubber band, want 2", len(items))
	}
	if m.Status() != "" {
		t.Errorf("%q is said of a rubber band", m.Status())
	}
	m.Tool().Release(p)
	if got := m.Selection.Refs(); !slices.Equal(got, []string{"low/m8", "low/m1", "low/m2"}) {
		t.Errorf("picked %v", got)
	}
}

// Where a floor and a ceiling are both within reach the nearer one is taken.
func TestNearerOfFloorAndCeiling(t *testing.T) {
	m := testModel(t, 0)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return SetHeight(p, a, Grip{Corner{Shape: Shape{Ref: "mid"}}, CeilingGrip}, 254)
	}); err != nil {
		t.Fatal(err)
	}
	m.Pick("mid")
	for z, want := range map[float64]GripKind{250: FloorGrip, 251: FloorGrip, 253: CeilingGrip, 256: CeilingGrip} {
		p := m.pointer(1500, z)
		p.View = drawing.SideView
		if g, ok := m.gripNear(p); !ok || g.Kind != want {
			t.Errorf("at %g: %v, %v, want the %v", z, g.Kind, ok, want)
		}
	}
}
