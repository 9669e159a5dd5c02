package layout

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowbay/internal/inputs"
	"stowbay/vehicles"
)

// sessionEdits is how many random edits a run makes at least: 2,000, or what STOWBAY_EDITS says.
func sessionEdits() int { return inputs.Count("STOWBAY_EDITS", 2000) }

// drawEdit draws a random edit of the arrangement. It may turn out to be refused.
func drawEdit(t *rapid.T, p *Plan, lib *vehicles.Library) (Edit, error) {
	a := p.Arrangements[rapid.IntRange(0, len(p.Arrangements)-1).Draw(t, "arrangement")]
	mm := rapid.IntRange(-200, 200)
	delta := r3.Vector{X: float64(mm.Draw(t, "dx")) / 7, Y: float64(mm.Draw(t, "dy")) / 3, Z: float64(mm.Draw(t, "dz")) / 10}
	ids := drawIDs(t, a)
	switch rapid.IntRange(0, 21).Draw(t, "kind") {
	case 0, 1, 2, 3:
		return Move(p, a.ID, ids, delta)
	case 4:
		return Turn(p, lib, a.ID, ids, float64(90*rapid.IntRange(-3, 3).Draw(t, "quarters")))
	case 5:
		return SetPosture(p, lib, a.ID, ids, rapid.SampledFrom([]vehicles.Posture{"flat", "side", "end"}).Draw(t, "posture"))
	case 6:
		return SetLocked(p, a.ID, ids, rapid.Bool().Draw(t, "locked"))
	case 7:
		id := FreshID("box", a.Taken)
		return PutBox(p, a.ID, plainBox(id, vehicles.XYZ{float64(mm.Draw(t, "x")), float64(mm.Draw(t, "y")), 300}, rapid.IntRange(0, 5).Draw(t, "modules")))
	case 8:
		return Remove(p, a.ID, ids...)
	case 9:
		if len(a.Boxes) == 0 {
			return Together("nothing"), nil
		}
		b := a.Boxes[0]
		return PutModules(p, a.ID, b.ID, "Pack", plainBox("x", vehicles.XYZ{}, rapid.IntRange(0, 8).Draw(t, "modules")).Modules)
	case 10:
		e, _, err := DuplicateArrangement(p, a.ID)
		if len(p.Arrangements) > 4 {
			return RemoveArrangement(p, a.ID)
		}
		return e, err
	case 11:
		return MoveArrangement(p, a.ID, rapid.IntRange(0, len(p.Arrangements)-1).Draw(t, "to"))
	case 12:
		return RenameArrangement(p, a.ID, rapid.StringMatching(`[A-Za-zäöü0-9: #"'-]{1,20}`).Draw(t, "name"), "note")
	case 13:
		if len(a.Boxes) == 0 || len(a.Mirrors) > 2 {
			return Together("nothing"), nil
		}
		e, _, err := Mirrored(p, lib, a.ID, a.Boxes[0].ID, true)
		return e, err
	case 14:
		if len(a.Mirrors) == 0 {
			return Together("nothing"), nil
		}
		return Unlink(p, a.ID, a.Mirrors[0].Box)
	case 15:
		if len(a.Boxes) == 0 {
			return Together("nothing"), nil
		}
		return RenameBox(p, a.ID, a.Boxes[0].ID, FreshID("renamed", a.Taken))
	case 16:
		return PutStrings(p, a.ID, []String{{ID: "s1", Modules: moduleIDs(a)}})
	case 17:
		return PutSplit(p, a.ID, rapid.IntRange(0, 9).Draw(t, "series"), rapid.IntRange(0, 3).Draw(t, "parallel"))
	case 18:
		return PutSettings(p, Settings{Mass: Mass{OccupantKg: float64(rapid.IntRange(0, 200).Draw(t, "kg"))}})
	case 19:
		return PutKeepOut(p, a.ID, vehicles.KeepOut{ID: "k", Outline: rectangle(0, 0, float64(1+rapid.IntRange(0, 500).Draw(t, "len")), 50), CeilingMM: 100})
	case 20:
		if len(ids) < 3 {
			return Together("nothing"), nil
		}
		return Distribute(p, lib, a.ID, ids, Axis(rapid.IntRange(0, 2).Draw(t, "axis")))
	}
	if len(ids) == 0 {
		return Together("nothing"), nil
	}
	return Align(p, lib, a.ID, ids, rapid.SampledFrom([]Line{FrontLine, RightLine, UpperLine, CentreLine}).Draw(t, "line"))
}

