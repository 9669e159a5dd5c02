package view

import (
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

func copied(t *testing.T, m *Model, refs ...string) *Clip {
	t.Helper()
	c, err := m.Copy(refs)
	if err != nil {
		t.Fatal(err)
	}
	text, err := c.Text()
	if err != nil {
		t.Fatal(err)
	}
	back, err := ReadClip(text)
	if err != nil {
		t.Fatalf("what was copied cannot be read back: %v\n%s", err, text)
	}
	return back
}

func pasted(t *testing.T, m *Model, c *Clip, into string) []string {
	t.Helper()
	var made []string
	err := m.Do(func(p *layout.Plan, a string) (e layout.Edit, err error) {
		e, made, err = c.Paste(p, m.Library(), a, into)
		return e, err
	})
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// A copy goes beside the original in the same box, and another paste beside that one; undo takes each out.
func TestPasteBeside(t *testing.T) {
	m := testModel(t, 2)
	c := copied(t, m, "low/m1")
	first, second := pasted(t, m, c, ""), pasted(t, m, c, "")
	if len(first) != 1 || len(second) != 1 || first[0] == second[0] {
		t.Fatalf("made %v and %v", first, second)
	}
	b := m.Arrangement().Box("low")
	for i, x := range []float64{20, 130, 240, 350} { // m1, m2; 110 mm is a module and the room beside it, so m2's place is passed by
		if got := b.Modules[i].At[0]; got != x {
			t.Errorf("module %d stands at %v, want %v", i, got, x)
		}
	}
	_ = m.Undo()
	_ = m.Undo()
	if n := m.Scene().Count(); n != 2 {
		t.Errorf("%d modules after undoing", n)
	}
}

// Into another arrangement things go where they stood; a box keeps its name, and what it holds.
func TestPasteIntoAnotherArrangement(t *testing.T) {
	m := testModel(t, 3)
	c := copied(t, m, "low")
	if c.Words() != "1 box" {
		t.Errorf("it is called %q", c.Words())
	}
	edit, id, err := layout.DuplicateArrangement(m.Plan(), m.Arrangement().ID)
	if err == nil {
		err = m.Document().Do(edit)
	}
	if err != nil {
		t.Fatal(err)
	}
	m.Sync()
	m.SetArrangement(id)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Remove(p, a, "low") }); err != nil {
		t.Fatal(err)
	}
	if made := pasted(t, m, c, ""); len(made) != 1 || made[0] != "low" {
		t.Errorf("made %v", made)
	}
	if b := m.Arrangement().Box("low"); b == nil || b.At != testBox("low", 3).At || len(b.Modules) != 3 {
		t.Errorf("the box is %+v", b)
	}
	if made := pasted(t, m, c, ""); made[0] == "low" || m.Arrangement().Box(made[0]).At[0] != 600+1000+10 {
		t.Errorf("the second one is %v", made)
	}
}

// Modules go into another plan's box with the record that they need, into its corner.
func TestPasteIntoAnotherPlan(t *testing.T) {
	from := testModel(t, 2)
	c := copied(t, from, "low/m1", "low/m2")
	donor := testDonor()
	p := layout.NewPlan(donor, "Other")
	p.Library = layout.Library{Donors: []*vehicles.Donor{donor}}
	other := testBox("tank", 0)
	p.Arrangements[0].Boxes = []*layout.Box{other}
	to := NewModel(layout.NewDocument(p, nil))
	made := pasted(t, to, c, "")
	if len(made) != 2 || to.Library().Module("block") == nil {
		t.Fatalf("made %v", made)
	}
	if at := to.Arrangement().Box("tank").Modules[0].At; at != (vehicles.XYZ{2, 2, 2}) {
		t.Errorf("the first one stands at %v, not in the corner inside the 2 mm walls", at)
	}
	if to.Scene().Body(made[1]) == nil {
		t.Error("the second one is not to be found")
	}
	_ = to.Undo()
	if to.Library().Module("block") != nil {
		t.Error("undo leaves the record")
	}
}

func TestPasteNeedsAClearBox(t *testing.T) {
	m := testModel(t, 1)
	c := copied(t, m, "low/m1")
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Remove(p, a, "low") }); err != nil {
		t.Fatal(err)
	}
	if _, _, err := c.Paste(m.Plan(), m.Library(), m.Arrangement().ID, ""); err == nil || !strings.Contains(err.Error(), "pick the box") {
		t.Errorf("the error is %v", err)
	}
}

func TestPasteSurvey(t *testing.T) {
	m := testModel(t, 0)
	c := copied(t, m, "mid")
	made := pasted(t, m, c, "")
	if b := m.Arrangement().Bay(made[0]); len(made) != 1 || b == nil || b.Levels[0].Outline[0][0] != 2510 {
		t.Errorf("made %v", made)
	}
}

// A keep-out of a bay that is copied goes along with it, and does not come a second time on its own.
func TestPasteABayWithItsKeepOut(t *testing.T) {
	m := testModel(t, 0)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) {
		bay := p.Arrangement(a).Bays[0]
		bay.KeepOuts = []vehicles.KeepOut{{ID: "post", Name: "post", Kind: "fixed", Outline: square(900, 0, 1000, 100), FloorMM: 250, CeilingMM: 400}}
		return layout.PutBay(p, a, bay)
	}); err != nil {
		t.Fatal(err)
	}
	c := copied(t, m, "mid", "post")
	if c.Words() != "1 bay" {
		t.Errorf("%s are copied", c.Words())
	}
	pasted(t, m, c, "")
	if a := m.Arrangement(); len(a.Bays) != 2 || len(a.Bays[1].KeepOuts) != 1 || len(a.KeepOuts) != 0 {
		t.Errorf("%d bays, %d keep-outs outside them", len(a.Bays), len(a.KeepOuts))
	}
}

func TestOtherTextIsNotAClip(t *testing.T) {
	for _, s := range []string{"", "hello", "stowbay_copy: 1\nboxes: 3\n", "stowbay_copy: 9\n"} {
		if _, err := ReadClip(s); err == nil {
			t.Errorf("%q is taken for a copy", s)
		}
	}
	if _, err := testModel(t, 0).Copy([]string{"nothing"}); err == nil {
		t.Error("nothing was copied without an error")
	}
}
