package check_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowbay/internal/inputs"
	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// sessionEdits is how many random edits a run makes at least: 400, or what STOWBAY_EDITS says.
func sessionEdits() int { return inputs.Count("STOWBAY_EDITS", 400) }

// live is a document with the evaluation that follows its edits as the desktop does: each takes over from the one before.
type live struct {
	doc  *layout.Document
	at   int // arrangement that is looked at
	eval *check.Evaluation
}

func newLive(t interface{ Fatal(...any) }) *live {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	l := &live{doc: layout.NewDocument(p, vehicles.Catalogue())}
	l.follow()
	return l
}

func (l *live) arrangement() *layout.Arrangement { return l.doc.Plan().Arrangements[l.at] }

func (l *live) follow() {
	l.eval = check.Evaluate(l.doc.Plan(), l.arrangement(), l.doc.Library(), l.eval)
}

func (l *live) fresh() *check.Evaluation {
	return check.Evaluate(l.doc.Plan(), l.arrangement(), l.doc.Library(), nil)
}

// differ says where the readings and findings of two evaluations are not the same to the last bit; "" where they are.
func differ(a, b *check.Evaluation) string {
	opts := gocmp.Options{
		gocmp.FilterPath(func(p gocmp.Path) bool { return p.Last().String() == ".Why" }, gocmp.Comparer(func(x, y func() layout.Why) bool {
			return (x == nil) == (y == nil)
		})),
		gocmp.Comparer(func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }),
	}
	if d := gocmp.Diff(a.Readings, b.Readings, opts); d != "" {
		return "readings:\n" + d
	}
	if d := gocmp.Diff(a.Findings, b.Findings, opts); d != "" {
		return "findings:\n" + d
	}
	return ""
}

// edit draws a random edit; it may be refused.
func (l *live) edit(t *rapid.T) (layout.Edit, error) {
	p, a, lib := l.doc.Plan(), l.arrangement(), l.doc.Library()
	mm := rapid.IntRange(-60, 60)
	delta := r3.Vector{X: float64(mm.Draw(t, "dx")) / 7, Y: float64(mm.Draw(t, "dy")) / 3, Z: float64(mm.Draw(t, "dz")) / 30}
	ids := someOf(t, a)
	if len(ids) == 0 || len(a.Boxes) == 0 {
		return layout.Together("nothing"), nil
	}
	box := rapid.SampledFrom(a.Boxes).Draw(t, "box")
	switch rapid.IntRange(0, 13).Draw(t, "kind") {
	case 0, 1, 2, 3:
		return layout.Move(p, a.ID, ids, delta)
	case 4:
		return layout.Turn(p, lib, a.ID, ids, float64(90*rapid.IntRange(-1, 2).Draw(t, "quarters")))
	case 5:
		return layout.SetPosture(p, lib, a.ID, ids, rapid.SampledFrom([]vehicles.Posture{"flat", "side", "end"}).Draw(t, "posture"))
	case 6:
		return layout.Remove(p, a.ID, ids[0])
	case 7:
		c := *box
		c.ID = layout.FreshID("box", a.Taken)
		c.At = vehicles.XYZ{c.At[0] + 900, c.At[1], c.At[2]}
		if len(a.Boxes) > 4 {
			return layout.Remove(p, a.ID, box.ID)
		}
		return layout.PutBox(p, a.ID, &c)
	case 8:
		return layout.PutSplit(p, a.ID, rapid.IntRange(0, 16).Draw(t, "series"), rapid.IntRange(0, 3).Draw(t, "parallel"))
	case 9:
		s := p.Settings
		s.Mass.OccupantKg = float64(rapid.IntRange(0, 150).Draw(t, "kg"))
		s.Electric.ContinuousA = float64(rapid.IntRange(0, 200).Draw(t, "A"))
		return layout.PutSettings(p, s)
	case 10:
		return layout.PutStrings(p, a.ID, nil)
	case 11:
		return layout.RenameBox(p, a.ID, box.ID, layout.FreshID("renamed", a.Taken))
	case 12:
		return layout.PutKeepOut(p, a.ID, vehicles.KeepOut{ID: "k", Name: "k", Kind: "fixed", Outline: outline(0, 0, 1+float64(rapid.IntRange(0, 2500).Draw(t, "length")), 0, 10, 50), CeilingMM: 400})
	}
	return layout.ChangeBox(p, a.ID, box.ID, "Wall", func(b *layout.Box) error {
		b.Shell.WallMM = float64(rapid.IntRange(1, 5).Draw(t, "wall"))
		return nil
	})
}

