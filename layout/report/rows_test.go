package report

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/cooling"
	"stowbay/layout/demo"
	"stowbay/layout/drawing"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/layout/report/fabricate"
	"stowbay/layout/restraint"
	"stowbay/layout/search"
	"stowbay/vehicles"
)

// pages sets part of a report and returns its words page by page, read back by an independent program, blanks made one.
func pages(t *testing.T, p *layout.Plan, es []*check.Evaluation, part func(*book)) []string {
	t.Helper()
	b, err := newBook(p, es, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(es) > 0 {
		b.e, b.n = es[0], 1
	}
	b.Upright()
	part(b)
	doc, err := b.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed")
	}
	file := filepath.Join(t.TempDir(), "part.pdf")
	if err := os.WriteFile(file, doc, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for page := range strings.SplitSeq(strings.TrimSuffix(string(out), "\f"), "\f") {
		all = append(all, strings.Join(strings.Fields(page), " "))
	}
	return all
}

func said(t *testing.T, e *check.Evaluation, part func(*book)) string {
	t.Helper()
	return strings.Join(pages(t, e.Plan, []*check.Evaluation{e}, part), " ")
}

func evaluation(t *testing.T, p *layout.Plan, i int) *check.Evaluation {
	t.Helper()
	return check.Evaluate(p, p.Arrangements[i], p.LibraryOver(vehicles.Catalogue()), nil)
}

func demonstrated(t *testing.T) *check.Evaluation {
	t.Helper()
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	return evaluation(t, p, 0)
}

// Three figures, at least those before the point, and no sign on nothing.
func TestFiguresAreTrimmed(t *testing.T) {
	for v, want := range map[float64]string{0.1234: "0.123", 0.9996: "1.000", 1.236: "1.24", 9.994: "9.99", 10.04: "10.0", 99.94: "99.9", 100.6: "101", 100.4: "100", 12345.6: "12346", 7: "7", 0: "0", -12.34: "-12.3", -0.0001: "0.000", 0.0001: "0.000", math.Copysign(0, -1): "0"} {
		if got := trim(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{{1.25, 1, "1.2"}, {1.26, 1, "1.3"}, {-0.04, 1, "0.0"}, {-0.4, 0, "0"}, {-3, 2, "-3.00"}} {
		if got := fixed(c.v, c.n); got != c.want {
			t.Errorf("%v with %d: %q, want %q", c.v, c.n, got, c.want)
		}
	}
}

// What a customary unit is in metric ones, by B. N. Taylor and A. Thompson, NIST Special Publication 811, 2008, appendix B.8
// (from memory, not checked against the text): all exact but the last figure of the pound-force and what is made of it.
func TestCustomaryUnits(t *testing.T) {
	u := units{imperial: true}
	for _, c := range []struct {
		metric, unit string
		v            float64
	}{{"mm", "in", 25.4}, {"m", "ft", 0.3048}, {"km", "mi", 1.609344}, {"kg", "lb", 0.45359237}, {"N", "lbf", 4.4482216152605}, {"kN", "lbf", 0.0044482216152605}, {"N m", "lbf ft", 1.3558179483314}, {"Nm", "lbf ft", 1.3558179483314},
		{"L", "US gal", 3.785411784}, {"Wh/km", "Wh/mi", 1 / 1.609344}, {"mm²", "in²", 645.16}, {"V", "V", 1}} {
		if got := u.value(c.v, c.metric); math.Abs(got-1) > 1e-12 || u.unit(c.metric) != c.unit {
			t.Errorf("%v %s are %v %s, want 1 %s", c.v, c.metric, got, u.unit(c.metric), c.unit)
		}
		if (units{}).value(c.v, c.metric) != c.v || (units{}).unit(c.metric) != c.metric {
			t.Errorf("%s is not left alone", c.metric)
		}
	}
	b := &book{}
	b.imperial = true
	if got := b.perDistance(100); got != "161" {
		t.Errorf("100 Wh/km are %s Wh/mi", got)
	}
	if a, c := b.place(25.4*12.345), b.place0(25.4*12.35); a != "12.35" && a != "12.34" || c != "12.3" && c != "12.4" {
		t.Errorf("12.345 inches are %s and %s", a, c)
	}
	if a, c := b.area(304.8*304.8), b.thickness(25.4/16); a != "1.000" || c != "0.062" {
		t.Errorf("a square foot is %s, a sixteenth of an inch %s", a, c)
	}
}

// One of a thing is a row as much as several are: nothing is called missing that is there.
func TestOneOfAThingIsSaid(t *testing.T) {
	e := demonstrated(t)
	one := *e.Mass
	one.Cases = one.Cases[:1]
	f := *e
	f.Mass = &one
	if got := said(t, &f, (*book).loadCases); strings.Contains(got, "No load cases") || !strings.Contains(got, one.Cases[0].Name) {
		t.Errorf("one load case: %.200s", got)
	}
	joint := assembly.TorqueRow{ID: "box/a/+", What: "terminal", Thread: "M8", TorqueNm: 12}
	if got := said(t, e, func(b *book) { b.joints([]assembly.TorqueRow{joint}, "nothing") }); strings.Contains(got, "No joints") || !strings.Contains(got, "box/a/+ terminal M8 12") {
		t.Errorf("one joint: %s", got)
	}
	if got := said(t, e, func(b *book) { b.joints(nil, "nothing is there") }); !strings.Contains(got, "No joints: nothing is there.") {
		t.Errorf("no joint: %s", got)
	}
	if got := said(t, e, func(b *book) {
		b.photos(assembly.CheckSheet{Photos: []layout.Photo{{File: "lid.jpg", Note: "the seal"}}})
	}); strings.Contains(got, "none entered") || !strings.Contains(got, "lid.jpg the seal") {
		t.Errorf("one photograph: %s", got)
	}
	if got := said(t, e, func(b *book) { b.photos(assembly.CheckSheet{}) }); !strings.Contains(got, "Photographs: none entered") {
		t.Errorf("no photograph: %s", got)
	}
	box := *e.Scene.Boxes[0]
	own := *box.Box
	own.Feet = []layout.Foot{{ID: "only", At: vehicles.XYZ{100, -25, 0}, Bolt: "M10", Class: "8.8"}}
	own.Openings = []layout.Opening{{ID: "plug", Kind: "connector", Face: "front", At: vehicles.XYZ{0, 150, 80}, DiameterMM: 40}}
	box.Box = &own
	if got := said(t, e, func(b *book) { b.boxFixings(&box) }); strings.Contains(got, "No mounting feet") || strings.Contains(got, "No openings") || !strings.Contains(got, "only 1 x M10 8.8 down 100.0 -25.0 0.0") || !strings.Contains(got, "plug connector front dia 40 mm 0.0 150.0 80.0 none") {
		t.Errorf("one foot, one opening: %s", got)
	}
	for _, c := range []struct {
		vs        []float64
		low, high string
	}{{nil, "", ""}, {[]float64{3.28}, "3.280", "3.280"}, {[]float64{3.3, 3.2, 3.25}, "3.200", "3.300"}} {
		if low, high := spread(c.vs); low != c.low || high != c.high {
			t.Errorf("%v: %s to %s", c.vs, low, high)
		}
	}
}

// A build record may have entries and tests before any module is received.
func TestBuildRecordWithoutReceivedModules(t *testing.T) {
	e := demonstrated(t)
	const none = "No received modules are entered"
	for _, c := range []struct {
		build *layout.Build
		none  bool
	}{{nil, true}, {&layout.Build{Tests: []layout.Test{{Kind: "insulation", Value: 500, Unit: "megohm"}}}, true}, {&layout.Build{Received: []layout.Received{{Shop: "W-17", Module: "lfp-8s", CellsV: []float64{3.28}}}}, false}} {
		p := *e.Plan
		p.Build = c.build
		got := strings.Join(pages(t, &p, []*check.Evaluation{e}, (*book).received), " ")
		if strings.Contains(got, none) != c.none || strings.Contains(got, "W-17 lfp-8s 3.280 3.280") == c.none {
			t.Errorf("%+v: %s", c.build, got)
		}
	}
}

// One module is registered as much as many are.
func TestOneModuleIsRegistered(t *testing.T) {
	for n := range 3 {
		p := demo.Cooled()
		a := p.Arrangements[0]
		a.Boxes = a.Boxes[:1]
		a.Boxes[0].Modules = a.Boxes[0].Modules[:n]
		e := evaluation(t, p, 0)
		got := said(t, e, (*book).register)
		if strings.Contains(got, "No modules are placed.") != (n == 0) || strings.Contains(got, "one/a lfp-590") != (n > 0) {
			t.Errorf("%d modules: %s", n, got)
		}
	}
}

// Coolant of half its mass glycol is one of 50 %; the hottest module is the one marked, and no other.
func TestCoolantAndTheHottestModule(t *testing.T) {
	e := evaluation(t, demo.Cooled(), 0)
	r := &cooling.Result{Cooled: 4, Coolant: e.Cooling.Coolant, HeatW: 120, CurrentA: 150}
	r.Coolant.Glycol = 0.5
	if got := said(t, e, func(b *book) { b.coolingFacts(r) }); !strings.Contains(got, "50 % ethylene glycol by mass") || strings.Contains(got, "Warming") {
		t.Error(got)
	}
	r.Warm = cooling.WarmUp{FromC: -10, ToC: 10, Seconds: 5400, HeaterW: 1}
	if got := said(t, e, func(b *book) { b.coolingFacts(r) }); !strings.Contains(got, "Warming from -10 to 10 °C 90 min with 1 W, without losses") {
		t.Error(got)
	}
	worst := e.Cooling.Plates[e.Cooling.Worst]
	for _, p := range e.Cooling.Plates {
		if p.CellC > worst.CellC {
			t.Errorf("%s is hotter than %s", p.Body.ID, worst.Body.ID)
		}
	}
	got := said(t, e, func(b *book) { b.plates(e.Cooling) })
	row := fmt.Sprintf("%.1f hottest", worst.CellC)
	if _, after, ok := strings.Cut(got, worst.Body.ID+" "); strings.Count(got, "hottest") != 1 || !ok || !strings.Contains(after, row) || strings.Index(after, row) > 80 {
		t.Errorf("no %q beside %s in %s", row, worst.Body.ID, got)
	}
}

// A foot that uses 57 % of what its bolt bears and one that uses 125 % of its weld; 12 kN preload.
func TestWhatFeetUse(t *testing.T) {
	e := demonstrated(t)
	foot := &restraint.Foot{Foot: &layout.Foot{ID: "f1", Bolt: "M10", Class: "8.8"}, TorqueNm: 48, PreloadN: 12_000, FrameMM: 2.5}
	load := func(m restraint.Mode, ratio float64) restraint.FootLoad {
		l := restraint.FootLoad{Foot: foot, PullN: 1234, ShearN: 5678, BoltPullN: 90, BoltShearN: 2839}
		l.Uses[m] = restraint.Use{Ratio: ratio}
		return l
	}
	x := &restraint.Box{Feet: []restraint.Foot{*foot}, Cases: []restraint.Case{{Direction: "forward", G: 20, Feet: []restraint.FootLoad{load(restraint.Bolt, 0.57), load(restraint.Weld, 1.25), load(restraint.Bending, 1)}}}}
	got := said(t, e, func(b *book) { b.footTable(x); b.caseTable(x) })
	for _, row := range []string{"f1 1 x M10 8.8 48 75 % of the proof load, plain dry threads (K 0.20) 12 no surveyed frame member 2.50",
		"forward 20 f1 1.23 5.68 0.09 2.84 " + restraint.Bolt.String() + " 57", "forward 20 f1 1.23 5.68 0.09 2.84 " + restraint.Weld.String() + " 125, over", restraint.Bending.String() + " 100"} {
		if !strings.Contains(got, row) {
			t.Errorf("no row %q in %s", row, got)
		}
	}
	if strings.Contains(got, "100, over") {
		t.Error("all of a resistance is called more than it")
	}
}

// A reading of several arrangements has its difference from the first beside it from the second on, where they differ.
func TestDifferencesFromTheFirstArrangement(t *testing.T) {
	b := &book{}
	r := &search.Row{Label: "mass", Unit: "kg", Differs: true, Cells: []search.Cell{{Has: true, Value: 1000}, {Has: true, Value: 1012.5, Diff: 12.5}, {Has: true, Value: 990, Diff: -10, Best: true}, {}}}
	for i, want := range []string{"mass", "1000 kg", "1012 kg (+12.5)", "990 kg (-10), best", "none"} {
		if got := b.compareRow(r, []int{0, 1, 2, 3})[i].S; got != want {
			t.Errorf("cell %d: %q, want %q", i, got, want)
		}
	}
	r.Differs = false
	if got := b.compareRow(r, []int{0, 1})[2].S; got != "1012 kg" {
		t.Errorf("alike: %q", got)
	}
	r.Differs, r.Cells[0].Has = true, false
	if got := b.compareRow(r, []int{0, 1})[2].S; got != "1012 kg" {
		t.Errorf("the first has none: %q", got)
	}
}

// arrangements are n copies of an arrangement with names of their own.
func arrangements(t *testing.T, n int) (*layout.Plan, []*check.Evaluation) {
	t.Helper()
	p := layout.NewPlan(vehicles.Catalogue().Donors()[0], "Many")
	first := p.Arrangements[0]
	first.Boxes = []*layout.Box{{ID: "b", At: vehicles.XYZ{700, -400, 300}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {1200, 0}, {1200, 777}, {0, 777}}, CeilingMM: 150}}}}
	p.Arrangements = nil
	var es []*check.Evaluation
	for i := range n {
		a := *first
		a.ID, a.Name = fmt.Sprintf("a%d", i+1), fmt.Sprintf("Variant%d", i+1)
		p.Arrangements = append(p.Arrangements, &a)
		es = append(es, evaluation(t, p, i))
	}
	return p, es
}

