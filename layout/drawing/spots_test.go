package drawing

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// spotsOf says where names may go, as the pen has been told so far.
func spotsOf(p *pen) []string {
	var out []string
	for _, w := range p.wishes {
		for _, s := range w.at {
			out = append(out, fmt.Sprintf("%q %.3f %.3f %d", w.s, s.At.X, s.At.Y, s.Anchor))
		}
	}
	return out
}

// spotted are pens that have been asked for each kind of name, with the thing that the name belongs to.
func spotted() map[string]*pen {
	out := map[string]*pen{}
	pen := func(name string) *pen {
		p := newPen(PlanView, &Options{Cuts: []float64{700}})
		out[name] = p
		return p
	}
	pen("place").place(&Place{A: r3.Vector{X: 10, Y: 20}, B: r3.Vector{X: 30, Y: 20}, Text: "x"}, nil)
	pen("cut").cutLines(r2.RectFromPoints(pt(0, -800), pt(4000, 800)))
	pen("gap").narrowGap(pt(100, 50), pt(104, 50), "4")
	pen("clearance").clearanceName("clearance 190", pt(100, 190), pt(2100, 190))
	c := newPlot(Axis{Hi: 10}, Axis{Hi: 10}, 100, 100)
	out["spot"] = c.p
	c.spotName(Spot{X: 2, Y: 3, Name: "one"})
	c = newPlot(Axis{Hi: 10}, Axis{Hi: 10}, 100, 100)
	out["curve"] = c.p
	c.curve(Series{Name: "a", Points: []r2.Point{{X: 1, Y: 2}, {X: 7, Y: 5}}}, nil)
	p := pen("around")
	p.wish(wish{s: "around", at: around(r2.RectFromPoints(pt(10, 20), pt(110, 60)), 8)})
	p.wish(wish{s: "above", at: above(r2.RectFromPoints(pt(10, 20), pt(110, 60)), 8)})
	s := inventedScene(2, 1)
	h := newSheet(s, s.Boxes[0], Options{Scale: 10})
	for name, f := range map[string]struct {
		face string
		at   vehicles.XYZ
	}{"front": {"front", vehicles.XYZ{0, 80, 120}}, "rear": {"rear", vehicles.XYZ{860, 80, 120}}, "foot at the left": {"", vehicles.XYZ{80, -25, 250}}, "foot at the right": {"", vehicles.XYZ{780, 200, 250}}} {
		h.nameAt(pen("sheet "+name), f.at, f.face, "name", RoleFoot)
	}
	return out
}

// Where names may go, so that no spot changes unnoticed.
func TestNoSpotChangesUnnoticed(t *testing.T) {
	all := spotted()
	var lines []string
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for _, s := range spotsOf(all[name]) {
			lines = append(lines, name+": "+s)
		}
	}
	goldentest.Compare(t, "spots", nil, lines)
}

// A name that goes beside a thing does not lie over it, at any of its spots, and its spots differ.
func TestSpotsLieBesideTheirThings(t *testing.T) {
	things := map[string]r2.Rect{
		"place": r2.RectFromPoints(pt(10, 10), pt(30, 30)), "cut": r2.RectFromPoints(pt(700, -840), pt(700, 840)),
		"gap": r2.RectFromPoints(pt(100, 40), pt(104, 60)), "clearance": r2.RectFromPoints(pt(100, 190), pt(2100, 190)),
		"spot": r2.RectFromCenterSize(pt(20, 30), pt(3.2, 3.2)), "curve": r2.RectFromPoints(pt(10, 20), pt(70, 50)),
		"around": r2.RectFromPoints(pt(10, 20), pt(110, 60)),
	}
	for name, p := range spotted() {
		thing, ok := things[name]
		if !ok {
			continue
		}
		for _, w := range p.wishes {
			seen := map[spot]bool{}
			for _, s := range w.at {
				if r := p.nameAt(w, s).extent(); r.InteriorIntersects(thing) {
					t.Errorf("%s: %q at %v lies over %v", name, w.s, r, thing)
				}
				if seen[s] {
					t.Errorf("%s: twice at %v", name, s)
				}
				seen[s] = true
			}
		}
	}
}

// Symbols of terminals and ports near by and from afar, gear's and ports' ways, so that none changes unnoticed.
func TestNoSymbolChangesUnnoticed(t *testing.T) {
	var lines []string
	for _, coarse := range []bool{false, true} {
		p := newPen(PlanView, &Options{Coarse: coarse})
		for i, polarity := range []string{"positive", "negative", "none"} {
			p.terminal("t", polarity, pt(100*float64(i), 0), 20)
		}
		for i, kind := range []string{"coolant_in", "coolant_out", "socket"} {
			p.port(Tag{Role: RolePort, Ref: kind}, kind, pt(100*float64(i), 100), pt(1, 0), 20)
			p.port(Tag{Role: RolePort, Ref: kind}, kind, pt(100*float64(i), 200), pt(0, 0.52), 20)
			p.port(Tag{Role: RolePort, Ref: kind}, kind, pt(100*float64(i), 300), pt(0, 0), 20)
		}
		lines = append(lines, dumped(p.list("symbols"))...)
	}
	goldentest.Compare(t, "symbols", nil, lines)
}

// A text anchored at the middle has its capitals as far over as under its place, one anchored at its top has them under it: with
// the height of capitals of a common sans-serif face, read from its own tables.
func TestCapitalsLieAsTheAnchorSays(t *testing.T) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 1000, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		t.Fatal(err)
	}
	high := float64(face.Metrics().CapHeight) / 64 / 1000
	for a, want := range map[Anchor][2]float64{Middle: {0.5, high / 2}, West: {0, high / 2}, East: {1, high / 2}, North: {0.5, high}, South: {0.5, 0}} {
		if a.Left() != want[0] || math.Abs(a.Drop()-want[1]) > 0.01 {
			t.Errorf("anchor %d: %g of the width at the left, %g down; want %v", a, a.Left(), a.Drop(), want)
		}
	}
}

// The eye of each view looks along the third axis of its plane: from where the first axis turns to the second counter-clockwise.
func TestViewsLookAlongTheThirdAxis(t *testing.T) {
	for _, v := range views {
		var across, up r3.Vector
		for _, e := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
			switch v.Point(e) {
			case pt(1, 0):
				across = e
			case pt(0, 1):
				up = e
			}
		}
		if v.towards() != across.Cross(up) {
			t.Errorf("%v: %v, want %v", v, v.towards(), across.Cross(up))
		}
	}
}
