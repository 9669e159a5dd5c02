package layout

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"stowbay/internal/inputs"
	"stowbay/vehicles"
)

// sameContents compares plans, where an absent list is an empty one: that is how a file keeps it.
var sameContents = cmp.Options{cmpopts.EquateEmpty()}

// editsOf gives one edit of every kind that can be made in the test plan.
func editsOf(t *testing.T, p *Plan) map[string]Edit {
	t.Helper()
	lib := testLibrary()
	out := map[string]Edit{}
	add := func(name string, e Edit, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if IsEmpty(e) {
			t.Fatalf("%s: changes nothing", name)
		}
		out[name] = e
	}
	add3 := func(name string, e Edit, _ string, err error) { t.Helper(); add(name, e, err) }
	own := func(f func(*Plan)) (Edit, error) {
		q := *p
		f(&q)
		return Diff(p, &q, "change")
	}
	e, err := PutBox(p, "a", plainBox("three", vehicles.XYZ{0, 0, 300}, 2))
	add("insert box", e, err)
	e, err = PutBox(p, "a", plainBox("one", vehicles.XYZ{0, 0, 300}, 2))
	add("replace box", e, err)
	e, err = Remove(p, "a", "one", "two/m2", "inv")
	add("remove", e, err)
	e, err = Move(p, "a", []string{"one", "two/m1", "inv"}, r3.Vector{X: 0.1, Y: 0.2, Z: -0.3})
	add("move", e, err)
	e, err = Turn(p, lib, "a", []string{"one", "two"}, 30)
	add("turn boxes", e, err)
	e, err = Turn(p, lib, "a", []string{"one/m1", "one/k1"}, 90)
	add("turn modules", e, err)
	e, err = SetPosture(p, lib, "a", []string{"one/m1", "inv"}, vehicles.End)
	add("posture", e, err)
	e, err = SetLocked(p, "a", []string{"one", "one/m1", "inv"}, true)
	add("lock", e, err)
	e, err = PutModules(p, "a", "two", "Pack", plainBox("x", vehicles.XYZ{}, 9).Modules)
	add("pack", e, err)
	e, err = PutBay(p, "a", vehicles.Bay{ID: "new", Levels: p.Arrangements[0].Bays[0].Levels})
	add("put bay", e, err)
	e, err = RemoveBay(p, "a", "rear")
	add("remove bay", e, err)
	e, err = PutKeepOut(p, "a", vehicles.KeepOut{ID: "k", Outline: rectangle(0, 0, 10, 10), CeilingMM: 10})
	add("keep-out", e, err)
	e, err = PutGear(p, "a", "one", PlacedGear{ID: "k2", Gear: "relay"})
	add("gear in box", e, err)
	e, err = PutGear(p, "a", "", PlacedGear{ID: "k2", Gear: "relay"})
	add("gear outside", e, err)
	e, err = PutStrings(p, "a", []String{{ID: "z", Modules: []string{"one/m3"}}})
	add("strings", e, err)
	e, err = PutSplit(p, "a", 5, 2)
	add("split", e, err)
	e, err = RenameBox(p, "a", "one", "uno")
	add("rename box", e, err)
	e, err = ChangeBox(p, "a", "one", "Change feet", func(b *Box) error { b.Feet, b.Openings, b.Barriers = b.Feet[1:], nil, nil; return nil })
	add("feet", e, err)
	e, err = PutHeading(p, Heading{Name: "Other", Date: "2026-11-25"})
	add("heading", e, err)
	e, err = PutSettings(p, Settings{Charger: "relay", Search: Search{Modules: []string{"brick"}}})
	add("settings", e, err)
	e, err = ChooseDonor(p, "other")
	add("donor", e, err)
	e, err = PutUnderlay(p, Underlay{ID: "u", View: "plan", File: "pic/plan.png", MMPerPx: 2})
	add("underlay", e, err)
	e, err = PutRecords(p, vehicles.Records{Donors: []*vehicles.Donor{testDonor()}, Modules: []*vehicles.Module{testModule()}, Gear: []*vehicles.Gear{testGear()}})
	add("records", e, err)
	e, id, err := DuplicateArrangement(p, "a")
	add3("duplicate", e, id, err)
	e, err = RenameArrangement(p, "a", "Second thoughts", "note")
	add("rename arrangement", e, err)
	e, id, err = Mirrored(p, lib, "a", "one", true)
	add3("mirror", e, id, err)
	e, err = Align(p, lib, "a", []string{"one/m1", "one/m2", "two"}, LeftLine)
	add("align", e, err)
	e, err = Distribute(p, lib, "a", []string{"one/m1", "one/m2", "two/m3"}, AlongX)
	add("distribute", e, err)
	e, err = own(func(q *Plan) {
		c := *q.Arrangements[0]
		c.Parts = []vehicles.Part{{ID: "p", MassKg: 3, Known: "guess"}}
		c.Cables = nil
		c.Loop = Loop{}
		q.Arrangements = []*Arrangement{&c}
	})
	add("parts, cables, loop", e, err)
	e, err = own(func(q *Plan) {
		q.Arrangements = []*Arrangement{{ID: "b", Name: "B"}, q.Arrangements[0], {ID: "c", Name: "C"}}
	})
	add("put in around", e, err)
	return out
}

