package view

import (
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
)

// Kind is the sort of thing that can be picked; a greater one lies above a smaller one under the pointer.
type Kind uint8

// The kinds, from the bottom up.
const (
	Nothing Kind = iota
	BayKind
	KeepOutKind
	BoxKind
	GearKind
	ModuleKind
	FootKind
)

// String returns the kind as a user would say it.
func (k Kind) String() string {
	return [...]string{"nothing", "bay", "keep-out", "box", "gear", "module", "foot"}[k]
}

// target is the shadow of a thing in a view's plane.
type target struct {
	ref   string
	kind  Kind
	area  geometry.Ring
	bound r2.Rect
	near  float64 // the larger, the nearer to the eye
}

// layerOf are the layers that things are on.
var layerOf = map[Kind]drawing.Layer{BayKind: drawing.LayerBays, KeepOutKind: drawing.LayerKeepOuts, BoxKind: drawing.LayerBoxes,
	GearKind: drawing.LayerGear, ModuleKind: drawing.LayerModules, FootKind: drawing.LayerFixings}

// Index finds what lies under a place in one view. It is made anew when the scene changes.
type Index struct {
	Off     drawing.Layer // layers that are hidden: nothing on them is found under a place
	targets []target      // top-most first
}

func (x *Index) hides(t *target) bool { return layerOf[t.kind]&x.Off != 0 }

// NewIndex returns the index of a scene's things in a view.
func NewIndex(s *layout.Scene, v drawing.View) *Index {
	x := &Index{}
	if s == nil {
		return x
	}
	x.targets = make([]target, 0, s.Count()+64)
	for i := range s.Bays {
		x.addSpace(v, s.Bays[i].Bay.ID, BayKind, s.Bays[i].Space)
	}
	for _, k := range s.KeepOuts {
		x.add(v, k.Ref, KeepOutKind, k.Prism)
	}
	for _, b := range s.Boxes {
		x.addBox(v, b)
	}
	for _, g := range s.Gear {
		x.add(v, g.ID, GearKind, g.Prism)
	}
	slices.SortStableFunc(x.targets, func(a, b target) int {
		if a.kind != b.kind && min(a.kind, b.kind) <= BoxKind {
			return int(b.kind) - int(a.kind)
		}
		switch {
		case a.near > b.near:
			return -1
		case a.near < b.near:
			return 1
		}
		return 0
	})
	return x
}

func (x *Index) addBox(v drawing.View, b *layout.BoxScene) {
	x.addSpace(v, b.Box.ID, BoxKind, b.Outer)
	for _, m := range b.Modules {
		x.add(v, m.ID, ModuleKind, m.Prism)
	}
	for _, g := range b.Gear {
		x.add(v, g.ID, GearKind, g.Prism)
	}
	for i := range b.Box.Feet {
		f := &b.Box.Feet[i]
		x.add(v, layout.FootRef(b.Box.ID, f.ID), FootKind, b.FootPlate(f))
	}
}

func (x *Index) addSpace(v drawing.View, ref string, kind Kind, s geometry.Space) {
	for _, p := range s.Solids {
		x.add(v, ref, kind, p)
	}
}

func (x *Index) add(v drawing.View, ref string, kind Kind, p geometry.Prism) {
	area, near := shadow(v, p)
	x.targets = append(x.targets, target{ref: ref, kind: kind, area: area, bound: area.Bounds(), near: near})
}

// shadow is a prism seen in a view: its outline and how near it is to the eye.
func shadow(v drawing.View, p geometry.Prism) (geometry.Ring, float64) {
	b := p.Base.Bounds()
	switch v {
	case drawing.SideView:
		return geometry.NewRect(b.X.Lo, p.Bottom, b.X.Hi, p.Top).Outer, -b.Y.Lo
	case drawing.RearView:
		return geometry.NewRect(b.Y.Lo, p.Bottom, b.Y.Hi, p.Top).Outer, b.X.Hi
	}
	return p.Base.Outer, p.Top
}

// At returns what lies under a place, top-most first, each thing once. slack in mm widens things that are too
// small to hit.
func (x *Index) At(p r2.Point, slack float64) []Hit {
	var out []Hit
	for i := range x.targets {
		t := &x.targets[i]
		if !x.hides(t) && t.holds(p, slack) && !slices.ContainsFunc(out, func(h Hit) bool { return h.Ref == t.ref && h.Kind == t.kind }) {
			out = append(out, Hit{t.ref, t.kind})
		}
	}
	return out
}

// Top returns the top-most thing under a place; its kind is Nothing where there is none.
func (x *Index) Top(p r2.Point, slack float64) Hit {
	for i := range x.targets {
		if t := &x.targets[i]; !x.hides(t) && t.holds(p, slack) {
			return Hit{t.ref, t.kind}
		}
	}
	return Hit{}
}

// Hit is a thing found.
type Hit struct {
	Ref  string
	Kind Kind
}

func (t *target) holds(p r2.Point, slack float64) bool {
	if size := t.bound.Size(); min(size.X, size.Y) > 4*slack {
		slack = 0
	}
	if !t.bound.ExpandedByMargin(slack).ContainsPoint(p) {
		return false
	}
	return slack > 0 || within(t.area, p)
}

// within reports whether a point lies inside a ring, by counting crossings. It decides what the pointer is on,
// never whether something fits.
func within(r geometry.Ring, p r2.Point) bool {
	in := false
	for i, b := range r {
		a := r[(i+len(r)-1)%len(r)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// In returns the modules and gear that lie wholly inside a rectangle; where there are none, the boxes that do.
func (x *Index) In(r r2.Rect) []string {
	var inner, boxes []string
	for i := range x.targets {
		t := &x.targets[i]
		if x.hides(t) || !r.Contains(t.bound) {
			continue
		}
		switch {
		case t.kind == GearKind || t.kind == ModuleKind:
			inner = append(inner, t.ref)
		case t.kind == BoxKind && !slices.Contains(boxes, t.ref):
			boxes = append(boxes, t.ref)
		}
	}
	if len(inner) > 0 {
		return inner
	}
	return boxes
}

// Bounds returns what a thing covers in the view; empty where there is no such thing.
func (x *Index) Bounds(ref string) r2.Rect {
	out := r2.EmptyRect()
	for i := range x.targets {
		if x.targets[i].ref == ref {
			out = out.Union(x.targets[i].bound)
		}
	}
	return out
}

// Kind returns what sort of thing a reference names.
func (x *Index) Kind(ref string) Kind {
	for i := range x.targets {
		if x.targets[i].ref == ref {
			return x.targets[i].kind
		}
	}
	return Nothing
}
