package check

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"
)

var figure = regexp.MustCompile(`\d+(\.\d+)?`)

// Figures gives findings as lines with everything that was worked out: of their texts only the figures, so that words may
// change freely.
func Figures(fs []Finding) []string {
	out := make([]string, len(fs))
	for i, f := range fs {
		out[i] = fmt.Sprintf("%s %s %s %v %s %s %s %s at %s to %s: %s", f.Severity, f.Rule, f.Subject, f.Refs, f.Compare, short(f.Required), short(f.Actual), f.Unit,
			placeText(f.Place), placeText(f.To), strings.Join(figure.FindAllString(f.Text, -1), " "))
	}
	return out
}

// short is a number to five figures, without the noise of rounding about nought.
func short(v float64) string {
	if math.Abs(v) < 1e-6 {
		return "0"
	}
	return strconv.FormatFloat(v, 'g', 5, 64)
}

func placeText(p *r3.Vector) string {
	if p == nil {
		return "-"
	}
	return strings.ReplaceAll(fmt.Sprintf("%.1f,%.1f,%.1f", p.X, p.Y, p.Z), "-0.0", "0.0")
}

// FiguresBeside gives what findings say that others do not.
func FiguresBeside(base, fs []Finding) []string {
	known := map[string]bool{}
	for _, l := range Figures(base) {
		known[l] = true
	}
	var out []string
	for _, l := range Figures(fs) {
		if !known[l] {
			out = append(out, l)
		}
	}
	return out
}
