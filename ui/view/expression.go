package view

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Quantity is what a number field holds; it says which units may be typed.
type Quantity uint8

// The quantities.
const (
	Plain  Quantity = iota // no unit may be typed
	Length                 // mm
	Mass                   // kg
	Angle                  // degrees
)

// QuantityOf returns the quantity of a file's unit.
func QuantityOf(unit string) Quantity {
	switch unit {
	case "mm":
		return Length
	case "kg":
		return Mass
	case "°", "deg":
		return Angle
	}
	return Plain
}

var factors = map[Quantity]map[string]float64{
	Length: {"mm": 1, "cm": 10, "m": 1000, "in": mmPerInch, "\"": mmPerInch, "ft": 12 * mmPerInch, "'": 12 * mmPerInch},
	Mass:   {"kg": 1, "g": 0.001, "t": 1000, "lb": kgPerPound, "oz": kgPerPound / 16},
	Angle:  {"°": 1, "deg": 1},
}

// bare is what a number without a unit counts in.
func (u Units) bare(q Quantity) float64 {
	if u == Imperial && q == Length {
		return mmPerInch
	}
	if u == Imperial && q == Mass {
		return kgPerPound
	}
	return 1
}

// Evaluate reads what was typed into a number field: numbers with + - * / and brackets, each with or without a
// unit ("2*151+8", "6in", "12 mm", "(3 ft - 20) / 2"). A number that carries no unit counts in the units shown.
// A comma stands for the decimal point; one that may as well part thousands, as in 1,200, is refused. The result is in mm,
// kg or degrees.
func (u Units) Evaluate(text string, q Quantity) (float64, error) {
	p := &parser{rest: strings.ReplaceAll(strings.TrimSpace(text), "×", "*"), q: q, bare: u.bare(q)}
	if p.rest == "" {
		return 0, fmt.Errorf("a number is missing")
	}
	v, err := p.sum()
	if err != nil {
		return 0, err
	}
	if p.rest != "" {
		return 0, fmt.Errorf("%q is not understood", p.rest)
	}
	v, err = p.measured(v)
	if err == nil && (math.IsNaN(v.x) || math.IsInf(v.x, 0)) {
		err = fmt.Errorf("the result is not a number")
	}
	return v.x, err
}

// EvaluateIn reads what was typed into a field that holds a unit of a file. Besides what [Units.Evaluate] takes, a
// field that holds neither lengths nor masses nor angles takes its own unit behind the number: "350 V", "95 A".
func (u Units) EvaluateIn(text, unit string) (float64, error) {
	q := QuantityOf(unit)
	if q == Plain && unit != "" {
		if bare, ok := strings.CutSuffix(strings.TrimSpace(text), unit); ok {
			text = bare
		}
	}
	return u.Evaluate(text, q)
}

// measure is a number with the power of the unit it carries.
type measure struct {
	x   float64
	dim int
}

// parser reads an expression from left to right.
type parser struct {
	rest  string
	q     Quantity
	bare  float64
	depth int
}

// maxDepth bounds nested brackets.
const maxDepth = 50

// measured gives a number without a unit the one that fields count in.
func (p *parser) measured(v measure) (measure, error) {
	switch v.dim {
	case 1:
		return v, nil
	case 0:
		return measure{v.x * p.bare, 1}, nil
	}
	return v, fmt.Errorf("two measures multiplied give no measure of this kind: multiply or divide by a plain number")
}

func (p *parser) take(set string) byte {
	p.rest = strings.TrimLeftFunc(p.rest, unicode.IsSpace)
	if p.rest == "" || !strings.ContainsRune(set, rune(p.rest[0])) {
		return 0
	}
	c := p.rest[0]
	p.rest = p.rest[1:]
	return c
}

func (p *parser) sum() (measure, error) {
	a, err := p.product()
	for err == nil {
		op := p.take("+-")
		if op == 0 {
			break
		}
		var b measure
		if b, err = p.product(); err == nil {
			a, err = p.add(a, b, op)
		}
	}
	return a, err
}

func (p *parser) add(a, b measure, op byte) (measure, error) {
	if op == '-' {
		b.x = -b.x
	}
	if a.dim == b.dim {
		return measure{a.x + b.x, a.dim}, nil
	}
	a, err := p.measured(a)
	if err != nil {
		return a, err
	}
	b, err = p.measured(b)
	return measure{a.x + b.x, 1}, err
}

func (p *parser) product() (measure, error) {
	a, err := p.factor()
	for err == nil {
		op := p.take("*/x")
		if op == 0 {
			break
		}
		var b measure
		if b, err = p.factor(); err != nil {
			break
		}
		switch {
		case op != '/':
			a = measure{a.x * b.x, a.dim + b.dim}
		case b.x == 0:
			err = fmt.Errorf("a division by 0")
		default:
			a = measure{a.x / b.x, a.dim - b.dim}
		}
	}
	return a, err
}

func (p *parser) factor() (measure, error) {
	switch {
	case p.take("-") != 0:
		v, err := p.nested(p.factor)
		v.x = -v.x
		return v, err
	case p.take("+") != 0:
		return p.nested(p.factor)
	case p.take("(") != 0:
		v, err := p.nested(p.sum)
		if err == nil && p.take(")") == 0 {
			err = fmt.Errorf("a closing bracket is missing")
		}
		if err != nil {
			return v, err
		}
		return p.unit(v)
	}
	return p.number()
}

func (p *parser) nested(f func() (measure, error)) (measure, error) {
	if p.depth++; p.depth > maxDepth {
		return measure{}, fmt.Errorf("too many brackets")
	}
	v, err := f()
	p.depth--
	return v, err
}

func (p *parser) number() (measure, error) {
	n := 0
	for n < len(p.rest) && strings.IndexByte("0123456789.,", p.rest[n]) >= 0 {
		n++
	}
	if n == 0 {
		return measure{}, fmt.Errorf("a number is missing before %q", p.rest)
	}
	text := p.rest[:n]
	if whole, after, ok := strings.Cut(text, ","); ok && len(after) == 3 && len(whole) < 4 && strings.Trim(whole, "0") != "" {
		return measure{}, fmt.Errorf("%q may mean %s or %s.%s: type one of these", text, whole+after, whole, after)
	}
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil {
		return measure{}, fmt.Errorf("%q is not a number", text)
	}
	p.rest = p.rest[n:]
	return p.unit(measure{v, 0})
}

// unit reads a unit after a number, if one stands there.
func (p *parser) unit(v measure) (measure, error) {
	p.rest = strings.TrimLeftFunc(p.rest, unicode.IsSpace)
	word := p.rest[:wordEnd(p.rest)]
	if word == "" || word == "x" {
		return v, nil
	}
	f, ok := factors[p.q][strings.ToLower(word)]
	if !ok {
		return v, fmt.Errorf("%q is not a unit that fits here", word)
	}
	p.rest = p.rest[len(word):]
	return measure{v.x * f, v.dim + 1}, nil
}

func wordEnd(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) && r != '"' && r != '\'' && r != '°' {
			return i
		}
	}
	return len(s)
}
