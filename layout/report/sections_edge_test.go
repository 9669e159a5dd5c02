package report

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/cooling"
	"stowbay/layout/electric"
	"stowbay/vehicles"
)

// setAlone is what a part of a report says of an empty plan.
func setAlone(t *testing.T, part func(*book)) string {
	t.Helper()
	p := layout.NewPlan(vehicles.Catalogue().Donors()[0], "Empty")
	return strings.Join(pages(t, p, []*check.Evaluation{evaluation(t, p, 0)}, part), " ")
}

func has(t *testing.T, what, text string, parts map[string]bool) {
	t.Helper()
	for part, want := range parts {
		if strings.Contains(text, part) != want {
			t.Errorf("%s: %q is there %v, want %v: %.400s", what, part, !want, want, text)
		}
	}
}

// The axis that a direction is nearest to, and its sense; x wins a draw, then y.
func TestDirections(t *testing.T) {
	for v, want := range map[r3.Vector]string{
		{X: 1}: "rear", {X: -1}: "front", {Y: 1}: "right", {Y: -1}: "left", {Z: 1}: "up", {Z: -1}: "down",
		{X: 0.6, Y: 0.5, Z: 0.4}: "rear", {X: 0.4, Y: 0.6, Z: 0.5}: "right", {X: 0.4, Y: 0.5, Z: -0.6}: "down", {X: 0.5, Y: 0.4, Z: 0.6}: "up",
		{X: 0.5, Y: 0.6, Z: 0.4}: "right", {X: -0.6, Y: 0.4, Z: 0.5}: "front",
		{X: 1, Y: 1, Z: 1}: "rear", {X: 0.5, Y: 1, Z: 1}: "right", {X: 1, Y: 0.5, Z: 1}: "rear",
	} {
		if got := direction(v); got != want {
			t.Errorf("%v looks %s, want %s", v, got, want)
		}
	}
}

// A torque is said as done where it was done otherwise than asked, however little.
func TestTorqueAsDone(t *testing.T) {
	b := &book{}
	for _, c := range []struct {
		row  assembly.TorqueRow
		want string
	}{
		{assembly.TorqueRow{Tightened: "jo", TorqueNm: 8, DoneNm: 8}, "jo"}, {assembly.TorqueRow{Tightened: "jo", TorqueNm: 8}, "jo"},
		{assembly.TorqueRow{Tightened: "jo", TorqueNm: 8, DoneNm: 9}, "jo, to 9 N m"}, {assembly.TorqueRow{Tightened: "jo", TorqueNm: 8, DoneNm: 0.5}, "jo, to 0.5"},
	} {
		if got := b.doneWords(c.row); !strings.HasPrefix(got, c.want) || c.want == "jo" && got != "jo" {
			t.Errorf("%+v: %q, want %q", c.row, got, c.want)
		}
	}
	for nm, want := range map[float64]string{0: "not stated", -1: "not stated", 0.5: "0.5", 8: "8"} {
		if got := b.torque(nm); !strings.HasPrefix(got, want) {
			t.Errorf("%g: %q", nm, got)
		}
	}
}

// A finding is a box's own where its subject or all that it refers to is in the box.
func TestFindingsOfABox(t *testing.T) {
	for _, c := range []struct {
		f    check.Finding
		want bool
	}{
		{check.Finding{Subject: "b/m1"}, true}, {check.Finding{Subject: "b"}, true}, {check.Finding{Subject: "bb/m1"}, false},
		{check.Finding{Subject: "pack", Refs: []string{"b/m1"}}, true}, {check.Finding{Subject: "pack", Refs: []string{"b/m1", "b/m2"}}, true},
		{check.Finding{Subject: "pack", Refs: []string{"b/m1", "c/m1"}}, false}, {check.Finding{Subject: "pack"}, false},
	} {
		if got := concerns(c.f, "b"); got != c.want {
			t.Errorf("%+v: %v", c.f, got)
		}
	}
}

