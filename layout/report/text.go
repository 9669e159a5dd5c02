package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stowbay/layout/check"
)

// Caution is the standing caution on every report, screen and summary.
const Caution = "Stowbay computes and compares; it certifies nothing. A wrong layout can burn, electrocute or crush. " +
	"Local vehicle codes, the makers' data and a licensed engineer or electrician decide."

// footCaution is the caution as it fits the foot of a page.
const footCaution = "Computes and compares; certifies nothing. Local vehicle codes, the makers' data and a licensed engineer or electrician decide."

// trim formats a figure with as many decimals as its size calls for.
func trim(v float64) string {
	digits := 0
	switch a := math.Abs(v); {
	case v == math.Trunc(v):
	case a < 1:
		digits = 3
	case a < 10:
		digits = 2
	case a < 100:
		digits = 1
	}
	return fixed(v, digits)
}

// Summary returns an arrangement in a few lines that a designer understands: what is in it, the main readings
// and what does not hold.
func Summary(e *check.Evaluation) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", e.Arrangement.Name)
	for _, l := range mainLines(e) {
		fmt.Fprintf(&b, "  %-22s %s\n", l.label, l.text)
	}
	n := e.Counts()
	fmt.Fprintf(&b, "  %-22s %d fail, %d warn, %d to note, %d hold\n", "Findings", n[check.Fails], n[check.Warns], n[check.Notes], n[check.Passes])
	for _, f := range e.Findings {
		if f.Severity == check.Fails || f.Severity == check.Warns {
			fmt.Fprintf(&b, "    %-5s  %s\n", f.Severity, f.Text)
		}
	}
	return b.String()
}

type line struct{ label, text string }

// mainLines are the readings that open every summary, as far as the arrangement has them.
func mainLines(e *check.Evaluation) []line {
	var out []line
	add := func(label, format string, keys ...string) {
		var vs []any
		for _, k := range keys {
			r, ok := e.Reading(k)
			if !ok {
				return
			}
			vs = append(vs, r.Value)
		}
		out = append(out, line{label, fmt.Sprintf(format, vs...)})
	}
	add("Modules", "%.0f", "count")
	add("String", "%.0f in series, %.0f in parallel", "series", "parallel")
	add("Pack voltage", "%.0f to %.0f V, nominal %.0f V", "voltage_v.min", "voltage_v.max", "voltage_v.nominal")
	add("Energy", "%.1f kWh nominal", "energy_kwh")
	add("Usable energy", "%.1f kWh", "usable_kwh")
	if r, ok := e.Reading("mass_kg"); ok {
		out = append(out, line{"Vehicle mass", Value(r)})
	}
	add("Axle loads", "front %.0f kg, rear %.0f kg", "axles_kg.front", "axles_kg.rear")
	add("Centre of gravity", "x %.0f, y %.0f, z %.0f mm", "cg_mm.x", "cg_mm.y", "cg_mm.z")
	add("Tightest gap", "%.1f mm", "worst_gap_mm")
	return out
}

// FindingLines lists every finding with what is required, what is there and the rule's source.
func FindingLines(e *check.Evaluation) string {
	var b strings.Builder
	for _, f := range e.Findings {
		fmt.Fprintf(&b, "  %-6s %-22s %s", f.Severity, f.Rule, f.Text)
		if f.Compare != "" {
			fmt.Fprintf(&b, " [%s %s %s, is %s]", f.Compare, trim(f.Required), f.Unit, trim(f.Actual))
		}
		fmt.Fprintf(&b, " (%s)\n", f.Source)
	}
	return b.String()
}

// fixed formats a figure with a fixed number of decimals.
func fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}
