package drawing

import (
	"image/color"
	"math"
)

// Contrast returns the contrast ratio of two opaque colours, 1 to 21, by the definition of relative luminance
// and contrast ratio in the Web Content Accessibility Guidelines 2.1 (W3C, 2018).
func Contrast(a, b color.NRGBA) float64 {
	l, m := luminance(a), luminance(b)
	if l < m {
		l, m = m, l
	}
	return (l + 0.05) / (m + 0.05)
}

func luminance(c color.NRGBA) float64 {
	return 0.2126*Linear(c.R) + 0.7152*Linear(c.G) + 0.0722*Linear(c.B)
}

// Linear returns the light that a value of an sRGB channel stands for, 0 to 1, by the WCAG definition, which is that
// of IEC 61966-2-1 but for the rounded threshold.
func Linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.03928 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// Over returns what is seen where a is painted over the opaque colour b.
func Over(a, b color.NRGBA) color.NRGBA {
	mix := func(x, y uint8) uint8 {
		return uint8((int(x)*int(a.A) + int(y)*(255-int(a.A)) + 127) / 255)
	}
	return color.NRGBA{R: mix(a.R, b.R), G: mix(a.G, b.G), B: mix(a.B, b.B), A: 0xff}
}