// What arrangements do not meet alike is told with each one's number, and how it stands against the first.
func TestFindingsByArrangement(t *testing.T) {
	e := demonstrated(t)
	c := &search.Table{Findings: []search.FindingRow{{Rule: "gap", Subject: "box", Change: "better", Severities: []check.Severity{check.Fails, "", check.Warns}, Texts: []string{"Too near.", "", "Rather near."}}}}
	if got := said(t, e, func(b *book) { b.compareFindings(c) }); !strings.Contains(got, "gap box better 1 fail: Too near. 3 warn: Rather near.") || strings.Contains(got, "None: whatever") {
		t.Error(got)
	}
	if got := said(t, e, func(b *book) { b.compareFindings(&search.Table{}) }); !strings.Contains(got, "None: whatever fails or warns does so in all of them.") {
		t.Error(got)
	}
}

// Five arrangements stand side by side in a table; the first is repeated in each.
func TestArrangementsSideBySide(t *testing.T) {
	for n, want := range map[int][]string{2: {"1 Variant1 2 Variant2"}, 5: {"1 Variant1 2 Variant2 3 Variant3 4 Variant4 5 Variant5"}, 7: {"1 Variant1 2 Variant2 3 Variant3 4 Variant4 5 Variant5", "1 Variant1 6 Variant6 7 Variant7"}} {
		p, es := arrangements(t, n)
		got := strings.Join(pages(t, p, es, (*book).compare), " ")
		for _, head := range want {
			if !strings.Contains(got, "reading "+head+" findings: fail") {
				t.Errorf("%d arrangements: no table with %q", n, head)
			}
		}
		if k := strings.Count(got, "findings: hold"); k != len(want) {
			t.Errorf("%d arrangements in %d tables", n, k)
		}
	}
}