func someOf(t *rapid.T, a *layout.Arrangement) []string {
	var all []string
	for _, b := range a.Boxes {
		all = append(all, b.ID)
		for _, m := range b.Modules {
			all = append(all, b.ID+"/"+m.ID)
		}
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
	return rapid.SliceOfNDistinct(rapid.SampledFrom(all), 1, min(3, len(all)), rapid.ID[string]).Draw(t, "ids")
}

func (l *live) step(t *rapid.T) {
	switch rapid.IntRange(0, 11).Draw(t, "action") {
	case 0, 1:
		if l.doc.CanUndo() {
			must(t, l.doc.Undo())
		}
	case 2:
		if l.doc.CanRedo() {
			must(t, l.doc.Redo())
		}
	case 3:
		l.doc.BeginGesture("Drag")
		for range rapid.IntRange(1, 3).Draw(t, "moves") {
			l.do(t)
			l.follow()
		}
		if rapid.Bool().Draw(t, "cancelled") {
			l.doc.CancelGesture()
		} else {
			l.doc.EndGesture()
		}
	case 4:
		if rapid.IntRange(0, 3).Draw(t, "other arrangement") == 0 {
			l.at = 1 - l.at
		}
	default:
		l.do(t)
	}
	l.follow()
}

func (l *live) do(t *rapid.T) {
	if e, err := l.edit(t); err == nil {
		_ = l.doc.Do(e) // edits that would spoil the plan are refused
	}
}

func must(t *rapid.T, err error) {
	if err != nil {
		t.Fatal(err)
	}
}

// Whatever was edited, undone and redone on the way: the readings and findings that followed it are those of a fresh
// evaluation, to the last bit, and after everything is undone those of the start.
func TestFollowingEditsIsAFreshEvaluation(t *testing.T) {
	steps := 20
	if sessionEdits() >= 10_000 {
		steps = 1000 // a day's work
	}
	sessions := (sessionEdits() + steps - 1) / steps
	passed := 0
	for n := 1; passed < sessions; n++ { // rapid checks a hundred a time, more than may be wanted
		t.Run(fmt.Sprint(n), rapid.MakeCheck(func(t *rapid.T) {
			if passed >= sessions {
				return
			}
			l := newLive(t)
			start := l.eval
			for i := range steps {
				l.step(t)
				if i%50 == 10 || i == steps-1 {
					if d := differ(l.fresh(), l.eval); d != "" {
						t.Fatalf("after step %d: %s", i, d)
					}
				}
			}
			must(t, l.doc.JumpTo(0))
			l.at = 0
			l.follow()
			if d := differ(start, l.eval); d != "" {
				t.Fatalf("everything undone: %s", d)
			}
			passed++
		}))
		if t.Failed() {
			return
		}
	}
}

// Edits of different things give the same readings and findings in whatever order they are made.
func TestOrderOfEditsDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 12 {
		edits := oneOfEach(t, r)
		order := r.Perm(len(edits))
		straight, shuffled := newLive(t), newLive(t)
		for i := range edits {
			straight.make(t, edits[i])
			shuffled.make(t, edits[order[i]])
		}
		if d := differ(straight.eval, shuffled.eval); d != "" {
			t.Fatalf("order %v: %s", order, d)
		}
	}
}

type makeEdit func(*layout.Plan) (layout.Edit, error)

// oneOfEach are edits of the demonstration's first arrangement that do not touch the same thing.
func oneOfEach(t *testing.T, r *rand.Rand) []makeEdit {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	a := p.Arrangements[0]
	var out []makeEdit
	for _, b := range a.Boxes {
		by := r3.Vector{X: float64(r.IntN(80)-40) / 7, Y: float64(r.IntN(80)-40) / 3}
		one := []string{b.ID + "/" + b.Modules[0].ID}
		out = append(out, func(p *layout.Plan) (layout.Edit, error) { return layout.Move(p, a.ID, one, by) })
	}
	series := 1 + r.IntN(14)
	return append(out, func(p *layout.Plan) (layout.Edit, error) { return layout.PutSplit(p, a.ID, series, 1) })
}

func (l *live) make(t *testing.T, edit makeEdit) {
	e, err := edit(l.doc.Plan())
	if err == nil {
		err = l.doc.Do(e)
	}
	if err != nil {
		t.Fatal(err)
	}
	l.follow()
}

// Findings come gravest first, and equal ones in the order of the table: nothing in their order hangs on chance.
func TestEvaluatingTwiceGivesTheSame(t *testing.T) {
	l := newLive(t)
	for range 5 {
		if d := differ(l.fresh(), l.fresh()); d != "" {
			t.Fatal(d)
		}
	}
	rank := map[check.Severity]int{check.Fails: 0, check.Warns: 1, check.Notes: 2, check.Passes: 3}
	if !slices.IsSortedFunc(l.eval.Findings, func(a, b check.Finding) int { return cmp.Compare(rank[a.Severity], rank[b.Severity]) }) {
		t.Error("findings are not gravest first")
	}
}
