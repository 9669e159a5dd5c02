package ui

import (
	"image"
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// pagePane shows a page and scrolls it.
type pagePane struct {
	painted
	w      *Window
	build  func(width float64) *view.Page
	click  func(key string)
	menu   func(key string, at fyne.Position) // secondary button; may be nil
	pull   func(key string)                   // a row begins to be dragged; may be nil
	brush  *paint.Repainter
	before func() // done before it is painted; may be nil
	page   *view.Page
	width  float64
	scroll float64
	over   view.Row
	down   view.Row
	pulled bool
	wanted string // key of a row to bring into sight; "": none
	cursor string // key of the row that the keyboard came to; "": none
}

// newPagePane returns a pane whose page is built anew by build whenever it is told to update.
func newPagePane(w *Window, least fyne.Size, build func(width float64) *view.Page, click func(string)) *pagePane {
	p := &pagePane{w: w, build: build, click: click, brush: paint.NewRepainter(w.halves)}
	p.init(p, least, p.draw)
	return p
}

// update builds the page anew and paints it.
func (p *pagePane) update() {
	p.page = nil
	p.repaint()
}

// reveal brings a row into sight when the pane is painted next.
func (p *pagePane) reveal(key string) {
	p.wanted = key
	p.repaint()
}

// bring scrolls a page of a height seen to the row wanted, with a few lines about it as far as there is room; the beginning of
// a row comes before its end.
func (p *pagePane) bring(h float64) {
	const most = 66
	for _, r := range p.page.Rows {
		if r.Key == p.wanted && p.wanted != "" {
			about := min(most, max(h-(r.Bottom-r.Top), 0)/2)
			p.scroll = max(p.scroll, r.Bottom+about-h)
			p.scroll = min(p.scroll, r.Top-about)
		}
	}
	p.wanted = ""
}

func (p *pagePane) draw(img *image.RGBA, scale float64) {
	began := time.Now()
	p.w.timings.framed()
	if p.before != nil {
		p.before()
	}
	defer func() { p.w.timings.took("page", began) }()
	w, h := float64(img.Rect.Dx())/scale, float64(img.Rect.Dy())/scale
	if p.page == nil || p.width != w {
		p.page, p.width = p.build(w), w
	}
	p.bring(h)
	p.scroll = min(max(p.scroll, 0), max(p.page.Height-h, 0))
	cam := paint.Camera{Centre: r2.Point{X: w / 2, Y: -(p.scroll + h/2)}, Scale: scale, W: w * scale, H: h * scale}
	var over []drawing.Item
	if p.over.Key != "" {
		over = append(over, drawing.Fill{Of: drawing.Tag{Role: view.RoleUnder},
			Area: geometry.NewRect(p.over.Left, -p.over.Bottom, p.over.Right, -p.over.Top)})
	}
	layer := func(items []drawing.Item) paint.Layer {
		return paint.Layer{Look: onPane{p.w.skin}, Cam: cam, PxPerPt: scale, Items: items}
	}
	p.brush.Paint(img, paint.Under{}, layer(over), layer(p.page.Items), screenLayer(onPane{p.w.skin}, cam.W, cam.H, scale, p.bar(w, h)))
}

// bar is the scroll bar where the page is longer than the pane.
func (p *pagePane) bar(w, h float64) []drawing.Item {
	if p.page.Height <= h+1 {
		return nil
	}
	top := h * p.scroll / p.page.Height
	return []drawing.Item{drawing.Fill{Of: drawing.Tag{Role: view.RoleFaint},
		Area: geometry.NewRect(w-4, -(top + h*h/p.page.Height), w-1, -top)}}
}

func (p *pagePane) rowAt(pos fyne.Position) view.Row {
	if p.page == nil {
		return view.Row{}
	}
	return p.page.At(float64(pos.X), float64(pos.Y)+p.scroll)
}

// Scrolled implements [fyne.Scrollable].
func (p *pagePane) Scrolled(e *fyne.ScrollEvent) {
	p.scroll -= float64(e.Scrolled.DY) * 2
	p.repaint()
}

// MouseIn implements [desktop.Hoverable].
func (p *pagePane) MouseIn(e *desktop.MouseEvent) { p.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable].
func (p *pagePane) MouseMoved(e *desktop.MouseEvent) {
	r := p.rowAt(e.Position)
	if r == p.over {
		return
	}
	p.over, p.cursor = r, ""
	p.w.model.Say(r.Tip)
	p.w.tips.soon(r.Tip, e.AbsolutePosition)
	p.repaint()
}

// MouseOut implements [desktop.Hoverable].
func (p *pagePane) MouseOut() {
	p.over = view.Row{}
	p.w.model.Say("")
	p.w.tips.hide()
	p.repaint()
}

// Cursor implements [desktop.Cursorable].
func (p *pagePane) Cursor() desktop.Cursor {
	if p.over.Key != "" && p.click != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// key scrolls by the keyboard; it reports whether it took the key.
func (p *pagePane) key(k fyne.KeyName) bool {
	const line, more = 40, 300
	switch k {
	case fyne.KeyUp:
		p.scroll -= line
	case fyne.KeyDown:
		p.scroll += line
	case fyne.KeyPageUp:
		p.scroll -= more
	case fyne.KeyPageDown, fyne.KeySpace:
		p.scroll += more
	case fyne.KeyHome:
		p.scroll = 0
	case fyne.KeyEnd:
		p.scroll = math.MaxFloat64
	default:
		return false
	}
	p.repaint()
	return true
}

// MouseDown implements [desktop.Mouseable].
func (p *pagePane) MouseDown(e *desktop.MouseEvent) {
	p.w.tips.hide()
	p.down, p.pulled = p.rowAt(e.Position), false
	if e.Button == desktop.MouseButtonSecondary && p.menu != nil && p.down.Key != "" {
		p.menu(p.down.Key, e.AbsolutePosition)
		p.down = view.Row{}
	}
}

// MouseUp implements [desktop.Mouseable].
func (p *pagePane) MouseUp(e *desktop.MouseEvent) {
	r := p.rowAt(e.Position)
	if p.down.Key != "" && r.Key == p.down.Key && !p.pulled && e.Button == desktop.MouseButtonPrimary && p.click != nil {
		p.click(r.Key)
	}
	p.down = view.Row{}
}

// Dragged implements [fyne.Draggable].
func (p *pagePane) Dragged(e *fyne.DragEvent) {
	if p.pull == nil || p.down.Key == "" {
		p.scroll -= float64(e.Dragged.DY)
		p.repaint()
		return
	}
	if !p.pulled {
		p.pulled = true
		p.pull(p.down.Key)
	}
	p.w.dragOver(e.AbsolutePosition)
}

// DragEnd implements [fyne.Draggable].
func (p *pagePane) DragEnd() {
	if p.pulled {
		p.w.drop()
	}
	p.pulled, p.down = false, view.Row{}
}
