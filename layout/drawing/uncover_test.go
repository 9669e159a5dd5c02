package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/layout"
)

// bodies is a scene of modules alone, by their places in plan.
func bodies(at map[string]r2.Rect) *layout.Scene {
	b := &layout.BoxScene{}
	for ref, r := range at {
		b.Modules = append(b.Modules, &layout.Body{ID: ref, Prism: geometry.Prism{Base: geometry.NewRect(r.X.Lo, r.Y.Lo, r.X.Hi, r.Y.Hi), Top: 100}})
	}
	return &layout.Scene{Boxes: []*layout.BoxScene{b}}
}

// numbered is a pen that has set numbers of 40 mm at places, by reference; of texts with the same reference in a row one stands
// under the other.
func numbered(set ...Text) *pen {
	p := newPen(PlanView, &Options{})
	for _, x := range set {
		x.Of.Role, x.InMM = RoleLabel, 40
		p.items = append(p.items, x)
	}
	return p
}

// What is moved off a symbol goes along an axis, 1 mm farther than it has to, and no shorter way along an axis would do: by trying
// all in steps of a quarter of a millimetre.
func TestNumbersMoveNoFartherThanNeeded(t *testing.T) {
	body := r2.RectFromPoints(pt(0, 0), pt(355, 152))
	s := bodies(map[string]r2.Rect{"b/1": body})
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) }
		symbols := []r2.Rect{r2.RectFromCenterSize(pt(draw("x", 60, 300), draw("y", 20, 130)), pt(draw("w", 20, 200), draw("h", 20, 140)))}
		if rapid.Bool().Draw(t, "two") {
			symbols = append(symbols, r2.RectFromCenterSize(pt(draw("x2", 60, 300), draw("y2", 20, 130)), pt(60, 60)))
		}
		p := numbered(Text{Of: Tag{Ref: "b/1"}, At: body.Center(), S: "12"})
		r := p.items[0].(Text).extent()
		least, wide := leastMove(body, r, symbols, 0), leastMove(body, r, symbols, 0.999)
		d, found := p.shiftOff(s, p.items, symbols)
		switch {
		case !found && wide < math.Inf(1):
			t.Fatalf("no way off %v though %g mm would do", symbols, wide)
		case found && (d.X != 0 && d.Y != 0 || !body.Contains(moved(r, d)) || !clearOf(symbols, moved(r, d))):
			t.Fatalf("off %v by %v", symbols, d)
		case found && least > 0 && (d.Norm() < least-0.25 || d.Norm() > wide+0.26 || d.Norm() < 1):
			t.Fatalf("off %v by %v, %g mm would do, %g to keep a millimetre off", symbols, d, least, wide)
		}
	})
}

// leastMove is how far a text has to go along an axis to keep so far off symbols and stay within its body, to a quarter of a millimetre.
func leastMove(body, r r2.Rect, symbols []r2.Rect, off float64) float64 {
	var wide []r2.Rect
	for _, q := range symbols {
		wide = append(wide, q.ExpandedByMargin(off))
	}
	for k := 0.0; k <= 400; k += 0.25 {
		for _, d := range []r2.Point{pt(k, 0), pt(-k, 0), pt(0, k), pt(0, -k)} {
			if body.Contains(moved(r, d)) && clearOf(wide, moved(r, d)) {
				return k
			}
		}
	}
	return math.Inf(1)
}

// Numbers one after the other: each goes off the symbol, is left out where its body has no room, or stays; what belongs to the same
// body goes together, and nothing else is touched.
func TestEachNumberUnderASymbolGoesAsideOrIsLeftOut(t *testing.T) {
	symbol := r2.RectFromCenterSize(pt(0, 0), pt(60, 60))
	large, small := r2.RectFromCenterSize(pt(0, 0), pt(400, 400)), r2.RectFromCenterSize(pt(0, 0), pt(90, 90))
	s := bodies(map[string]r2.Rect{"large": large, "wide": large, "small": small, "tiny": small, "far": r2.RectFromCenterSize(pt(900, 0), pt(90, 90))})
	at := map[string]r2.Point{"large": pt(0, 0), "wide": pt(5, 0), "small": pt(0, 0), "tiny": pt(4, 4), "far": pt(900, 0)}
	refs := []string{"large", "wide", "small", "tiny", "far"}
	rapid.Check(t, func(t *rapid.T) {
		var set []Text
		for _, ref := range rapid.Permutation(refs).Draw(t, "bodies")[:rapid.IntRange(1, 5).Draw(t, "of them")] {
			set = append(set, Text{Of: Tag{Ref: ref}, At: at[ref], S: "1"})
			if rapid.Bool().Draw(t, "with a word under it") {
				set = append(set, Text{Of: Tag{Ref: ref}, At: at[ref].Sub(pt(0, 30)), S: "2"})
			}
		}
		p := numbered(set...)
		var want []string
		for i, x := range set {
			first, after := p.sameThing(i)
			d, ok := p.shiftOff(s, p.items[first:after], []r2.Rect{symbol})
			covered := slices.ContainsFunc(p.items[first:after], func(it Item) bool { return !clearOf([]r2.Rect{symbol}, it.(Text).extent()) })
			switch {
			case !covered:
				want = append(want, fmt.Sprint(x.Of.Ref, x.S, x.At))
			case ok:
				want = append(want, fmt.Sprint(x.Of.Ref, x.S, x.At.Add(d)))
			}
		}
		p.uncover(s, []r2.Rect{symbol})
		var got []string
		for _, it := range p.items {
			x := it.(Text)
			got = append(got, fmt.Sprint(x.Of.Ref, x.S, x.At))
		}
		if strings.Join(got, " ") != strings.Join(want, " ") {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

// Texts in a row with one reference belong together; others, and what is no text, part them.
func TestTextsOfTheSameThing(t *testing.T) {
	p := numbered(Text{Of: Tag{Ref: "a"}}, Text{Of: Tag{Ref: "a"}}, Text{Of: Tag{Ref: "b"}}, Text{Of: Tag{Ref: "a"}}, Text{Of: Tag{Ref: "a"}}, Text{Of: Tag{Ref: "a"}})
	p.items = append(p.items, Stroke{Of: Tag{Ref: "a"}}, Text{Of: Tag{Ref: "a"}})
	for i, want := range [][2]int{{0, 2}, {0, 2}, {2, 3}, {3, 6}, {3, 6}, {3, 6}} {
		if first, after := p.sameThing(i); [2]int{first, after} != want {
			t.Errorf("text %d: %d to %d, want %v", i, first, after, want)
		}
	}
	if first, after := p.sameThing(7); first != 7 || after != 8 {
		t.Errorf("the last: %d to %d", first, after)
	}
}