func moduleIDs(a *Arrangement) []string {
	ids := []string{}
	for _, b := range a.Boxes {
		for _, m := range b.Modules {
			ids = append(ids, b.ID+"/"+m.ID)
		}
	}
	return ids
}

// drawIDs draws some boxes, modules and gear of an arrangement.
func drawIDs(t *rapid.T, a *Arrangement) []string {
	all := moduleIDs(a)
	for _, b := range a.Boxes {
		all = append(all, b.ID)
		for _, g := range b.Gear {
			all = append(all, b.ID+"/"+g.ID)
		}
	}
	for _, g := range a.Gear {
		all = append(all, g.ID)
	}
	if len(all) == 0 {
		return nil
	}
	return rapid.SliceOfNDistinct(rapid.SampledFrom(all), 1, min(4, len(all)), rapid.ID[string]).Draw(t, "ids")
}

// session is a document beside a model of it: the plan as it was after every step, and every edit as the journal would have it.
type session struct {
	doc    *Document
	states []*Plan
	texts  [][]byte
	lines  [][]byte
	start  *Plan
}

func newSession(t *rapid.T) *session {
	s := &session{start: testPlan()}
	s.doc = NewDocument(s.start, testLibrary())
	s.states, s.texts = []*Plan{s.start}, [][]byte{encoded(t, s.start)}
	s.doc.Subscribe(func(e Event) {
		if e.Edit == nil {
			return
		}
		line, err := MarshalEdit(e.Edit)
		if err != nil {
			t.Fatal(err)
		}
		s.lines = append(s.lines, line)
	})
	return s
}

func encoded(t *rapid.T, p *Plan) []byte {
	data, err := Encode(p)
	if err != nil {
		t.Fatalf("a plan that cannot be saved: %v", err)
	}
	return data
}

func (s *session) step(t *rapid.T) {
	switch rapid.IntRange(0, 9).Draw(t, "action") {
	case 0:
		if err := s.doc.Undo(); err != nil && err != errNoUndo {
			t.Fatal(err)
		}
	case 1:
		if err := s.doc.Redo(); err != nil && err != errNoRedo {
			t.Fatal(err)
		}
	case 2:
		if err := s.doc.JumpTo(rapid.IntRange(0, len(s.states)-1).Draw(t, "to")); err != nil {
			t.Fatal(err)
		}
	case 3:
		s.gesture(t)
	default:
		s.do(t)
		s.note(t)
	}
	_, done := s.doc.History()
	if !alike(s.doc.Plan(), s.states[done]) {
		t.Fatalf("after step %d the plan is not what it was:\n%s", done, cmp.Diff(s.states[done], s.doc.Plan(), sameContents))
	}
}

func (s *session) do(t *rapid.T) {
	e, err := drawEdit(t, s.doc.Plan(), s.doc.Library())
	if err != nil {
		return
	}
	before := s.doc.Plan()
	if err := s.doc.Do(e); err != nil && s.doc.Plan() != before {
		t.Fatalf("an edit was refused (%v) but the plan changed", err)
	}
}

func (s *session) gesture(t *rapid.T) {
	start := s.doc.Plan()
	s.doc.BeginGesture("Drag")
	for range rapid.IntRange(1, 5).Draw(t, "moves") {
		s.do(t)
	}
	if rapid.Bool().Draw(t, "cancelled") {
		s.doc.CancelGesture()
		if !alike(start, s.doc.Plan()) {
			t.Fatal("a cancelled gesture left something behind")
		}
		return
	}
	s.doc.EndGesture()
	s.note(t)
}