func TestInverseRestoresPlan(t *testing.T) {
	p := testPlan()
	before := testPlan()
	for name, e := range editsOf(t, p) {
		t.Run(name, func(t *testing.T) {
			settled, q, err := Settle(p, e, testLibrary())
			if err != nil {
				t.Fatal(err)
			}
			if cmp.Equal(p, q, sameContents) {
				t.Error("the edit changed nothing")
			}
			back, err := settled.Inverse().Apply(q)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(p, back, sameContents); d != "" {
				t.Errorf("not restored (-before +after):\n%s", d)
			}
			again, err := settled.Inverse().Inverse().Apply(back)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(q, again, sameContents); d != "" {
				t.Errorf("not made again:\n%s", d)
			}
			if d := cmp.Diff(before, p); d != "" {
				t.Errorf("the plan was changed in place:\n%s", d)
			}
		})
	}
}

func TestEditsKeepAPlanThatCanBeReadBack(t *testing.T) {
	p := testPlan()
	for name, e := range editsOf(t, p) {
		_, q, err := Settle(p, e, testLibrary())
		if err != nil {
			t.Fatal(name, err)
		}
		data, err := Encode(q)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		r, err := Parse("plan.yaml", data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if d := cmp.Diff(q, r, sameContents); d != "" {
			t.Errorf("%s: read back differently:\n%s", name, d)
		}
	}
}

func TestEditsAsLinesOfJSON(t *testing.T) {
	p := testPlan()
	edits := editsOf(t, p)
	edits["build"] = &Append{Text: "Receive", Entries: Build{Received: []Received{{Shop: "7", Module: "brick"}}}}
	for name, e := range edits {
		e, q, err := Settle(p, e, testLibrary())
		if err != nil {
			t.Fatal(name, err)
		}
		line, err := MarshalEdit(e)
		if err != nil {
			t.Fatal(name, err)
		}
		if strings.Contains(string(line), "\n") || !json.Valid(line) {
			t.Errorf("%s: not one line of JSON", name)
		}
		read, err := UnmarshalEdit(line)
		if err != nil {
			t.Fatal(name, err)
		}
		// As after a restart: the plan has been read from a file, and shares nothing with the edit.
		r, err := read.Apply(reread(t, p))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if d := cmp.Diff(q, r, sameContents); d != "" || read.Label() != e.Label() {
			t.Errorf("%s: another edit came back:\n%s", name, d)
		}
	}
}

func reread(t testing.TB, p *Plan) *Plan {
	t.Helper()
	data, err := Encode(p)
	if err != nil {
		t.Fatal(err)
	}
	q, err := Parse("plan.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func FuzzUnmarshalEdit(f *testing.F) {
	p := testPlan()
	e, err := Move(p, "a", []string{"one", "one/m1"}, r3.Vector{X: 1})
	if err != nil {
		f.Fatal(err)
	}
	line, err := MarshalEdit(e)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(line))
	f.Add(`{"kind":"modules","arrangement":"a","box":"one","changes":[{"index":-1,"after":{"ID":"x"}}]}`)
	f.Add(`{"kind":"settings","changes":[{"index":0,"before":{}},{"index":7}]}`)
	f.Add(`{"kind":"batch","edits":[{"kind":"batch","edits":[]}]}`)
	f.Fuzz(func(t *testing.T, line string) { _ = tryEdit(t, p, []byte(line)) })
}

func TestFloodOfEdits(t *testing.T) {
	p := testPlan()
	e, err := Move(p, "a", []string{"two"}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	line, err := MarshalEdit(e)
	if err != nil {
		t.Fatal(err)
	}
	inputs.Flood{Target: "FuzzUnmarshalEdit", Most: 800, Words: inputs.JSONWords, Examples: [][]byte{line,
		[]byte(`{"kind":"modules","arrangement":"a","box":"one","changes":[{"index":-1,"after":{"ID":"x"}}]}`),
		[]byte(`{"kind":"settings","changes":[{"index":0,"before":{}},{"index":7}]}`),
	}, Read: func(t inputs.T, data []byte) error { return tryEdit(t, p, data) }}.Run(t)
}

// tryEdit reads an arbitrary line of a journal. The edit that it may hold must be such as can be taken back where it can be made.
func tryEdit(t inputs.T, p *Plan, line []byte) error {
	e, err := UnmarshalEdit(line)
	if err != nil {
		return err
	}
	q, err := e.Apply(p)
	if err != nil {
		return err
	}
	if _, err := e.Inverse().Apply(q); err != nil {
		if _, isAppend := e.(*Append); !isAppend {
			t.Errorf("%s: made, but not taken back: %v", line, err)
		}
	}
	return nil
}

func TestUntouchedPartsAreShared(t *testing.T) {
	p := testPlan()
	e, err := Move(p, "a", []string{"one/m1"}, r3.Vector{X: 5})
	if err != nil {
		t.Fatal(err)
	}
	q, err := e.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	a, b := p.Arrangements[0], q.Arrangements[0]
	if a.Boxes[1] != b.Boxes[1] {
		t.Error("the box that stayed was replaced")
	}
	if a.Boxes[0] == b.Boxes[0] {
		t.Error("the box that changed was changed in place")
	}
	if &a.Bays[0] != &b.Bays[0] || &a.Boxes[0].Levels[0] != &b.Boxes[0].Levels[0] {
		t.Error("lists that stayed were replaced")
	}
}

func TestMovesAreKeptToTheLattice(t *testing.T) {
	p := testPlan()
	for range 30 {
		e, err := Move(p, "a", []string{"one", "two/m1"}, r3.Vector{X: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		if p, err = e.Apply(p); err != nil {
			t.Fatal(err)
		}
	}
	if got := p.Arrangements[0].Boxes[0].At[0]; got != 623 {
		t.Errorf("x = %v after 30 moves of 0.1 mm from 620, want 623", got)
	}
	if got := p.Arrangements[0].Boxes[1].Modules[0].At[0]; got != 13 {
		t.Errorf("x = %v after 30 moves of 0.1 mm from 10, want 13", got)
	}
}

func TestMovesOfModulesFollowTheVehicleAxes(t *testing.T) {
	p := testPlan()
	e, err := Turn(p, testLibrary(), "a", []string{"one"}, 90)
	if err != nil {
		t.Fatal(err)
	}
	if p, err = e.Apply(p); err != nil {
		t.Fatal(err)
	}
	lib := testLibrary()
	from := Resolve(p, p.Arrangements[0], lib, nil).Body("one/m1").CG
	e, err = Move(p, "a", []string{"one/m1"}, r3.Vector{X: 7, Y: -3})
	if err != nil {
		t.Fatal(err)
	}
	if p, err = e.Apply(p); err != nil {
		t.Fatal(err)
	}
	to := Resolve(p, p.Arrangements[0], lib, nil).Body("one/m1").CG
	if !near(to.Sub(from), r3.Vector{X: 7, Y: -3}) {
		t.Errorf("moved by %v, want (7, -3, 0)", to.Sub(from))
	}
}

func near(a, b r3.Vector) bool { return a.Sub(b).Norm() < 1e-6 }

func TestTurnKeepsTheMiddle(t *testing.T) {
	lib := testLibrary()
	for _, ids := range [][]string{{"one"}, {"one/m2"}, {"one/m1", "one/m5", "one/k1"}, {"one", "two"}, {"inv"}} {
		p := testPlan()
		before, _ := middleOf(p.Arrangements[0], lib, ids)
		start := p
		for range 4 {
			e, err := Turn(p, lib, "a", ids, 90)
			if err != nil {
				t.Fatal(ids, err)
			}
			if p, err = e.Apply(p); err != nil {
				t.Fatal(ids, err)
			}
			if mid, _ := middleOf(p.Arrangements[0], lib, ids); mid.Sub(before).Norm() > 0.02 {
				t.Errorf("%v: the middle went from %v to %v", ids, before, mid)
			}
		}
		if d := cmp.Diff(start, p, sameContents, cmpopts.EquateApprox(0, 0.03)); d != "" {
			t.Errorf("%v: four quarter turns are not none:\n%s", ids, d)
		}
	}
}

func TestLockedThingsStay(t *testing.T) {
	p := testPlan()
	do := func(e Edit, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if p, err = e.Apply(p); err != nil {
			t.Fatal(err)
		}
	}
	do(SetLocked(p, "a", []string{"one"}, true))
	if _, err := Move(p, "a", []string{"one"}, r3.Vector{X: 1}); err != ErrLocked {
		t.Errorf("moving a locked box: %v, want ErrLocked", err)
	}
	at := p.Arrangements[0].Boxes[0].At
	do(Move(p, "a", []string{"one", "two"}, r3.Vector{X: 1}))
	if p.Arrangements[0].Boxes[0].At != at {
		t.Error("a locked box moved with another one")
	}
	if p.Arrangements[0].Boxes[1].At[0] != 621 {
		t.Error("the other box did not move")
	}
	do(SetLocked(p, "a", []string{"one"}, false))
	do(Move(p, "a", []string{"one"}, r3.Vector{X: 1}))
}

func TestRemovingABoxTakesWhatRefersToIt(t *testing.T) {
	p := testPlan()
	e, err := Remove(p, "a", "one")
	if err != nil {
		t.Fatal(err)
	}
	_, q, err := Settle(p, e, testLibrary())
	if err != nil {
		t.Fatal(err)
	}
	a := q.Arrangements[0]
	want := []String{{ID: "s1", Modules: []string{"two/m1"}}, {ID: "s2", Modules: []string{"two/m2"}}}
	if d := cmp.Diff(want, a.Strings); d != "" {
		t.Errorf("strings:\n%s", d)
	}
	if len(a.Cables) != 0 || !slices.Equal(a.Loop.Branches[0].Boxes, []string{"two"}) {
		t.Errorf("cables %v, loop %v", a.Cables, a.Loop)
	}
}

func TestRenamingABoxKeepsWhatRefersToIt(t *testing.T) {
	p := testPlan()
	e, err := RenameBox(p, "a", "one", "uno")
	if err != nil {
		t.Fatal(err)
	}
	_, q, err := Settle(p, e, testLibrary())
	if err != nil {
		t.Fatal(err)
	}
	a := q.Arrangements[0]
	if got := a.Strings[0].Modules; !slices.Equal(got, []string{"uno/m1", "uno/m2", "two/m1"}) {
		t.Errorf("string %v", got)
	}
	if a.Cables[0].From != "uno" || a.Loop.Branches[0].Boxes[0] != "uno" {
		t.Errorf("cable %v, loop %v", a.Cables[0], a.Loop)
	}
}

func TestEditsThatWouldSpoilThePlanAreRefused(t *testing.T) {
	p := testPlan()
	lib := testLibrary()
	for name, c := range map[string]struct {
		make func() (Edit, error)
		want string
	}{
		"unknown arrangement": {func() (Edit, error) { return Move(p, "z", []string{"one"}, r3.Vector{}) }, `no arrangement "z"`},
		"unknown box":         {func() (Edit, error) { return Move(p, "a", []string{"z"}, r3.Vector{}) }, `no box or gear "z"`},
		"box out of the world": {func() (Edit, error) { return Move(p, "a", []string{"one"}, r3.Vector{X: 1e9}) },
			"at_mm[0]: 1000000620 is out of range"},
		"not a number": {func() (Edit, error) { return Move(p, "a", []string{"one"}, r3.Vector{X: nan()}) }, "not a number"},
		"string of a module that is not there": {func() (Edit, error) { return PutStrings(p, "a", []String{{ID: "s", Modules: []string{"one/zz"}}}) },
			`no module "one/zz"`},
		"module in two strings": {func() (Edit, error) {
			return PutStrings(p, "a", []String{{ID: "s", Modules: []string{"one/m1"}}, {ID: "t", Modules: []string{"one/m1"}}})
		}, `in string "s" already`},
		"two modules of one name": {func() (Edit, error) {
			return PutModules(p, "a", "one", "x", []Placement{{ID: "m", Module: "brick", Posture: "flat"}, {ID: "m", Module: "brick", Posture: "flat"}})
		}, `"m" is used twice`},
		"picture outside": {func() (Edit, error) {
			return PutUnderlay(p, Underlay{ID: "u", View: "plan", File: "../x.png", MMPerPx: 1})
		},
			"leaves the plan's folder"},
		"last arrangement": {func() (Edit, error) { return RemoveArrangement(p, "a") }, "one arrangement at least"},
		"odd turn of a module": {func() (Edit, error) { return Turn(p, lib, "a", []string{"one/m1"}, 45) },
			"quarter turns"},
		"box follows itself": {func() (Edit, error) { return Link(p, "a", "one", "one") }, "cannot follow itself"},
		"build record cut": {func() (Edit, error) {
			with := *p
			with.Build = &Build{Tests: []Test{{Kind: "seal"}}}
			return Diff(&with, p, "x")
		}, "entries of the build record stand"},
		"too many arrangements": {func() (Edit, error) {
			q := *p
			for i := range 50 {
				q.Arrangements = append(q.Arrangements, &Arrangement{ID: fmt.Sprint("x", i), Name: "x"})
			}
			return Diff(p, &q, "x")
		}, "arrangements: has 51 entries; at most 50 allowed"},
		"too many feet": {func() (Edit, error) {
			return ChangeBox(p, "a", "one", "x", func(b *Box) error {
				b.Feet = nil
				for i := range 101 {
					b.Feet = append(b.Feet, Foot{ID: fmt.Sprint("f", i), Bolt: "M8", Class: "8.8"})
				}
				return nil
			})
		}, "feet: has 101 entries; at most 100 allowed"},
		"module that cannot stand so": {func() (Edit, error) {
			return PutModules(p, "a", "one", "x", []Placement{{ID: "m", Module: "brick", Posture: "askew"}})
		}, "flat, side or end"},
	} {
		e, err := c.make()
		if err == nil {
			_, _, err = Settle(p, e, lib)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
}

func nan() float64 { var z float64; return z / z }

func TestBuildRecordOnlyGrows(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	receive := func(n string) {
		t.Helper()
		if err := d.Do(&Append{Text: "Receive " + n, Entries: Build{Received: []Received{{Shop: n, Module: "brick"}}}}); err != nil {
			t.Fatal(err)
		}
	}
	receive("1")
	move(t, d, "one", 5)
	receive("2")
	for d.CanUndo() {
		if err := d.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(d.Plan().Build.Received); n != 2 {
		t.Errorf("%d entries left after undoing all, want 2", n)
	}
	if got := d.Plan().Arrangements[0].Boxes[0].At[0]; got != 620 {
		t.Errorf("the move was not undone: x = %v", got)
	}
	if !d.Dirty() {
		t.Error("entries were added and not saved, but the document is not dirty")
	}
	err := d.Do(&Append{Entries: Build{Received: []Received{{Shop: "1", Module: "brick"}}}})
	if err == nil || !strings.Contains(err.Error(), `"1" is the number of entry 1 already`) {
		t.Errorf("the same number twice: %v", err)
	}
}

// An entry that comes in one step with other edits is not made twice by a redo.
func TestBuildRecordInAStepWithOtherEdits(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	q := *d.Plan()
	q.Name, q.Build = "Other", &Build{Tests: []Test{{Kind: "seal"}}}
	e, err := Diff(d.Plan(), &q, "Both")
	if err != nil {
		t.Fatal(err)
	}
	for _, do := range []func() error{func() error { return d.Do(e) }, d.Undo, d.Redo, d.Undo, d.Redo} {
		if err := do(); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(d.Plan().Build.Tests); n != 1 || d.Plan().Name != "Other" {
		t.Errorf("%d entries, name %q; want 1 and Other", n, d.Plan().Name)
	}
}

func move(t testing.TB, d *Document, id string, dx float64) {
	t.Helper()
	e, err := Move(d.Plan(), "a", []string{id}, r3.Vector{X: dx})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
}

func TestMergeDoesTheWorkOfBoth(t *testing.T) {
	p := testPlan()
	first, err := Move(p, "a", []string{"one", "two/m1"}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	q, err := first.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	second, err := Move(q, "a", []string{"one", "two/m1"}, r3.Vector{Y: 2})
	if err != nil {
		t.Fatal(err)
	}
	r, err := second.Apply(q)
	if err != nil {
		t.Fatal(err)
	}
	m, ok := first.Merge(second)
	if !ok {
		t.Fatal("two moves of the same things do not merge")
	}
	got, err := m.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(r, got, sameContents); d != "" {
		t.Error(d)
	}
	back, err := m.Inverse().Apply(got)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, back, sameContents); d != "" {
		t.Error(d)
	}
	if _, ok := first.Merge(&Append{}); ok {
		t.Error("a move merges with an entry of the build record")
	}
}

func TestAlign(t *testing.T) {
	lib := testLibrary()
	for line, want := range map[Line]func(extent) float64{
		FrontLine: func(e extent) float64 { return e.lo.X }, RearLine: func(e extent) float64 { return e.hi.X },
		LeftLine: func(e extent) float64 { return e.lo.Y }, RightLine: func(e extent) float64 { return e.hi.Y },
		LowerLine: func(e extent) float64 { return e.lo.Z }, UpperLine: func(e extent) float64 { return e.hi.Z },
		LengthLine: func(e extent) float64 { return (e.lo.X + e.hi.X) / 2 },
	} {
		p := testPlan()
		e, err := Align(p, lib, "a", []string{"one/m1", "one/m2", "one/m4"}, line)
		if err != nil {
			t.Fatal(line, err)
		}
		q, err := e.Apply(p)
		if err != nil {
			t.Fatal(line, err)
		}
		first, _ := p.Arrangements[0].extentOf(lib, "one/m1")
		for _, id := range []string{"one/m1", "one/m2", "one/m4"} {
			got, _ := q.Arrangements[0].extentOf(lib, id)
			if d := want(got) - want(first); d > 0.011 || d < -0.011 {
				t.Errorf("%s: %s is out of line by %v mm", line, id, d)
			}
		}
	}
	p := testPlan()
	e, err := Align(p, lib, "a", []string{"one", "two"}, CentreLine)
	if err != nil {
		t.Fatal(err)
	}
	q, err := e.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range q.Arrangements[0].Boxes {
		if ex := b.extent(); ex.lo.Y+ex.hi.Y != 0 {
			t.Errorf("box %s is not on the centre plane: %v", b.ID, ex)
		}
	}
}

func TestDistribute(t *testing.T) {
	lib := testLibrary()
	p := testPlan()
	var boxes []*Box
	for i, x := range []float64{0, 2000, 5000, 9000} {
		boxes = append(boxes, plainBox(fmt.Sprintf("b%d", i), vehicles.XYZ{x, 0, 300}, 0))
	}
	p = p.WithArrangement(&Arrangement{ID: "a", Name: "A", Bays: p.Arrangements[0].Bays, Boxes: boxes})
	e, err := Distribute(p, lib, "a", []string{"b2", "b0", "b3", "b1"}, AlongX)
	if err != nil {
		t.Fatal(err)
	}
	q, err := e.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	// 1150 mm long each, from 0 to 10150: three gaps of (10150 - 4600)/3 = 1850 mm.
	for i, want := range []float64{0, 3000, 6000, 9000} {
		if got := q.Arrangements[0].Boxes[i].At[0]; got != want {
			t.Errorf("box %d at %v, want %v", i, got, want)
		}
	}
}

func TestMovesThatAreNoNumberAreRefused(t *testing.T) {
	p := testPlan()
	for axis := range 3 {
		for _, no := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			var by vehicles.XYZ
			by[axis] = no
			if e, err := Move(p, p.Arrangements[0].ID, []string{"one"}, by.Vector()); err == nil {
				t.Errorf("a move by %v makes the edit %+v", by, e)
			}
		}
	}
	if _, err := Move(p, p.Arrangements[0].ID, []string{"one"}, r3.Vector{X: 1, Y: -2, Z: 3}); err != nil {
		t.Error(err)
	}
}

func TestAnglesWithinAHalfTurn(t *testing.T) {
	for deg, want := range map[float64]float64{0: 0, 180: 180, -180: 180, 181: -179, -181: 179, 270: -90, -270: 90, 360: 0, -360: 0, 725: 5, -725: -5, 540: 180, 12.3456: 12.346, -179.9996: 180} {
		if got := halfTurns(deg); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g°: %g°, want %g°", deg, got, want)
		}
	}
}

// made applies an edit to a plan.
func made(t *testing.T, p *Plan, e Edit, err error) *Plan {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	q, err := e.Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// What is put in takes the place of the entry with its id, or goes to the end; the list as it was stays.
func TestUpsertByID(t *testing.T) {
	list := []string{"a1", "b1", "c1"}
	id := func(s string) string { return s[:1] }
	for v, want := range map[string]string{"a2": "a2 b1 c1", "b2": "a1 b2 c1", "c2": "a1 b1 c2", "d2": "a1 b1 c1 d2"} {
		if got := strings.Join(upsert(list, v, id), " "); got != want {
			t.Errorf("%s: %s, want %s", v, got, want)
		}
	}
	if strings.Join(list, " ") != "a1 b1 c1" {
		t.Errorf("the list became %v", list)
	}
}

func TestWhatThingsAreCalled(t *testing.T) {
	for ids, want := range map[string]string{"one": "one", "one/m1": "one/m1", "one two": "2 boxes", "one/m1 one/m2 two/m1": "3 modules", "one two/m1": "2 things", "one two two/m1": "3 things"} {
		if got := things(strings.Fields(ids)); got != want {
			t.Errorf("%s: %q, want %q", ids, got, want)
		}
	}
}

// The first of each list can be taken out and named like any other.
func TestFirstOfAListIsTakenOutToo(t *testing.T) {
	p := testPlan()
	e, err := Remove(p, "a", "one/m1", "one/k1", "inv")
	a := made(t, p, e, err).Arrangements[0]
	if a.Boxes[0].Placement("m1") >= 0 || len(a.Boxes[0].Modules) != 5 || len(a.Boxes[0].Gear) != 0 || len(a.Gear) != 0 {
		t.Errorf("%+v", a)
	}
	for _, to := range []string{"two", "inv"} {
		if _, err := RenameBox(p, "a", "one", to); err == nil {
			t.Errorf("two things are called %s", to)
		}
	}
}

// Modules and feet move together; where all that is named is locked, that is said.
func TestMovesCountWhatMoved(t *testing.T) {
	p := testPlan()
	by := r3.Vector{X: 5}
	e, err := Move(p, "a", []string{"one/m1", "one/" + feetOf + "f1"}, by)
	b, old := made(t, p, e, err).Arrangements[0].Boxes[0], p.Arrangements[0].Boxes[0]
	if b.Modules[0].At[0] != old.Modules[0].At[0]+5 || b.Feet[0].At[0] != old.Feet[0].At[0]+5 {
		t.Errorf("module at %v, foot at %v", b.Modules[0].At, b.Feet[0].At)
	}
	old.Modules[0].Locked = true
	if _, err := Move(p, "a", []string{"one/m1"}, by); !errors.Is(err, ErrLocked) {
		t.Errorf("a locked module: %v", err)
	}
}

// Turns of more than a round are the turns that are left: 450 and 4140 degrees are 90 and 180.
func TestTurnsOfMoreThanARound(t *testing.T) {
	p, lib := testPlan(), testLibrary()
	for more, left := range map[float64]float64{450: 90, 4140: 180, 360: 0, -270: 90, -90: 270, 1170: 90} {
		var plans []*Plan
		for _, deg := range []float64{more, left} {
			e, err := Turn(p, lib, "a", []string{"one/m1", "one/k1"}, deg)
			plans = append(plans, made(t, p, e, err))
		}
		if d := cmp.Diff(plans[0].Arrangements, plans[1].Arrangements, sameContents); d != "" {
			t.Errorf("%v and %v degrees: %s", more, left, d)
		}
	}
}

// By hand: three boxes of 1150 mm from 500 to 6500 mm leave two gaps of (6000 - 3450)/2 = 1275 mm.
func TestDistributeAwayFromTheOrigin(t *testing.T) {
	p := testPlan()
	p.Arrangements[0].Boxes = []*Box{plainBox("b", vehicles.XYZ{600}, 0), plainBox("a", vehicles.XYZ{500}, 0), plainBox("c", vehicles.XYZ{5350}, 0)}
	e, err := Distribute(p, testLibrary(), "a", []string{"a", "b", "c"}, AlongX)
	q := made(t, p, e, err)
	for i, want := range []float64{2925, 500, 5350} {
		if got := q.Arrangements[0].Boxes[i].At[0]; got != want {
			t.Errorf("box %d at %v, want %v", i, got, want)
		}
	}
}

// A plan keeps one arrangement at least; an arrangement goes to any place in the list and to no other.
func TestArrangementsTakenOutAndMoved(t *testing.T) {
	p := testPlan()
	if _, err := RemoveArrangement(p, "a"); err == nil || !strings.Contains(err.Error(), "the last") {
		t.Errorf("the last one: %v", err)
	}
	e, id, err := DuplicateArrangement(p, "a")
	p = made(t, p, e, err)
	e, err = RemoveArrangement(p, "a")
	if q := made(t, p, e, err); len(q.Arrangements) != 1 || q.Arrangements[0].ID != id {
		t.Errorf("left: %v", q.Arrangements)
	}
	for to, want := range map[int]string{0: id + " a", 1: "a " + id} {
		e, err := MoveArrangement(p, id, to)
		q := made(t, p, e, err)
		if got := q.Arrangements[0].ID + " " + q.Arrangements[1].ID; got != want {
			t.Errorf("to %d: %s", to, got)
		}
	}
	for _, to := range []int{-1, 2} {
		if _, err := MoveArrangement(p, id, to); err == nil {
			t.Errorf("there is no place %d", to)
		}
	}
}

// Arrangements have the same parts where all boxes, modules, gear and bays have the same names in the same order.
func TestSameParts(t *testing.T) {
	p := testPlan()
	a := p.Arrangements[0]
	with := func(f func(b *Arrangement)) *Arrangement {
		c := *a
		c.Boxes = nil
		for _, b := range a.Boxes {
			d := *b
			d.Modules, d.Gear = slices.Clone(b.Modules), slices.Clone(b.Gear)
			c.Boxes = append(c.Boxes, &d)
		}
		c.Gear, c.Bays = slices.Clone(a.Gear), slices.Clone(a.Bays)
		f(&c)
		return &c
	}
	for what, c := range map[string]struct {
		b    *Arrangement
		same bool
	}{
		"itself":         {a, true},
		"a copy":         {with(func(*Arrangement) {}), true},
		"one moved":      {with(func(b *Arrangement) { b.Boxes[0].Modules[0].At[0]++ }), true},
		"another box":    {with(func(b *Arrangement) { b.Boxes[0].ID = "x" }), false},
		"another module": {with(func(b *Arrangement) { b.Boxes[1].Modules[3].ID = "x" }), false},
		"another gear":   {with(func(b *Arrangement) { b.Boxes[0].Gear[0].ID = "x" }), false},
		"gear outside":   {with(func(b *Arrangement) { b.Gear[0].ID = "x" }), false},
		"another bay":    {with(func(b *Arrangement) { b.Bays[1].ID = "x" }), false},
		"one more":       {with(func(b *Arrangement) { b.Boxes[0].Modules = append(b.Boxes[0].Modules, Placement{ID: "x"}) }), false},
	} {
		if sameParts(a, c.b) != c.same {
			t.Errorf("%s: same parts %v", what, !c.same)
		}
	}
}

// An entry of the build record that its rules do not allow is refused, even if it has only one fault.
func TestAppendRefusesOneFault(t *testing.T) {
	if _, err := (&Append{Entries: Build{Signed: []Signed{{Joint: "one/f1", TorqueNm: 2001}}}}).Apply(testPlan()); err == nil {
		t.Error("more torque than allowed is taken in")
	}
}

// Batches in batches are read down to the fifth, and refused below: data must not send the reader down for ever.
func TestDepthOfBatches(t *testing.T) {
	line := func(depth int) []byte {
		s := `{"kind":"batch","label":"x","edits":[]}`
		for range depth - 1 {
			s = `{"kind":"batch","label":"x","edits":[` + s + `]}`
		}
		return []byte(s)
	}
	for depth, ok := range map[int]bool{1: true, 5: true, 6: false, 60: false} {
		if _, err := UnmarshalEdit(line(depth)); (err == nil) != ok {
			t.Errorf("%d deep: %v", depth, err)
		}
	}
}
