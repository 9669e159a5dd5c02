package layout

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/vehicles"
)

func TestNewPlan(t *testing.T) {
	donor := testDonor()
	p := NewPlan(donor, "New")
	if _, err := Encode(p); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(donor.Bays, p.Arrangements[0].Bays); d != "" || &donor.Bays[0] == &p.Arrangements[0].Bays[0] {
		t.Error("the arrangement does not have a copy of the donor's bays", d)
	}
}

func TestFreshID(t *testing.T) {
	taken := map[string]bool{"box1": true, "box2": true, "1": true}
	for prefix, want := range map[string]string{"box": "box3", "Box": "box3", "m": "m1", "": "2", "Ä b/c": "-bc1"} {
		if got := FreshID(prefix, func(id string) bool { return taken[id] }); got != want {
			t.Errorf("FreshID(%q) = %q, want %q", prefix, got, want)
		}
	}
}

func TestBoxForPlainBay(t *testing.T) {
	bay := vehicles.Bay{ID: "under", Name: "Under the floor", ClearanceMM: 10, Levels: []vehicles.Level{{Outline: rectangle(600, -500, 1800, 500), FloorMM: 200, CeilingMM: 480}}}
	b, remark, err := BoxForBay(&bay, nil, "b1", Shell{Material: "aluminium"})
	if err != nil || remark != "" {
		t.Fatal(remark, err)
	}
	want := &Box{ID: "b1", Name: "Under the floor", Bay: "under", At: vehicles.XYZ{610, -490, 210}, Shell: Shell{Material: "aluminium"},
		Levels: []vehicles.Level{{Outline: rectangle(0, 0, 1180, 980), CeilingMM: 260}}}
	if d := cmp.Diff(want, b); d != "" {
		t.Error(d)
	}
}

// Two steps: the low part is 700 by 800 by 500, the high one 200 by 800 by 350. Less 8 mm all round, and the corner over the step
// keeps the clearance to both: 684 x 784 x 484 for the low part and, above its floor plus clearance, 200 x 784 x 334 more.
func TestBoxForSteppedBay(t *testing.T) {
	bay := testDonor().Bays[1]
	b, remark, err := BoxForBay(&bay, nil, "b1", Shell{})
	if err != nil || remark != "" {
		t.Fatal(remark, err)
	}
	got := boxSolid(b).Volume()
	want := 684.0*784*484 + 200*784*334
	if math.Abs(got-want) > 1 {
		t.Errorf("volume %v, want %v\n%v", got, want, b.Levels)
	}
	if len(b.Levels) != 2 {
		t.Errorf("%d levels, want 2: %v", len(b.Levels), b.Levels)
	}
}

