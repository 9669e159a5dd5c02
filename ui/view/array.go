package view

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
)

// MostInArray bounds how many things one array may put in.
const MostInArray = 2000

// ArrayWish is rows and columns as they are asked for: along the vehicle, across it and upward. The things picked are the
// first of each row.
type ArrayWish struct {
	Count [3]int     // from 1
	GapMM [3]float64 // between one and the next; below 0 they overlap
	Back  [3]bool    // to the front, to the left, downward
}

// Array repeats what is picked in rows and columns. What is asked for is shown as it would be, and is put into the plan
// when it is confirmed.
type Array struct {
	still
	m    *Model
	refs []string
	size r3.Vector // of what is picked, mm, as it is when a wish is shown
	wish ArrayWish
	made []string // the references that the copies shown have, in their order
	only bool     // copies that do not fit are left out
	asks bool     // to be confirmed as soon as it is known what fits
	busy bool     // something of it is being shown or hidden
	over bool     // confirmed or given up
}

// NewArray returns the tool that repeats what is picked, and a wish to begin with: two along the vehicle, with the gaps
// that their makers ask for. It leaves out copies that do not fit. It is an error where nothing is picked that can be
// repeated.
func NewArray(m *Model) (*Array, ArrayWish, error) {
	t := &Array{m: m, refs: m.repeatable(), only: true}
	if len(t.refs) == 0 {
		return nil, ArrayWish{}, errors.New("pick modules, gear or boxes first: they can be repeated in rows and columns")
	}
	return t, ArrayWish{Count: [3]int{2, 1, 1}, GapMM: m.ownGaps(t.refs[0])}, nil
}

// repeatable are the boxes, modules and gear picked.
func (m *Model) repeatable() []string {
	a := m.Arrangement()
	return slices.DeleteFunc(m.Selection.Refs(), func(ref string) bool {
		box, _ := Split(ref)
		return !a.Taken(box) || len(m.ghosts([]string{ref})) == 0
	})
}

// extent is what bodies cover.
func extent(bodies []drawing.GhostPrism) (lo, hi r3.Vector) {
	all, low, high := r2.EmptyRect(), math.Inf(1), math.Inf(-1)
	for _, g := range bodies {
		all = all.Union(g.Prism.Base.Bounds())
		low, high = min(low, g.Prism.Bottom), max(high, g.Prism.Top)
	}
	return r3.Vector{X: all.X.Lo, Y: all.Y.Lo, Z: low}, r3.Vector{X: all.X.Hi, Y: all.Y.Hi, Z: high}
}

// ownGaps are the gaps along the vehicle's axes that a module keeps to others of its kind; none for other things.
func (m *Model) ownGaps(ref string) [3]float64 {
	body := m.scene.Body(ref)
	if body == nil {
		return [3]float64{}
	}
	g := layout.GapsOf(body.Module, body.Pose)
	x, y := gapBetween(g.Between.X, g.Between.X, g.Swell.X, g.Swell.X), gapBetween(g.Between.Y, g.Between.Y, g.Swell.Y, g.Swell.Y)
	box, _ := Split(ref)
	if b := m.scene.Box(box); b != nil && math.Mod(b.Box.TurnDeg, 180) != 0 {
		x, y = y, x
	}
	return [3]float64{x, y, gapBetween(g.Between.Z, g.Between.Z, g.Swell.Z, g.Swell.Z)}
}

// Name implements [Tool].
func (t *Array) Name() string { return "Rows and columns" }

// Hint implements [Tool].
func (t *Array) Hint() string {
	return "Type counts and gaps at the left. Return puts them in; Esc leaves everything as it is."
}

// Press implements [Tool].
func (t *Array) Press(Pointer) {}

// Move implements [Tool].
func (t *Array) Move(Pointer, bool) {}

