package ui

import (
	"image"
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// pane shows one view of the arrangement and hands the mouse to the tool.
type pane struct {
	painted
	w      *Window
	view   drawing.View
	cam    paint.Camera
	fit    bool    // fit before the next painting
	fitted bool    // the whole vehicle is shown, until the user zooms or pushes a view
	whole  float64 // scale at which the whole vehicle is seen
	names  float64 // how much larger names are in the list

	brush   *paint.Repainter
	list    *drawing.List // nil: to be drawn anew
	index   *view.Index
	indexOf *layout.Scene

	button desktop.MouseButton // held down, 0: none
	last   fyne.Position
	tapped time.Time // of the last press, for double clicks
	tapAt  fyne.Position
	moved  bool
	mods   fyne.KeyModifier
}

// pointPx is how many units of the screen a point measures in the views.
const pointPx = 96.0 / 72

func newPane(w *Window, v drawing.View) *pane {
	p := &pane{w: w, view: v, fit: true, brush: paint.NewRepainter(w.halves)}
	p.init(p, fyne.NewSize(120, 90), p.draw)
	return p
}

// stale has the display list drawn anew before the next painting.
func (p *pane) stale() {
	p.list = nil
	p.repaint()
}

func (p *pane) draw(img *image.RGBA, scale float64) {
	began := time.Now()
	p.w.timings.framed()
	wide, high := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	p.fit = p.fit || p.fitted && (wide != p.cam.W || high != p.cam.H)
	p.cam = p.cam.Resized(wide, high)
	if p.list == nil || p.nameScale() != p.names {
		p.redraw()
	}
	if p.fit || p.cam.Scale == 0 {
		p.fitWhole()
	}
	p.cam = p.cam.Snapped()
	layer := func(items []drawing.Item) paint.Layer {
		return paint.Layer{Look: p.w.skin, Cam: p.cam, PxPerPt: pointPx * scale, Items: items}
	}
	p.brush.Paint(img, p.drawUnderlays(), layer(p.gridLines()), layer(p.list.Items),
		layer(p.w.model.Grips(p.view, handlePx*p.scale/p.cam.Scale)), layer(p.w.model.Tool().Overlay(p.view)), p.rulers(scale))
	p.w.timings.took("paint "+p.view.String(), began)
}

func (p *pane) redraw() {
	p.names = p.nameScale()
	p.list = p.w.drawList(p, p.names)
}

// fitWhole shows the whole vehicle. What it covers is taken without names, whose size depends on the scale.
func (p *pane) fitWhole() {
	p.fit, p.fitted = false, true
	p.cam = fitBetween(p.cam, p.w.drawList(p, noNames).Bounds, edges[p.view], p.scale)
	p.whole = p.cam.Scale
	p.redraw()
}

// Names are 44 mm high in a list at a factor of 1; on the screen they want about 11 units.
const (
	nameMM = 44
	nameUI = 11
)

// Above mostSigns the signs of terminals, which are up to 24 mm high in a list, would measure less than 5 units of the
// screen, and are left out.
const mostSigns = 1.25

// Above mostNames names would hide what they name, and are left out; noNames leaves out all texts.
const (
	mostNames = 2.6
	noNames   = 100
)

// nameSteps is in how many steps names double: so fine that those of two views differ by less than a seventh.
const nameSteps = 6

// nameScale is how much larger names have to be so that they can be read, in steps so that zooming does not draw
// the list anew all the time.
func (p *pane) nameScale() float64 {
	if p.cam.Scale == 0 {
		return 1
	}
	want := nameUI * p.scale / (nameMM * p.cam.Scale)
	return math.Pow(2, math.Round(math.Log2(min(max(want, 0.05), 8))*nameSteps)/nameSteps)
}

// toMM turns a place in the widget into one in the view's plane.
func (p *pane) toMM(pos fyne.Position) r2.Point {
	return p.cam.ToMM(p.px(pos))
}

// hitPx is how near to a thing in units of the screen counts as on it.
const hitPx = view.HitUnits

// handlePx is half the width of a corner's handle in units of the screen.
const handlePx = 3.5

func (p *pane) pointer(pos fyne.Position) view.Pointer {
	m := p.mods
	return view.Pointer{At: p.toMM(pos), View: p.view, Slack: hitPx * p.scale / p.cam.Scale, Index: p.sceneIndex(), Seen: p.cam.Visible(),
		Shift: m&fyne.KeyModifierShift != 0, Ctrl: m&fyne.KeyModifierControl != 0, Alt: m&fyne.KeyModifierAlt != 0}
}

// sceneIndex is the index of what the view shows, kept while the scene stays the same. While something is dragged it is
// that of before: nothing else is picked meanwhile.
func (p *pane) sceneIndex() *view.Index {
	if s := p.w.model.Scene(); p.index == nil || p.indexOf != s && !p.w.model.Previewing() {
		p.index, p.indexOf = view.NewIndex(s, p.view), s
	}
	p.index.Off = p.w.model.Display.Off
	return p.index
}

// MouseIn implements [desktop.Hoverable].
func (p *pane) MouseIn(e *desktop.MouseEvent) { p.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable].
func (p *pane) MouseMoved(e *desktop.MouseEvent) {
	p.w.under = p
	p.motion(e.Position)
}

// MouseOut implements [desktop.Hoverable].
func (p *pane) MouseOut() {
	p.w.model.SetHover("")
	p.w.status.place("")
}

// Dragged implements [fyne.Draggable]; it brings the mouse while a button is held, outside the widget too.
func (p *pane) Dragged(e *fyne.DragEvent) { p.motion(e.Position) }

// DragEnd implements [fyne.Draggable].
func (p *pane) DragEnd() {
	p.w.pulse.flush()
	p.release(p.last)
}

// motion follows the mouse: at once, or before the next frame while a button is held.
func (p *pane) motion(pos fyne.Position) {
	if p.button == 0 {
		p.follow(pos)
		return
	}
	p.w.pulse.soon(func() { p.follow(pos) })
}

func (p *pane) follow(pos fyne.Position) {
	began := time.Now()
	by := pos.Subtract(p.last)
	p.last = pos
	p.mods = p.w.mods()
	if p.w.timings.on {
		p.w.timings.moved(pos.Add(fyne.CurrentApp().Driver().AbsolutePositionForObject(p)))
	}
	p.w.status.place(p.w.coordinates(p.view, p.toMM(pos)))
	switch p.button {
	case desktop.MouseButtonSecondary, desktop.MouseButtonTertiary:
		if by.X != 0 || by.Y != 0 {
			p.moved = true
			p.pan(by)
		}
	default:
		p.w.model.Tool().Move(p.pointer(pos), p.button == desktop.MouseButtonPrimary)
	}
	p.w.timings.took("move", began)
}

func (p *pane) pan(by fyne.Position) {
	p.cam = p.cam.Panned(p.px(by))
	p.w.link(p)
	p.repaint()
}

// MouseDown implements [desktop.Mouseable].
func (p *pane) MouseDown(e *desktop.MouseEvent) {
	p.w.win.Canvas().Unfocus()
	p.w.under = p
	p.w.pulse.begin()
	p.button, p.last, p.moved, p.mods = e.Button, e.Position, false, e.Modifier
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	if p.w.space {
		p.button = desktop.MouseButtonTertiary
		return
	}
	at := p.pointer(e.Position)
	at.Twice = time.Since(p.tapped) < doubleClick && near(p.tapAt, e.Position)
	p.tapped, p.tapAt = time.Now(), e.Position
	p.w.model.Tool().Press(at)
}

// doubleClick is the longest time between the presses of a double click.
const doubleClick = 350 * time.Millisecond

func near(a, b fyne.Position) bool {
	return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) < 5
}

