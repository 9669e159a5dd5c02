package layout

import (
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
)

func TestGestureIsOneStep(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	ended := 0
	cancel := d.Subscribe(func(e Event) {
		if e.GestureEnded {
			ended++
		}
	})
	d.BeginGesture("Drag box one")
	for range 25 {
		move(t, d, "one", 1)
	}
	if !d.Dirty() {
		t.Error("a drag is on and the document is not dirty")
	}
	d.EndGesture()
	cancel()
	steps, done := d.History()
	if want := []Step{{Label: "Drag box one", Done: true}}; !slices.Equal(steps, want) || done != 1 || ended != 1 {
		t.Fatalf("history %v, %d done, %d ends", steps, done, ended)
	}
	if err := d.Undo(); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(testPlan(), d.Plan(), sameContents); diff != "" {
		t.Error(diff)
	}
	if d.Dirty() {
		t.Error("all is undone and the document is still dirty")
	}
	if err := d.Redo(); err != nil {
		t.Fatal(err)
	}
	if x := d.Plan().Arrangements[0].Boxes[0].At[0]; x != 645 {
		t.Errorf("x = %v after redo, want 645", x)
	}
}

func TestGestureThatChangesNothingIsNoStep(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	d.BeginGesture("Drag")
	move(t, d, "one", 3)
	move(t, d, "one", -3)
	d.EndGesture()
	if _, done := d.History(); done != 0 || d.Dirty() {
		t.Errorf("%d steps, dirty %v", done, d.Dirty())
	}
}

func TestBuildRecordGrowsDuringAGesture(t *testing.T) {
	for _, cancelled := range []bool{false, true} {
		d := NewDocument(testPlan(), testLibrary())
		d.BeginGesture("Drag")
		move(t, d, "one", 3)
		if err := d.Do(&Append{Entries: Build{Tests: []Test{{Kind: "seal"}}}}); err != nil {
			t.Fatal(err)
		}
		if cancelled {
			d.CancelGesture()
		} else {
			d.EndGesture()
			for _, do := range []func() error{d.Undo, d.Redo, d.Undo} {
				if err := do(); err != nil {
					t.Fatal(err)
				}
			}
		}
		if d.Plan().Build == nil || len(d.Plan().Build.Tests) != 1 || d.Plan().Arrangements[0].Boxes[0].At[0] != 620 {
			t.Errorf("cancelled %v: build %v, box at %v", cancelled, d.Plan().Build, d.Plan().Arrangements[0].Boxes[0].At)
		}
	}
}

