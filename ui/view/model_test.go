package view

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// testModule is an invented block of 100 by 50 by 60 mm with gaps of 4 and 6 mm.
func testModule() *vehicles.Module {
	return &vehicles.Module{Format: 1, ID: "block", Name: "Block", LengthMM: 100, WidthMM: 50, HeightMM: 60, MassKg: 1, Series: 4, Parallel: 1,
		Cell:     vehicles.Cell{Chemistry: "NMC", NominalV: 3.6, MinV: 3, MaxV: 4.2, CapacityAh: 50},
		Ohmic:    vehicles.Ohmic{MilliOhm: 1},
		Current:  vehicles.Currents{ContinuousA: 100},
		Postures: []vehicles.Posture{vehicles.Flat, vehicles.Side},
		Terminals: []vehicles.Terminal{
			{ID: "-", Polarity: "negative", Face: vehicles.Top, At: vehicles.XYZ{10, 25, 60}},
			{ID: "+", Polarity: "positive", Face: vehicles.Top, At: vehicles.XYZ{90, 25, 60}},
		},
		Gaps: vehicles.Gaps{SideMM: 4, EndMM: 6, WallMM: 5},
	}
}

func square(x0, y0, x1, y1 float64) []vehicles.XY {
	return []vehicles.XY{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func testDonor() *vehicles.Donor {
	bay := vehicles.Bay{ID: "mid", Levels: []vehicles.Level{{Outline: square(500, -700, 2500, 700), FloorMM: 250, CeilingMM: 700}}, ClearanceMM: 10}
	return &vehicles.Donor{Format: 1, ID: "van", Name: "Van", Invented: true, WheelbaseMM: 2900, TrackFrontMM: 1500, TrackRearMM: 1500,
		WheelRadiusMM: 320, TyreWidthMM: 190, GroundClearMM: 180,
		PlanOutline: square(-900, -900, 3900, 900), SideOutline: square(-900, 300, 3900, 1900),
		Scales:          vehicles.Scales{FrontLeftKg: 400, FrontRightKg: 390, RearLeftKg: 420, RearRightKg: 430},
		CentreOfGravity: vehicles.CGRise{HeightMM: 650, How: "estimate"},
		Ratings:         vehicles.Ratings{FrontAxleKg: 1300, RearAxleKg: 1500, GrossKg: 2600},
		Bays:            []vehicles.Bay{bay},
	}
}

// testModel is a window on a plan with one box of 1000 by 600 mm at (600, -300, 260) that holds n modules in rows
// of eight at a pitch of 110 by 60 mm.
func testModel(t testing.TB, n int) *Model {
	t.Helper()
	donor, mod := testDonor(), testModule()
	p := layout.NewPlan(donor, "Test")
	p.Library = layout.Library{Donors: []*vehicles.Donor{donor}, Modules: []*vehicles.Module{mod}}
	p.Arrangements[0].Boxes = []*layout.Box{testBox("low", n)}
	doc := layout.NewDocument(p, nil)
	return NewModel(doc)
}

func testBox(id string, n int) *layout.Box {
	height := 60*math.Ceil(float64(n)/72) + 60
	b := &layout.Box{ID: id, Bay: "mid", At: vehicles.XYZ{600, -300, 260},
		Levels: []vehicles.Level{{Outline: square(0, 0, 1000, 600), FloorMM: 0, CeilingMM: height}},
		Shell:  layout.Shell{WallMM: 2}}
	for i := range n {
		layer, k := i/72, i%72
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i+1), Module: "block", Posture: vehicles.Flat,
			At: vehicles.XYZ{20 + 110*float64(k%8), 20 + 60*float64(k/8), 2 + 60*float64(layer)}})
	}
	return b
}

func (m *Model) pointer(x, y float64) Pointer {
	return Pointer{At: r2.Point{X: x, Y: y}, View: drawing.PlanView, Slack: 3, Index: NewIndex(m.Scene(), drawing.PlanView)}
}

func drag(m *Model, x0, y0, x1, y1 float64) {
	p := m.pointer(x0, y0)
	m.Tool().Move(p, false)
	m.Tool().Press(p)
	q := p
	for _, f := range []float64{0.3, 0.7, 1} {
		q.At = r2.Point{X: x0 + f*(x1-x0), Y: y0 + f*(y1-y0)}
		m.Tool().Move(q, true)
	}
	m.Tool().Release(q)
}