// MouseUp implements [desktop.Mouseable].
func (p *pane) MouseUp(e *desktop.MouseEvent) {
	p.w.pulse.end()
	if p.button == desktop.MouseButtonSecondary && !p.moved {
		p.button = 0
		p.w.contextMenu(p, e)
		return
	}
	p.release(e.Position)
	p.w.enterLater(0)
}

func (p *pane) release(pos fyne.Position) {
	p.w.pulse.end()
	held := p.button
	p.button = 0
	if held == desktop.MouseButtonPrimary {
		p.w.model.Tool().Release(p.pointer(pos))
	}
}

// zoomStep is the factor of one notch of the wheel.
const zoomStep = 1.18

// Scrolled implements [fyne.Scrollable]: the wheel zooms to the pointer. Only the sign counts, since the size of
// a step differs between systems.
func (p *pane) Scrolled(e *fyne.ScrollEvent) {
	switch {
	case e.Scrolled.DY > 0:
		p.zoom(e.Position, zoomStep)
	case e.Scrolled.DY < 0:
		p.zoom(e.Position, 1/zoomStep)
	}
}

func (p *pane) zoom(at fyne.Position, factor float64) {
	p.cam = p.cam.Zoomed(p.px(at), factor)
	p.w.link(p)
	p.repaint()
}

// zoomMiddle zooms about the middle of the view.
func (p *pane) zoomMiddle(factor float64) {
	size := p.Size()
	p.zoom(fyne.NewPos(size.Width/2, size.Height/2), factor)
}

// show brings a part of the plane into sight: as it is if it can be seen, else in the middle.
func (p *pane) show(r r2.Rect) {
	if r.IsEmpty() || p.cam.Scale == 0 {
		return
	}
	if size, seen := r.Size(), p.cam.Visible(); !seen.Contains(r) || max(size.X*p.cam.Scale, size.Y*p.cam.Scale) < 12 {
		p.cam.Centre = r.Center()
		if size.X*p.cam.Scale > p.cam.W || size.Y*p.cam.Scale > p.cam.H || max(size.X, size.Y)*p.cam.Scale < 12 {
			p.cam = p.cam.Fit(r.ExpandedByMargin(150), 40*p.scale)
		}
		p.w.link(p)
	}
	p.repaint()
}

// Cursor implements [desktop.Cursorable]: a cross to draw and measure with, a hand over what can be picked.
func (p *pane) Cursor() desktop.Cursor {
	if _, ok := p.w.model.Tool().(*view.Select); !ok {
		return desktop.CrosshairCursor
	}
	if p.w.model.Hover() != "" {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}
