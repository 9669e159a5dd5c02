package drawing

import (
	"github.com/golang/geo/r2"

	"stowbay/geometry"
)

// Shifted returns the list moved by d, its items copied.
func (l *List) Shifted(d r2.Point) *List {
	out := &List{Title: l.Title, Bounds: shiftedRect(l.Bounds, d), Items: make([]Item, len(l.Items))}
	for i, it := range l.Items {
		out.Items[i] = mapped(it, func(q r2.Point) r2.Point { return q.Add(d) }, 1)
	}
	return out
}

// Scaled returns the list k times as large about the origin, texts sized in millimetres and offsets too.
func (l *List) Scaled(k float64) *List {
	out := &List{Title: l.Title, Bounds: l.Bounds, Items: make([]Item, len(l.Items))}
	if !l.Bounds.IsEmpty() {
		out.Bounds = r2.RectFromPoints(l.Bounds.Lo().Mul(k), l.Bounds.Hi().Mul(k))
	}
	for i, it := range l.Items {
		out.Items[i] = mapped(it, func(q r2.Point) r2.Point { return q.Mul(k) }, k)
	}
	return out
}

func shiftedRect(r r2.Rect, d r2.Point) r2.Rect {
	if r.IsEmpty() {
		return r
	}
	return r2.RectFromPoints(r.Lo().Add(d), r.Hi().Add(d))
}

// mapped copies an item with its places moved by f and its lengths k times as long.
func mapped(it Item, f func(r2.Point) r2.Point, k float64) Item {
	switch v := it.(type) {
	case Fill:
		v.Area = mappedArea(v.Area, f)
		return v
	case Stroke:
		v.Points = mappedPoints(v.Points, f)
		v.Centre, v.Radius = f(v.Centre), k*v.Radius
		return v
	case Hatch:
		v.Area = mappedArea(v.Area, f)
		return v
	case Text:
		v.At, v.InMM = f(v.At), k*v.InMM
		return v
	case Dimension:
		if v.S == "" {
			v.S = length(v.B.Sub(v.A).Norm(), false)
		}
		v.A, v.B, v.Offset = f(v.A), f(v.B), k*v.Offset
		return v
	}
	return it
}

func mappedPoints(ps []r2.Point, f func(r2.Point) r2.Point) []r2.Point {
	out := make([]r2.Point, len(ps))
	for i, q := range ps {
		out[i] = f(q)
	}
	return out
}

func mappedArea(a geometry.Polygon, f func(r2.Point) r2.Point) geometry.Polygon {
	out := geometry.Polygon{Outer: mappedPoints(a.Outer, f)}
	for _, h := range a.Holes {
		out.Holes = append(out.Holes, mappedPoints(h, f))
	}
	return out
}

// add takes over the items and the extent of another list.
func (l *List) add(m *List) {
	l.Items = append(l.Items, m.Items...)
	l.Bounds = l.Bounds.Union(m.Bounds)
}
