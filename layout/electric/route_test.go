package electric

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// factsOf are the facts of a box alone.
func factsOf(b *layout.Box) *boxFacts { return newBoxFacts(resolve(planOf(b)).Boxes[0]) }

// shifted8m is a box that lies 8 m from the origin of its own frame.
func shifted8m(b *layout.Box) *layout.Box {
	for i := range b.Levels[0].Outline {
		b.Levels[0].Outline[i][0] += 8000
		b.Levels[0].Outline[i][1] += 8000
	}
	for i := range b.Modules {
		b.Modules[i].At[0] += 8000
		b.Modules[i].At[1] += 8000
	}
	return b
}

func connector(id string, at vehicles.XYZ) layout.Opening {
	return layout.Opening{ID: id, Kind: "connector", Face: "front", At: at}
}

// More than 64 modules fall into strips of no more than that, as even as can be, one behind the other along the box's longer
// side, from the end at which the string enters: the low one where nothing leads in.
func TestStripsFollowTheLongerSideFromTheEntry(t *testing.T) {
	long, wide := shifted8m(boxOf("long", vehicles.XYZ{}, 13, 10)), shifted8m(boxOf("wide", vehicles.XYZ{}, 3, 43))
	for _, c := range []struct {
		box   *layout.Box
		entry float64 // as a share of the longer side; less than 0: none
		from  float64 // 1: from the low end, -1: from the high one
	}{{long, -1, 1}, {long, 0.01, 1}, {long, 0.45, 1}, {long, 0.55, -1}, {wide, -1, 1}, {wide, 0.01, 1}, {wide, 0.45, 1}, {wide, 0.55, -1}} {
		b := *c.box
		lo, hi := outerBounds(&b)
		size := hi.Sub(lo)
		along := func(p r3.Vector) float64 { return p.X }
		at := vehicles.XYZ{lo.X + c.entry*size.X, lo.Y, 50}
		if size.Y > size.X {
			along = func(p r3.Vector) float64 { return p.Y }
			at = vehicles.XYZ{lo.X, lo.Y + c.entry*size.Y, 50}
		}
		entry := none
		if c.entry >= 0 {
			entry = 0
			b.Openings = []layout.Opening{connector("c", at)}
		}
		f := factsOf(&b)
		var members []int
		for i := range f.slots {
			members = append(members, i)
		}
		strips := f.strips(members, entry)
		n := len(f.slots)
		if want := int(math.Ceil(float64(n) / 64)); len(strips) != want {
			t.Errorf("%s: %d strips of %d modules, want %d", b.ID, len(strips), n, want)
		}
		before, count := math.Inf(-1), 0
		for _, s := range strips {
			count += len(s)
			last := math.Inf(-1)
			for _, i := range s {
				at := c.from * along(f.slots[i].centre())
				if at < before-1e-9 {
					t.Fatalf("%s, entry %v: a module at %v in the strip behind %v", b.ID, c.entry, at, before)
				}
				last = max(last, at)
			}
			before = last
			if even := math.Ceil(float64(n) / float64(len(strips))); float64(len(s)) > even {
				t.Errorf("%s: a strip of %d, %v is even", b.ID, len(s), even)
			}
		}
		if count != n {
			t.Errorf("%s: %d of %d modules in strips", b.ID, count, n)
		}
	}
	f := factsOf(boxOf("few", vehicles.XYZ{}, 8, 8))
	for n, want := range map[int]int{64: 1, 65: 2, 128: 2, 129: 3} {
		if got := f.strips(make([]int, n), none); len(got) != want {
			t.Errorf("%d modules in %d strips", n, len(got))
		}
	}
}

// The costs of some of a box's modules are the lengths of the links between them; what leads in comes from the last module
// before, or else from the entry's port.
func TestCostsOfAFewOfMany(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 2, 3)
	b.Openings = []layout.Opening{connector("c", vehicles.XYZ{0, 700, 50})}
	f := factsOf(b)
	for _, s := range [][]int{{1, 4, 5}, {0, 1, 2, 3, 4, 5}, {2}} {
		c := f.costsOf(s)
		for i, a := range s {
			for k, b := range s {
				if i != k {
					close9(t, "step", c.at(i, k), linkCost(&f.slots[a], &f.slots[b]))
				}
			}
		}
	}
	s := []int{1, 4, 5}
	c := newCosts(len(s))
	f.leadIn(c, s, nil, 0)
	for i, m := range s {
		close9(t, "from the port", c.start[i], alongAxes(f.slots[m].neg[0].p, r3.Vector{X: 0, Y: 700, Z: 50}))
	}
	f.leadIn(c, s, []int{3}, 0)
	for i, m := range s {
		close9(t, "from the module before", c.start[i], linkCost(&f.slots[3], &f.slots[m]))
	}
}

