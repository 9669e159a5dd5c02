package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// Every drawing, item by item to a tenth of a millimetre, so that none changes unnoticed. What they ought to show other tests
// check. Where a change is meant, run the test with -update, look at the drawing and at what changed in the file.
func TestNoDrawingChangesUnnoticed(t *testing.T) {
	s := inventedScene(2, 1)
	o := fullOptions()
	o.Cuts = []float64{500}
	m, q := inOneBox(t)
	spots := []Spot{{X: 1, Y: 9, Name: "one", Ref: "1", Best: true}, {X: 4, Y: 6, Name: "two", Ref: "2", Best: true}, {X: 2, Y: 2, Ref: "3", Mark: Breached}, {X: 3, Y: 1, Ref: "4"}}
	x, y := Axis{Title: "energy, kWh"}, Axis{Title: "mass, kg", Less: true}
	large := o
	large.NameScale, large.Imperial, large.Marks = 1.7, true, map[string]Mark{"left": Selected | Warned, "right": Breached | Locked, "rear": Hovered, "left/1": Locked | Warned, "rear/3": Breached, "front seats": Selected}
	large.Ghosts = []GhostPrism{{Ref: "left/2", Prism: s.Boxes[0].Modules[1].Prism}}
	for name, lists := range map[string][]*List{
		"large": {Plan(s, large), Side(s, large), Rear(s, large), Axonometric(s, large, 125, 20), Section(s, 900, large), BoxSheet(s, s.Boxes[0], large)},
		"demo":  demoViews(t), "crowded": {crowded(1), crowded(1.7)},
		"multiples": {Multiples("three", []*List{Plan(s, o), Bars("bars", []Bar{{Name: "a", Value: 1, Limit: 2}}, 60), {}}, 2, 80, 60), Multiples("none", []*List{{Title: "empty"}}, 2, 80, 60)},
		"plan":      {Plan(s, o)}, "side": {Side(s, o)}, "rear": {Rear(s, o)}, "plain": {Plan(s, Options{}), Side(s, Options{OnScreen: true})},
		"axonometric": {Axonometric(s, o, -35, 30)}, "section": {Section(s, 700, o)},
		"boxsheet": {BoxSheet(s, s.Boxes[0], o)}, "overlay": {Overlay(PlanView, s, inventedScene(1, 1), o)},
		"singleline": {SingleLine(linePlan(0)), SingleLine(linePlan(2))},
		"steps":      {Step(m, q, len(q.Steps)/2), Steps("steps", m, q, []int{0, len(q.Steps) - 1}, 2)},
		"charts": {
			Bars("loads", []Bar{{Name: "front", Value: 600, Limit: 1000, Unit: "kg", Ref: "f"}, {Name: "rear", Value: 1200, Limit: 1100, Unit: "kg", Ref: "r"}}, 160),
			VoltageScale("", Band{Name: "pack", Lo: 268, Hi: 403, Nominal: 355, Sag: 195, Ref: "p"}, []Band{{Name: "inverter", Lo: 200, Hi: 400, Ref: "i"}, {Name: "charger", Lo: 150, Hi: 430, Ref: "c"}}, 170),
			Scatter("found", x, y, spots, 160, 110),
			Scatter("chosen", x, y, []Spot{{X: 1, Y: 9, Ref: "1", Mark: Selected}, {X: 4, Y: 6, Ref: "2", Mark: Breached | Selected}}, 60, 40),
			Bars("was", []Bar{{Name: "front", Value: 600, Was: 550, Unit: "kg"}}, 160), Bars("none", nil, 160),
			Curves("dashes", x, y, []Series{{Name: "a", Points: []r2.Point{{X: 0, Y: 1}, {X: 5, Y: 4}}}, {Name: "b", Points: []r2.Point{{X: 0, Y: 2}, {X: 5, Y: 4}}}, {Name: "c", Points: []r2.Point{{X: 0, Y: 3}, {X: 5, Y: 4}}}, {Name: "d", Points: []r2.Point{{X: 0, Y: 4}, {X: 5, Y: 4}}}}, nil, 60, 40),
			Curves("curves", x, y, []Series{{Name: "a", Ref: "a", Points: []r2.Point{{X: 0, Y: 1}, {X: 5, Y: 4}, {X: 9, Y: 2}}}, {Name: "b", Ref: "b", Points: []r2.Point{{X: 0, Y: 3}, {X: 9, Y: 6}}}}, []Level{{Name: "limit", Y: 5}}, 160, 110),
		},
	} {
		var lines []string
		for _, l := range lists {
			lines = append(lines, dumped(l)...)
		}
		t.Run(name, func(t *testing.T) { goldentest.Compare(t, name, nil, lines) })
	}
}

