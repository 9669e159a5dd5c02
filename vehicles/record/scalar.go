package record

import (
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// decimal is how a number may be written.
var decimal = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$`)

// setScalar sets v from a scalar node. It returns what is wrong, or "".
func setScalar(n *yaml.Node, v reflect.Value) string {
	if n.Kind != yaml.ScalarNode {
		return "want " + scalarName(v.Kind()) + ", found " + describe(n)
	}
	quoted := n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
	switch {
	case v.Kind() == reflect.String:
		if !quoted && n.Tag != "!!str" {
			return "want a text, found " + describe(n) + "; put it in quotes"
		}
	case quoted:
		return "want " + scalarName(v.Kind()) + ", found the text " + strconv.Quote(shorten(n.Value)) + "; leave the quotes out"
	}
	return setText(n.Value, v)
}

// setText sets v from text as a user would type it. It returns what is wrong, or "".
func setText(text string, v reflect.Value) string {
	switch v.Kind() {
	case reflect.String:
		return setString(text, v)
	case reflect.Bool:
		if text != "true" && text != "false" {
			return "want true or false, found " + strconv.Quote(shorten(text))
		}
		v.SetBool(text == "true")
	case reflect.Int, reflect.Int64:
		i, err := strconv.ParseInt(text, 10, 64)
		if err != nil || v.OverflowInt(i) {
			return "want a whole number, found " + strconv.Quote(shorten(text))
		}
		v.SetInt(i)
	default:
		return setFloat(text, v)
	}
	return ""
}

func setString(text string, v reflect.Value) string {
	if msg := textProblem(text); msg != "" {
		return msg
	}
	v.SetString(text)
	return ""
}

func setFloat(text string, v reflect.Value) string {
	if !decimal.MatchString(text) {
		return notANumber(text)
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return "the number " + shorten(text) + " is too large"
	}
	if leadingZero(text) {
		return "a number may not start with a zero: " + strconv.Quote(shorten(text))
	}
	v.SetFloat(x)
	return ""
}

// leadingZero reports whether a number starts like 012, which some readers of YAML take for octal.
func leadingZero(text string) bool {
	t := strings.TrimLeft(text, "+-")
	return len(t) > 1 && t[0] == '0' && t[1] >= '0' && t[1] <= '9'
}

func notANumber(text string) string {
	switch t := strings.ToLower(strings.TrimLeft(text, "+-.")); {
	case t == "nan" || t == "inf" || t == "infinity":
		return "want a finite number, found " + shorten(text)
	case decimal.MatchString(strings.Replace(text, ",", ".", 1)):
		return "want a number with a decimal point, found " + strconv.Quote(shorten(text))
	}
	if fields := strings.Fields(text); len(fields) == 2 && decimal.MatchString(fields[0]) {
		return "want a number without a unit (the unit is in the field's name), found " + strconv.Quote(shorten(text))
	}
	return "want a number, found " + strconv.Quote(shorten(text))
}

func scalarName(k reflect.Kind) string {
	switch k {
	case reflect.String:
		return "a text"
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Int64:
		return "a whole number"
	}
	return "a number"
}

// formatNumber writes a number as a person would: no exponent within a sane range, the fewest digits that read back equal.
func formatNumber(x float64) string {
	if x == 0 {
		return "0"
	}
	if a := math.Abs(x); a < 1e-6 || a >= 1e15 {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
