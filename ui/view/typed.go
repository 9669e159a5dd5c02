package view

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"
)

// entry is what was typed while drawing: a length, length<angle in degrees as the view is drawn, length<<angle turned
// from the side before, <angle alone, or =x,y for a place.
type entry string

// longestEntry bounds what may be typed.
const longestEntry = 60

// begins tells whether a character begins an entry; first is true where there is no side yet to give a length of.
func (entry) begins(r rune, first bool) bool {
	if first {
		return r == '='
	}
	return strings.ContainsRune("0123456789.(<=-+", r)
}

// add appends a character. Once something is typed every character counts, so that none of it does something else.
func (e entry) add(r rune) entry {
	if len(e) >= longestEntry {
		return e
	}
	return e + entry(r)
}

func (e entry) back() entry {
	r := []rune(string(e))
	return entry(r[:max(len(r)-1, 0)])
}

// aim is what an entry says of the next corner.
type aim struct {
	at     r2.Point // where placed
	placed bool
	length float64 // 0: as the pointer has it
	deg    float64
	angled bool // a direction is given
	turned bool // from the side before
}

// aim reads an entry.
func (e entry) aim(u Units) (aim, error) {
	text := strings.TrimSpace(string(e))
	if place, ok := strings.CutPrefix(text, "="); ok {
		return placeAim(u, place)
	}
	length, angle, angled := strings.Cut(text, "<")
	a := aim{angled: angled}
	var err error
	if strings.TrimSpace(length) != "" {
		if a.length, err = u.Evaluate(length, Length); err != nil {
			return a, fmt.Errorf("length: %w", err)
		}
		if a.length == 0 {
			return a, errors.New("a length of 0 leads nowhere; type one like 800, or 800<90 with an angle")
		}
	}
	if angled {
		angle, a.turned = strings.CutPrefix(angle, "<")
		if a.deg, err = u.Evaluate(angle, Angle); err != nil {
			return a, fmt.Errorf("angle: %w", err)
		}
	}
	return a, nil
}

func placeAim(u Units, text string) (aim, error) {
	x, y, ok := strings.Cut(text, ",")
	if !ok {
		return aim{}, errors.New("place: two numbers are wanted, as =800,-350")
	}
	px, err := u.Evaluate(x, Length)
	if err != nil {
		return aim{}, fmt.Errorf("place: %w", err)
	}
	py, err := u.Evaluate(y, Length)
	if err != nil {
		return aim{}, fmt.Errorf("place: %w", err)
	}
	return aim{at: r2.Point{X: px, Y: py}, placed: true}, nil
}

// corner is the place aimed at from the corner last, where side is the direction of the side before it (zero: none) and
// to where the pointer is.
func (a aim) corner(last, side, to r2.Point) (r2.Point, error) {
	if a.placed {
		return tidyPoint(a.at), nil
	}
	way := to.Sub(last)
	if a.angled {
		deg := a.deg
		if a.turned {
			if side.Norm() < 1e-9 {
				return last, errors.New("there is no side before to turn from; type length<angle")
			}
			deg += degreesOf(side)
		}
		sin, cos := math.Sincos(deg * math.Pi / 180)
		way = r2.Point{X: cos, Y: sin}
	}
	if way.Norm() < 1e-9 {
		return last, errors.New("point where the side is to go, or type length<angle")
	}
	unit := way.Normalize()
	length := a.length
	if length == 0 {
		if length = to.Sub(last).Dot(unit); math.Abs(length) < 0.5 {
			return last, errors.New("point how far the side is to go, or type length<angle")
		}
	}
	return tidyPoint(last.Add(unit.Mul(length))), nil
}

// degreesOf is the direction of a side in the view, -180 to 180 degrees from its right, anticlockwise.
func degreesOf(d r2.Point) float64 { return math.Atan2(d.Y, d.X) * 180 / math.Pi }
