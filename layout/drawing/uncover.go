package drawing

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
)

// uncover moves numbers of modules and names of gear from under symbols that are to be drawn over them to where they are seen,
// within what they name; one that finds no such place is left out.
func (p *pen) uncover(s *layout.Scene, symbols []r2.Rect) {
	for i := 0; i < len(p.items); i++ {
		if t, ok := p.items[i].(Text); !ok || t.Of.Role != RoleLabel || clearOf(symbols, t.extent()) {
			continue
		}
		first, after := p.sameThing(i)
		if d, ok := p.shiftOff(s, p.items[first:after], symbols); ok {
			p.moveTexts(first, after, d)
			i = after - 1
			continue
		}
		p.items = slices.Delete(p.items, first, after)
		i = first - 1
	}
}

// sameThing is the run of texts about an item that name the same thing.
func (p *pen) sameThing(i int) (first, after int) {
	ref := p.items[i].Tag().Ref
	same := func(k int) bool {
		t, ok := p.items[k].(Text)
		return ok && t.Of.Ref == ref
	}
	for first = i; first > 0 && same(first-1); first-- {
	}
	for after = i + 1; after < len(p.items) && same(after); after++ {
	}
	return first, after
}

// shiftOff is the least move along an axis that brings texts off symbols and leaves them within what they name.
func (p *pen) shiftOff(s *layout.Scene, texts []Item, symbols []r2.Rect) (least r2.Point, ok bool) {
	body := p.bodyExtent(s, texts[0].Tag().Ref)
	whole := r2.EmptyRect()
	for _, it := range texts {
		whole = whole.Union(it.(Text).extent())
	}
	best := math.Inf(1)
	for _, q := range symbols {
		for _, d := range []r2.Point{pt(q.X.Hi-whole.X.Lo+1, 0), pt(q.X.Lo-whole.X.Hi-1, 0), pt(0, q.Y.Hi-whole.Y.Lo+1), pt(0, q.Y.Lo-whole.Y.Hi-1)} {
			if r := moved(whole, d); d.Norm() < best && body.Contains(r) && clearOf(symbols, r) {
				least, best, ok = d, d.Norm(), true
			}
		}
	}
	return least, ok
}

func moved(r r2.Rect, d r2.Point) r2.Rect { return r2.RectFromPoints(r.Lo().Add(d), r.Hi().Add(d)) }

func (p *pen) moveTexts(first, after int, d r2.Point) {
	for i := first; i < after; i++ {
		t := p.items[i].(Text)
		t.At = t.At.Add(d)
		p.items[i] = t
	}
}

// bodyExtent is what the module or gear with a reference covers in the view.
func (p *pen) bodyExtent(s *layout.Scene, of string) r2.Rect {
	out := r2.EmptyRect()
	eachBody(s, func(_ Layer, ref string, b *geometry.Prism) {
		if ref == of {
			out = p.prismExtent(*b)
		}
	})
	return out
}

// eachBody calls f with the layer, the reference and the body of each module and each piece of gear.
func eachBody(s *layout.Scene, f func(l Layer, ref string, b *geometry.Prism)) {
	for _, b := range s.Boxes {
		for _, m := range b.Modules {
			f(LayerModules, m.ID, &m.Prism)
		}
		for _, g := range b.Gear {
			f(LayerGear, g.ID, &g.Prism)
		}
	}
	for _, g := range s.Gear {
		f(LayerGear, g.ID, &g.Prism)
	}
}