// note adds the state after a step, where there was one.
func (s *session) note(t *rapid.T) {
	steps, done := s.doc.History()
	if len(steps) != done || done < len(s.states) && alike(s.doc.Plan(), s.states[done]) {
		return
	}
	s.states = append(s.states[:done:done], s.doc.Plan())
	s.texts = append(s.texts[:done:done], encoded(t, s.doc.Plan()))
}

// finish compares the plan with one made afresh from the lines of the journal.
func (s *session) finish(t *rapid.T) {
	for i, p := range s.states {
		if !bytes.Equal(encoded(t, p), s.texts[i]) {
			t.Fatalf("the plan after step %d was changed in place", i)
		}
	}
	p := s.start
	for _, line := range s.lines {
		e, err := UnmarshalEdit(line)
		if err != nil {
			t.Fatal(err)
		}
		if p, err = e.Apply(p); err != nil {
			t.Fatalf("%v in %s", err, line)
		}
	}
	if d := cmp.Diff(s.doc.Plan(), p, sameContents); d != "" {
		t.Fatalf("the journal leads elsewhere:\n%s", d)
	}
	q, err := Parse("plan.yaml", encoded(t, p))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, q, sameContents); d != "" {
		t.Fatalf("read back differently:\n%s", d)
	}
}

func TestRandomSessions(t *testing.T) {
	const steps = 20
	for n := range (sessionEdits() + 100*steps - 1) / (100 * steps) { // rapid checks a hundred sessions a time
		t.Run(fmt.Sprint(n+1), rapid.MakeCheck(func(t *rapid.T) {
			s := newSession(t)
			for range steps {
				s.step(t)
			}
			s.finish(t)
		}))
	}
}

// A scene that takes over what it can from the one before is the scene made afresh.
func TestSceneWithPreviousOneIsAFreshOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := NewDocument(testPlan(), testLibrary())
		scene := Resolve(d.Plan(), d.Plan().Arrangements[0], d.Library(), nil)
		for range 10 {
			e, err := drawEdit(t, d.Plan(), d.Library())
			if err != nil || d.Do(e) != nil {
				continue
			}
			if rapid.IntRange(0, 4).Draw(t, "undo") == 0 {
				if err := d.Undo(); err != nil && err != errNoUndo {
					t.Fatal(err)
				}
			}
			a := d.Plan().Arrangements[0]
			scene = Resolve(d.Plan(), a, d.Library(), scene)
			if diff := sceneDiff(Resolve(d.Plan(), a, d.Library(), nil), scene); diff != "" {
				t.Fatal(diff)
			}
		}
	})
}

// sceneDiff says where two scenes of one plan differ. Comparing without words first saves most of the time.
func sceneDiff(fresh, live *Scene) string {
	f, l := *fresh, *live
	f.Plan, f.Library, l.Plan, l.Library = nil, nil, nil, nil
	if alike(&f, &l) {
		return ""
	}
	return "the scenes differ\n" + cmp.Diff(&f, &l, sameContents, cmp.AllowUnexported(Frame{}, BoxScene{}))
}

// Two edits of different things give the same plan in either order.
func TestOrderOfIndependentEditsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, lib := testPlan(), testLibrary()
		edit := func(q *Plan, box string, dx int, quarters int) *Plan {
			for _, make := range []func() (Edit, error){
				func() (Edit, error) { return Move(q, "a", []string{box}, r3.Vector{X: float64(dx) / 7}) },
				func() (Edit, error) { return Turn(q, lib, "a", []string{box + "/m1"}, float64(90*quarters)) },
			} {
				e, err := make()
				if err != nil {
					t.Fatal(err)
				}
				if _, q, err = Settle(q, e, lib); err != nil {
					t.Fatal(err)
				}
			}
			return q
		}
		mm, quarters := rapid.IntRange(-100, 100), rapid.IntRange(0, 3)
		x, y, m, n := mm.Draw(t, "x"), mm.Draw(t, "y"), quarters.Draw(t, "m"), quarters.Draw(t, "n")
		one := edit(edit(p, "one", x, m), "two", y, n)
		two := edit(edit(p, "two", y, n), "one", x, m)
		if d := cmp.Diff(one, two, sameContents); d != "" {
			t.Fatal(d)
		}
	})
}
