package ui

import (
	"image/color"

	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/ui/view"
)

// skin is how everything in the window is coloured: the views by a palette of package drawing, the panes and the
// frame by colours that go with it.
type skin struct {
	*drawing.Palette
	dark   bool
	styles map[drawing.Role]drawing.Style
	ink    inks
}

// inks are the colours of panes and frame.
type inks struct {
	pane, text, faint, rule, chosen, under, track color.NRGBA
	bar, near, over, good, bad, nearText, note    color.NRGBA
	frame, frameText, frameFaint, frameUnder      color.NRGBA
	mark, accent, snap                            color.NRGBA
}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

func translucent(c color.NRGBA, a uint8) color.NRGBA {
	c.A = a
	return c
}

var lightInks = inks{
	pane: rgb(0xf1ede3), text: rgb(0x20252b), faint: rgb(0x575d64), rule: rgb(0xd8d1c1), chosen: rgb(0xcde0ea), under: rgb(0xe7e0d0), track: rgb(0xdcd5c5),
	bar: rgb(0x0072b2), near: rgb(0xc97b00), over: rgb(0xb03a00), good: rgb(0x00664a), bad: rgb(0xb03a00), nearText: rgb(0x7a5800), note: rgb(0x0a5f8f),
	frame: rgb(0x24343d), frameText: rgb(0xf2efe6), frameFaint: rgb(0xa9b4b8), frameUnder: rgb(0x35474f), mark: rgb(0xe69f00), accent: rgb(0x004f9e), snap: rgb(0xb03a00),
}

var darkInks = inks{
	pane: rgb(0x1b2127), text: rgb(0xeae7de), faint: rgb(0xa3a9b0), rule: rgb(0x343c44), chosen: rgb(0x21445a), under: rgb(0x262e35), track: rgb(0x333b43),
	bar: rgb(0x56b4e9), near: rgb(0xe69f00), over: rgb(0xff8a4a), good: rgb(0x35c79c), bad: rgb(0xff8a4a), nearText: rgb(0xf0dc55), note: rgb(0x8dcdf2),
	frame: rgb(0x0f1418), frameText: rgb(0xf2efe6), frameFaint: rgb(0x94a0a6), frameUnder: rgb(0x263038), mark: rgb(0xe69f00), accent: rgb(0x7cc7ff), snap: rgb(0xffb347),
}

// Roles of the frame round the panes.
const (
	roleFrame      drawing.Role = "frame"
	roleFrameText  drawing.Role = "frame text"
	roleFrameFaint drawing.Role = "frame faint text"
	roleFrameUnder drawing.Role = "frame under the pointer"
	roleFrameMark  drawing.Role = "frame mark"
	roleTab        drawing.Role = "frame tab in front"
	roleTabText    drawing.Role = "frame tab text"
)

var (
	lightSkin = newSkin(drawing.Light(), lightInks, false)
	darkSkin  = newSkin(drawing.Dark(), darkInks, true)
)

func newSkin(p *drawing.Palette, k inks, dark bool) *skin {
	plain := func(c color.NRGBA) drawing.Style { return drawing.Style{Fill: c, Line: c, Text: c, Pt: 1, Size: 12} }
	bold := func(c color.NRGBA) drawing.Style {
		s := plain(c)
		s.Bold = true
		return s
	}
	s := &skin{Palette: p, dark: dark, ink: k, styles: map[drawing.Role]drawing.Style{
		view.RolePane: bold(k.pane), view.RoleHead: bold(k.faint), view.RoleName: bold(k.text), view.RoleFigure: bold(k.text),
		view.RoleBig: bold(k.text), view.RoleBody: plain(k.text), view.RoleFaint: plain(k.faint), view.RoleRule: plain(k.rule),
		view.RoleChosen: plain(k.chosen), view.RoleUnder: plain(k.under), view.RoleTrack: plain(k.track), view.RoleBar: plain(k.bar),
		view.RoleBarNear: plain(k.near), view.RoleBarOver: plain(k.over), view.RoleGood: bold(k.good), view.RoleNear: bold(k.nearText),
		view.RoleBad: bold(k.bad), view.RoleNote: bold(k.note),
		roleFrame: plain(k.frame), roleFrameText: plain(k.frameText), roleFrameFaint: plain(k.frameFaint), roleFrameUnder: plain(k.frameUnder),
		roleFrameMark: bold(k.mark), roleTab: plain(k.pane), roleTabText: bold(k.text),
		view.RoleGuide:     {Line: k.note, Text: k.note, Pt: 0.8, Dash: []float64{4, 2}, Size: 8.5},
		view.RoleTip:       {Fill: translucent(k.pane, 0xf0), Line: k.rule, Pt: 0.8},
		view.RoleTipText:   plain(k.text),
		view.RoleTipField:  bold(k.accent),
		view.RoleSnap:      {Line: k.snap, Pt: 1.5},
		view.RoleHandle:    {Fill: p.Paper(), Line: k.accent, Pt: 1.2},
		view.RoleHandleHot: {Fill: k.accent, Line: k.accent, Pt: 1.2},
		view.RoleBand:      {Fill: translucent(k.accent, 40), Line: k.accent, Pt: 0.8, Dash: []float64{3, 2}},
		view.RoleComing:    {Line: k.accent, Pt: 1.2, Dash: []float64{4, 3}},
		view.RoleDraft:     {Fill: translucent(k.accent, 30), Line: k.accent, Text: k.accent, Pt: 1.4, Size: 9.5},
	}}
	return s
}

// Style implements [paint.Look].
func (s *skin) Style(t drawing.Tag) drawing.Style {
	if st, ok := s.styles[t.Role]; ok {
		return st
	}
	return s.Palette.Style(t)
}

// onPane is the skin for pages, whose paper is the panes' colour.
type onPane struct{ *skin }

func (s onPane) Paper() color.NRGBA { return s.ink.pane }

// onFrame is the skin for what stands on the frame.
type onFrame struct{ *skin }

func (s onFrame) Paper() color.NRGBA { return s.ink.frame }

var _ paint.Look = onPane{}