// A plan that reaches further than the others makes all of them smaller, on whichever page it stands: the vehicle is as large in
// every one.
func TestPlansOnDifferentPagesHaveOneScale(t *testing.T) {
	p, es := arrangements(t, 9)
	far := *p.Arrangements[8]
	box := *far.Boxes[0]
	box.At[0] = 9000
	far.Boxes = []*layout.Box{&box}
	p.Arrangements[8] = &far
	es[8] = evaluation(t, p, 8)
	lists := (&book{plan: p, es: es}).plansAlike()
	body := func(l *drawing.List, n float64) float64 {
		for _, it := range l.Items {
			if s, ok := it.(drawing.Stroke); ok && s.Of.Role == drawing.RoleBody {
				return r2.RectFromPoints(s.Points...).Size().X / n
			}
		}
		return 0
	}
	want := 0.0
	for i, l := range lists {
		got := body(l, max(l.Bounds.Size().X/planWide, l.Bounds.Size().Y/(planHigh-6)))
		if i == 0 {
			want = got
		}
		if got == 0 || math.Abs(got-want) > 1e-9 {
			t.Errorf("plan %d: a vehicle %g mm long on paper, in the first %g", i+1, got, want)
		}
	}
	if size := lists[8].Bounds.Size(); size.X < 9000 {
		t.Errorf("the far box is cut off: %v", size)
	}
}

