package restraint

import (
	"strings"
	"testing"

	"stowbay/layout"
)

func thread(t *testing.T, name string) Thread {
	t.Helper()
	for _, th := range threads {
		if th.Name == name {
			return th
		}
	}
	t.Fatalf("no thread %s", name)
	return Thread{}
}

// EN 1993-1-8 table 3.4 and 3.6.1(5) by hand: M14 of 8.8 with 115 mm² (ISO 898-1 table 3): 0.85 x 0.6 x 800 x 115 / 1.25 N.
// The reduction is for M12 and M14 alone.
func TestShearOfM14ByHand(t *testing.T) {
	near(t, "M14", ShearN(thread(t, "M14"), ClassOf("8.8")), 37536, 1e-9)
	near(t, "M16", ShearN(thread(t, "M16"), ClassOf("8.8")), 0.6*800*157/1.25, 1e-9)
}

// EN 1993-1-8 table 3.4 by hand, a bolt near the side: M10 in an 11 mm hole, 13.2 mm from the side: k1 = 2.8 x 1.2 - 1.7 = 1.66;
// 1.66 x 360 x 10 x 5 / 1.25 N.
func TestBearingNearTheSideByHand(t *testing.T) {
	got := BearingN(Sheet{ThickMM: 5, StrengthMPa: 360, EndMM: 100, SideMM: 13.2}, thread(t, "M10"), ClassOf("8.8"))
	near(t, "bearing", got, 23904, 1e-9)
}

// What would do is the smallest thread whose resistance to shear, by EN 1993-1-8 table 3.4, is the load: 14.05 kN for M8,
// 22.27 kN for M10, 94.08 kN for M20 of 8.8 and 98 kN for M20 of 10.9 (the last two as published).
func TestBoltThatWouldDo(t *testing.T) {
	f := &Foot{Foot: &layout.Foot{ID: "f"}, Thread: thread(t, "M8"), Class: ClassOf("8.8")}
	other := &Foot{Foot: &layout.Foot{ID: "g"}, Thread: thread(t, "M8"), Class: ClassOf("8.8")}
	for shear, want := range map[float64]string{14000: "M8 8.8", 14100: "M10 8.8", 22300: "M12 8.8", 94000: "M20 8.8", 94200: "M20 10.9", 97900: "M20 10.9", 98100: "use more bolts"} {
		b := &Box{Cases: []Case{
			{Feet: []FootLoad{{Foot: f, BoltShearN: 100}, {Foot: other, BoltShearN: 1e6}}},
			{Feet: []FootLoad{{Foot: f, BoltShearN: shear}}},
		}}
		if got := b.boltThatDoes(f); !strings.Contains(got, want) {
			t.Errorf("%v N: %q, want %q", shear, got, want)
		}
	}
}

// How much of a bolt is used is a share of one.
func TestUseOfABoltIsAShareOfOne(t *testing.T) {
	_, b := held(t, crate(1, 1, 1, 1), layout.Restraint{Set: "racing-40g"})
	for _, c := range b.Cases {
		for _, f := range c.Feet {
			if u := f.Uses[Bolt]; u.Resist != 1 || u.Demand != u.Ratio {
				t.Errorf("%+v", u)
			}
		}
	}
}

// The rules F.10.5.6 of student racing ask for eight points, the other sets state no number; own numbers count however small.
func TestPointsAndSmallNumbers(t *testing.T) {
	for _, s := range Sets() {
		want := 0
		if s.ID == "racing-40g" {
			want = 8
		}
		if s.Points != want {
			t.Errorf("%s: %d points, want %d", s.ID, s.Points, want)
		}
	}
	if _, ok := Chosen(layout.Restraint{DownG: 0.5}); !ok {
		t.Error("half a g is not taken")
	}
	if _, ok := Chosen(layout.Restraint{}); ok {
		t.Error("nothing entered is taken")
	}
}