// Every style of every palette, so that no colour, width or dash changes unnoticed; contrasts are checked beside.
func TestNoStyleChangesUnnoticed(t *testing.T) {
	for _, p := range palettes {
		lines := []string{fmt.Sprintf("paper %02x accent %02x", p.paper, p.accent)}
		for role := range p.styles {
			for _, m := range []Mark{0, Selected, Hovered, Breached, Warned, Locked, Ghost} {
				s := p.Style(Tag{Role: role, Mark: m})
				lines = append(lines, fmt.Sprintf("%s %d: fill %02x line %02x text %02x %.3f pt %v size %.2f pitch %.2f bold %v", role, m, s.Fill, s.Line, s.Text, s.Pt, s.Dash, s.Size, s.Pitch, s.Bold))
			}
		}
		slices.Sort(lines)
		goldentest.Compare(t, "styles-"+p.name, nil, lines)
	}
}

// demoViews are views of the demonstration plan, with gear, feet and readings, and the sheet of a box.
func demoViews(t *testing.T) []*List {
	t.Helper()
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	s := layout.Resolve(p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue()), nil)
	o := fullOptions()
	o.Marks = map[string]Mark{s.Boxes[0].Modules[0].ID: Selected, s.Boxes[0].Box.ID: Warned}
	return []*List{Plan(s, o), Rear(s, o), BoxSheet(s, s.Boxes[0], Options{})}
}

// crowded names the same places again and again, so that each name has to go to a place of later choice, the last ones to a
// place farther off with a leader.
func crowded(nameScale float64) *List {
	o := Options{NameScale: nameScale, CG: &r3.Vector{X: 900}, CGDonor: &r3.Vector{X: 900}}
	p := newPen(PlanView, &o)
	for i := range 30 {
		o.Places = append(o.Places, Place{A: r3.Vector{X: 100, Y: 100}, B: r3.Vector{X: 140, Y: 100}, Text: "12 mm", Mark: Mark(i % 2 * int(Breached))})
	}
	for range 5 {
		o.Lines = append(o.Lines, Line{Role: RoleCable, Text: "cable", Points: []r3.Vector{{X: 400}, {X: 500}, {X: 600}}})
		p.narrowGap(pt(-300, 0), pt(-295, 0), "5 mm")
	}
	p.places(nil)
	p.lines()
	for i := range 10 {
		p.cgAt(Tag{Role: RoleCG}, pt(900, 0), fmt.Sprintf("CG %d", i), wish{})
	}
	p.grantAll()
	return p.chart("crowded")
}

// dumped gives a list as lines of text.
func dumped(l *List) []string {
	out := []string{fmt.Sprintf("%q in %s %s", l.Title, at(l.Bounds.Lo()), at(l.Bounds.Hi()))}
	for _, it := range l.Items {
		g := it.Tag()
		out = append(out, fmt.Sprintf("%v %s %d %s", g.Role, g.Ref, g.Mark, content(it)))
	}
	return out
}

func content(it Item) string {
	switch it := it.(type) {
	case Fill:
		return "fill " + area(it.Area)
	case Stroke:
		return fmt.Sprintf("stroke %v %s %v %s r%s", it.Closed, tenth(it.Pt), it.Dash, points(it.Points), tenth(it.Radius))
	case Hatch:
		return fmt.Sprintf("hatch %s %s %v %s", tenth(it.Deg), tenth(it.PitchPt), it.Cross, area(it.Area))
	case Text:
		return fmt.Sprintf("text %q %s %s %s %s %d %v", it.S, at(it.At), tenth(it.Pt), tenth(it.InMM), tenth(it.Deg), it.Anchor, it.Halo)
	case Dimension:
		return fmt.Sprintf("dimension %q %s %s %s", it.S, at(it.A), at(it.B), tenth(it.Offset))
	}
	return fmt.Sprintf("%T", it)
}

func area(p geometry.Polygon) string {
	out := points(p.Outer)
	for _, h := range p.Holes {
		out += " hole " + points(h)
	}
	return out
}

// points gives a few corners, and of many the ends and the middle and how many there are.
func points(ps []r2.Point) string {
	if n := len(ps); n > 8 {
		return fmt.Sprintf("%s %s %s of %d", at(ps[0]), at(ps[n/2]), at(ps[n-1]), n)
	}
	out := make([]string, len(ps))
	for i, p := range ps {
		out[i] = at(p)
	}
	return strings.Join(out, " ")
}

func at(p r2.Point) string { return tenth(p.X) + "," + tenth(p.Y) }

func tenth(v float64) string {
	s := strconv.FormatFloat(v, 'f', 1, 64)
	if s == "-0.0" {
		return "0.0"
	}
	return s
}
