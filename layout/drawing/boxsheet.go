package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// BoxSheet draws one box for the bench, in its own frame: from above with the lid off, under that from the left
// and beside it from behind. The views carry the box's sizes, the places of feet and openings, the modules'
// numbers with posture and turn, and terminals with their polarity. Of the options, Off, Marks, Imperial, Scale and
// Lines count; lines are given in the vehicle's frame and drawn in the view from above: the route of the links.
func BoxSheet(s *layout.Scene, box *layout.BoxScene, o Options) *List {
	h := newSheet(s, box, o)
	plan := h.above()
	side := h.fromLeft()
	rear := h.fromBehind()
	gap := 1.5 * h.row
	down := plan.Bounds.Y.Lo - side.Bounds.Y.Hi - gap
	out := &List{Title: sheetTitle(box.Box), Bounds: r2.EmptyRect()}
	out.add(plan)
	out.add(side.Shifted(pt(0, down)))
	out.add(rear.Shifted(pt(side.Bounds.X.Hi-rear.Bounds.X.Lo+gap, down)))
	out.Bounds = out.Bounds.ExpandedByMargin(0.3 * h.row)
	return out
}

func sheetTitle(b *layout.Box) string {
	name := nameOr(b.Name, b.ID)
	if strings.HasPrefix(strings.ToLower(name), "box") {
		return name
	}
	return "Box " + name
}

// sheet is a box alone in its own frame, with the sizes its drawing works in.
type sheet struct {
	box   *layout.BoxScene
	frame layout.Frame // the box's in the vehicle
	o     Options
	size  r3.Vector
	lo    r3.Vector
	row   float64 // distance between rows of dimensions
	name  float64 // size of names, mm of the view
}

func newSheet(s *layout.Scene, box *layout.BoxScene, o Options) *sheet {
	o.Cache = nil
	h := &sheet{box: alone(s, box.Box), frame: box.Frame, o: o}
	lo, hi := h.box.Outer.Bounds()
	h.lo, h.size = lo, hi.Sub(lo)
	n := o.Scale
	if n <= 0 {
		n = h.pageScale()
	}
	h.row, h.name = rowMM*n, nameMM*n
	return h
}

// On paper: the distance between rows of dimensions, the size of names, and the page that a sheet is laid out for
// where no scale is given.
const (
	rowMM   = 6.0
	nameMM  = 2.7
	pageMM  = 178.0
	pageTop = 190.0
)

// pageScale is the standard scale at which the three views with about eight rows between them fit the page.
func (h *sheet) pageScale() float64 {
	for _, n := range scales {
		if (h.size.X+h.size.Y)/n+8*rowMM <= pageMM && (h.size.Y+h.size.Z)/n+9*rowMM <= pageTop {
			return n
		}
	}
	return scales[len(scales)-1]
}

// alone resolves a box in its own frame, with nothing else about it.
func alone(s *layout.Scene, b *layout.Box) *layout.BoxScene {
	own := *b
	own.At, own.TurnDeg = vehicles.XYZ{}, 0
	a := &layout.Arrangement{Boxes: []*layout.Box{&own}}
	return layout.Resolve(s.Plan, a, s.Library, nil).Boxes[0]
}

func (h *sheet) pen(v View) *pen {
	p := newPen(v, &h.o)
	p.sheet = h
	return p
}

// finish sets a caption under a view and the names that wished for a place.
func (h *sheet) finish(p *pen, caption string) *List {
	h.numbers(p)
	p.grantPt(h.scale())
	b := p.bounds
	h.words(p, Text{Of: Tag{Role: RoleLabel}, At: pt(b.Center().X, b.Y.Lo-0.4*h.row), S: caption, Pt: 9, Anchor: North})
	return p.list(caption)
}

func (h *sheet) above() *List {
	p := h.pen(PlanView)
	if p.o.on(LayerBoxes) {
		h.flange(p)
	}
	p.box(h.box)
	h.links(p)
	h.numbers(p)
	h.fixingNames(p)
	p.grantPt(h.scale())
	if p.o.on(LayerDimensions) {
		xs, ys := corners(h.box.Outer)
		h.below(p, xs)
		h.atLeft(p, ys)
		h.feet(p)
	}
	h.frontArrow(p)
	return h.finish(p, h.caption())
}

// words sets a text sized in points and counts the place that it takes at the sheet's scale.
func (h *sheet) words(p *pen, t Text) {
	size := t
	size.InMM = PaperMM(t.Pt, h.scale())
	p.bounds = p.bounds.Union(size.extent())
	p.items = append(p.items, t)
}

func (h *sheet) scale() float64 { return h.row / rowMM }

func (h *sheet) caption() string {
	b, in := h.box.Box, h.o.Imperial
	lid := "from above, lid off"
	if b.Shell.LidSide == "bottom" {
		lid = "from above, through the closed top (lid below)"
	}
	return lid + "; wall " + fine(b.Shell.Wall(), in) + ", flange " + length(b.Shell.Flange(), in)
}

func (h *sheet) fromLeft() *List {
	p := h.pen(SideView)
	p.box(h.box)
	if p.o.on(LayerDimensions) {
		h.atLeft(p, h.heights())
	}
	return h.finish(p, "from the left")
}

func (h *sheet) fromBehind() *List {
	p := h.pen(RearView)
	p.box(h.box)
	if p.o.on(LayerDimensions) {
		h.below(p, h.openingsAcross())
	}
	return h.finish(p, "from behind")
}

// flange draws the edge of the lid's flange.
func (h *sheet) flange(p *pen) {
	for _, q := range h.box.Outer.Solids {
		outer, err := q.Base.Inset(-h.box.Box.Shell.Flange())
		if err != nil {
			continue
		}
		for _, a := range outer {
			p.outline(Tag{Role: RoleLiner, Ref: h.box.Box.ID}, a)
		}
	}
}

