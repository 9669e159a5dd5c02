package ui

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// icons are drawn on a square of 24 units, y downward: polylines of "x,y" corners parted by ";", "o x,y,r" for a
// ring and a trailing "z" to close.
var icons = map[string]string{
	"pick":    "5,3 5,18 9,14.5 11.5,20.5 14,19.5 11.5,13.5 17,13.5 z",
	"bay":     "3,8 8,4 21,4 21,20 8,20 3,16 z; 7,10 7,14; 17,8 17,16",
	"keepout": "4,4 20,4 20,20 4,20 z; 4,12 12,4; 4,20 20,4; 12,20 20,12",
	"box":     "4,6 20,6 20,19 4,19 z; 2,6 22,6; 8,10 8,15; 12,10 12,15; 16,10 16,15",
	"measure": "3,15 9,21 21,9 15,3 z; 7,11 9,13; 10,8 13,11; 13,5 15,7",
	"foot":    "4,5 4,14 20,14 20,5; 1,14 8,14 8,19 1,19 z; 16,14 23,14 23,19 16,19 z",
	"scale":   "3,20 21,20; 3,17 3,22; 21,17 21,22; 4,4 20,4 20,13 4,13 z; 4,13 10,7 14,11 16,9 20,13",
	"pack":    "3,3 21,3 21,21 3,21 z; 3,9 21,9; 3,15 21,15; 9,3 9,9; 15,3 15,9; 12,9 12,15; 9,15 9,21; 15,15 15,21",
	"turn":    "18,8 15,5 11,4 7,6 4,10 4,14 7,18 11,20 15,19 18,17; 19,3 19,9 13,9",
	"posture": "3,15 13,15 13,21 3,21 z; 15,7 21,7 21,21 15,21 z; 6,12 8,6 12,4; 10,7 12,4 9,2",
	"mirror":  "12,2 12,5; 12,8 12,11; 12,14 12,17; 12,20 12,22; 3,7 9,9 9,17 3,19 z; 21,7 15,9 15,17 21,19 z",
	"fit":     "3,8 3,3 8,3; 16,3 21,3 21,8; 21,16 21,21 16,21; 8,21 3,21 3,16; 8,9 16,9 16,15 8,15 z",
	"undo":    "9,4 4,9 9,14; 4,9 14,9 18,11 20,15 19,19",
	"redo":    "15,4 20,9 15,14; 20,9 10,9 6,11 4,15 5,19",
	"snap":    "6,3 6,13 9,17 12,18 15,17 18,13 18,3; 6,7 9,7; 15,7 18,7; 9,3 9,12 12,14 15,12 15,3",
	"views":   "3,3 14,3 14,10 3,10 z; 17,3 21,3 21,10 17,10 z; 3,13 14,13 14,21 3,21 z; 17,13 21,13 21,21 17,21 z",
	"report":  "5,2 15,2 19,6 19,22 5,22 z; 15,2 15,6 19,6; 8,10 16,10; 8,14 16,14; 8,18 13,18",
	"compare": "3,4 10,4 10,20 3,20 z; 14,4 21,4 21,20 14,20 z; 5,14 8,14; 16,9 19,9; 5,9 8,9; 16,12 19,12; 16,15 19,15",
	"plus":    "12,5 12,19; 5,12 19,12",
	"find":    "o 10,10,6.5; 15,15 21,21",
	"help":    "o 12,12,9; 9,9.5 10,7.5 12,6.8 14,7.5 15,9.3 14,11.3 12,12.5 12,14.5; 12,17 12,18",
}

// icon draws an icon into a square of the size given at x, y, in units of the screen.
func icon(name string, x, y, size float64, role drawing.Role) []drawing.Item {
	var out []drawing.Item
	k := size / 24
	for _, part := range strings.Split(icons[name], ";") {
		ps, closed := iconLine(strings.TrimSpace(part))
		for i := range ps {
			ps[i] = r2.Point{X: x + ps[i].X*k, Y: -(y + ps[i].Y*k)}
		}
		out = append(out, drawing.Stroke{Of: drawing.Tag{Role: role}, Points: ps, Closed: closed, Pt: 1.6})
	}
	return out
}

func iconLine(s string) (ps []r2.Point, closed bool) {
	if rest, ok := strings.CutPrefix(s, "o "); ok {
		return iconRing(numbers(rest)), true
	}
	s, closed = strings.CutSuffix(s, " z")
	for _, pair := range strings.Fields(s) {
		n := numbers(pair)
		ps = append(ps, r2.Point{X: n[0], Y: n[1]})
	}
	return ps, closed
}

func iconRing(n []float64) []r2.Point {
	var out []r2.Point
	for i := range 24 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 12)
		out = append(out, r2.Point{X: n[0] + n[2]*cos, Y: n[1] + n[2]*sin})
	}
	return out
}

// numbers reads numbers parted by commas; icons are constants, so that a slip shows as an icon out of shape.
func numbers(s string) []float64 {
	var out []float64
	for _, f := range strings.Split(s, ",") {
		v, _ := strconv.ParseFloat(f, 64)
		out = append(out, v)
	}
	return out
}
