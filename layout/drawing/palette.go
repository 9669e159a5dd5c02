package drawing

import "image/color"

// Style is how things of a role are painted. Widths and sizes are in points. A colour without alpha is not
// painted. Hatches are painted in Line.
type Style struct {
	Fill  color.NRGBA
	Line  color.NRGBA
	Text  color.NRGBA
	Pt    float64 // line width
	Dash  []float64
	Size  float64 // text size
	Pitch float64 // distance between hatch lines
	Bold  bool
}

// Palette maps roles and marks to styles.
type Palette struct {
	name   string
	paper  color.NRGBA
	accent color.NRGBA // what is selected or hovered
	styles map[Role]Style
}

// Paper returns the colour everything is painted on.
func (p *Palette) Paper() color.NRGBA { return p.paper }

// Name returns light, dark or print.
func (p *Palette) Name() string { return p.name }

// Style returns how a thing is painted, its marks taken into account. A mark always changes a width, a dash or
// a fill as well as a colour.
func (p *Palette) Style(t Tag) Style {
	s, ok := p.styles[t.Role]
	if !ok {
		s = p.styles[RoleLabel]
	}
	if t.Mark != 0 {
		s = p.marked(s, t)
	}
	return s
}

func (p *Palette) marked(s Style, t Tag) Style {
	if t.Mark&Ghost != 0 {
		s.Fill, s.Dash = color.NRGBA{}, []float64{2, 2}
		s.Line.A = 0x90
		return s
	}
	if t.Role == RoleBreach || t.Role == RoleWarning || t.Role == RoleLabel || t.Role == RoleHandle {
		return s
	}
	switch {
	case t.Mark&Breached != 0:
		b := p.styles[RoleBreach]
		s.Line, s.Text, s.Pt, s.Dash = b.Line, b.Text, max(1.8, s.Pt), nil
	case t.Mark&Warned != 0:
		w := p.styles[RoleWarning]
		s.Line, s.Text, s.Pt, s.Dash = w.Line, w.Text, max(1.4, s.Pt), w.Dash
	}
	if t.Mark&Hovered != 0 {
		s.Line, s.Pt = p.accent, max(1.4, s.Pt)
	}
	if t.Mark&Selected != 0 {
		s.Line, s.Pt, s.Dash = p.accent, max(2.2, s.Pt), nil
	}
	return s
}

// Light is the palette for a bright screen.
func Light() *Palette { return light }

// Dark is the palette for a dark screen.
func Dark() *Palette { return dark }

// Print is the palette for paper, legible on a grey printer too.
func Print() *Palette { return printed }

var (
	light   = newPalette("light", lightInks)
	dark    = newPalette("dark", darkInks)
	printed = newPalette("print", printInks)
)

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

func rgba(v uint32, a uint8) color.NRGBA {
	c := rgb(v)
	c.A = a
	return c
}