// In a view the first two dozen findings that fail or warn have a number, by their place in the list; things are marked by the
// gravest finding that is about them alone.
func TestFindingsShownInAView(t *testing.T) {
	e := &check.Evaluation{Scene: &layout.Scene{}, Electric: &electric.Result{}, Cooling: &cooling.Result{}}
	at := r3.Vector{X: 1}
	for i := range 30 {
		s := check.Warns
		if i == 2 {
			s = check.Passes
		}
		e.Findings = append(e.Findings, check.Finding{Severity: s, Subject: fmt.Sprint(i), Place: &at, Refs: []string{"all", "each", fmt.Sprint(i)}})
	}
	e.Findings[0].Severity = check.Fails
	e.Findings[1].Refs = []string{"q", "r", "s", "u"}
	e.Findings[3].Refs = []string{"v", "w", "x", "y", "z"}
	b := &book{}
	b.e = e
	o := b.look()
	if len(o.Places) != 24 || o.Places[0].Text != "F1" || o.Places[2].Text != "F4" || o.Places[23].Text != "F25" {
		t.Errorf("%d places: %v", len(o.Places), o.Places)
	}
	marks := drawingMarks(e)
	if marks["all"] != markOf(check.Fails) || marks["29"] != markOf(check.Warns) || marks["2"] != 0 || marks["u"] != markOf(check.Warns) || marks["v"] != 0 || marks["0"] != markOf(check.Fails) {
		t.Errorf("%v", marks)
	}
}

// What a loop of one module, one assumption and one of everything says; nothing is said of what is not there.
func TestCoolingOfOne(t *testing.T) {
	r := &cooling.Result{Cooled: 1, Assumed: []string{"hose of 16 mm"}, Outside: []*layout.Body{{ID: "b/m1"}}, Unsized: []*layout.Body{{ID: "b/m2"}}}
	r.Coolant.Glycol = 0.4
	r.Warm.HeaterW, r.Warm.Seconds, r.Warm.FromC, r.Warm.ToC = 0.5, 600, -10, 5
	text := setAlone(t, func(b *book) {
		e := *b.e
		e.Cooling = r
		b.e = &e
		b.coolant()
	})
	has(t, "one of each", text, map[string]bool{
		"40 % ethylene glycol": true, "Taken where nothing is stated": true, "hose of 16 mm": true, "no branch passes: b/m1.": true, "no resistance: b/m2.": true,
		"Warming from -10 to 5 °C": true, "10 min with 0 W": true, "Hoses": false, "Branches": false, "sensors belong": false,
	})
	bare := setAlone(t, func(b *book) {
		e := *b.e
		e.Cooling = &cooling.Result{}
		b.e = &e
		b.coolant()
	})
	has(t, "nothing", bare, map[string]bool{"ethylene glycol": false, "Taken where": false, "no branch passes": false, "no resistance": false, "Warming": false})
}

// Hoses and cables are lines in a drawing where they have two ends.
func TestLinesNeedTwoEnds(t *testing.T) {
	one, two, three := []r3.Vector{{}}, []r3.Vector{{}, {X: 1}}, []r3.Vector{{}, {X: 1}, {X: 2}}
	e := &check.Evaluation{
		Cooling: &cooling.Result{Routes: []cooling.Route{{From: "p", Path: one}, {From: "q", Path: two}, {From: "r", Path: three}}},
		Electric: &electric.Result{
			Cables: []electric.Run{{ID: "c1", Kind: "string", Path: one}, {ID: "c2", Kind: "string", Path: two}, {ID: "c3", Kind: "links", Path: two}},
			Strings: []electric.String{{Links: []electric.Link{
				{From: "l1", FromBox: "b", ToBox: "b", Path: one}, {From: "l2", FromBox: "b", ToBox: "b", Path: two}, {From: "l3", FromBox: "b", ToBox: "c", Path: two}, {From: "l4", FromBox: "c", ToBox: "b", Path: two},
			}}},
		},
	}
	if got := hoseLines(e); len(got) != 2 || got[0].Ref != "q" {
		t.Errorf("hoses: %+v", got)
	}
	if got := cableLines(e); len(got) != 1 || got[0].Ref != "c2" {
		t.Errorf("cables: %+v", got)
	}
	if got := linkLines(e, "b"); len(got) != 1 || got[0].Ref != "l2" {
		t.Errorf("links: %+v", got)
	}
}

// Resistances in the unit in which they have one to three figures before the point.
func TestOhmsInTheirUnit(t *testing.T) {
	for v, want := range map[float64]string{500: "500 ohm", 999: "999 ohm", 1000: "1 kilohm", 40000: "40 kilohm", 999000: "999 kilohm", 1e6: "1 megohm", 2.5e7: "25 megohm", math.Inf(1): "not stated", 0: "0 ohm"} {
		if got := ohms(v); got != want {
			t.Errorf("%g: %q, want %q", v, got, want)
		}
	}
}

