package drawing

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
)

// axoBody is a solid to be painted in its turn.
type axoBody struct {
	prism geometry.Prism
	seen  r2.Rect
	paint func()
}

// farToNear orders solids so that none is painted before one that it hides: each waits for those that it can
// hide and that overlap it as seen. Solids that no plane along the axes parts, and rings of solids that each
// hide the next, fall back to the depth of their middles.
func (a *axo) farToNear(bs []axoBody) []axoBody {
	slices.SortStableFunc(bs, func(p, q axoBody) int { return cmp.Compare(a.depth(p.prism), a.depth(q.prism)) })
	n := len(bs)
	waits := make([]int, n) // how many have to be painted before
	frees := make([][]int, n)
	for i := range bs {
		for j := range bs {
			if i != j && bs[i].seen.InteriorIntersects(bs[j].seen) && a.before(bs[i].prism, bs[j].prism) {
				waits[j]++
				frees[i] = append(frees[i], j)
			}
		}
	}
	return ordered(bs, waits, frees)
}

// before tells whether p has to be painted before q.
func (a *axo) before(p, q geometry.Prism) bool {
	over, _ := a.hides(q, p)
	back, _ := a.hides(p, q)
	return over && !back
}

// ordered paints next, time after time, the farthest solid that waits for no other.
func ordered(bs []axoBody, waits []int, frees [][]int) []axoBody {
	out := make([]axoBody, 0, len(bs))
	done := make([]bool, len(bs))
	for len(out) < len(bs) {
		k := next(done, waits)
		done[k] = true
		out = append(out, bs[k])
		for _, j := range frees[k] {
			waits[j]--
		}
	}
	return out
}

func next(done []bool, waits []int) int {
	first := -1
	for i := range done {
		if done[i] {
			continue
		}
		if waits[i] <= 0 {
			return i
		}
		if first < 0 {
			first = i
		}
	}
	return first
}

// bodies paints boxes and gear from far to near.
func (a *axo) bodies(s *layout.Scene) {
	var all []axoBody
	for _, b := range s.Boxes {
		if len(b.Outer.Solids) > 0 {
			all = append(all, a.body(around3(b.Outer), func() { a.box(b) }))
		}
	}
	if a.p.o.on(LayerGear) {
		for _, g := range s.Gear {
			all = append(all, a.body(g.Prism, func() { a.solid(a.p.tag(RoleGear, g.ID), g.Prism) }))
		}
	}
	for _, b := range a.farToNear(all) {
		b.paint()
	}
}

func (a *axo) body(q geometry.Prism, paint func()) axoBody {
	r := r2.EmptyRect()
	for _, z := range []float64{q.Bottom, q.Top} {
		for _, c := range a.level(q.Base.Outer, z) {
			r = r.AddPoint(c)
		}
	}
	return axoBody{q, r, paint}
}

// around3 is the block around a space.
func around3(s geometry.Space) geometry.Prism {
	lo, hi := s.Bounds()
	return geometry.NewBox(lo, hi)
}

// box paints a box: floor and far walls, what is in it, its near edges.
func (a *axo) box(b *layout.BoxScene) {
	t := a.p.tag(RoleBox, b.Box.ID)
	if a.p.o.on(LayerBoxes) {
		a.farWalls(t, b.Outer)
	}
	var all []axoBody
	if a.p.o.on(LayerModules) {
		for _, m := range b.Modules {
			all = append(all, a.body(m.Prism, func() { a.module(m) }))
		}
	}
	if a.p.o.on(LayerGear) {
		for _, g := range b.Gear {
			all = append(all, a.body(g.Prism, func() { a.solid(a.p.tag(RoleGear, g.ID), g.Prism) }))
		}
	}
	for _, q := range a.farToNear(all) {
		q.paint()
	}
	if a.p.o.on(LayerBoxes) {
		a.nearEdges(t, b.Outer)
	}
}

func (a *axo) module(m *layout.Body) {
	t := a.p.tag(RoleModule, m.ID)
	a.solid(t, m.Prism)
	if a.towards.Z > 0 {
		top := geometry.Polygon{Outer: a.level(m.Prism.Base.Outer, m.Prism.Top)}
		if t.Mark&Breached != 0 {
			a.p.hatch(Tag{Role: RoleBreach, Ref: t.Ref, Mark: t.Mark}, top, Hatch{Deg: 45, PitchPt: 8, Cross: true})
		} else if t.Mark&Warned != 0 {
			a.p.hatch(Tag{Role: RoleWarning, Ref: t.Ref, Mark: t.Mark}, top, Hatch{Deg: 45, PitchPt: 10})
		}
	}
	a.number(t, m)
}

func (a *axo) farWalls(t Tag, s geometry.Space) {
	for _, q := range s.Solids {
		for _, f := range a.faces(q) {
			if f.facing < -1e-9 {
				a.p.fill(t, geometry.Polygon{Outer: f.ring})
				a.p.reach(f.ring...)
				a.p.items = append(a.p.items, Stroke{Of: t, Points: f.ring, Closed: true, Pt: farPt(s)})
			}
		}
	}
}

// farPt is the width of a box's far edges in points: finer where the box is of several levels, whose inner edges
// are drawn too; 0 for the role's.
func farPt(s geometry.Space) float64 {
	if len(s.Solids) > 1 {
		return 0.5
	}
	return 0
}

func (a *axo) nearEdges(t Tag, s geometry.Space) {
	for _, q := range s.Solids {
		for _, f := range a.faces(q) {
			if f.facing > 1e-9 {
				a.p.reach(f.ring...)
				a.p.items = append(a.p.items, Stroke{Of: t, Points: f.ring, Closed: true, Pt: 0.6})
			}
		}
	}
}