// Set shows what a wish would put in.
func (t *Array) Set(w ArrayWish) error {
	if t.over {
		return nil
	}
	t.busy, t.asks = true, false
	lo, hi := extent(t.m.ghosts(t.refs))
	t.size = hi.Sub(lo)
	err := t.possible(w)
	if err == nil {
		t.wish = w
		err = t.m.Preview(t.put(t.copies()))
	}
	if err != nil {
		t.Hide()
	}
	t.m.tell(TheView)
	t.busy = false
	return err
}

// Hide shows the plan as it is, while what is asked for cannot be read.
func (t *Array) Hide() {
	was := t.busy
	t.busy, t.made = true, nil
	t.m.Drop()
	t.busy = was
}

// Again shows the wish again after something else changed the plan, and tells whether it still can. While the array itself
// has the plan shown again it does nothing.
func (t *Array) Again() bool {
	gone := func(ref string) bool { return !t.m.exists(ref) }
	return t.busy || !t.over && !slices.ContainsFunc(t.refs, gone) && t.Set(t.wish) == nil
}

// possible says why a wish cannot be shown.
func (t *Array) possible(w ArrayWish) error {
	total := len(t.refs)
	for i, n := range w.Count {
		if n < 1 {
			return errors.New("counts are whole numbers from 1 on")
		}
		if gap := w.GapMM[i]; n > 1 && gap <= -t.axis(i) {
			return fmt.Errorf("a gap of %s puts them into each other's place; it has to be above %s",
				t.m.Units().Text(gap, "mm"), t.m.Units().Text(-t.axis(i), "mm"))
		}
		if total *= min(n, MostInArray+1); total > MostInArray {
			return fmt.Errorf("these are too many at once; %d at most", MostInArray)
		}
	}
	return nil
}

// axis is how large what is picked is along an axis.
func (t *Array) axis(i int) float64 { return [3]float64{t.size.X, t.size.Y, t.size.Z}[i] }

// shifts are where the copies go from what is picked.
func (t *Array) shifts() []r3.Vector {
	var pitch [3]float64
	for i := range pitch {
		pitch[i] = t.axis(i) + t.wish.GapMM[i]
		if t.wish.Back[i] {
			pitch[i] = -pitch[i]
		}
	}
	n := t.wish.Count
	return Rows(n[0], n[1], n[2], r3.Vector{X: pitch[0], Y: pitch[1], Z: pitch[2]})
}

// copies are all that is asked for.
func (t *Array) copies() []Copy { return CopiesOf(t.refs, t.shifts()) }

// fitting are the copies that are left where those that do not fit are left out.
func (t *Array) fitting() []Copy {
	bad := t.Misfits()
	var out []Copy
	for i, c := range t.copies() {
		if len(bad[t.made[i]]) == 0 {
			out = append(out, c)
		}
	}
	return out
}

// put is the edit that puts in copies.
func (t *Array) put(copies []Copy) Act {
	return func(p *layout.Plan, a string) (e layout.Edit, err error) {
		e, t.made, err = Copies(p, t.m.Library(), a, "Rows and columns of "+t.m.Things(t.refs), copies)
		return e, err
	}
}

// Only reports whether copies that do not fit are left out.
func (t *Array) Only() bool { return t.only }

// SetOnly says whether copies that do not fit are left out.
func (t *Array) SetOnly(on bool) { t.only = on }

// Ready reports whether there is something to put in, as far as it is known what fits.
func (t *Array) Ready() bool {
	if t.over || !t.m.preview || len(t.made) == 0 {
		return false
	}
	return !t.only || !t.Current() || len(t.Misfits()) < len(t.made)
}

// Asked reports whether it was confirmed before it was known what fits, which is known now.
func (t *Array) Asked() bool { return t.asks && t.Current() }

// Current reports whether the findings shown are those of the wish shown.
func (t *Array) Current() bool { return t.m.preview && t.m.eval.Plan == t.m.plan }

