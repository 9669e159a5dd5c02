package view

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestScaleBarIsRoundAndFits(t *testing.T) {
	for _, c := range []struct {
		mm, most float64
		u        Units
		text     string
		length   float64
	}{
		{8, 150, Metric, "1000 mm", 1000},
		{4, 150, Metric, "500 mm", 500},
		{2, 150, Metric, "200 mm", 200},
		{0.01, 150, Metric, "1 mm", 1},
		{0.005, 150, Metric, "0.5 mm", 0.5},
		{8, 150, Imperial, "2 ft", 2 * 304.8},
		{1, 150, Imperial, "5 in", 127},
	} {
		b := NewScaleBar(c.mm, c.most, c.u)
		if b.Text != c.text || math.Abs(b.LengthMM-c.length) > 1e-9 {
			t.Errorf("%v mm a unit, %v at most: %+v, want %s", c.mm, c.most, b, c.text)
		}
	}
}

func TestScaleBarIsNeverMuchShorterThanItsRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm, most := rapid.Float64Range(1e-3, 1e3).Draw(t, "mm"), rapid.Float64Range(40, 400).Draw(t, "most")
		b := NewScaleBar(mm, most, Metric)
		if long := b.LengthMM / mm; long > most*(1+1e-9) || long < most/2.5*(1-1e-9) {
			t.Errorf("%v units of %v", long, most)
		}
	})
}