// One of each electrical thing is a row, and none has no table.
func TestElectricsOfOne(t *testing.T) {
	box := &layout.BoxScene{Box: &layout.Box{ID: "boxy"}}
	gear := &layout.GearBody{ID: "boxy/f1"}
	r := &electric.Result{
		Fuses:      []electric.FuseCheck{{Box: box, String: 4, FaultA: 3000}},
		Contactors: []electric.ContactorCheck{{Box: box, NeedV: 401}},
		Cables:     []electric.Run{{Kind: "string", From: "here", To: "there", LengthMM: 2500, SectionMM2: 35, MassKg: 0.78}},
		Problems:   []electric.Problem{{Text: "no way out of it"}},
	}
	r.Isolation.Unstated = []string{"heater"}
	r.Protection.BoardLoopMM, r.Protection.BoardOrder = 0.5, []string{"boxy"}
	r.Protection.Boards = []electric.Boards{{Box: box, Cells: 12, Channels: 13, NeedSensors: 2, Sensors: 3}}
	r.Protection.Disconnects = []electric.Disconnect{{String: 0, Gear: gear, After: 4, LowV: 180, HighV: 220, OffMiddle: 0.05}}
	parts := func(r *electric.Result) string {
		return setAlone(t, func(b *book) {
			b.problems(r)
			b.fuses(r)
			b.contactors(r)
			b.prechargeAndIsolation(r)
			b.protection(r)
			b.cables(r)
		})
	}
	has(t, "one of each", parts(r), map[string]bool{
		"Fuses": true, "boxy 5 none": true, "Contactors": true, "boxy none 401": true, "run 1 string here there 2.50 35 0.78": true, "no way out of it": true, "states no isolation: heater.": true,
		"boards' loop runs": true, "boxy none 12 13 2 3": true, "after module 4 leaves 180 V and 220 V, 5 % of the whole off the middle": true,
	})
	has(t, "nothing", parts(&electric.Result{}), map[string]bool{
		"Fuses": false, "Contactors": false, "Cables and links": false, "states no isolation": false, "boards' loop": false, "monitoring boards": false, "keeps the modules": false,
	})
}

// The scale shows windows that have a top, below a volt too, and the deepest of the sags.
func TestStringsLeftOver(t *testing.T) {
	r := &electric.Result{Leftover: make([]*layout.Body, 1), Strings: []electric.String{{ID: "s1", MinV: 300, MaxV: 400, CapacityAh: 60, Ohm: 0.0123, ColdOhm: 0.0345, ContinuousA: 100, PeakA: 200, ShareA: 50, LinkMM: 1234}}}
	text := setAlone(t, func(b *book) { b.stringTable(r) })
	has(t, "strings", text, map[string]bool{"s1 0 300 400 60 12.3 34.5 100 200 50 1.23": true, "1 modules are in no string.": true})
	if got := setAlone(t, func(b *book) { b.stringTable(&electric.Result{}) }); strings.Contains(got, "in no string") {
		t.Error(got)
	}
}

// A job carries the highest voltages of its steps and the kit of the first of the gravest class.
func TestAJobTakesTheGravestOfItsSteps(t *testing.T) {
	b := &book{}
	steps := []assembly.Step{
		{Text: "One.", CircuitV: 40, HighestV: 30, Class: "A", Gloves: "none", Tools: "plain"},
		{Text: "Two.", CircuitV: 90, HighestV: 80, Class: "B", Gloves: "class 0", Tools: "insulated", Hazard: true},
		{Text: "Three.", CircuitV: 70, HighestV: 85, Class: "B", Gloves: "class 00", Tools: "other"},
	}
	var got []string
	for _, c := range b.jobRow(2, assembly.Job{Box: "boxy"}, steps) {
		got = append(got, c.S)
	}
	if want := "3|boxy|One. Two. Three.|90|85|B, live|class 0; insulated|"; strings.Join(got, "|") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "|"), want)
	}
	got = nil
	for _, c := range b.jobRow(0, assembly.Job{Box: "boxy"}, steps[:1]) {
		got = append(got, c.S)
	}
	if want := "1|boxy|One.|40|30|A|none; plain|"; strings.Join(got, "|") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "|"), want)
	}
}

// A slot's serial number is that of the module with its workshop number, not of another one.
func TestSerialOfAWorkshopNumber(t *testing.T) {
	b := &book{}
	b.plan = &layout.Plan{Build: &layout.Build{Received: []layout.Received{{Shop: "1", Serial: "one"}, {Shop: "2", Serial: "two"}}}}
	for shop, want := range map[string]string{"1": "one", "2": "two", "3": "", "": ""} {
		if got := b.serial(shop); got != want {
			t.Errorf("%q: %q, want %q", shop, got, want)
		}
	}
}
