package view

import (
	"math"
	"strings"
	"testing"

	"stowbay/internal/inputs"
)

func TestEvaluate(t *testing.T) {
	for _, c := range []struct {
		text string
		u    Units
		q    Quantity
		want float64
	}{
		{"2*151+8", Metric, Length, 310},
		{"6in", Metric, Length, 152.4},
		{"12 mm", Imperial, Length, 12},
		{"12", Imperial, Length, 304.8},
		{"(3 ft - 20) / 2", Metric, Length, 447.2},
		{"1 ft + 1", Imperial, Length, 13 * 25.4},
		{"-5", Metric, Length, -5},
		{"2x151", Metric, Length, 302},
		{"2 × 3", Metric, Plain, 6},
		{"1,5", Metric, Length, 1.5},
		{"0,125", Metric, Length, 0.125},
		{"1200,125", Metric, Length, 1200.125},
		{"10 lb", Metric, Mass, 4.5359237},
		{"45°", Metric, Angle, 45},
		{"(1+2)*(3+4)", Metric, Plain, 21},
		{"100 mm / 4", Metric, Length, 25},
		{"2 m", Metric, Length, 2000},
	} {
		got, err := c.u.Evaluate(c.text, c.q)
		if err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%q: got %v, %v; want %v", c.text, got, err, c.want)
		}
	}
}

func TestEvaluateRefuses(t *testing.T) {
	for _, c := range []string{"", "  ", "2+", "2*(3", "3 kg", "4 apples", "1/0", "2 mm * 3 mm", "1..2", "1,200", "12,346 mm", "1,234.5", "1,234,567", ")", "2 3",
		strings.Repeat("(", 5000), strings.Repeat("-", 5000) + "1", strings.Repeat("9", 400)} {
		if got, err := Metric.Evaluate(c, Length); err == nil {
			t.Errorf("%.20q gave %v, want an error", c, got)
		}
	}
}

func FuzzEvaluate(f *testing.F) {
	for _, s := range expressions {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { _ = tryExpression(t, []byte(s)) })
}

var expressions = []string{"2*151+8", "6in", "(3 ft - 20)/2", "1e5", "×", "-(", "\"", "°"}

func TestFloodOfExpressions(t *testing.T) {
	words := inputs.Texts([]string{"+", "-", "*", "/", "(", ")", " mm", "in", "ft", "\"", "'", "°", "×", "÷", "−", "1/0", ","})
	inputs.Flood{Target: "FuzzEvaluate", Most: 100, Words: words, Examples: inputs.Texts(expressions), Read: tryExpression}.Run(t)
}

func tryExpression(t inputs.T, s []byte) error {
	v, err := Imperial.Evaluate(string(s), Length)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		t.Fatalf("%q gave %v without an error", s, v)
	}
	return err
}

func TestShowUnits(t *testing.T) {
	for _, c := range []struct {
		u    Units
		v    float64
		unit string
		want string
	}{
		{Metric, 1234, "mm", "1234 mm"},
		{Metric, 12345.6, "mm", "12 346 mm"},
		{Imperial, 25.4, "mm", "1.0 in"},
		{Imperial, 100, "kg", "220 lb"},
		{Metric, -3.26, "kWh", "−3.3 kWh"},
		{Metric, math.NaN(), "V", "– V"},
		{Metric, -0.01, "kg", "0 kg"},
	} {
		if got := c.u.Text(c.v, c.unit); got != c.want {
			t.Errorf("Text(%v, %q) = %q, want %q", c.v, c.unit, got, c.want)
		}
	}
	if got := Metric.Delta(-12, "kg"); got != "−12 kg" {
		t.Errorf("Delta = %q", got)
	}
	if got := Metric.Delta(0.2, "kg"); got != "±0 kg" {
		t.Errorf("Delta of nothing = %q", got)
	}
}

// A field takes its own unit, and no other one.
func TestEvaluateInItsOwnUnit(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		want       float64
	}{{"350 V", "V", 350}, {"2*3.65V", "V", 7.3}, {"95", "A", 95}, {"3.5in", "mm", 88.9}, {"2*151+8", "mm", 310}, {"10 lb", "kg", 4.5359237}, {"90°", "°", 90}} {
		if got, err := Metric.EvaluateIn(c.text, c.unit); err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%q in %s: %v, %v; want %v", c.text, c.unit, got, err, c.want)
		}
	}
	if got, err := Metric.EvaluateIn("350 A", "V"); err == nil {
		t.Errorf("350 A is %v V", got)
	}
}
