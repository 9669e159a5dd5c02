// Package dxf paints display lists as DXF drawings of release 12: full size in millimetres, one layer for each
// role, named in words, with closed polylines, hatches as lines, and texts. The same list gives the same bytes.
package dxf

import (
	"bufio"
	"io"
	"math"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// Sheet says how a list is drawn.
type Sheet struct {
	Scale float64 // n of the scale 1:n it is going to be plotted at, which sets text heights and hatch pitches; 0: 1
}

// Write paints a list as one DXF document. Coordinates are those of the view, in millimetres.
func Write(w io.Writer, l *drawing.List, s Sheet) error {
	if s.Scale <= 0 {
		s.Scale = 1
	}
	b := bufio.NewWriter(w)
	p := &painter{out: writer{b}, scale: s.Scale, palette: drawing.Print()}
	p.header(l.Bounds)
	p.tables(layersOf(l))
	p.out.section("ENTITIES")
	for _, it := range l.Items {
		p.item(it)
	}
	p.out.pair(0, "ENDSEC")
	p.out.pair(0, "EOF")
	return b.Flush()
}

type painter struct {
	out     writer
	scale   float64
	palette *drawing.Palette
}

func (p *painter) item(it drawing.Item) {
	st := p.palette.Style(it.Tag())
	switch v := it.(type) {
	case drawing.Fill:
		p.fill(v)
	case drawing.Stroke:
		p.stroke(v)
	case drawing.Hatch:
		p.hatch(v, st)
	case drawing.Text:
		p.text(v, st)
	case drawing.Dimension:
		strokes, text := v.Parts(p.scale, st)
		for _, s := range strokes {
			p.stroke(s)
		}
		p.text(text, st)
	}
}

// unlined are the roles whose fills have no outline of their own. All other fills are shown by their outlines.
var unlined = map[drawing.Role]bool{
	drawing.RoleCG: true, drawing.RoleFront: true, drawing.RoleScaleBar: true, drawing.RolePort: true,
	drawing.RoleChartMark: true, drawing.RoleChartBest: true,
}

func (p *painter) fill(f drawing.Fill) {
	if !unlined[f.Of.Role] {
		return
	}
	layer := LayerName(f.Of.Role)
	if n := len(f.Area.Outer); n == 3 || n == 4 {
		p.solid(layer, f.Area.Outer)
		return
	}
	p.out.polyline(layer, f.Area.Outer, true)
}

// solid writes a filled triangle or quadrangle. DXF wants its third and fourth corner in the order of a Z.
func (p *painter) solid(layer string, ring geometry.Ring) {
	third := ring[2]
	last := ring[len(ring)-1]
	p.out.entity("SOLID", layer)
	for i, q := range []r2.Point{ring[0], ring[1], last, third} {
		p.out.point(10+i, q)
	}
}

func (p *painter) stroke(s drawing.Stroke) {
	layer := LayerName(s.Of.Role)
	if s.Radius > 0 {
		p.out.circle(layer, s.Centre, s.Radius)
		return
	}
	if len(s.Points) == 2 {
		p.out.line(layer, s.Points[0], s.Points[1])
		return
	}
	if len(s.Points) > 2 {
		p.out.polyline(layer, s.Points, s.Closed)
	}
}

func (p *painter) hatch(h drawing.Hatch, st drawing.Style) {
	pitch := st.Pitch
	if h.PitchPt > 0 {
		pitch = h.PitchPt
	}
	layer := LayerName(h.Of.Role) + hatchSuffix
	for _, l := range h.Lines(drawing.PaperMM(pitch, p.scale)) {
		p.out.line(layer, l[0], l[1])
	}
}

func (p *painter) text(t drawing.Text, st drawing.Style) {
	height := t.InMM
	if height == 0 {
		pt := st.Size
		if t.Pt > 0 {
			pt = t.Pt
		}
		height = drawing.PaperMM(pt, p.scale)
	}
	across, up := align(t.Anchor)
	o := p.out
	o.entity("TEXT", LayerName(t.Of.Role))
	o.point(10, t.At)
	o.number(40, capHeight*height)
	o.pair(1, plain(t.S))
	o.number(50, math.Mod(t.Deg+360, 360))
	o.pair(7, "STANDARD")
	o.count(72, across)
	o.point(11, t.At)
	o.count(73, up)
}

// capHeight is the height of capitals in a text's size: DXF's text height is that of capitals.
const capHeight = 0.72

// align gives DXF's horizontal and vertical alignment: 0 left, 1 centre, 2 right; 1 bottom, 2 middle, 3 top.
func align(a drawing.Anchor) (across, up int) {
	switch a {
	case drawing.West:
		return 0, 2
	case drawing.East:
		return 2, 2
	case drawing.North:
		return 1, 3
	case drawing.South:
		return 1, 1
	}
	return 1, 2
}