// Misfits are the findings of rules of fit and place that fail by each copy shown that does not fit.
func (t *Array) Misfits() map[string][]check.Finding {
	out := map[string][]check.Finding{}
	shown := map[string]bool{}
	for _, ref := range t.made {
		shown[ref] = true
	}
	for _, f := range t.m.eval.Findings {
		if f.Severity != check.Fails || !strings.HasPrefix(f.Rule, "fit.") && !strings.HasPrefix(f.Rule, "place.") {
			continue
		}
		for _, ref := range f.Refs {
			if shown[ref] {
				out[ref] = append(out[ref], f)
			}
		}
	}
	return out
}

// mostReasons bounds the reasons that [Array.Lines] gives.
const mostReasons = 3

// Lines say how many of the copies shown fit, and why the others do not.
func (t *Array) Lines() []string {
	n := len(t.made)
	switch {
	case n == 0:
		return []string{"Nothing to put in yet: one row of one is what is there."}
	case !t.Current():
		return []string{fmt.Sprintf("%d more; looking whether they fit …", n)}
	}
	bad := t.Misfits()
	if len(bad) == 0 {
		return []string{fmt.Sprintf("%d more: all of them fit.", n)}
	}
	out := []string{fmt.Sprintf("%d more: %d fit, %d would not. Those are crossed out in the views%s.", n, n-len(bad), len(bad), t.fate())}
	if len(bad) == n {
		out[0] = fmt.Sprintf("%d more: none of them fits. They are crossed out in the views%s.", n, t.fate())
	}
	for _, ref := range t.made {
		if fs := bad[ref]; len(fs) > 0 && len(out) <= mostReasons {
			out = append(out, t.m.Units().Prose(fs[0].Text))
		}
	}
	return out
}

// fate says what becomes of copies that do not fit.
func (t *Array) fate() string {
	if t.only {
		return " and left out"
	}
	return ""
}

// Enter puts the copies into the plan as one step and picks them. While it is not known yet what fits and the rest is to be
// left out, it only notes that this was asked; see [Array.Asked].
func (t *Array) Enter() error {
	if !t.Ready() {
		return nil
	}
	copies := t.copies()
	if t.only {
		if !t.Current() {
			t.asks = true
			return nil
		}
		copies = t.fitting()
	}
	t.over = true
	err := t.m.Do(t.put(copies))
	if err == nil {
		t.m.Pick(t.made...)
	}
	t.m.SetTool(NewSelect(t.m))
	return err
}

// Key implements [Tool].
func (t *Array) Key(name string) bool {
	if name != "Return" && name != "KP_Enter" {
		return false
	}
	_ = t.Enter()
	return true
}

// Cancel implements [Tool].
func (t *Array) Cancel() {
	t.over = true
	t.m.Drop()
}

// Over reports whether the copies were put in or given up.
func (t *Array) Over() bool { return t.over }

// ghostMarks marks the copies shown as not yet there.
func (t *Array) ghostMarks(out map[string]drawing.Mark) {
	if t.m.preview {
		for _, ref := range t.made {
			out[ref] |= drawing.Ghost
		}
	}
}

// Overlay implements [Tool]: the outline of each copy, those that do not fit crossed out.
func (t *Array) Overlay(v drawing.View) []drawing.Item {
	if !t.m.preview {
		return nil
	}
	bad := t.Misfits()
	var out []drawing.Item
	for _, g := range t.m.ghosts(t.made) {
		area, _ := shadow(v, g.Prism)
		if len(bad[g.Ref]) == 0 {
			out = append(out, drawing.Stroke{Of: tag(RoleComing), Points: area, Closed: true})
			continue
		}
		out = append(out, crossedOut(area)...)
	}
	return out
}

// crossedOut is an outline with a cross over it.
func crossedOut(area geometry.Ring) []drawing.Item {
	t, r := tag(drawing.RoleBreach), area.Bounds()
	return []drawing.Item{
		drawing.Stroke{Of: t, Points: area, Closed: true},
		drawing.Stroke{Of: t, Points: []r2.Point{r.Lo(), r.Hi()}},
		drawing.Stroke{Of: t, Points: []r2.Point{{X: r.X.Lo, Y: r.Y.Hi}, {X: r.X.Hi, Y: r.Y.Lo}}},
	}
}
