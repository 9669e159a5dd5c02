package packing

import (
	"testing"
	"time"
)

// Every body worth one, prices bound the count: in 1030 mm x 611 mm four rows of five bodies of 200 mm x 130 mm stand, and no
// price may say fewer; nor, with squares half as wide, much more than the 24 that the area allows.
func TestWorthsBoundTheCount(t *testing.T) {
	p := Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: Region{Outline: rectangleMM(0, 0, 1030, 611)}, CeilingMM: 10}}}},
		Postures: []Posture{{Name: "m", LengthMM: 200, WidthMM: 130, HeightMM: 10}}}
	w := &weigher{p: planeOf(t, p)}
	s := newSession(t.Context(), &p, nil, time.Now(), time.Minute)
	worth := make([]float64, w.p.usable)
	for i := range worth {
		worth[i] = 1
	}
	if got := s.weighed(w, worth); got < 20 || got > 30 {
		t.Errorf("at most %g, 20 stand", got)
	}
	if !w.refine(t.Context()) {
		t.Fatalf("%d squares were not divided", len(w.cover))
	}
	if got := s.weighed(w, worth); got < 20 || got > 30 {
		t.Errorf("with squares half as wide at most %g, 20 stand", got)
	}
}

func TestANegativeLimitIsRefused(t *testing.T) {
	p := Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: Region{Outline: rectangleMM(0, 0, 100, 60)}, CeilingMM: 10}}}},
		Postures: []Posture{{Name: "m", LengthMM: 20, WidthMM: 20, HeightMM: 10}}, Limit: -time.Second}
	if p.Validate() == nil {
		t.Error("a limit below nought was let through")
	}
	if p.Limit = 0; p.Validate() != nil {
		t.Errorf("no limit: %v", p.Validate())
	}
}

// Of the rows with a price, the one with the fewest places left is taken, the dearest of those; their prices are summed.
func TestRowWithTheFewestPlacesIsTaken(t *testing.T) {
	set := func(ks ...int) bitset {
		b := newBitset(8)
		for _, k := range ks {
			b.set(int32(k))
		}
		return b
	}
	g := &graph{in: []bitset{set(0), set(1, 2, 3), set(2, 3), set(4, 5), set(6)}}
	s := &graphSearch{g: g, price: []float64{0, 1, 2, 4, 8}}
	if row, sum := s.pick(set(0, 1, 2, 3, 4, 5)); row != 3 || sum != 7 {
		t.Errorf("row %d, prices %g; want row 3, 7", row, sum)
	}
	if row, sum := s.pick(set(0)); row != -1 || sum != 0 {
		t.Errorf("row %d, prices %g, where only a row without a price is left", row, sum)
	}
}