// The ports are the openings for connectors, where there is none the connectors placed, where there is none either the
// middles of the walls; a cable leaves by another connector than it came in by, where there are two.
func TestPortsOfABox(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 1, 1)
	plug := &vehicles.Gear{ID: "plug", Name: "Plug", Kind: "connector", LengthMM: 80, WidthMM: 60, HeightMM: 40, MassKg: 0.3}
	lib := testLibrary.With(vehicles.Records{Gear: []*vehicles.Gear{plug}})
	facts := func() *boxFacts {
		p := planOf(b)
		return newBoxFacts(layout.Resolve(p, p.Arrangements[0], lib, nil).Boxes[0])
	}
	if f := facts(); len(f.ports) != 4 || f.ports[0].ref != "" || f.nearestPort(r3.Vector{X: -500, Y: 90, Z: 100}, 0) != 0 {
		t.Errorf("%+v", f.ports)
	}
	b.Gear = []layout.PlacedGear{{ID: "p", Gear: "plug", At: vehicles.XYZ{100, 20, 10}}}
	f := facts()
	if len(f.ports) != 1 || f.ports[0].ref != "b/p" || f.ports[0].at.Sub(r3.Vector{X: 140, Y: 50, Z: 30}).Norm() > 1e-9 {
		t.Errorf("%+v", f.ports)
	}
	if f.nearestPort(r3.Vector{}, 0) != 0 {
		t.Error("both cables may leave by the only connector")
	}
	b.Openings = []layout.Opening{connector("c1", vehicles.XYZ{0, 90, 50})}
	if f := facts(); len(f.ports) != 1 || f.ports[0].ref != "c1" {
		t.Errorf("%+v", f.ports)
	}
	b.Openings = append(b.Openings, connector("c2", vehicles.XYZ{450, 90, 50}))
	f = facts()
	near := r3.Vector{X: -100, Y: 90, Z: 50}
	if f.nearestPort(near, none) != 0 || f.nearestPort(near, 0) != 1 || f.nearestPort(near, 1) != 0 {
		t.Error("the nearer one, or the other where that is taken")
	}
}

// Three boxes in a row with a connector at each end: a string goes in by the nearer end and out by the other, from one box to
// the next; with no hub nothing leads to its ends.
func TestPortsAlongARowOfBoxes(t *testing.T) {
	var boxes []*layout.Box
	for i, id := range []string{"a", "b", "c"} {
		b := boxOf(id, vehicles.XYZ{1000 * float64(i), 0, 300}, 1, 1)
		b.Openings = []layout.Opening{connector("rear", vehicles.XYZ{450, 90, 50}), connector("front", vehicles.XYZ{0, 90, 50})}
		boxes = append(boxes, b)
	}
	p := planOf(boxes...)
	order := func(r *Result) []*boxFacts {
		return []*boxFacts{r.facts[r.Scene.Boxes[0]], r.facts[r.Scene.Boxes[1]], r.facts[r.Scene.Boxes[2]]}
	}
	const rear, front = 0, 1
	r := Evaluate(resolve(p), nil)
	entries, exits := r.portsAlong(order(r))
	if !slices.Equal(entries, []int{none, front, front}) || !slices.Equal(exits, []int{rear, rear, none}) {
		t.Errorf("without a hub: in by %v, out by %v", entries, exits)
	}
	r = Evaluate(resolve(withInverter(p)), nil)
	entries, exits = r.portsAlong(order(r))
	if !slices.Equal(entries, []int{front, front, front}) || !slices.Equal(exits, []int{rear, rear, rear}) {
		t.Errorf("with a hub before them: in by %v, out by %v", entries, exits)
	}
}

