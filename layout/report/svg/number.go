package svg

import (
	"fmt"
	"image/color"
	"strconv"
	"strings"
)

// num writes a number to a thousandth of a millimetre, without needless zeros.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func opacity(what string, a uint8) string {
	if a == 0xff {
		return ""
	}
	return fmt.Sprintf(";%s-opacity:%s", what, num(float64(a)/255))
}

func dashes(pts []float64) string {
	if len(pts) == 0 {
		return ""
	}
	out := make([]string, len(pts))
	for i, d := range pts {
		out[i] = num(d * mmPerPt)
	}
	return ";stroke-dasharray:" + strings.Join(out, ",")
}
