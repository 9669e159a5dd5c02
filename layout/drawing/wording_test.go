package drawing

import (
	"math"
	"testing"
)

// The inch is 25.4 mm and the pound 0.45359237 kg by the international yard and pound agreement of 1959. A tenth of an inch
// stands for whole millimetres, a hundredth for tenths.
func TestLengthsAndMassesInWords(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{length(190, true), "7.5 in"}, {length(190, false), "190"}, {length(3000, true), "118.1 in"}, {length(25.4, true), "1.0 in"},
		{length(-508, true), "-20.0 in"}, {length(5, true), "0.20 in"}, {length(0, true), "0.0 in"}, {length(1999.6, false), "2000"},
		{length(0.1268, true), "0.0 in"}, {length(0.1272, true), "0.01 in"}, {fine(190, true), "7.48 in"}, {fine(1.5, false), "1.5"},
		{mass(100, true), "220 lb"}, {mass(100, false), "100 kg"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// A text is as large as its rectangle's width, its height and the most allow, and left out below the least; of nothing there is no size.
func TestSizeThatFits(t *testing.T) {
	for _, c := range []struct {
		s                 string
		w, h, least, most float64
		want              float64
	}{{"mm", 18, 100, 5, 60, 10}, {"mm", 180, 7, 5, 60, 7}, {"mm", 1000, 100, 5, 60, 60}, {"mm", 8.9, 100, 5, 60, 0}, {"mm", 9.1, 100, 5, 60, 9.1 / 1.8}, {"", 100, 100, 0.5, 60, 0}} {
		if got := fitted(c.s, c.w, c.h, c.least, c.most); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%q in %g x %g: %g, want %g", c.s, c.w, c.h, got, c.want)
		}
	}
}