func TestBoxForBayWithKeepOuts(t *testing.T) {
	bay := vehicles.Bay{ID: "long", ClearanceMM: 5, Levels: []vehicles.Level{{Outline: rectangle(0, 0, 1000, 400), FloorMM: 0, CeilingMM: 300}}}
	cross := vehicles.KeepOut{ID: "pipe", Outline: rectangle(600, -10, 620, 410), FloorMM: -10, CeilingMM: 310}
	bay.KeepOuts = []vehicles.KeepOut{cross}
	b, remark, err := BoxForBay(&bay, nil, "b1", Shell{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(remark, "2 pieces; the box is the largest, with 61 %") { // 590 of 590 + 370
		t.Errorf("remark %q", remark)
	}
	if d := cmp.Diff([]vehicles.Level{{Outline: rectangle(0, 0, 590, 390), CeilingMM: 290}}, b.Levels); d != "" {
		t.Error(d)
	}

	bay.KeepOuts = []vehicles.KeepOut{{ID: "post", Outline: rectangle(700, 190, 720, 210), FloorMM: -10, CeilingMM: 310}}
	b, remark, err = BoxForBay(&bay, nil, "b1", Shell{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(remark, "stands free in the bay") {
		t.Errorf("remark %q", remark)
	}
	if d := cmp.Diff([]vehicles.Level{{Outline: rectangle(0, 0, 690, 390), CeilingMM: 290}}, b.Levels); d != "" {
		t.Error(d)
	}

	bay.ClearanceMM = 200
	if _, _, err := BoxForBay(&bay, nil, "b1", Shell{}); err == nil || !strings.Contains(err.Error(), "nothing is left of bay long") {
		t.Errorf("a bay narrower than its clearance: %v", err)
	}
}

// A keep-out of the vehicle that reaches into a bay: the box ends beside it where little more is lost, above it where that is
// less, and gets a step where both would cost too much. The bay is 1000 by 400 by 300 mm, its clearance 5 mm.
func TestBoxForBayBesideKeepOutsOfTheVehicle(t *testing.T) {
	bay := vehicles.Bay{ID: "bay", ClearanceMM: 5, Levels: []vehicles.Level{{Outline: rectangle(0, 0, 1000, 400), FloorMM: 0, CeilingMM: 300}}}
	for name, c := range map[string]struct {
		k      vehicles.KeepOut
		at     vehicles.XYZ
		levels []vehicles.Level
	}{
		"an axle in front, low": {vehicles.KeepOut{Outline: rectangle(-400, -50, 15, 450), FloorMM: -100, CeilingMM: 120, MarginMM: 10},
			vehicles.XYZ{25, 5, 5}, []vehicles.Level{{Outline: rectangle(0, 0, 970, 390), CeilingMM: 290}}},
		"a shaft below": {vehicles.KeepOut{Outline: rectangle(-100, 150, 1100, 250), FloorMM: -100, CeilingMM: 5, MarginMM: 10},
			vehicles.XYZ{5, 5, 15}, []vehicles.Level{{Outline: rectangle(0, 0, 990, 390), CeilingMM: 280}}},
		"a hump": {vehicles.KeepOut{Outline: rectangle(-100, -100, 405, 500), FloorMM: -100, CeilingMM: 105},
			vehicles.XYZ{5, 5, 5}, []vehicles.Level{{Outline: rectangle(400, 0, 990, 390), CeilingMM: 100}, {Outline: rectangle(0, 0, 990, 390), FloorMM: 100, CeilingMM: 290}}},
		"far away": {vehicles.KeepOut{Outline: rectangle(1100, 0, 1200, 400), CeilingMM: 300, MarginMM: 20},
			vehicles.XYZ{5, 5, 5}, []vehicles.Level{{Outline: rectangle(0, 0, 990, 390), CeilingMM: 290}}},
	} {
		b, _, err := BoxForBay(&bay, []vehicles.KeepOut{c.k}, "b1", Shell{})
		if err != nil {
			t.Fatal(name, err)
		}
		if d := cmp.Diff(c.levels, b.Levels) + cmp.Diff(c.at, b.At); d != "" {
			t.Error(name, d)
		}
	}
	all := vehicles.KeepOut{Outline: rectangle(-10, -10, 1010, 410), FloorMM: -10, CeilingMM: 310}
	if _, _, err := BoxForBay(&bay, []vehicles.KeepOut{all}, "b1", Shell{}); !errors.As(err, new(*NoRoom)) || err.Error() != "keep-outs leave nothing of bay bay" {
		t.Errorf("the whole bay is kept out: %v", err)
	}
}

// Whatever the bay and its keep-outs, the box stands inside, keeps the clearance and can be read back from a file.
func TestBoxesOfRandomBays(t *testing.T) {
	drawn, made := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		drawn++
		num := func(lo, hi int, name string) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) }
		bay := vehicles.Bay{ID: "bay", ClearanceMM: num(0, 20, "clearance"), Levels: []vehicles.Level{
			{Outline: rectangle(0, 0, num(300, 900, "l"), num(200, 600, "w")), FloorMM: 200, CeilingMM: 200 + num(100, 500, "h")},
			{Outline: rectangle(-num(50, 400, "l2"), num(-100, 100, "y2"), 0, num(150, 500, "w2")), FloorMM: 200 + num(0, 90, "step"), CeilingMM: 200 + num(100, 500, "h2")},
		}}
		for i := range rapid.IntRange(0, 3).Draw(t, "keep-outs") {
			x, y, z := num(-200, 700, "x"), num(-50, 400, "y"), num(150, 500, "z")
			bay.KeepOuts = append(bay.KeepOuts, vehicles.KeepOut{ID: fmt.Sprint("k", i), FloorMM: z, CeilingMM: z + num(5, 300, "kh"),
				Outline: rectangle(x, y, x+num(5, 300, "kl"), y+num(5, 300, "kw")), MarginMM: num(0, 10, "margin")})
		}
		var beside []vehicles.KeepOut
		for i := range rapid.IntRange(0, 2).Draw(t, "beside") {
			x, y, z, turn := num(-300, 700, "x"), num(-100, 400, "y"), num(100, 600, "z"), num(-9, 9, "turn")
			beside = append(beside, vehicles.KeepOut{ID: fmt.Sprint("v", i), FloorMM: z, CeilingMM: z + num(5, 300, "kh"), MarginMM: num(0, 20, "margin"),
				Outline: []vehicles.XY{{x, y}, {x + 70, y + turn}, {x + 70 - turn, y + 50}, {x - turn, y + 50}}})
		}
		b, _, err := BoxForBay(&bay, beside, "b1", Shell{})
		if err != nil {
			t.Skip(err)
		}
		made++
		p := NewPlan(testDonor(), "Bays")
		p.Arrangements[0].Bays = []vehicles.Bay{bay}
		p.Arrangements[0].Boxes = []*Box{b}
		if _, err := Encode(p); err != nil {
			t.Fatal(err)
		}
		allowed, err := BaySpace(&bay).Inset(bay.ClearanceMM, bay.ClearanceMM, bay.ClearanceMM)
		if err != nil {
			t.Fatal(err)
		}
		for _, level := range spaceIn(NewFrame(b.At, 0), boxSolid(b)).Solids {
			for i := range beside {
				if k := KeepOutPrism(&beside[i]); k.Overlaps(level) {
					t.Fatalf("a level of the box reaches into a keep-out: %v in %v", level, k)
				}
			}
			// The corners are kept to 0.01 mm, so they may be out by half of that: a twentieth of a millimetre less must be inside.
			less, err := level.Base.Inset(0.05)
			if err != nil {
				t.Fatal(err)
			}
			for _, base := range less {
				if !allowed.ContainsPrism(geometry.Prism{Base: base, Bottom: level.Bottom + 0.05, Top: level.Top - 0.05}) {
					t.Fatalf("a level of the box is not in the bay: %v", level)
				}
			}
		}
	})
	if made < drawn/4 {
		t.Errorf("only %d boxes of %d bays", made, drawn)
	}
}