func at(m *Model, ref string) r3.Vector {
	box, inner := Split(ref)
	b := m.Document().Plan().Arrangements[0].Box(box)
	if inner == "" {
		return b.At.Vector()
	}
	return b.Modules[b.Placement(inner)].At.Vector()
}

func TestDragMovesModuleAndUndoes(t *testing.T) {
	m := testModel(t, 8)
	m.Display.Snap = false
	was := at(m, "low/m1")
	drag(m, 630, -270, 660, -240)
	if got := at(m, "low/m1").Sub(was); got != (r3.Vector{X: 30, Y: 30}) {
		t.Fatalf("moved by %v, want 30, 30", got)
	}
	if got := m.Selection.Refs(); len(got) != 1 || got[0] != "low/m1" {
		t.Errorf("picked %v", got)
	}
	if steps, done := m.Document().History(); done != 1 || steps[0].Label != "Move low/m1" {
		t.Errorf("history %v, %d", steps, done)
	}
	if err := m.Undo(); err != nil || at(m, "low/m1") != was {
		t.Errorf("undo: %v, at %v", err, at(m, "low/m1"))
	}
	if err := m.Redo(); err != nil || at(m, "low/m1") == was {
		t.Errorf("redo: %v", err)
	}
}

func TestPreviewIsNoStep(t *testing.T) {
	m := testModel(t, 8)
	p := m.pointer(630, -270)
	m.Tool().Press(p)
	q := p
	q.At.X += 40
	m.Tool().Move(q, true)
	if !m.Previewing() || m.Scene().Body("low/m1").Prism.Base.Outer[0].X == 620 {
		t.Fatal("the drag does not show")
	}
	if m.Document().CanUndo() {
		t.Error("a drag that goes on is in the history")
	}
	if !m.Tool().Key("Escape") || m.Previewing() || m.Document().CanUndo() {
		t.Error("Escape does not take the drag back")
	}
	if got := at(m, "low/m1"); got.X != 20 {
		t.Errorf("module at %v", got)
	}
}

func TestDragSnapsToContactPlusGap(t *testing.T) {
	m := testModel(t, 2)
	drag(m, 630, -270, 634.5, -270) // m1's rear face stops 5.5 mm before m2; the end gap is 6 mm
	if got := at(m, "low/m1").X; math.Abs(got-24) > 1e-9 {
		t.Errorf("at x = %v, want 24, which leaves the end gap of 6 mm", got)
	}
}

func TestDragSnapsToWall(t *testing.T) {
	m := testModel(t, 1)
	drag(m, 630, -270, 620, -270)
	if got := at(m, "low/m1").X; math.Abs(got-7) > 1e-9 {
		t.Errorf("at x = %v, want 7: wall of 2 mm and wall gap of 5 mm", got)
	}
}

func TestDragBoxTakesModulesAlong(t *testing.T) {
	m := testModel(t, 4)
	m.Display.Snap = false
	p := m.pointer(630, -270)
	p.Twice = true
	m.Tool().Press(p)
	q := p
	q.At.Y += 50
	m.Tool().Move(q, true)
	m.Tool().Release(q)
	if at(m, "low").Y != -250 || at(m, "low/m1").Y != 20 {
		t.Errorf("box at %v, module at %v", at(m, "low"), at(m, "low/m1"))
	}
}

func TestLockedStays(t *testing.T) {
	m := testModel(t, 4)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		return layout.SetLocked(p, a, []string{"low/m1"}, true)
	}); err != nil {
		t.Fatal(err)
	}
	was := at(m, "low/m1")
	drag(m, 630, -270, 700, -200)
	if at(m, "low/m1") != was {
		t.Error("a locked module moved")
	}
}

func TestRubberBand(t *testing.T) {
	m := testModel(t, 24)
	drag(m, 450, -310, 960, -150)
	if got := m.Selection.Len(); got != 6 {
		t.Errorf("picked %v, want the 3 by 2 modules inside", m.Selection.Refs())
	}
}

// What is no longer there is under no pointer.
func TestHoverGoesWithWhatIsTakenOut(t *testing.T) {
	m := testModel(t, 2)
	m.SetHover("low/m2")
	remove := func(ref string) {
		if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Remove(p, a, ref) }); err != nil {
			t.Fatal(err)
		}
	}
	if remove("low/m1"); m.Hover() != "low/m2" {
		t.Errorf("%q is under the pointer", m.Hover())
	}
	if remove("low/m2"); m.Hover() != "" {
		t.Errorf("%q is under the pointer, and gone", m.Hover())
	}
}