// The only box with gear of a role holds the end; where none or two have it, nothing does.
func TestHoldOfARole(t *testing.T) {
	box := func(id string, role string) *boxFacts {
		b := boxOf(id, vehicles.XYZ{}, 1, 1)
		b.Gear = []layout.PlacedGear{{ID: "k", Gear: "contactor", Role: role}}
		return factsOf(b)
	}
	with, without := box("a", "negative"), box("b", "positive")
	for _, c := range []struct {
		boxes []*boxFacts
		held  []bool
	}{
		{[]*boxFacts{with, without}, []bool{false, true}}, {[]*boxFacts{without, with}, []bool{true, false}},
		{[]*boxFacts{with, with}, []bool{false, false}}, {[]*boxFacts{without, without}, []bool{false, false}},
	} {
		ends := []float64{5, 7}
		hold(ends, c.boxes, "negative")
		for i, held := range c.held {
			if (ends[i] > 1e6) != held {
				t.Errorf("%v: %v", c.held, ends)
			}
		}
	}
}

// Modules listed to and fro between two columns: a string still takes a column, however they are numbered.
func TestStringsTakeAColumnEach(t *testing.T) {
	p := planOf(boxOf("b", vehicles.XYZ{}, 2, 4))
	order := []int{0, 4, 1, 5, 2, 6, 3, 7}
	for i, k := range order {
		p.Arrangements[0].Boxes[0].Modules[i].At = boxOf("b", vehicles.XYZ{}, 2, 4).Modules[k].At
	}
	p.Arrangements[0].Parallel = 2
	r := Evaluate(resolve(p), nil)
	for i := range r.Strings {
		for _, m := range r.Strings[i].Modules {
			if m.Placement.At[0] != r.Strings[i].Modules[0].Placement.At[0] {
				t.Errorf("string %d goes from column to column: %v", i, r.Strings[i].ids())
			}
		}
	}
}

// Five modules in a row and a string of four: the one left over stands at an end of the row, whichever is listed last.
func TestLeftOverModuleStandsAtTheEnd(t *testing.T) {
	for last := range 5 {
		b := boxOf("b", vehicles.XYZ{}, 1, 5)
		b.Modules[last].At, b.Modules[4].At = b.Modules[4].At, b.Modules[last].At
		p := planOf(b)
		p.Arrangements[0].Series = 4
		r := Evaluate(resolve(p), nil)
		if y := r.Leftover[0].Placement.At[1]; len(r.Leftover) != 1 || y > 12 && y < 12+4*160 {
			t.Errorf("module %d listed last: %s at %v mm is left over", last, r.Leftover[0].ID, y)
		}
	}
}

// A lead starts at the pole nearest to the port along the axes; a cable of the plan is found from both of its ends, and by no
// other box's.
func TestLeadsAndCables(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 1, 1)
	b.Openings = []layout.Opening{connector("c", vehicles.XYZ{0, 0, 50})}
	f := factsOf(b)
	at := func(x, y float64) pole {
		return pole{p: r3.Vector{X: x, Y: y, Z: 50}, lifted: r3.Vector{X: x, Y: y, Z: 50}}
	}
	for _, ps := range [][]pole{{at(900, 0), at(-30, -30), at(50, 50)}, {at(-30, -30), at(50, 50)}} {
		if got, _ := f.lead(ps, 0); got.p.X != -30 {
			t.Errorf("leads from %v", got.p)
		}
	}
	p := twoBoxes()
	p.Arrangements[0].Cables = []layout.Cable{{ID: "c0", From: "front", To: "moon"}, {ID: "c1", From: "moon", To: "rear"}, {ID: "c2", From: "front", To: "rear"}}
	r := Evaluate(resolve(p), nil)
	for _, c := range []struct {
		from, to, id string
		back         bool
	}{{"front", "rear", "c2", false}, {"rear", "front", "c2", true}, {"moon", "front", "c0", true}, {"moon", "rear", "c1", false}, {"front", "inv1", "", false}} {
		got, back := r.cable(c.from, c.to)
		if got == nil {
			got = &layout.Cable{}
		}
		if got.ID != c.id || back != c.back {
			t.Errorf("%s to %s: %q %v", c.from, c.to, got.ID, back)
		}
	}
	p.Arrangements[0].Cables = []layout.Cable{{ID: "c", From: "front", To: "rear", Via: []vehicles.XYZ{{1500, 900, 320}}}, {ID: "d", From: "front", To: "inv1", Via: []vehicles.XYZ{{-200, 900, 320}}},
		{ID: "e", From: "rear", To: "inv1"}}
	r = Evaluate(resolve(p), nil)
	by := func(run Run, y float64) bool {
		return slices.ContainsFunc(run.Path, func(q r3.Vector) bool { return q.Y == y })
	}
	for _, run := range r.Cables {
		if run.ID == "c" && !by(run, 900) || run.ID == "d" && !by(run, 900) {
			t.Errorf("%s does not go by its point: %v", run.ID, run.Path)
		}
	}
}