func TestSuggestedFeetStandAtWalls(t *testing.T) {
	plain := &Box{Levels: []vehicles.Level{{Outline: rectangle(0, 0, 1180, 400), CeilingMM: 200}}}
	feet := SuggestFeet(plain)
	var got []vehicles.XYZ
	for _, f := range feet {
		got = append(got, f.At)
	}
	// 1180 less 60 at each end is 1060: two spans of 530.
	want := []vehicles.XYZ{{60, -25, 0}, {590, -25, 0}, {1120, -25, 0}, {60, 425, 0}, {590, 425, 0}, {1120, 425, 0}}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	// A box whose rear part is narrower and higher, and that is longer along y.
	stepped := &Box{At: vehicles.XYZ{500, 0, 300}, TurnDeg: 45, Levels: []vehicles.Level{
		{Outline: rectangle(0, 0, 300, 400), CeilingMM: 200}, {Outline: rectangle(100, 400, 300, 800), FloorMM: 50, CeilingMM: 200}}}
	for _, f := range SuggestFeet(stepped) {
		ok := f.At[1] < 400 && (f.At[0] == -25 || f.At[0] == 325) && f.At[2] == 0 || f.At[1] > 400 && (f.At[0] == 75 || f.At[0] == 325) && f.At[2] == 50 ||
			f.At[1] == 400
		if !ok {
			t.Errorf("foot %s at %v stands at no wall", f.ID, f.At)
		}
	}
}

