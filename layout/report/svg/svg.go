// Package svg paints display lists as SVG drawings: one file, nothing outside it, texts as text, at a stated
// scale. The same list gives the same bytes.
package svg

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

const mmPerPt = 25.4 / 72

// Sheet says how a list is laid on the sheet.
type Sheet struct {
	Scale    float64          // n of the scale 1:n; 0: one millimetre is drawn as one
	MarginMM float64          // blank edge round the drawing
	Palette  *drawing.Palette // nil: for print
	Note     string           // set under the drawing, such as "1:20, mm"
}

// NoteMM is the height that a note adds to a sheet, mm.
const NoteMM = 6

// Write paints a list as one SVG document, one unit of which is a millimetre on paper.
func Write(w io.Writer, l *drawing.List, s Sheet) error {
	if s.Scale <= 0 {
		s.Scale = 1
	}
	if s.Palette == nil {
		s.Palette = drawing.Print()
	}
	p := &painter{sheet: s, bounds: l.Bounds, classes: map[string]string{}}
	if l.Bounds.IsEmpty() {
		p.bounds = r2.RectFromPoints(r2.Point{}, r2.Point{X: 10, Y: 10})
	}
	for _, it := range l.Items {
		p.item(it)
	}
	p.refer("")
	b := bufio.NewWriter(w)
	p.document(b, l.Title)
	return b.Flush()
}

type painter struct {
	sheet   Sheet
	bounds  r2.Rect
	body    strings.Builder
	css     strings.Builder
	classes map[string]string
	ref     string
}