func TestHitIsTopMost(t *testing.T) {
	m := testModel(t, 144)
	x := NewIndex(m.Scene(), drawing.PlanView)
	if got := x.Top(r2.Point{X: 630, Y: -270}, 0); got != (Hit{"low/m73", ModuleKind}) {
		t.Errorf("hit %v, want the module of the upper layer", got)
	}
	if got := x.At(r2.Point{X: 630, Y: -270}, 0); len(got) != 4 {
		t.Errorf("under the pointer: %v, want two modules, a box and a bay", got)
	}
	if got := x.Top(r2.Point{X: 605, Y: -295}, 0); got != (Hit{"low", BoxKind}) {
		t.Errorf("hit %v, want the box", got)
	}
	if got := x.Top(r2.Point{X: 2400, Y: 600}, 0); got != (Hit{"mid", BayKind}) {
		t.Errorf("hit %v, want the bay", got)
	}
	if got := x.Top(r2.Point{X: -3000, Y: 0}, 0); got.Kind != Nothing {
		t.Errorf("hit %v on nothing", got)
	}
}

func TestCopies(t *testing.T) {
	m := testModel(t, 3)
	var made []string
	copies := func(refs []string, by []r3.Vector) {
		t.Helper()
		err := m.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
			e, made, err = Copies(p, m.Library(), a, "Rows and columns", CopiesOf(refs, by))
			return e, err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	copies([]string{"low/m1"}, Rows(2, 3, 1, r3.Vector{X: 300, Y: 60}))
	if len(made) != 5 || m.Scene().Count() != 8 {
		t.Errorf("made %v, %d modules", made, m.Scene().Count())
	}
	if got := at(m, made[4]); got != (r3.Vector{X: 320, Y: 140, Z: 2}) {
		t.Errorf("the last one is at %v", got)
	}
	copies([]string{"low", "low/m2"}, []r3.Vector{{X: 1100}})
	if len(made) != 1 || made[0] != "low1" || m.Scene().Count() != 16 {
		t.Errorf("copied %v, %d modules", made, m.Scene().Count())
	}
}

func TestMoveSurvey(t *testing.T) {
	m := testModel(t, 1)
	m.Pick("mid")
	if err := m.Nudge(r3.Vector{X: 10, Z: -5}); err != nil {
		t.Fatal(err)
	}
	l := m.Arrangement().Bay("mid").Levels[0]
	if l.Outline[0] != (vehicles.XY{510, -700}) || l.FloorMM != 245 {
		t.Errorf("bay at %v, floor %v", l.Outline[0], l.FloorMM)
	}
	if testDonor().Bays[0].Levels[0].Outline[0] != (vehicles.XY{500, -700}) || m.Scene().Donor.Bays[0].Levels[0].FloorMM != 250 {
		t.Error("the donor's survey changed too")
	}
}

func TestPlaceModule(t *testing.T) {
	m := testModel(t, 1)
	m.SetTool(NewPlace(m, ModuleKey+"block"))
	m.Tool().Move(m.pointer(782, -250), false)
	if !m.Previewing() || m.Scene().Count() != 2 {
		t.Fatal("no preview")
	}
	if n := len(m.Kept().Boxes[0].Modules); n != 1 || len(m.Arrangement().Boxes[0].Modules) != 2 {
		t.Errorf("%d modules are kept before one is placed", n)
	}
	m.Tool().Press(m.pointer(782, -250))
	if m.Previewing() || m.Document().Plan().Arrangements[0].Boxes[0].Placement("m2") < 0 {
		t.Fatal("not placed")
	}
	if got := at(m, "low/m2"); got.X != 126 || got.Z != 2 {
		t.Errorf("at %v, want x = 126: the end gap of 6 mm behind m1, and on the floor", got)
	}
	m.Tool().Move(m.pointer(2400, 600), false)
	if m.Previewing() {
		t.Error("a module is shown outside every box")
	}
}

func TestOutlineTypedLengths(t *testing.T) {
	m := testModel(t, 0)
	m.Display.Snap = false
	var got []r2.Point
	o := NewOutline(m, "Draw bay", func(ps []r2.Point) { got = ps })
	m.SetTool(o)
	click := func(x, y float64) {
		p := m.pointer(x, y)
		o.Move(p, false)
		o.Press(p)
		o.Release(p)
	}
	enter := func(s string) {
		for _, r := range s {
			if !o.Type(r) {
				t.Fatalf("%q is not taken", r)
			}
		}
		o.Key("Return")
	}
	click(3000, 0)
	o.Move(m.pointer(3200, 0), false)
	enter("2*150+8")
	enter("200<90")
	if n := len(o.Points()); n != 3 {
		t.Fatalf("%d corners", n)
	}
	enter("1 in<180")
	o.Key("BackSpace")
	enter("308<180")
	o.Key("Return")
	want := []r2.Point{{X: 3000, Y: 0}, {X: 3308, Y: 0}, {X: 3308, Y: 200}, {X: 3000, Y: 200}}
	if len(got) != 4 {
		t.Fatalf("outline %v", got)
	}
	for i := range want {
		if got[i].Sub(want[i]).Norm() > 0.011 {
			t.Errorf("corner %d at %v, want %v", i, got[i], want[i])
		}
	}
}

func TestOutlineRefusesCrossing(t *testing.T) {
	m := testModel(t, 0)
	m.Display.Snap = false
	called := false
	o := NewOutline(m, "Draw bay", func([]r2.Point) { called = true })
	m.SetTool(o)
	for _, p := range []Pointer{m.pointer(0, 0), m.pointer(100, 100), m.pointer(100, 0), m.pointer(0, 100)} {
		o.Press(p)
		o.Release(p)
	}
	o.Key("Return")
	if called || m.Status() == "" {
		t.Errorf("a crossing outline was taken; status %q", m.Status())
	}
}

func TestMeasure(t *testing.T) {
	m := testModel(t, 0)
	m.Display.Snap = false
	tool := NewMeasure(m)
	m.SetTool(tool)
	tool.Press(m.pointer(0, 0))
	tool.Press(m.pointer(300, 400))
	d, ok := tool.Overlay(drawing.PlanView)[0].(drawing.Dimension)
	if !ok || d.S != "500 mm" || m.Status()[:6] != "500 mm" {
		t.Errorf("%+v, status %q", d, m.Status())
	}
}

// fourBoxes is a window on a plan of four boxes of 100 modules each.
func fourBoxes(t testing.TB) *Model {
	t.Helper()
	m := testModel(t, 0)
	p := *m.Plan()
	a := *p.Arrangements[0]
	a.Boxes = nil
	for i := range 4 {
		b := testBox(fmt.Sprintf("box%d", i+1), 100)
		b.At[0] += 1050 * float64(i%2)
		b.At[1] += 650*float64(i/2) - 350
		a.Boxes = append(a.Boxes, b)
	}
	p.Arrangements = []*layout.Arrangement{&a}
	return NewModel(layout.NewDocument(&p, nil))
}

// One step of a drag of one module among 400: preview, readings, findings and the plan's display list.
func BenchmarkDragReadings(b *testing.B) {
	for name, m := range map[string]*Model{"one-box": testModel(b, 400), "four-boxes": fourBoxes(b)} {
		b.Run(name, func(b *testing.B) { benchDrag(b, m) })
	}
}

func benchDrag(b *testing.B, m *Model) {
	cache := &drawing.Cache{}
	body := m.Scene().Boxes[0].Modules[0]
	c := body.Prism.Base.Bounds().Center()
	p := m.pointer(c.X, c.Y)
	m.Tool().Press(p)
	q := p
	for i := 0; b.Loop(); i++ {
		q.At = r2.Point{X: p.At.X + 10 + float64(i%40), Y: p.At.Y + float64(i%30)}
		m.Tool().Move(q, true)
		o := m.Options()
		o.Cache = cache
		drawing.Plan(m.Scene(), o)
	}
	if !m.Previewing() {
		b.Fatal("nothing was dragged")
	}
}

func TestUndoAndRedoSayWhichStep(t *testing.T) {
	m := testModel(t, 2)
	m.Pick("low/m1")
	if err := m.Nudge(r3.Vector{X: 1}); err != nil {
		t.Fatal(err)
	}
	steps, _ := m.Document().History()
	label := steps[len(steps)-1].Label
	if err := m.Undo(); err != nil || m.Status() != "Taken back: "+label+"." {
		t.Errorf("%q, %v", m.Status(), err)
	}
	if err := m.Redo(); err != nil || m.Status() != "Done again: "+label+"." {
		t.Errorf("%q, %v", m.Status(), err)
	}
	_ = m.Undo()
	m.Say("")
	if err := m.Undo(); err == nil && m.Status() != "" {
		t.Errorf("nothing was taken back, and %q is said", m.Status())
	}
}