func TestBoxIDIsNotTheBays(t *testing.T) {
	a := &Arrangement{Bays: []vehicles.Bay{{ID: "mid"}, {ID: "rear"}, {ID: "rear-box"}}}
	if got := a.BoxID("mid"); got != "mid-box" {
		t.Errorf("box of mid: %q", got)
	}
	a.Boxes = []*Box{{ID: "mid-box"}}
	for bay, want := range map[string]string{"mid": "mid-box-1", "rear": "rear-box-1"} {
		if got := a.BoxID(bay); got != want {
			t.Errorf("box of %s: %q, not %q", bay, got, want)
		}
	}
}

// Prisms of one base that stand on one another are one; those with a gap between them or of another base stay apart.
func TestStackedPrismsAreOne(t *testing.T) {
	square, other := geometry.NewRect(0, 0, 100, 100), geometry.NewRect(0, 0, 100, 90)
	prism := func(base geometry.Polygon, bottom, top float64) geometry.Prism {
		return geometry.Prism{Base: base, Bottom: bottom, Top: top}
	}
	for name, c := range map[string]struct {
		in   []geometry.Prism
		want [][2]float64
	}{
		"one on another":       {[]geometry.Prism{prism(square, 20, 100), prism(square, 100, 250)}, [][2]float64{{20, 250}}},
		"three":                {[]geometry.Prism{prism(square, 20, 100), prism(square, 100, 250), prism(square, 250, 260)}, [][2]float64{{20, 260}}},
		"a gap":                {[]geometry.Prism{prism(square, 20, 100), prism(square, 101, 250)}, [][2]float64{{20, 100}, {101, 250}}},
		"another base":         {[]geometry.Prism{prism(square, 20, 100), prism(other, 100, 250)}, [][2]float64{{20, 100}, {100, 250}}},
		"another base between": {[]geometry.Prism{prism(square, 20, 100), prism(other, 100, 250), prism(square, 250, 300)}, [][2]float64{{20, 100}, {100, 250}, {250, 300}}},
	} {
		var got [][2]float64
		for _, p := range stacked(c.in) {
			got = append(got, [2]float64{p.Bottom, p.Top})
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// By hand: of a block of 100 mm a keep-out 10 mm high takes a strip along one side. Where the whole side up to the roof is less than a
// twentieth of what is left, it is given up and the box needs no step; else the step stays.
func TestALittleSpaceIsGivenUpForAStep(t *testing.T) {
	free := geometry.Space{Solids: []geometry.Prism{{Base: geometry.NewRect(0, 0, 100, 100), Top: 100}}}
	for wide, want := range map[float64]float64{5.2: 948_000, 5.8: 1_000_000 - 5_800} {
		got, err := outOf(free, geometry.Prism{Base: geometry.NewRect(0, 0, wide, 100), Top: 10})
		if err != nil || math.Abs(got.Volume()-want) > 1 {
			t.Errorf("%g mm wide: %g mm3 are left, want %g (%v)", wide, got.Volume(), want, err)
		}
	}
	if got, err := outOf(free, geometry.Prism{Base: geometry.NewRect(100, 0, 120, 100), Top: 10}); err != nil || got.Volume() != 1_000_000 {
		t.Errorf("beside it: %g mm3 are left (%v)", got.Volume(), err)
	}
}