func TestDirtyFollowsTheSavedStep(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	check := func(when string, want bool) {
		t.Helper()
		if d.Dirty() != want {
			t.Errorf("%s: dirty %v, want %v", when, d.Dirty(), want)
		}
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	check("fresh", false)
	move(t, d, "one", 1)
	check("after an edit", true)
	d.Saved()
	check("after saving", false)
	must(d.Undo())
	check("after undoing what was saved", true)
	must(d.Redo())
	check("after redoing it", false)
	must(d.Undo())
	move(t, d, "two", 1)
	check("on another branch", true)
	must(d.Undo())
	check("the saved step cannot be reached any more", true)
	d.Saved()
	d.MarkDirty()
	check("marked", true)
}

func TestJumpTo(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	for range 5 {
		move(t, d, "one", 10)
	}
	for _, n := range []int{2, 5, 0, 3} {
		if err := d.JumpTo(n); err != nil {
			t.Fatal(err)
		}
		steps, done := d.History()
		if len(steps) != 5 || done != n || d.Plan().Arrangements[0].Boxes[0].At[0] != float64(620+10*n) {
			t.Errorf("jump to %d: %d steps, %d done, x = %v", n, len(steps), done, d.Plan().Arrangements[0].Boxes[0].At[0])
		}
	}
	if err := d.JumpTo(99); err != nil || d.CanRedo() {
		t.Error("a jump past the end does not go to the end")
	}
}

func TestEventsSayWhatChanged(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	var last Event
	d.Subscribe(func(e Event) { last = e })
	move(t, d, "two", 1)
	if !slices.Equal(last.Arrangements(), []string{"a"}) || !slices.Equal(last.Boxes("a"), []string{"two"}) || last.Settings() || last.Heading() || last.Library() {
		t.Errorf("move: arrangements %v, boxes %v", last.Arrangements(), last.Boxes("a"))
	}
	e, err := PutSettings(d.Plan(), Settings{Charger: "relay"})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	if !last.Settings() || len(last.Arrangements()) != 0 {
		t.Errorf("settings: %v %v", last.Settings(), last.Arrangements())
	}
	e, err = Remove(d.Plan(), "a", "one")
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(last.Boxes("a"), []string{"one"}) {
		t.Errorf("remove: boxes %v", last.Boxes("a"))
	}
}

func TestLibraryStaysTheSameWhileRecordsDo(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	before := d.Library()
	move(t, d, "one", 1)
	if d.Library() != before {
		t.Error("a move made a new library")
	}
	m := testModule()
	m.MassKg = 99
	e, err := PutRecords(d.Plan(), recordsOf(m))
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	if d.Library() == before || d.Library().Module("brick").MassKg != 99 {
		t.Error("the plan's own module does not come before the catalogue's")
	}
	if err := d.Undo(); err != nil {
		t.Fatal(err)
	}
	if d.Library().Module("brick").MassKg != 11.8 {
		t.Error("the catalogue's module does not come back")
	}
}

func TestMirrorLinkFollowsWithinTheStep(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	lib := d.Library()
	e, id, err := Mirrored(d.Plan(), lib, "a", "one", true)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	move(t, d, "one/m2", 12)
	move(t, d, "one", 30)
	a := d.Plan().Arrangements[0]
	of, box := a.Box("one"), a.Box(id)
	if diff := cmp.Diff(MirrorBox(of, box, lib), box, sameContents); diff != "" {
		t.Errorf("the box does not follow:\n%s", diff)
	}
	if _, done := d.History(); done != 3 {
		t.Errorf("%d steps, want 3", done)
	}
	if e, err = Move(d.Plan(), "a", []string{id}, r3.Vector{X: 1}); err != nil {
		t.Fatal(err)
	}
	was := d.Plan().Arrangements[0].Box("one").At
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	a = d.Plan().Arrangements[0]
	if now := a.Box("one").At; now[0] != was[0]+1 || now[1] != was[1] {
		t.Errorf("the box that is mirrored went from %v to %v, not along with its image", was, now)
	}
	move(t, d, id+"/m2", 7)
	a = d.Plan().Arrangements[0]
	if diff := cmp.Diff(MirrorBox(a.Box("one"), a.Box(id), lib), a.Box(id), sameContents); diff != "" {
		t.Errorf("what changes in the image does not change in the box:\n%s", diff)
	}
	if e, err = Move(d.Plan(), "a", []string{"one", id}, r3.Vector{X: 1}); err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Errorf("moving both: %v", err)
	}
	for d.CanUndo() {
		if err := d.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(testPlan(), d.Plan(), sameContents); diff != "" {
		t.Error(diff)
	}
}

func TestLinkThenUnlink(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	do := func(e Edit, err error) {
		t.Helper()
		if err == nil {
			err = d.Do(e)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	do(Link(d.Plan(), "a", "one", "two"))
	a := d.Plan().Arrangements[0]
	if a.Follows("two") != "one" || len(a.Box("two").Modules) != 6 || a.Box("two").At[1] != 480 {
		t.Errorf("box two is not the mirror image of box one: %v", a.Box("two"))
	}
	do(Unlink(d.Plan(), "a", "two"))
	do(Move(d.Plan(), "a", []string{"two"}, r3.Vector{X: 1}))
	if a := d.Plan().Arrangements[0]; a.Follows("two") != "" || a.Box("one").At[0] != 620 || a.Box("two").At[0] != 621 {
		t.Error("the link is not ended")
	}
}

// The history marks the step after which the plan was saved, and none where it never was.
func TestHistoryMarksTheSavedStep(t *testing.T) {
	d := NewDocument(testPlan(), testLibrary())
	marks := func() (out []bool) {
		steps, _ := d.History()
		for _, s := range steps {
			out = append(out, s.Saved)
		}
		return out
	}
	for i := range 3 {
		e, err := Move(d.Plan(), "a", []string{"two"}, r3.Vector{X: float64(i + 1)})
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Do(e); err != nil {
			t.Fatal(err)
		}
		if i == 1 {
			d.Saved()
		}
	}
	if got := marks(); !slices.Equal(got, []bool{false, true, false}) {
		t.Errorf("saved after the second of three: %v", got)
	}
	d.MarkDirty()
	for n := range 4 {
		if err := d.JumpTo(n); err != nil {
			t.Fatal(err)
		}
		if !d.Dirty() || slices.Contains(marks(), true) {
			t.Errorf("in no file, yet after %d steps: %v", n, marks())
		}
	}
}

// An event tells of the build record only where it grew.
func TestEventTellsOfTheBuildRecord(t *testing.T) {
	p, q := testPlan(), testPlan()
	if (Event{Before: p, After: q}).Build() {
		t.Error("two plans without a record")
	}
	q.Build = &Build{}
	if !(Event{Before: p, After: q}).Build() {
		t.Error("a record that was not there before")
	}
}