// A cable that no string uses goes by its points, or along the axes from middle to middle: by hand, the gear at
// 10, 10, 10 and at
// 310, 310, 10 lies 600 mm apart both along the axes and by the corner between them.
func TestOtherCableOfThePlan(t *testing.T) {
	tap := &vehicles.Gear{ID: "tap", Name: "Tap", Kind: "other", LengthMM: 20, WidthMM: 20, HeightMM: 20, MassKg: 0.1}
	lib := testLibrary.With(vehicles.Records{Gear: []*vehicles.Gear{tap}})
	p := planOf(boxOf("b", vehicles.XYZ{}, 1, 1))
	a := p.Arrangements[0]
	a.Gear = []layout.PlacedGear{{ID: "x", Gear: "tap", At: vehicles.XYZ{0, 0, 0}}, {ID: "y", Gear: "tap", At: vehicles.XYZ{300, 300, 0}}}
	a.Cables = []layout.Cable{{ID: "plain", From: "x", To: "y", SectionMM2: 16}, {ID: "by", From: "x", To: "y", SectionMM2: 16, Via: []vehicles.XYZ{{10, 310, 10}}}}
	r := Evaluate(layout.Resolve(p, a, lib, nil), nil)
	got := map[string]Run{}
	for _, c := range r.Cables {
		got[c.ID] = c
	}
	if len(r.Cables) != 2 {
		t.Errorf("a single module has no links, yet there are %d runs", len(r.Cables))
	}
	close9(t, "plain", got["plain"].LengthMM, 600)
	close9(t, "by a point", got["by"].LengthMM, 600)
	if len(got["by"].Path) != 3 || len(got["plain"].Path) != 4 {
		t.Errorf("%v and %v", got["by"].Path, got["plain"].Path)
	}
	close9(t, "middle", got["by"].Centre.Sub(r3.Vector{X: 85, Y: 235, Z: 10}).Norm(), 0)
}

// By hand: the middle of a line of 1 mm is half of it; a point is its own.
func TestCentreOfShortPaths(t *testing.T) {
	close9(t, "1 mm", pathCentre([]r3.Vector{{}, {X: 1}}).Sub(r3.Vector{X: 0.5}).Norm(), 0)
	close9(t, "a point", pathCentre([]r3.Vector{{X: 3}}).Sub(r3.Vector{X: 3}).Norm(), 0)
	close9(t, "nothing", pathCentre(nil).Norm(), 0)
}

// The string's ends lead to the hub's terminals, also where it is a single module.
func TestASingleModuleLeadsToTheHubsTerminals(t *testing.T) {
	inv := *inverter()
	inv.Terminals = []vehicles.Terminal{{ID: "p", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 50, 100}}, {ID: "n", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 200, 100}}}
	lib := testLibrary.With(vehicles.Records{Gear: []*vehicles.Gear{&inv}})
	p := withInverter(planOf(boxOf("b", vehicles.XYZ{}, 1, 1)))
	s := Evaluate(layout.Resolve(p, p.Arrangements[0], lib, nil), nil).Strings[0]
	if s.Negative == nil || s.Positive == nil {
		t.Fatal("no leads")
	}
	close9(t, "negative", s.Negative.Path[0].Sub(r3.Vector{X: -500, Y: 50, Z: 600}).Norm(), 0)
	close9(t, "positive", s.Positive.Path[len(s.Positive.Path)-1].Sub(r3.Vector{X: -500, Y: -100, Z: 600}).Norm(), 0)
}
