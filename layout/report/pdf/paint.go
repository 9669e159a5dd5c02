// Package pdf paints display lists into pages of a PDF document at a stated scale. Pages, words and tables are
// the report's business; this package knows drawings only.
package pdf

import (
	"image/color"

	"codeberg.org/go-pdf/fpdf"
	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

const mmPerPt = 25.4 / 72

// Rect is a field of a page in millimetres from the page's top left corner.
type Rect struct{ X, Y, W, H float64 }

// Options says how a list is laid into a field.
type Options struct {
	Scale   float64          // n of the scale 1:n; 0: the largest standard scale that fits the field
	Fill    bool             // with Scale 0: any scale that fills the field, for charts and pictures without a stated scale
	Palette *drawing.Palette // nil: for print
	Border  bool             // draw the field's edge
}

// Placed tells where a list came to lie on the page.
type Placed struct {
	Scale   float64 // n of the scale 1:n
	Origin  r2.Point
	Free    bool // not at a standard scale, which a caption should not state
	Clipped bool // the list is larger than the field at this scale; what lies outside is cut off
}

// ToPage maps a place of the view onto the page, in millimetres from its top left corner.
func (p Placed) ToPage(q r2.Point) r2.Point {
	return r2.Point{X: p.Origin.X + q.X/p.Scale, Y: p.Origin.Y - q.Y/p.Scale}
}

// Paint paints a list into a field of the current page, centred. The document's unit has to be the millimetre
// and AddFonts called before. Colours, line width, font and opacity of the document are left as they were.
func Paint(doc *fpdf.Fpdf, l *drawing.List, field Rect, o Options) Placed {
	p := place(l.Bounds, field, o)
	if o.Palette == nil {
		o.Palette = drawing.Print()
	}
	b := brush{doc: doc, at: p, field: field, palette: o.Palette, alpha: 1}
	before := inkOf(doc)
	b.ground(field)
	doc.ClipRect(field.X, field.Y, field.W, field.H, false)
	doc.SetLineJoinStyle("round")
	doc.SetLineCapStyle("butt")
	for _, it := range l.Items {
		b.item(it)
	}
	b.solid()
	doc.ClipEnd()
	if o.Border {
		b.border(field)
	}
	before.restore(doc)
	return p
}

func place(bounds r2.Rect, field Rect, o Options) Placed {
	if bounds.IsEmpty() {
		return Placed{Scale: 1, Origin: r2.Point{X: field.X, Y: field.Y + field.H}}
	}
	n := o.Scale
	size := bounds.Size()
	switch {
	case n > 0:
	case o.Fill:
		n = max(size.X/field.W, size.Y/field.H)
	default:
		n = drawing.StandardScale(bounds, field.W, field.H)
	}
	c := bounds.Center()
	const slack = 1e-6
	return Placed{
		Scale:   n,
		Free:    o.Fill && o.Scale == 0,
		Origin:  r2.Point{X: field.X + field.W/2 - c.X/n, Y: field.Y + field.H/2 + c.Y/n},
		Clipped: size.X/n > field.W+slack || size.Y/n > field.H+slack,
	}
}

// brush paints items of one list.
type brush struct {
	doc     *fpdf.Fpdf
	at      Placed
	field   Rect
	palette *drawing.Palette
	alpha   float64
}

// ground paints the palette's paper where it is not white.
func (b *brush) ground(field Rect) {
	if c := b.palette.Paper(); c != (color.NRGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}) {
		b.doc.SetFillColor(int(c.R), int(c.G), int(c.B))
		b.doc.Rect(field.X, field.Y, field.W, field.H, "F")
	}
}

func (b *brush) border(field Rect) {
	s := b.palette.Style(drawing.Tag{Role: drawing.RoleChartAxis})
	b.line(s.Line, s.Pt, nil)
	b.doc.Rect(field.X, field.Y, field.W, field.H, "D")
	b.solid()
}

func (b *brush) item(it drawing.Item) {
	st := b.palette.Style(it.Tag())
	switch v := it.(type) {
	case drawing.Fill:
		b.fill(v, st)
	case drawing.Stroke:
		b.stroke(v, st)
	case drawing.Hatch:
		b.hatch(v, st)
	case drawing.Text:
		b.text(v, st)
	case drawing.Dimension:
		strokes, text := v.Parts(b.at.Scale, st)
		for _, s := range strokes {
			b.stroke(s, st)
		}
		b.text(text, st)
	}
}

func (b *brush) opacity(a uint8) {
	if v := float64(a) / 255; v != b.alpha {
		b.doc.SetAlpha(v, "Normal")
		b.alpha = v
	}
}

func (b *brush) solid() {
	b.opacity(0xff)
	b.doc.SetDashPattern([]float64{}, 0)
}

func (b *brush) fill(f drawing.Fill, st drawing.Style) {
	if st.Fill.A == 0 || f.Area.IsEmpty() {
		return
	}
	b.opacity(st.Fill.A)
	b.doc.SetFillColor(int(st.Fill.R), int(st.Fill.G), int(st.Fill.B))
	b.trace(f.Area.Outer, true)
	for _, h := range f.Area.Holes {
		b.trace(h, true)
	}
	b.doc.DrawPath("f*")
}

func (b *brush) trace(ps []r2.Point, closed bool) {
	for i, q := range ps {
		q = b.at.ToPage(q)
		if i == 0 {
			b.doc.MoveTo(q.X, q.Y)
		} else {
			b.doc.LineTo(q.X, q.Y)
		}
	}
	if closed && len(ps) > 0 {
		b.doc.ClosePath()
	}
}

// line sets colour, width and dash for lines, in points.
func (b *brush) line(c color.NRGBA, pt float64, dash []float64) {
	b.opacity(c.A)
	b.doc.SetDrawColor(int(c.R), int(c.G), int(c.B))
	b.doc.SetLineWidth(pt * mmPerPt)
	mm := make([]float64, len(dash))
	for i, d := range dash {
		mm[i] = d * mmPerPt
	}
	b.doc.SetDashPattern(mm, 0)
}

func (b *brush) stroke(s drawing.Stroke, st drawing.Style) {
	if len(s.Points) < 2 || st.Line.A == 0 {
		return
	}
	width, dash := st.Pt, st.Dash
	if s.Pt > 0 {
		width = s.Pt
	}
	if s.Dash != nil {
		dash = s.Dash
	}
	b.line(st.Line, width, dash)
	b.trace(s.Points, s.Closed)
	b.doc.DrawPath("D")
}

func (b *brush) hatch(h drawing.Hatch, st drawing.Style) {
	pitch := st.Pitch
	if h.PitchPt > 0 {
		pitch = h.PitchPt
	}
	lines := h.Lines(drawing.PaperMM(pitch, b.at.Scale))
	if len(lines) == 0 {
		return
	}
	b.line(st.Line, st.Pt, nil)
	for _, l := range lines {
		b.trace(l[:], false)
	}
	b.doc.DrawPath("D")
}