// Sections are cut through the middles of boxes, 150 mm apart at least, four of them at most.
func TestPlacesOfSections(t *testing.T) {
	for _, c := range []struct{ middles, want []float64 }{
		{[]float64{1000, 1149, 2000, 1851}, []float64{1000, 2000}}, {[]float64{1000, 1150, 850}, []float64{1000, 1150, 850}}, {[]float64{0, 500, 1000, 1500, 2000}, []float64{0, 500, 1000, 1500}}, {nil, nil},
	} {
		p := layout.NewPlan(vehicles.Catalogue().Donors()[0], "Sections")
		for i, x := range c.middles {
			p.Arrangements[0].Boxes = append(p.Arrangements[0].Boxes, &layout.Box{ID: fmt.Sprint("b", i), At: vehicles.XYZ{x - 50, 0, 300}, Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {100, 0}, {100, 80}, {0, 80}}, CeilingMM: 50}}})
		}
		got := sectionPlaces(&book{e: evaluation(t, p, 0)})
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }) {
			t.Errorf("boxes about %v: sections at %v, want %v", c.middles, got, c.want)
		}
	}
}

// A dimension says how long it is: in plan the boxes' ends behind the front axle, in the other views their heights.
func TestDimensionsSayTheirLengths(t *testing.T) {
	e := demonstrated(t)
	b := &book{plan: e.Plan, e: e}
	for _, v := range []drawing.View{drawing.PlanView, drawing.SideView, drawing.RearView} {
		l := b.dimensioned(v, drawing.Options{})
		n, upright := 0, 0
		for _, it := range l.Items {
			d, ok := it.(drawing.Dimension)
			if !ok {
				continue
			}
			n++
			if want := fmt.Sprintf("%.0f", d.B.Sub(d.A).Norm()); d.S != want {
				t.Errorf("%v: from %v to %v it says %s, want %s", v, d.A, d.B, d.S, want)
			}
			if d.A.X == d.B.X {
				upright++
			}
			for _, p := range []r2.Point{d.A, d.B} {
				if !l.Bounds.ContainsPoint(p) {
					t.Errorf("%v: the dimension at %v is outside the drawing", v, p)
				}
			}
		}
		if n < 4 || upright == 0 || upright == n {
			t.Errorf("%v: %d dimensions, %d of them upright", v, n, upright)
		}
	}
}