// numbers sets the modules' numbers over the links, set off from those that run through them.
func (h *sheet) numbers(p *pen) {
	for _, t := range p.later {
		t.Halo = p.linkThrough(t.extent())
		p.text(t)
	}
	p.later = nil
}

// linkThrough tells whether a link or cable drawn so far runs through a rectangle.
func (p *pen) linkThrough(r r2.Rect) bool {
	return slices.ContainsFunc(p.items, func(it Item) bool {
		s, ok := it.(Stroke)
		return ok && (s.Of.Role == RoleLink || s.Of.Role == RoleCable) && runsThrough(s.Points, r)
	})
}

func runsThrough(ps []r2.Point, r r2.Rect) bool {
	for i := 0; i+1 < len(ps); i++ {
		if clipped(ps[i], ps[i+1], r) {
			return true
		}
	}
	return false
}

// clipped tells whether a segment has a part inside a rectangle (Y.-D. Liang and B. A. Barsky, A New Concept and
// Method for Line Clipping, ACM Transactions on Graphics 3, 1984).
func clipped(a, b r2.Point, r r2.Rect) bool {
	d := b.Sub(a)
	lo, hi := 0.0, 1.0
	for _, e := range [4][2]float64{{-d.X, a.X - r.X.Lo}, {d.X, r.X.Hi - a.X}, {-d.Y, a.Y - r.Y.Lo}, {d.Y, r.Y.Hi - a.Y}} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return false
		case e[0] < 0:
			lo = max(lo, e[1]/e[0])
		case e[0] > 0:
			hi = min(hi, e[1]/e[0])
		}
	}
	return lo <= hi
}

func (h *sheet) links(p *pen) {
	own := make([]Line, len(h.o.Lines))
	for i, l := range h.o.Lines {
		l.Points = make([]r3.Vector, len(h.o.Lines[i].Points))
		for k, v := range h.o.Lines[i].Points {
			l.Points[k] = h.frame.FromVehicle(v)
		}
		own[i] = l
	}
	o := h.o
	o.Lines = own
	q := *p
	q.o = &o
	q.lines()
	p.items, p.bounds, p.wishes, p.slab = q.items, q.bounds, q.wishes, q.slab
}

// fixingNames says what feet and openings are.
func (h *sheet) fixingNames(p *pen) {
	if !p.o.on(LayerFixings) || !p.o.on(LayerLabels) {
		return
	}
	for i := range h.box.Box.Feet {
		f := &h.box.Box.Feet[i]
		h.nameAt(p, f.At, "", f.ID+": "+boltWords(f), RoleFoot)
	}
	for i := range h.box.Box.Openings {
		o := &h.box.Box.Openings[i]
		h.nameAt(p, o.At, o.Face, o.Kind+" "+openingWords(o, p.o.Imperial), RoleOpening)
	}
}

// nameAt wishes for a name beside a place, outside the box where it can be. The name of an opening in a side or
// end wall goes out through that wall.
func (h *sheet) nameAt(p *pen, at vehicles.XYZ, face, s string, role Role) {
	c := p.at(at.Vector())
	g := 0.5 * h.row
	away := c.Sub(p.at(h.lo.Add(h.size.Mul(0.5))))
	up, side, anchor := math.Copysign(g, away.Y), math.Copysign(g, away.X), West
	if side < 0 {
		anchor = East
	}
	spots := []spot{{c.Add(pt(side, up)), anchor}, {c.Add(pt(-side, up)), opposite(anchor)},
		{c.Add(pt(side, up/2)), anchor}, {c.Add(pt(side, -up)), anchor}}
	out := h.box.Box.Shell.Flange() + 0.3*h.row
	switch face {
	case "front":
		spots = []spot{{c.Sub(pt(out, 0)), East}, {c.Add(pt(-out, 1.5*h.name)), East}, {c.Sub(pt(out, 1.5*h.name)), East}}
	case "rear":
		spots = []spot{{c.Add(pt(out, 0)), West}, {c.Add(pt(out, 1.5*h.name)), West}, {c.Add(pt(out, -1.5*h.name)), West}}
	}
	p.wish(wish{s: s, size: h.name, role: RoleLabel, ref: h.box.Box.ID + "/" + string(role), at: spots})
}

func opposite(a Anchor) Anchor {
	if a == West {
		return East
	}
	return West
}

func boltWords(f *layout.Foot) string {
	n := max(f.Bolts, 1)
	return strconv.Itoa(n) + " x " + f.Bolt + " " + f.Class
}

func openingWords(o *layout.Opening, imperial bool) string {
	if o.DiameterMM > 0 {
		return "dia " + length(o.DiameterMM, imperial)
	}
	return length(o.WidthMM, imperial) + " x " + length(o.HeightMM, imperial)
}

func (h *sheet) frontArrow(p *pen) {
	t := Tag{Role: RoleFront}
	b := p.bounds
	y := b.Y.Hi - 0.5*h.row
	tip := pt(b.X.Lo-0.2*h.row, y)
	p.segment(t, tip.Add(pt(1.2*h.row, 0)), tip)
	head := p.room(3)
	head[0], head[1], head[2] = tip, tip.Add(pt(0.4*h.row, 0.18*h.row)), tip.Add(pt(0.4*h.row, -0.18*h.row))
	p.fill(t, geometry.Polygon{Outer: head})
	h.words(p, Text{Of: t, At: tip.Add(pt(0.6*h.row, 0.3*h.row)), S: "front", Pt: 9, Anchor: South})
}
