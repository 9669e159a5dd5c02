package view

import (
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// Roles of what pages show besides the drawing's own: the panes beside the views.
const (
	RolePane    drawing.Role = "pane"
	RoleHead    drawing.Role = "pane heading"
	RoleName    drawing.Role = "pane name"
	RoleFigure  drawing.Role = "pane figure"
	RoleBig     drawing.Role = "pane big figure"
	RoleBody    drawing.Role = "pane text"
	RoleFaint   drawing.Role = "pane faint text"
	RoleRule    drawing.Role = "pane rule"
	RoleChosen  drawing.Role = "pane row chosen"
	RoleUnder   drawing.Role = "pane row under the pointer"
	RoleTrack   drawing.Role = "pane bar track"
	RoleBar     drawing.Role = "pane bar"
	RoleBarNear drawing.Role = "pane bar near its limit"
	RoleBarOver drawing.Role = "pane bar over its limit"
	RoleGood    drawing.Role = "pane good"
	RoleNear    drawing.Role = "pane near a limit"
	RoleBad     drawing.Role = "pane bad"
	RoleNote    drawing.Role = "pane note"
)

// Page is the contents of a pane: items in units of the screen, x to the right from the left edge and y downward
// from the top as negative numbers, so that a painter whose camera has the scale of the screen paints them.
type Page struct {
	Items  []drawing.Item
	Height float64
	Rows   []Row
}

// Row is a part of a page that can be clicked.
type Row struct {
	Top, Bottom float64
	Left, Right float64
	Key         string // what it stands for
	Tip         string // what the pointer resting on it is told
}

// At returns the row at a place, counted from the page's top left; its key is "" where there is none.
func (p *Page) At(x, y float64) Row {
	for i := len(p.Rows) - 1; i >= 0; i-- {
		if r := p.Rows[i]; y >= r.Top && y < r.Bottom && x >= r.Left && x < r.Right {
			return r
		}
	}
	return Row{}
}

// writer sets a page line by line.
type writer struct {
	page  Page
	w, y  float64 // width, and the top of the next line
	pad   float64
	fonts *paint.Fonts
}

func newWriter(w float64, fonts *paint.Fonts) *writer { return &writer{w: w, pad: 12, fonts: fonts} }

func (w *writer) done() *Page {
	w.page.Height = w.y
	return &w.page
}

func (w *writer) add(items ...drawing.Item) { w.page.Items = append(w.page.Items, items...) }

func tag(r drawing.Role) drawing.Tag { return drawing.Tag{Role: r} }

func spot(x, y float64) r2.Point { return r2.Point{X: x, Y: -y} }

// text sets a text with its anchor at a place.
func (w *writer) text(x, y float64, role drawing.Role, size float64, anchor drawing.Anchor, s string) {
	w.add(drawing.Text{Of: tag(role), At: spot(x, y), S: s, Pt: size, Anchor: anchor})
}

func (w *writer) fill(x0, y0, x1, y1 float64, role drawing.Role) {
	w.add(drawing.Fill{Of: tag(role), Area: geometry.NewRect(x0, -y1, x1, -y0)})
}

func (w *writer) line(role drawing.Role, pt float64, ps ...r2.Point) {
	w.add(drawing.Stroke{Of: tag(role), Points: ps, Pt: pt})
}

// head sets a heading with a rule above it.
func (w *writer) head(s string) {
	if len(w.page.Items) > 0 {
		w.y += 4
		w.fill(w.pad, w.y, w.w-w.pad, w.y+1, RoleRule)
		w.y += 5
	}
	w.text(w.pad, w.y+7, RoleHead, 11, drawing.West, s)
	w.y += 17
}

// row makes a row of the page from a top down to the next line.
func (w *writer) row(top float64, key, tip string) {
	w.page.Rows = append(w.page.Rows, Row{Top: top, Bottom: w.y, Left: 0, Right: w.w, Key: key, Tip: tip})
}

// wrapped sets a text over as many lines as it needs between two edges.
func (w *writer) wrapped(x0, x1 float64, role drawing.Role, size float64, s string, most int) {
	lines := w.fonts.Wrap(s, size, x1-x0, w.bold(role))
	for i, line := range lines {
		if most > 0 && i == most-1 && len(lines) > most {
			w.text(x0, w.y+size*0.72, role, size, drawing.West, w.fonts.Cut(line+" …", size, x1-x0, w.bold(role)))
			w.y += size * 1.4
			return
		}
		w.text(x0, w.y+size*0.72, role, size, drawing.West, line)
		w.y += size * 1.4
	}
}

func (w *writer) bold(r drawing.Role) bool {
	return r == RoleName || r == RoleBig || r == RoleHead || r == RoleFigure
}

// shape fills an outline given about a place.
func (w *writer) shape(x, y float64, role drawing.Role, ps [][2]float64) {
	ring := make(geometry.Ring, len(ps))
	for i, p := range ps {
		ring[i] = spot(x+p[0], y+p[1])
	}
	w.add(drawing.Fill{Of: tag(role), Area: ring.Polygon()})
}

// Note sets a page that holds a sentence only: for panes with nothing to show yet.
func Note(width float64, fonts *paint.Fonts, text string) *Page {
	w := newWriter(width, fonts)
	w.y = 12
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 12, text, 0)
	return w.done()
}
