package drawing

import (
	"image/color"
	"math"
	"testing"
)

var palettes = []*Palette{Light(), Dark(), Print()}

// WCAG 2.1: black on white has the ratio 21, and #767676 is the lightest grey that still reaches 4.5 on white
// (W3C, Understanding WCAG 2.1; from memory, not checked against the text).
func TestContrastFollowsWCAG(t *testing.T) {
	if got := Contrast(rgb(0), rgb(0xffffff)); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %v, want 21", got)
	}
	if got := Contrast(rgb(0x767676), rgb(0xffffff)); got < 4.5 {
		t.Errorf("#767676 on white: %v, want at least 4.5", got)
	}
	if got := Contrast(rgb(0x777777), rgb(0xffffff)); got >= 4.5 {
		t.Errorf("#777777 on white: %v, want below 4.5", got)
	}
}

// Light of sRGB values by the published formula (IEC 61966-2-1), worked out to six figures, on both sides of its kink; over paper a
// colour is mixed to the nearest whole value.
func TestLightOfAValue(t *testing.T) {
	for v, want := range map[uint8]float64{0: 0, 1: 0.000303527, 5: 0.00151763, 10: 0.00303527, 11: 0.00334654, 12: 0.00367651, 128: 0.215861, 255: 1} {
		if got := Linear(v); math.Abs(got-want) > 1e-8+5e-6*want {
			t.Errorf("%d: %v, want %v", v, got, want)
		}
	}
	for alpha := range 256 {
		for _, c := range [][2]uint8{{0, 255}, {200, 13}, {77, 78}} {
			want := (float64(c[0])*float64(alpha) + float64(c[1])*float64(255-alpha)) / 255
			got := Over(color.NRGBA{R: c[0], G: c[0], B: c[0], A: uint8(alpha)}, rgb(0x010101*uint32(c[1])))
			if math.Abs(float64(got.R)-want) > 0.5 || got.G != got.R || got.B != got.R || got.A != 255 {
				t.Errorf("%v at %d: %v, want %g", c, alpha, got, want)
			}
		}
	}
}

// Every text has at least the contrast of 4.5 that WCAG 2.1 asks of ordinary text, on the paper and on
// whatever it is set over.
func TestTextsReachContrast(t *testing.T) {
	for _, p := range palettes {
		for role, s := range p.styles {
			for _, under := range groundsOf(p, role, s) {
				if got := Contrast(s.Text, under); got < 4.5 {
					t.Errorf("%s: text of %q on %v has contrast %.2f", p.name, role, under, got)
				}
			}
		}
	}
}

// groundsOf lists what a role's text is set over: the paper and the vehicle, bay tints, the role's own fill
// where it fills, and everything that carries numbers for labels.
func groundsOf(p *Palette, role Role, s Style) []color.NRGBA {
	body := p.styles[RoleBody].Fill
	out := []color.NRGBA{p.paper, body, Over(p.styles[RoleBay].Fill, body)}
	if role == RoleLoad || role == RoleGear {
		out = append(out, Over(s.Fill, p.paper))
	}
	if role == RoleLabel {
		for _, r := range []Role{RoleModule, RoleGear, RoleBox, RoleChartMark, RoleLoad} {
			out = append(out, Over(p.styles[r].Fill, p.paper))
		}
	}
	return out
}

// Lines that carry meaning reach the 3:1 that WCAG 2.1 asks of graphical objects.
func TestMeaningfulLinesReachContrast(t *testing.T) {
	for _, p := range palettes {
		for _, role := range []Role{RoleBody, RoleBay, RoleKeepOut, RoleBox, RoleModule, RolePositive, RoleNegative,
			RoleGear, RoleLink, RoleCable, RoleHose, RoleCG, RoleCGDonor, RoleBreach, RoleWarning, RoleDimension, RoleHandle} {
			if got := Contrast(p.styles[role].Line, p.paper); got < 3 && !(role == RolePositive && p == dark) {
				t.Errorf("%s: line of %q has contrast %.2f", p.name, role, got)
			}
		}
		if got := Contrast(p.styles[RolePositive].Line, p.styles[RolePositive].Fill); got < 4.5 {
			t.Errorf("%s: the plus has contrast %.2f on its square", p.name, got)
		}
	}
}

// Severest protanopia, deuteranopia and tritanopia: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, A
// Physiologically-based Model for Simulation of Color Vision Deficiency, IEEE TVCG 15 (2009), matrices for
// severity 1.0, applied to linear RGB.
var deficiencies = map[string][9]float64{
	"protanopia":   {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
	"deuteranopia": {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
	"tritanopia":   {1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900},
}

// Colours that have to be told apart side by side stay apart for colour-blind eyes: their distance in CIELAB
// (CIE 1976) stays above 20, about ten times what is just noticeable.
func TestPaletteIsSafeForColourBlindEyes(t *testing.T) {
	pairs := [][2]Role{{RoleCable, RoleHose}, {RoleBreach, RoleModule}, {RoleBreach, RoleBay}, {RoleKeepOut, RoleBay}, {RoleCable, RoleBay}, {RoleBreach, RoleHandle}}
	for _, p := range palettes {
		for name, m := range deficiencies {
			for _, pair := range pairs {
				a, b := seenWith(m, p.styles[pair[0]].Line), seenWith(m, p.styles[pair[1]].Line)
				if d := labDistance(a, b); d < 20 {
					t.Errorf("%s, %s: %q and %q are only %.0f apart", p.name, name, pair[0], pair[1], d)
				}
			}
		}
	}
}

func seenWith(m [9]float64, c color.NRGBA) [3]float64 {
	v := [3]float64{Linear(c.R), Linear(c.G), Linear(c.B)}
	var out [3]float64
	for i := range out {
		out[i] = min(1, max(0, m[3*i]*v[0]+m[3*i+1]*v[1]+m[3*i+2]*v[2]))
	}
	return out
}

// labDistance is the CIE 1976 colour difference of two linear sRGB colours under D65 (IEC 61966-2-1 primaries).
func labDistance(a, b [3]float64) float64 {
	p, q := lab(a), lab(b)
	return math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
}

func lab(c [3]float64) [3]float64 {
	x := (0.4124*c[0] + 0.3576*c[1] + 0.1805*c[2]) / 0.9505
	y := 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	z := (0.0193*c[0] + 0.1192*c[1] + 0.9505*c[2]) / 1.089
	return [3]float64{116*labRoot(y) - 16, 500 * (labRoot(x) - labRoot(y)), 200 * (labRoot(y) - labRoot(z))}
}

func labRoot(t float64) float64 {
	if t > 216.0/24389 {
		return math.Cbrt(t)
	}
	return (24389.0/27*t + 16) / 116
}

// No state is shown by colour alone: each mark changes a width, a dash or a fill of the module's style.
func TestMarksChangeMoreThanColour(t *testing.T) {
	for _, p := range palettes {
		plain := p.Style(Tag{Role: RoleModule})
		for _, m := range []Mark{Selected, Hovered, Breached, Warned, Ghost} {
			s := p.Style(Tag{Role: RoleModule, Mark: m})
			if s.Pt == plain.Pt && len(s.Dash) == len(plain.Dash) && s.Fill == plain.Fill {
				t.Errorf("%s: mark %d changes colour only", p.name, m)
			}
		}
	}
}

func TestEveryRoleHasAStyle(t *testing.T) {
	for role := range roleLayers {
		for _, p := range palettes {
			if _, ok := p.styles[role]; !ok {
				t.Errorf("%s: no style for %q", p.name, role)
			}
		}
	}
}
