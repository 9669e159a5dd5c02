package view

import "math"

// ScaleBar is a bar that shows how long things are in a view.
type ScaleBar struct {
	LengthMM float64
	Parts    int // of equal length
	Text     string
}

const mmPerFoot = 12 * mmPerInch

// NewScaleBar returns the longest bar of a round length that is at most most units of the screen long, where one unit
// shows mm millimetres.
func NewScaleBar(mm, most float64, u Units) ScaleBar {
	room := mm * most
	if u != Imperial {
		return roundBar(room, 1, "mm", u)
	}
	if room >= mmPerFoot {
		return roundBar(room, mmPerFoot, "ft", u)
	}
	return roundBar(room, mmPerInch, "in", u)
}

// roundBar is the longest bar of 1, 2 or 5 times a power of ten of a unit, of so many mm each, within a room in mm.
func roundBar(room, unit float64, name string, u Units) ScaleBar {
	p := math.Pow(10, math.Floor(math.Log10(room/unit)+1e-9))
	n, parts := p, 5
	switch {
	case 5*p*unit <= room:
		n = 5 * p
	case 2*p*unit <= room:
		n, parts = 2*p, 4
	}
	return ScaleBar{LengthMM: n * unit, Parts: parts, Text: Number(n, barDecimals(n)) + " " + name}
}

// barDecimals are those that a number of 1, 2 or 5 times a power of ten needs.
func barDecimals(n float64) int { return max(0, -int(math.Floor(math.Log10(n)+1e-9))) }