func (p *painter) document(w io.Writer, title string) {
	width := p.bounds.Size().X/p.sheet.Scale + 2*p.sheet.MarginMM
	height := p.bounds.Size().Y/p.sheet.Scale + 2*p.sheet.MarginMM
	note := ""
	if p.sheet.Note != "" {
		note = fmt.Sprintf("<text class=\"%s\" x=\"%s\" y=\"%s\">%s</text>\n", p.noteClass(), num(width/2), num(height+NoteMM/2), escape(p.sheet.Note))
		height += NoteMM
	}
	fmt.Fprintf(w, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	fmt.Fprintf(w, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n", num(width), num(height), num(width), num(height))
	fmt.Fprintf(w, "<title>%s</title>\n<style type=\"text/css\">\ntext{font-family:sans-serif}\n%s</style>\n", escape(title), p.css.String())
	fmt.Fprintf(w, "<rect width=\"%s\" height=\"%s\" fill=\"%s\"/>\n", num(width), num(height), hex(p.sheet.Palette.Paper()))
	io.WriteString(w, p.body.String())
	io.WriteString(w, note)
	io.WriteString(w, "</svg>\n")
}

func (p *painter) noteClass() string {
	return p.class("fill:%s;font-size:%spx;text-anchor:middle", hex(p.sheet.Palette.Style(drawing.Tag{Role: drawing.RoleLabel}).Text), num(8*mmPerPt))
}

func (p *painter) item(it drawing.Item) {
	p.refer(it.Tag().Ref)
	st := p.sheet.Palette.Style(it.Tag())
	switch v := it.(type) {
	case drawing.Fill:
		p.fill(v, st)
	case drawing.Stroke:
		p.stroke(v, st)
	case drawing.Hatch:
		p.hatch(v, st)
	case drawing.Text:
		p.text(v, st)
	case drawing.Dimension:
		strokes, text := v.Parts(p.sheet.Scale, st)
		for _, s := range strokes {
			p.stroke(s, st)
		}
		p.text(text, st)
	}
}

// refer opens a group for what the next items show, so that a viewer names a thing under the pointer.
func (p *painter) refer(ref string) {
	if ref == p.ref {
		return
	}
	if p.ref != "" {
		p.body.WriteString("</g>\n")
	}
	if ref != "" {
		p.body.WriteString("<g><title>" + escape(ref) + "</title>\n")
	}
	p.ref = ref
}

func (p *painter) fill(f drawing.Fill, st drawing.Style) {
	if st.Fill.A == 0 {
		return
	}
	c := p.class("fill:%s%s;fill-rule:evenodd", hex(st.Fill), opacity("fill", st.Fill.A))
	p.path(c, p.rings(f.Area))
}

func (p *painter) stroke(s drawing.Stroke, st drawing.Style) {
	width := st.Pt
	if s.Pt > 0 {
		width = s.Pt
	}
	dash := st.Dash
	if s.Dash != nil {
		dash = s.Dash
	}
	p.path(p.lineClass(st, width, dash), p.ring(s.Points, s.Closed))
}

func (p *painter) lineClass(st drawing.Style, width float64, dash []float64) string {
	return p.class("fill:none;stroke:%s%s;stroke-width:%s;stroke-linejoin:round%s", hex(st.Line), opacity("stroke", st.Line.A), num(width*mmPerPt), dashes(dash))
}

func (p *painter) hatch(h drawing.Hatch, st drawing.Style) {
	pitch := st.Pitch
	if h.PitchPt > 0 {
		pitch = h.PitchPt
	}
	var d strings.Builder
	for _, l := range h.Lines(drawing.PaperMM(pitch, p.sheet.Scale)) {
		d.WriteString(p.ring(l[:], false))
	}
	if d.Len() > 0 {
		p.path(p.lineClass(st, st.Pt, nil), d.String())
	}
}

func (p *painter) path(class, d string) {
	fmt.Fprintf(&p.body, "<path class=\"%s\" d=\"%s\"/>\n", class, d)
}

func (p *painter) rings(a geometry.Polygon) string {
	d := p.ring(a.Outer, true)
	for _, h := range a.Holes {
		d += p.ring(h, true)
	}
	return d
}

func (p *painter) ring(ps []r2.Point, closed bool) string {
	var d strings.Builder
	for i, q := range ps {
		d.WriteByte("ML"[min(i, 1)])
		q = p.at(q)
		d.WriteString(num(q.X))
		d.WriteByte(' ')
		d.WriteString(num(q.Y))
	}
	if closed {
		d.WriteByte('Z')
	}
	return d.String()
}

// at maps a place of the view onto the sheet, whose second axis runs down.
func (p *painter) at(q r2.Point) r2.Point {
	return r2.Point{
		X: (q.X-p.bounds.X.Lo)/p.sheet.Scale + p.sheet.MarginMM,
		Y: (p.bounds.Y.Hi-q.Y)/p.sheet.Scale + p.sheet.MarginMM,
	}
}

var anchorOf = map[drawing.Anchor]string{drawing.West: "start", drawing.East: "end"}

func (p *painter) text(t drawing.Text, st drawing.Style) {
	size := t.InMM / p.sheet.Scale
	if t.InMM == 0 {
		size = st.Size * mmPerPt
		if t.Pt > 0 {
			size = t.Pt * mmPerPt
		}
	}
	anchor := anchorOf[t.Anchor]
	if anchor == "" {
		anchor = "middle"
	}
	css := fmt.Sprintf("fill:%s;font-size:%spx;text-anchor:%s", hex(st.Text), num(size), anchor)
	if st.Bold {
		css += ";font-weight:bold"
	}
	if t.Halo {
		css += fmt.Sprintf(";stroke:%s;stroke-width:%s;stroke-linejoin:round;paint-order:stroke", hex(p.sheet.Palette.Paper()), num(0.22*size))
	}
	q := p.at(t.At)
	turn := ""
	if t.Deg != 0 {
		turn = fmt.Sprintf(" transform=\"rotate(%s %s %s)\"", num(-t.Deg), num(q.X), num(q.Y))
	}
	fmt.Fprintf(&p.body, "<text class=\"%s\" x=\"%s\" y=\"%s\"%s>%s</text>\n", p.class("%s", css), num(q.X), num(q.Y+t.Anchor.Drop()*size), turn, escape(t.S))
}

// class returns the name of a style rule, new rules in the order of first use.
func (p *painter) class(format string, args ...any) string {
	css := fmt.Sprintf(format, args...)
	c, ok := p.classes[css]
	if !ok {
		c = "s" + strconv.Itoa(len(p.classes)+1)
		p.classes[css] = c
		fmt.Fprintf(&p.css, ".%s{%s}\n", c, css)
	}
	return c
}

func escape(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}
