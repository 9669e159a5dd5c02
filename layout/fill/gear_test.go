package fill

import (
	"slices"
	"strings"
	"testing"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// tray is a box whose inside reaches from a corner so many millimetres along each axis.
func tray(corner vehicles.XY, length, width float64) *layout.Box {
	const wall = 2
	x, y := corner[0]-wall, corner[1]-wall
	return &layout.Box{ID: "tray", Shell: layout.Shell{WallMM: wall}, Levels: []vehicles.Level{{CeilingMM: 200,
		Outline: []vehicles.XY{{x, y}, {x + length + 2*wall, y}, {x + length + 2*wall, y + width + 2*wall}, {x, y + width + 2*wall}}}}}
}

func piece(id string, length, width float64, strips ...vehicles.Face) *vehicles.Gear {
	g := &vehicles.Gear{ID: id, Name: id, LengthMM: length, WidthMM: width, HeightMM: 50}
	for _, f := range strips {
		g.Terminals = append(g.Terminals, vehicles.Terminal{ID: string(f), Face: f, StripMM: 50})
	}
	return g
}

// spot is where a piece stands in plan, from the corner of the inside.
type spot struct {
	id   string
	x, y float64
	turn int
}

// put puts pieces into a tray and says where each went, in the order in which they were put.
func put(t *testing.T, b *layout.Box, end Corner, pieces ...*vehicles.Gear) ([]spot, error) {
	t.Helper()
	lib := vehicles.Catalogue().With(vehicles.Records{Gear: pieces})
	var want []layout.PlacedGear
	for _, g := range pieces {
		want = append(want, layout.PlacedGear{ID: g.ID, Gear: g.ID})
	}
	out, err := Gear(b, lib, want, end)
	if err != nil {
		return nil, err
	}
	inner, err := layout.BoxInterior(b)
	if err != nil {
		t.Fatal(err)
	}
	lo, _ := inner.Bounds()
	var got []spot
	for _, g := range out.Gear {
		got = append(got, spot{g.ID, g.At[0] - lo.X, g.At[1] - lo.Y, int(g.Turn)})
	}
	return got, nil
}

// Where gear goes, counted by hand: the largest first, the least reach into the box, places every five millimetres.
func TestGearGoesToTheEnd(t *testing.T) {
	row := []*vehicles.Gear{piece("a", 102, 250), piece("b", 102, 240), piece("c", 102, 230)}
	for _, c := range []struct {
		name          string
		length, width float64
		end           Corner
		pieces        []*vehicles.Gear
		want          []spot
	}{
		{"one behind the other", 600, 252, ToFront, row, []spot{{"a", 0, 0, 0}, {"b", 105, 0, 0}, {"c", 210, 0, 0}}},
		{"one before the other", 600, 252, ToRear, row, []spot{{"a", 498, 0, 0}, {"b", 393, 0, 0}, {"c", 288, 0, 0}}},
		{"side by side", 600, 252, ToFront, []*vehicles.Gear{piece("a", 102, 102), piece("b", 101, 102)}, []spot{{"a", 0, 0, 0}, {"b", 0, 105, 0}}},
		{"as long as the inside", 300, 102, ToFront, []*vehicles.Gear{piece("a", 300, 102)}, []spot{{"a", 0, 0, 0}}},
		{"the largest first", 600, 102, ToFront, []*vehicles.Gear{piece("long", 100, 40), piece("large", 200, 100)}, []spot{{"large", 0, 0, 0}, {"long", 200, 0, 90}}},
		{"of those alike, the one named first", 600, 102, ToFront, []*vehicles.Gear{piece("z", 80, 100), piece("b", 80, 100), piece("m", 80, 100)}, []spot{{"z", 0, 0, 0}, {"b", 80, 0, 0}, {"m", 160, 0, 0}}},
		{"crosswise reaches in less", 600, 252, ToRear, []*vehicles.Gear{piece("a", 200, 100)}, []spot{{"a", 500, 0, 90}}},
		{"its front strip to the rear", 600, 102, ToFront, []*vehicles.Gear{piece("a", 100, 100, vehicles.Front)}, []spot{{"a", 0, 0, 180}}},
		{"its rear strip to the rear", 600, 102, ToFront, []*vehicles.Gear{piece("a", 100, 100, vehicles.Back)}, []spot{{"a", 0, 0, 0}}},
		{"its rear strip to the front", 600, 102, ToRear, []*vehicles.Gear{piece("a", 100, 100, vehicles.Back)}, []spot{{"a", 500, 0, 180}}},
	} {
		for _, corner := range []vehicles.XY{{0, 0}, {-3000, -2000}, {2000, 3000}} {
			got, err := put(t, tray(corner, c.length, c.width), c.end, c.pieces...)
			if err != nil || !slices.Equal(got, c.want) {
				t.Errorf("%s, inside from %v: %v, %v; not %v", c.name, corner, got, err, c.want)
			}
		}
	}
}

// Strips on the long sides: one turn brings the left to the rear, the other the right.
func TestGearTurnsAStripFromTheWall(t *testing.T) {
	turns := map[int]bool{}
	for _, f := range []vehicles.Face{vehicles.Left, vehicles.Right} {
		got, err := put(t, tray(vehicles.XY{0, 0}, 600, 205), ToFront, piece("a", 200, 100, f))
		if err != nil || len(got) != 1 || got[0].x != 0 || got[0].y != 0 {
			t.Fatalf("%s: %v, %v", f, got, err)
		}
		turns[got[0].turn] = true
	}
	if !turns[90] || !turns[270] {
		t.Errorf("turns %v", turns)
	}
}

func TestGearKeepsClear(t *testing.T) {
	strip := piece("strip", 100, 100, vehicles.Back)
	got, err := put(t, tray(vehicles.XY{0, 0}, 600, 102), ToFront, strip, piece("small", 60, 99))
	if want := []spot{{"strip", 0, 0, 0}, {"small", 150, 0, 0}}; err != nil || !slices.Equal(got, want) {
		t.Errorf("clear of a strip: %v, %v; not %v", got, err, want)
	}
	if _, err := put(t, tray(vehicles.XY{0, 0}, 120, 102), ToFront, strip, piece("small", 60, 99)); err == nil || !strings.Contains(err.Error(), "strip") {
		t.Errorf("no room for the strip: %v", err)
	}
	if _, err := put(t, tray(vehicles.XY{0, 0}, 180, 102), ToFront, piece("a", 100, 100), piece("small", 90, 99)); err == nil || !strings.Contains(err.Error(), "small") {
		t.Errorf("no room for the second: %v", err)
	}
}

// A piece may stand up to the edge of a floor and, as sheet is bent and not cut there, not a millimetre beyond it.
func TestGearStandsOnAFloor(t *testing.T) {
	low, high := geometry.NewRect(0, 0, 500, 1000), geometry.NewRect(500, 0, 1000, 1000)
	lowY, highY := geometry.NewRect(0, 0, 1000, 500), geometry.NewRect(0, 500, 1000, 1000)
	body := func(x, y float64) geometry.Polygon { return geometry.NewRect(x, y, x+100, y+100) }
	for _, c := range []struct {
		name      string
		low, high geometry.Polygon
		at        func(over float64) geometry.Polygon
	}{
		{"front", low, high, func(o float64) geometry.Polygon { return body(500-o, 300) }},
		{"rear", high, low, func(o float64) geometry.Polygon { return body(400+o, 300) }},
		{"left", lowY, highY, func(o float64) geometry.Polygon { return body(300, 500-o) }},
		{"right", highY, lowY, func(o float64) geometry.Polygon { return body(300, 400+o) }},
	} {
		room, err := geometry.Space{Solids: []geometry.Prism{{Base: c.low, Bottom: 0, Top: 300}, {Base: c.high, Bottom: 60, Top: 300}}}.Prepare()
		if err != nil {
			t.Fatal(err)
		}
		s := stand{room: room}
		for over, want := range map[float64]bool{-50: true, 0: true, 0.7: true, 1.05: false, 20: false, 60: false} {
			if got := s.supported(geometry.Prism{Base: c.at(over), Bottom: 60, Top: 110}); got != want {
				t.Errorf("%s: %g mm beyond the edge: supported %v", c.name, over, got)
			}
		}
	}
}