// In plan, places closer together than can be written between are left out; chains stand below one another.
func TestChainsOfDimensions(t *testing.T) {
	l := &drawing.List{Bounds: r2.RectFromPoints(r2.Point{}, r2.Point{X: 1000, Y: 500})}
	c := chains{l: l, step: 20, text: func(mm float64) string { return fmt.Sprint(mm) }}
	c.below([]float64{900, 0, 400, 429, 461})
	c.below([]float64{0, 1000})
	c.left([]float64{300, 100})
	var got []string
	for _, it := range l.Items {
		d := it.(drawing.Dimension)
		got = append(got, fmt.Sprintf("%s %g,%g", d.S, d.A.X, d.A.Y))
	}
	if want := []string{"400 0,-20", "61 400,-20", "439 461,-20", "1000 0,-56", "200 -20,100"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// The drawing for a string is there where there is one string.
func TestSingleLineOfOneString(t *testing.T) {
	e := evaluation(t, demo.Cooled(), 0)
	if n := len(e.Electric.Strings); n != 1 {
		t.Fatalf("%d strings", n)
	}
	name := "d/single-line.svg"
	has := func(e *check.Evaluation) bool {
		return slices.ContainsFunc(drawingFiles("d/", e.Plan, e, Options{}), func(f file) bool { return f.name == name })
	}
	none := *e
	none.Electric = &electric.Result{}
	if !has(e) || has(&none) {
		t.Errorf("with a string %v, without %v", has(e), has(&none))
	}
	p := *e.Plan
	if all := Drawings(e, Options{}); all[len(all)-1].Title != drawing.SingleLine(e.Electric).Title || len(Drawings(&none, Options{})) != len(all)-1 {
		t.Errorf("%s: the preview lacks the single line", p.Name)
	}
}

// Milliohms are thousandths, and a string's modules are counted from one.
func TestStringsInTheTable(t *testing.T) {
	e := demonstrated(t)
	r := &electric.Result{Strings: []electric.String{{ID: "s1", MinV: 88.2, MaxV: 117.6, CapacityAh: 180, Ohm: 0.6, ColdOhm: 1.2, ContinuousA: 150, PeakA: 300, ShareA: 75, LinkMM: 995}}, Leftover: e.Scene.Boxes[0].Modules[:1]}
	if got := said(t, e, func(b *book) { b.stringTable(r) }); !strings.Contains(got, "s1 0 88.2 118 180 600 1200 150 300 75 0.995") || !strings.Contains(got, "1 modules are in no string.") {
		t.Error(got)
	}
}

// Lists of one have their table, as lists of many do; empty ones are left out or said to be empty.
func TestListsOfOne(t *testing.T) {
	e := demonstrated(t)
	box := e.Scene.Boxes[0]
	body := box.Modules[0]
	full, none := &electric.Result{}, &electric.Result{}
	full.Window.Sags = []electric.Sag{{Name: "hill", V: 301.5}}
	full.Fuses = []electric.FuseCheck{{Box: box, NeedV: 421}}
	full.Contactors = []electric.ContactorCheck{{Box: box, NeedV: 422}}
	full.Protection.Poles = []electric.Pole{{Pole: "negative", Box: box}}
	full.Problems = []electric.Problem{{Text: "It is one too few."}}
	cool, warm := &cooling.Result{Assumed: []string{"A guess."}, Air: []cooling.AirCooled{{Body: body, HeatW: 12.3}}, Outside: []*layout.Body{body}}, &cooling.Result{}
	road, bare := *e.Road, *e.Road
	road.Assumed, bare.Assumed = []string{"A rolling guess."}, nil
	with := func(r *check.Evaluation) func(*book) { return func(b *book) { b.e = r; b.driving() } }
	on, off := *e, *e
	on.Road, off.Road = &road, &bare
	for name, c := range map[string]struct {
		one, none func(*book)
		want      string
	}{
		"sags":       {func(b *book) { b.sagTable(full) }, func(b *book) { b.sagTable(none) }, "hill 0 0 0 302"},
		"fuses":      {func(b *book) { b.fuses(full) }, func(b *book) { b.fuses(none) }, box.Box.ID + " " + e.Electric.Strings[0].ID + " none 421"},
		"contactors": {func(b *book) { b.contactors(full) }, func(b *book) { b.contactors(none) }, box.Box.ID + " none 422"},
		"poles":      {func(b *book) { b.contactors(full) }, func(b *book) { b.contactors(none) }, "negative " + box.Box.ID + " none"},
		"problems":   {func(b *book) { b.problems(full) }, func(b *book) { b.problems(none) }, "It is one too few."},
		"air":        {func(b *book) { b.airCooled(cool) }, func(b *book) { b.airCooled(warm) }, body.ID + " 12.3 not stated"},
		"outside":    {func(b *book) { b.outside(cool) }, func(b *book) { b.outside(warm) }, "no branch passes: " + body.ID + "."},
		"assumed":    {with(&on), with(&off), "Taken where nothing is stated • A rolling guess."},
	} {
		if got := said(t, e, c.one); !strings.Contains(got, c.want) {
			t.Errorf("%s: no %q in %s", name, c.want, got)
		}
		if got := said(t, e, c.none); strings.Contains(got, c.want) {
			t.Errorf("%s: %q though there is none", name, c.want)
		}
	}
}

// Folders of a report can be read by others as any folder of theirs can, and written by nobody else.
func TestFoldersAreReadableByOthers(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	if err := write(root, file{"sub/x", func() ([]byte, error) { return []byte("x"), nil }}); err != nil {
		t.Fatal(err)
	}
	e := demonstrated(t)
	made := filepath.Join(dir, "made")
	if _, err := WriteAll(context.Background(), made, e.Plan, nil, Options{Sections: []string{"cautions"}}); err != nil {
		t.Fatal(err)
	}
	like := filepath.Join(dir, "like")
	if err := os.Mkdir(like, 0o777&^0o022); err != nil { // rwxr-xr-x, less what the system takes away
		t.Fatal(err)
	}
	want, err := os.Stat(like)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{filepath.Join(dir, "sub"), made} {
		if got, err := os.Stat(name); err != nil || got.Mode() != want.Mode() {
			t.Errorf("%s: %v, want %v, %v", filepath.Base(name), got.Mode(), want.Mode(), err)
		}
	}
}

// Headings of tables that only some plans have give no bookmarks either: the document has no outline at all.
func TestRareTablesHaveNoBookmarks(t *testing.T) {
	e := demonstrated(t)
	body := e.Scene.Boxes[0].Modules[0]
	buried := &assembly.Result{Buried: []assembly.Buried{{Conductor: &assembly.Conductor{ID: "box/a/+"}, Under: body}}}
	b, err := newBook(e.Plan, []*check.Evaluation{e}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	b.e, b.n = e, 1
	b.Upright()
	b.buried(buried)
	b.problems(&electric.Result{Problems: []electric.Problem{{Text: "It is one too few."}}})
	b.airCooled(&cooling.Result{Air: []cooling.AirCooled{{Body: body}}})
	b.guessedMasses(e)
	b.surveyDoubts(e)
	b.drills(&fabricate.Box{Box: e.Scene.Boxes[0].Box, Blanks: []fabricate.Blank{{Pieces: 1, Holes: []fabricate.Hole{{For: "foot", DiameterMM: 9}}}}})
	b.blanks(&fabricate.Box{Box: e.Scene.Boxes[0].Box})
	doc, err := b.Bytes()
	if err != nil || bytes.Contains(doc, []byte("/Outlines")) {
		t.Errorf("a table has a bookmark, %v", err)
	}
	if got := said(t, e, func(b *book) { b.buried(buried) }); !strings.Contains(got, "Joints out of reach later • box/a/+ is made before "+body.ID+" goes in over it") {
		t.Error(got)
	}
}

// Drawings come in the order of their names, however the views are kept.
func TestDrawingsAreInOrder(t *testing.T) {
	e := evaluation(t, demo.Cooled(), 0)
	for range 5 {
		var got []string
		for _, f := range drawingFiles("", e.Plan, e, Options{}) {
			got = append(got, f.name)
		}
		if want := []string{"plan.dxf", "plan.svg", "rear.dxf", "rear.svg", "side.dxf", "side.svg", "model.glb", "view.svg", "view.dxf", "single-line.svg", "single-line.dxf", "box-one.svg", "box-one.dxf", "box-two.svg", "box-two.dxf"}; !slices.Equal(got, want) {
			t.Fatalf("%v", got)
		}
	}
}

// A string's modules in a box are counted from one; the panels' areas in a cut list add up, 1.5 and 0.25 m² to 1.75.
func TestWhereStringsRunAndWhatPanelsAddUpTo(t *testing.T) {
	e := *demonstrated(t)
	box := e.Scene.Boxes[0]
	e.Electric = &electric.Result{Strings: []electric.String{{ID: "s1", Passes: []electric.Passage{{Box: box, From: 0, To: 4, NegV: 10, PosV: 110}, {Box: box, From: 6, To: 7, NegV: 150, PosV: 175}}}}}
	b := &book{plan: e.Plan, e: &e}
	if got := b.passWords(box.Box.ID); got != "s1, modules 1 to 4, 10 to 110 V; s1, modules 7 to 7, 150 to 175 V" {
		t.Error(got)
	}
	x := &fabricate.Box{Box: box.Box, Panels: []mass.Panel{{ID: "floor", AreaMM2: 1.5e6, Kg: 12}, {ID: "wall", AreaMM2: 0.25e6, Kg: 2}}}
	if got := said(t, &e, func(b *book) { b.cutList(x) }); !strings.Contains(got, "all 1.7500 14.000") {
		t.Error(got)
	}
}

// One reading that rests on an estimate is listed with what it rests on.
func TestOneEstimatedReadingIsListed(t *testing.T) {
	e := *demonstrated(t)
	for _, c := range []struct {
		basis layout.Basis
		want  bool
	}{{layout.Estimated, true}, {layout.Assumed, true}, {layout.Computed, false}} {
		e.Readings = []layout.Reading{{Label: "Some mass", Of: "box", Value: 12, Unit: "kg", Basis: c.basis}}
		got := strings.Join(pages(t, e.Plan, []*check.Evaluation{&e}, func(b *book) { b.assumptions() }), " ")
		if strings.Contains(got, "Some mass box 12 kg "+string(c.basis)) != c.want || strings.Contains(got, "None says so of itself.") == c.want {
			t.Errorf("%s: %s", c.basis, got)
		}
	}
}

// The summary in words tells what fails and warns, and no more of the findings than how many there are of each kind.
func TestSummaryTellsWhatFailsAndWarns(t *testing.T) {
	e := &check.Evaluation{Plan: &layout.Plan{Name: "p"}, Arrangement: &layout.Arrangement{ID: "a", Name: "Plan A"}}
	for s, text := range map[check.Severity]string{check.Fails: "It fails.", check.Warns: "It warns.", check.Notes: "It is to note.", check.Passes: "It holds."} {
		e.Findings = append(e.Findings, check.Finding{Severity: s, Text: text})
	}
	got := Summary(e)
	for text, want := range map[string]bool{"Plan A": true, "1 fail, 1 warn, 1 to note, 1 hold": true, "It fails.": true, "It warns.": true, "It is to note.": false, "It holds.": false} {
		if strings.Contains(got, text) != want {
			t.Errorf("%q: %v in %s", text, !want, got)
		}
	}
	if f := Figures(e); f["of"] != nil {
		t.Errorf("readings of something where there are none: %v", f["of"])
	}
	e.Readings = []layout.Reading{{Key: "mass_kg", Of: "box", Value: 12}}
	if of, _ := Figures(e)["of"].(map[string]any); of["box"].(map[string]any)["mass_kg"] != 12.0 {
		t.Errorf("a reading of a box: %v", of)
	}
}

// A single pair that a dropped part can lie across is named; cables without a name are numbered from one.
func TestPairsAndCablesAreNamed(t *testing.T) {
	e := demonstrated(t)
	pair := assembly.Bridge{A: &assembly.Conductor{ID: "box/a/+"}, B: &assembly.Conductor{ID: "box/b/-"}, V: 350, MM: 42}
	r := &assembly.Result{Bridges: []assembly.BoxBridges{{Box: e.Scene.Boxes[0], Pairs: []assembly.Bridge{pair}, Hazards: 1, Covers: 1, LeastCovers: 1}, {Box: e.Scene.Boxes[0]}}}
	id := e.Scene.Boxes[0].Box.ID
	if got := said(t, e, func(b *book) { b.bridges(r) }); !strings.Contains(got, id+" 1 1 1 1 box/a/+ and box/b/- 350 42") || !strings.Contains(got, id+" 0 0 0 0 none") {
		t.Error(got)
	}
	runs := &electric.Result{Cables: []electric.Run{{Kind: "traction", From: "a", To: "b", LengthMM: 1500, SectionMM2: 50, MassKg: 0.756}, {ID: "named", Kind: "traction", From: "b", To: "c", LengthMM: 20, SectionMM2: 2.5}}}
	if got := said(t, e, func(b *book) { b.cables(runs) }); !strings.Contains(got, "run 1 traction a b 1.50 50 0.76") || !strings.Contains(got, "named traction b c 0.02 2.50 0.00") {
		t.Error(got)
	}
}

// One piece of gear without a stated isolation is named.
func TestGearWithoutIsolationIsNamed(t *testing.T) {
	e := demonstrated(t)
	r := *e.Electric
	for _, names := range [][]string{nil, {"heater"}, {"heater", "pump"}} {
		r.Isolation.Unstated = names
		got := said(t, e, func(b *book) { b.prechargeAndIsolation(&r) })
		if want := "states no isolation: " + strings.Join(names, ", ") + "."; strings.Contains(got, want) != (len(names) > 0) || strings.Contains(got, "states no isolation") != (len(names) > 0) {
			t.Errorf("%v: %s", names, got)
		}
	}
}

// Best is what no other one beats: none is lighter with as much energy, nor as light with more.
func TestBestOfTheScatter(t *testing.T) {
	spots := []drawing.Spot{{X: 1000, Y: 30}, {X: 1010, Y: 30}, {X: 1000, Y: 28}, {X: 990, Y: 25}, {X: 1000, Y: 30}, {X: 995, Y: 20}, {X: 1100, Y: 31}}
	best(spots)
	for i, want := range []bool{true, false, false, true, true, false, true} {
		if spots[i].Best != want {
			t.Errorf("spot %d: best %v", i, spots[i].Best)
		}
	}
}

// A blank with one bend has its radius and K-factor in the table, a flat one has none.
func TestBendsInTheTableOfBlanks(t *testing.T) {
	x := fabricate.Box{Box: &layout.Box{ID: "b"}, Blanks: []fabricate.Blank{{ID: "b/wall", Bends: []fabricate.BendLine{{Bend: fabricate.Bend{Deg: 90, RadiusMM: 2.5, K: 0.38}}}}, {ID: "b/lid"}}}
	rows := blankRows([]fabricate.Box{x})
	for i, want := range [][]string{{"bends", "bend_radius_mm", "k_factor"}, {"1", "2.5", "0.38"}, {"0", "", ""}} {
		if got := rows[i][8:11]; !slices.Equal(got, want) {
			t.Errorf("%v, want %v", got, want)
		}
	}
}

// A drawing is written at a scale at which its sheet, with an edge of 10 mm and its note, is no larger than A3 (ISO 216: 420 x 297 mm).
func TestDrawingsFitTheirSheet(t *testing.T) {
	for _, c := range []struct {
		w, h  float64
		scale string
	}{{8000, 5000, "1:20"}, {8001, 5000, "1:25"}, {8000, 5420, "1:20"}, {8000, 5430, "1:25"}} {
		l := &drawing.List{Title: "Plan", Bounds: r2.RectFromPoints(r2.Point{}, r2.Point{X: c.w, Y: c.h})}
		data, err := drawingPair("x", func() *drawing.List { return l })[0].build()
		if err != nil {
			t.Fatal(err)
		}
		_, size, _ := strings.Cut(string(data), `viewBox="0 0 `)
		var w, h float64
		if _, err := fmt.Sscanf(size, "%g %g", &w, &h); err != nil || w > 420 || h > 297 || !strings.Contains(string(data), "Plan, scale "+c.scale+"<") {
			t.Errorf("%g x %g mm on a sheet of %g x %g, want %s, %v", c.w, c.h, w, h, c.scale, err)
		}
	}
}

// No more than 240 joints are shown, and the words under them say so.
func TestMostPictures(t *testing.T) {
	e := demonstrated(t)
	q, err := assembly.Plan(context.Background(), e.Assembly.Model)
	if err != nil {
		t.Fatal(err)
	}
	var joint assembly.Job
	for _, j := range q.Jobs {
		if pictured(q, j) >= 0 && j.Box != "" {
			joint = j
			break
		}
	}
	title := fmt.Sprintf("%d. ", pictured(q, joint)+1)
	for n, want := range map[int]int{3: 3, 241: 240} {
		many := *q
		many.Jobs = slices.Repeat([]assembly.Job{joint}, n)
		got := said(t, e, func(b *book) { b.stepPictures(e.Assembly.Model, &many) })
		if k := strings.Count(got, title); k != want || strings.Contains(got, "The first 240 joints are shown") != (n > 240) {
			t.Errorf("%d joints: %d pictures", n, k)
		}
	}
}

// A ledger's line of modules stands at their common centre: 2 x 10 kg at 100 mm and 10 kg at 400 mm are 30 kg at 200 mm.
func TestModulesInOneLineOfTheLedger(t *testing.T) {
	entry := func(kg, x float64, n int) mass.Entry {
		var e mass.Entry
		e.Group, e.Of, e.Name, e.Kg, e.PlusMinus, e.Count = mass.Modules, "box", "module", kg, kg/20, n
		e.At.X, e.At.Y, e.At.Z = x, 2*x, 3*x
		return e
	}
	got := ledgerLines([]mass.Entry{entry(20, 100, 2), entry(10, 400, 0)})
	if len(got) != 1 || got[0].count != 3 || got[0].Kg != 30 || math.Abs(got[0].pm-1.5) > 1e-12 || math.Abs(got[0].At.X-200) > 1e-9 || math.Abs(got[0].At.Y-400) > 1e-9 || math.Abs(got[0].At.Z-600) > 1e-9 {
		t.Errorf("%+v", got)
	}
}
