package drawing

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// pen collects the items of one list. Points come from slabs, so that a view of many modules costs few
// allocations.
type pen struct {
	v          View
	o          *Options
	items      []Item
	bounds     r2.Rect
	slab       []r2.Point
	taken      []r2.Rect // places of names already set
	lettered   []r2.Rect // places of other texts, which leaders may cross
	noted      []r2.Rect // those of what is said of places
	led        []lead    // leaders, which names keep off too
	wishes     []wish
	used       map[layerKey]*chunk
	sheet      *sheet // of a box's own drawing; nil in the vehicle's views
	shortLoads bool   // wheel loads without the wheels' names

	later []Text // numbers of a box's own drawing, set over its links
}

func newPen(v View, o *Options) *pen {
	return &pen{v: v, o: o, bounds: r2.EmptyRect(), items: make([]Item, 0, 256)}
}

// forView makes room for as many items as the view had before.
func (p *pen) forView() *pen {
	if c := p.o.Cache; c != nil {
		p.items = make([]Item, 0, max(256, c.lengths[p.v]+c.lengths[p.v]/16))
	}
	return p
}

func (p *pen) list(title string) *List {
	if p.o.Cache != nil {
		p.o.Cache.views[p.v], p.o.Cache.lengths[p.v] = p.used, len(p.items)
	}
	return &List{Title: title, Bounds: p.bounds, Items: p.items}
}

// room returns n fresh points.
func (p *pen) room(n int) []r2.Point {
	if len(p.slab) < n {
		p.slab = make([]r2.Point, max(n, 1024))
	}
	out := p.slab[:n:n]
	p.slab = p.slab[n:]
	return out
}

func (p *pen) reach(ps ...r2.Point) {
	for _, q := range ps {
		p.bounds = p.bounds.AddPoint(q)
	}
}

func (p *pen) fill(t Tag, area geometry.Polygon) {
	p.reach(area.Outer...)
	p.items = append(p.items, Fill{Of: t, Area: area})
}

func (p *pen) outline(t Tag, area geometry.Polygon) {
	p.loop(t, area.Outer)
	for _, h := range area.Holes {
		p.loop(t, h)
	}
}

func (p *pen) loop(t Tag, ps []r2.Point) {
	p.reach(ps...)
	p.items = append(p.items, Stroke{Of: t, Points: ps, Closed: true})
}

func (p *pen) line(t Tag, ps ...r2.Point) {
	p.reach(ps...)
	p.items = append(p.items, Stroke{Of: t, Points: ps})
}

func (p *pen) segment(t Tag, a, b r2.Point) {
	ps := p.room(2)
	ps[0], ps[1] = a, b
	p.line(t, ps...)
}

func (p *pen) hatch(t Tag, area geometry.Polygon, h Hatch) {
	h.Of, h.Area = t, area
	p.reach(area.Outer...)
	p.items = append(p.items, h)
}

// text sets a text and keeps its place from names set later.
func (p *pen) text(t Text) {
	if t.S == "" {
		return
	}
	p.items = append(p.items, t)
	if t.InMM > 0 && t.Deg == 0 {
		r := t.extent()
		p.bounds = p.bounds.Union(r)
	}
}

func (p *pen) dimension(d Dimension) {
	d.Of.Role = RoleDimension
	if d.S == "" && p.o.Imperial {
		d.S = length(d.B.Sub(d.A).Norm(), true)
	}
	p.reach(d.A, d.B, d.lineEnd(d.A), d.lineEnd(d.B))
	p.items = append(p.items, d)
}

func (d Dimension) lineEnd(q r2.Point) r2.Point {
	return q.Add(d.B.Sub(d.A).Ortho().Normalize().Mul(d.Offset))
}

// rect is the axis-parallel rectangle between two corners.
func (p *pen) rect(a, b r2.Point) geometry.Polygon {
	ps := p.room(4)
	x0, x1 := min(a.X, b.X), max(a.X, b.X)
	y0, y1 := min(a.Y, b.Y), max(a.Y, b.Y)
	ps[0], ps[1] = r2.Point{X: x0, Y: y0}, r2.Point{X: x1, Y: y0}
	ps[2], ps[3] = r2.Point{X: x1, Y: y1}, r2.Point{X: x0, Y: y1}
	return geometry.Polygon{Outer: ps}
}

// disc is a circle as a polygon of n corners.
func (p *pen) disc(c r2.Point, radius float64, n int) geometry.Polygon {
	return geometry.Polygon{Outer: p.arc(c, radius, 0, 2*math.Pi*float64(n-1)/float64(n), n)}
}

// arc returns n points on a circle between two angles in radians.
func (p *pen) arc(c r2.Point, radius, from, to float64, n int) []r2.Point {
	ps := p.room(n)
	for i := range ps {
		a := from + (to-from)*float64(i)/float64(n-1)
		ps[i] = r2.Point{X: c.X + radius*math.Cos(a), Y: c.Y + radius*math.Sin(a)}
	}
	return ps
}

// prism is what the view shows of a prism: its base from above, its silhouette from the side.
func (p *pen) prism(q geometry.Prism) geometry.Polygon {
	if p.v == PlanView {
		return q.Base
	}
	lo, hi := across(p.v, q.Base.Outer)
	return p.rect(r2.Point{X: lo, Y: q.Bottom}, r2.Point{X: hi, Y: q.Top})
}

// across is the interval that a ring covers along the view's horizontal axis.
func across(v View, ring geometry.Ring) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range ring {
		h := c.X
		if v == RearView {
			h = c.Y
		}
		lo, hi = min(lo, h), max(hi, h)
	}
	return lo, hi
}

func (p *pen) at(v r3.Vector) r2.Point { return p.v.Point(v) }

func (p *pen) tag(r Role, ref string) Tag { return Tag{Role: r, Ref: ref, Mark: p.o.mark(ref)} }

func pt(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
