package pdf

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// op is an order of a page with its numbers, and the opacity, line width, dashes and letters' size in force: ISO 32000-1, 8 and 9.
type op struct {
	name  string
	v     []float64
	alpha float64
	width float64
	dash  string
	size  float64
}

// orders are the orders that a painting puts on a page, in units of 1/72 inch from its lower left corner.
func orders(t *testing.T, doc *fpdf.Fpdf) []op {
	t.Helper()
	file := output(t, doc)
	_, page, _ := bytes.Cut(file, []byte("stream\n"))
	page, _, _ = bytes.Cut(page, []byte("\nendstream"))
	var alphas []float64
	for _, m := range regexp.MustCompile(`/ca ([\d.]+)`).FindAllSubmatch(file, -1) {
		alphas = append(alphas, decimal(string(m[1])))
	}
	var out []op
	now := op{alpha: 1}
	for line := range strings.Lines(strings.ReplaceAll(string(page), "BT ", "BT\n")) {
		line = strings.TrimSuffix(line, "\n")
		if i := strings.Index(line, " Td ("); i >= 0 {
			line = line[:i+3]
		}
		fs := strings.Fields(strings.TrimSuffix(strings.TrimSuffix(line, " ET"), " n"))
		if len(fs) == 0 {
			continue
		}
		now.name, now.v = fs[len(fs)-1], nil
		for _, f := range fs[:len(fs)-1] {
			if v, err := strconv.ParseFloat(f, 64); err == nil {
				now.v = append(now.v, v)
			}
		}
		switch now.name {
		case "gs":
			n, _ := strconv.Atoi(strings.TrimPrefix(fs[0], "/GS"))
			now.alpha = alphas[n-1]
		case "w":
			now.width = now.v[0]
		case "d":
			now.dash = strings.Join(fs[:len(fs)-1], " ")
		case "Tf":
			now.size = now.v[0]
		}
		out = append(out, now)
	}
	return out
}

func decimal(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

func named(ops []op, name string) []op {
	var out []op
	for _, o := range ops {
		if o.name == name {
			out = append(out, o)
		}
	}
	return out
}

var field = Rect{X: 20, Y: 20, W: 200, H: 150}

// painted paints items in the frame of the ruler, whose place (x, y) comes to lie at 1:20 at 95 + x/20 mm from the left and
// 107.5 - y/20 mm from the top of a page 210 mm high.
func painted(t *testing.T, o Options, items ...drawing.Item) []op {
	t.Helper()
	doc := document(false)
	l := &drawing.List{Bounds: ruler().Bounds, Items: items}
	Paint(doc, l, field, o)
	return orders(t, doc)
}

func units(mm float64) float64 { return mm / 25.4 * 72 }

func about(a, b float64) bool { return math.Abs(a-b) < 0.011 }

func tagged(r drawing.Role) drawing.Tag { return drawing.Tag{Role: r} }

// A picture fills its field and states no scale; what is a hair larger than its field at a stated scale is called cut off.
func TestScalesAndWhatIsCutOff(t *testing.T) {
	for _, c := range []struct {
		field         Rect
		o             Options
		n             float64
		free, clipped bool
	}{
		{Rect{W: 200, H: 150}, Options{Fill: true}, 6, true, false},
		{Rect{W: 400, H: 70}, Options{Fill: true}, 10, true, false},
		{Rect{W: 400, H: 70}, Options{Fill: true, Scale: 15}, 15, false, false},
		{Rect{W: 60, H: 35}, Options{Scale: 20}, 20, false, false},
		{Rect{W: 59.9, H: 35}, Options{Scale: 20}, 20, false, true},
		{Rect{W: 60, H: 34.9}, Options{Scale: 20}, 20, false, true},
		{Rect{W: 60, H: 35}, Options{Scale: 0.5}, 0.5, false, true},
		{Rect{W: 60, H: 35}, Options{}, 20, false, false},
	} {
		if p := Paint(document(false), ruler(), c.field, c.o); !about(p.Scale, c.n) || p.Free != c.free || p.Clipped != c.clipped {
			t.Errorf("%+v, %+v: %+v", c.field, c.o, p)
		}
	}
	if p := Paint(document(false), &drawing.List{Bounds: r2.EmptyRect()}, field, Options{}); p.Scale != 1 || p.Origin != (r2.Point{X: 20, Y: 170}) {
		t.Errorf("nothing to paint: %+v", p)
	}
}

func TestCaptionHasTheScaleWhereThereIsOne(t *testing.T) {
	l := &drawing.List{Title: "Plan"}
	if a, b := Caption(l, Placed{Scale: 12.5}), Caption(l, Placed{Scale: 7, Free: true}); a != "Plan, 1:12.5" || b != "Plan" {
		t.Errorf("%q, %q", a, b)
	}
}

// Widths and dashes are those of the item, or else those of its role; a line of two points is drawn, what has no colour is not.
func TestLinesAreAsWideAsSaid(t *testing.T) {
	ends := []r2.Point{{}, {X: 1000}}
	got := named(painted(t, Options{Scale: 20},
		drawing.Stroke{Of: tagged(drawing.RoleBox), Points: ends},
		drawing.Stroke{Of: tagged(drawing.RoleBox), Points: ends, Pt: 0.5},
		drawing.Stroke{Of: tagged(drawing.RoleBox), Points: ends, Pt: 2, Dash: []float64{4, 2}},
		drawing.Stroke{Of: tagged(drawing.RoleWarning), Points: ends},
		drawing.Stroke{Of: drawing.Tag{Role: drawing.RoleBox, Mark: drawing.Ghost}, Points: ends},
		drawing.Stroke{Of: tagged(drawing.RoleShade), Points: ends},
		drawing.Stroke{Of: tagged(drawing.RoleBox), Points: ends[:1]}), "S")
	if len(got) != 5 {
		t.Fatalf("%d lines are drawn", len(got))
	}
	for i, want := range []struct {
		width, alpha float64
		dash         string
	}{{1.1, 1, "[] 0.00"}, {0.5, 1, "[] 0.00"}, {2, 1, "[4.00 2.00] 0.00"}, {1, 1, "[4.00 2.00] 0.00"}, {1.1, 0.565, "[2.00 2.00] 0.00"}} { // 0x90 of 0xff
		if o := got[i]; !about(o.width, want.width) || o.dash != want.dash || math.Abs(o.alpha-want.alpha) > 1e-9 {
			t.Errorf("line %d: %+v, want %+v", i, o, want)
		}
	}
}

// Areas have their corners, closed, and the opacity of their role; what comes after is opaque again.
func TestAreasOnThePage(t *testing.T) {
	area := geometry.NewRect(0, 0, 1000, 500)
	ops := painted(t, Options{Scale: 20}, drawing.Fill{Of: tagged(drawing.RoleHot), Area: area}, drawing.Fill{Of: tagged(drawing.RoleModule), Area: area},
		drawing.Fill{Of: tagged(drawing.RoleLiner), Area: area}, drawing.Fill{Of: tagged(drawing.RoleModule)})
	fills := named(ops, "f*")
	if len(fills) != 2 || fills[0].alpha != 0.314 || fills[1].alpha != 1 { // 0x50 of 0xff
		t.Fatalf("%+v", fills)
	}
	if n := len(named(ops, "h")); n != 2 {
		t.Errorf("%d outlines are closed", n)
	}
	if m := named(ops, "m")[0]; !about(m.v[0], units(95)) || !about(m.v[1], units(210-107.5)) {
		t.Errorf("the corner at the origin lies at %v", m.v)
	}
}

// Hatch lines lie as far apart on paper as said, in points, or as their role has it; a single line is drawn, too.
func TestHatchLinesLieApartOnPaper(t *testing.T) {
	own := drawing.Print().Style(tagged(drawing.RoleCut)).Pitch
	for pt, want := range map[float64]float64{36: 36, 0.9: 0.9, 0: own, 720: 720} {
		ops := painted(t, Options{Scale: 20}, drawing.Hatch{Of: tagged(drawing.RoleCut), Area: geometry.NewRect(0, -100, 1000, 400), PitchPt: pt})
		starts := named(ops, "m")
		if lo, hi := math.Floor(units(20)/want), math.Floor(units(5)/want); float64(len(starts)) != lo+hi+1 || len(named(ops, "S")) != 1 {
			t.Errorf("%d lines of a pitch of %g pt, want %g", len(starts), pt, lo+hi+1)
		}
		for i := 1; i < len(starts); i++ {
			if d := starts[i].v[1] - starts[i-1].v[1]; !about(d, want) {
				t.Fatalf("lines of a pitch of %g pt lie %g apart", pt, d)
			}
		}
	}
	if ops := painted(t, Options{Scale: 20}, drawing.Hatch{Of: tagged(drawing.RoleCut)}); len(named(ops, "S")) > 0 {
		t.Error("a hatch of nothing is drawn")
	}
}

// The edge of the field is drawn where asked for, and its ground where the paper of the palette is not white.
func TestBorderAndGround(t *testing.T) {
	whole := []float64{units(20), units(190), units(200), -units(150)}
	same := func(v []float64) bool {
		for i, want := range whole {
			if i >= len(v) || !about(v[i], want) {
				return false
			}
		}
		return true
	}
	count := func(ops []op, way string) int {
		n := 0
		for _, o := range named(ops, way) {
			if same(o.v) {
				n++
			}
		}
		return n
	}
	plain, framed, dark := painted(t, Options{}), painted(t, Options{Border: true}), painted(t, Options{Palette: drawing.Dark()})
	if count(plain, "S") != 0 || count(framed, "S") != 1 || count(plain, "f") != 0 || count(dark, "f") != 1 {
		t.Errorf("borders %d and %d, grounds %d and %d", count(plain, "S"), count(framed, "S"), count(plain, "f"), count(dark, "f"))
	}
	if count(plain, "W") != 1 {
		t.Error("what lies outside the field is not cut off")
	}
}

// Letters have the size said in points, or in millimetres of the view; a text's place is where its anchor says; letters that
// nobody can read are left out.
func TestTextsHaveTheirSizeAndPlace(t *testing.T) {
	const s = "A text"
	for i, c := range []struct {
		text        drawing.Text
		size        float64
		left, below float64 // of the text's start and base line from its place, in widths and sizes
	}{
		{drawing.Text{InMM: 100}, units(5), 0.5, 0.36},
		{drawing.Text{Pt: 10, Anchor: drawing.West}, 10, 0, 0.36},
		{drawing.Text{Pt: 2.6, Anchor: drawing.East}, 2.6, 1, 0.36},
		{drawing.Text{Anchor: drawing.North}, 8, 0.5, 0.72},
		{drawing.Text{Anchor: drawing.South}, 8, 0.5, 0},
	} {
		c.text.Of, c.text.At, c.text.S = tagged(drawing.RoleLabel), r2.Point{X: 500, Y: 400}, s
		ops := painted(t, Options{Scale: 20}, c.text)
		set := named(ops, "Td")
		if len(set) != 1 || !about(set[0].size, c.size) || len(named(ops, "cm")) > 0 {
			t.Fatalf("text %d: %+v", i, set)
		}
		doc := document(false)
		doc.SetFont(Sans, "", c.size)
		w := units(doc.GetStringWidth(s))
		if x, y := units(120)-c.left*w, units(210-87.5)-c.below*c.size; math.Abs(set[0].v[0]-x) > 0.02 || math.Abs(set[0].v[1]-y) > 0.02 {
			t.Errorf("text %d begins at %v, want %.2f, %.2f", i, set[0].v, x, y)
		}
	}
	for _, text := range []drawing.Text{{Pt: 2.4, S: s}, {Pt: 1, S: s}, {InMM: 1, S: s}, {S: ""}} {
		text.Of = tagged(drawing.RoleLabel)
		if set := named(painted(t, Options{Scale: 20}, text), "Td"); len(set) > 0 {
			t.Errorf("%+v is set: %+v", text, set)
		}
	}
	if set := named(painted(t, Options{Scale: 0.2}, drawing.Text{Of: tagged(drawing.RoleLabel), InMM: 1, S: s}), "Td"); len(set) != 1 || !about(set[0].size, units(5)) {
		t.Errorf("a letter of 1 mm at 5:1: %+v", set)
	}
}

// A text at the edge of the field is moved in, one longer than the field is cut.
func TestTextsStayInTheField(t *testing.T) {
	const s = "A text of some length"
	doc := document(false)
	doc.SetFont(Sans, "", 12)
	w := doc.GetStringWidth(s)
	for _, c := range []struct {
		x    float64
		want float64
	}{{-1400, 20}, {2400, 220 - w}} {
		set := named(painted(t, Options{Scale: 20}, drawing.Text{Of: tagged(drawing.RoleLabel), S: s, Pt: 12, At: r2.Point{X: c.x}}), "Td")
		if len(set) != 1 || math.Abs(set[0].v[0]-units(c.want)) > 0.02 {
			t.Errorf("a text at %g: %+v, want %.2f", c.x, set, units(c.want))
		}
	}
	long := strings.Repeat(s, 20)
	set := named(painted(t, Options{Scale: 20}, drawing.Text{Of: tagged(drawing.RoleLabel), S: long, Pt: 12, At: r2.Point{X: 500}}), "Td")
	letter := doc.GetStringWidth("m")
	if len(set) != 1 || set[0].v[0] < units(20) || set[0].v[0] > units(20+letter/2) { // what is left over lies on both sides
		t.Errorf("a text longer than the field: %+v", set)
	}
}

// A text is cut to the most letters that fit with an ellipsis, one that fits is left.
func TestShortened(t *testing.T) {
	b := brush{doc: document(false)}
	b.doc.SetFont(Sans, "", 10)
	const s = "Battery box"
	whole := b.doc.GetStringWidth(s)
	if got := b.shortened(s, whole); got != s {
		t.Errorf("what fits became %q", got)
	}
	for n := 1; n < len(s)-1; n++ {
		w := b.doc.GetStringWidth(s[:n]+"…") + 1e-6
		if w >= whole {
			continue
		}
		if got := b.shortened(s, w); got != s[:n]+"…" {
			t.Errorf("%q, want %d letters", got, n)
		}
	}
	if got := b.shortened(s, 0); got != "…" {
		t.Errorf("no room: %q", got)
	}
}

// Texts turn anticlockwise about their place: cos, sin, -sin, cos (ISO 32000-1, 8.3.3).
func TestTurnedTexts(t *testing.T) {
	for _, deg := range []float64{30, 1, -90} {
		cm := named(painted(t, Options{Scale: 20}, drawing.Text{Of: tagged(drawing.RoleLabel), S: "x", Deg: deg, At: r2.Point{X: 500, Y: 250}}), "cm")
		sin, cos := math.Sincos(deg * math.Pi / 180)
		if len(cm) != 1 {
			t.Fatalf("%g degrees: %+v", deg, cm)
		}
		for i, want := range []float64{cos, sin, -sin, cos} {
			if math.Abs(cm[0].v[i]-want) > 1e-4 {
				t.Errorf("%g degrees: %v", deg, cm[0].v)
			}
		}
	}
}

// The ground under a text reaches round its capitals, 0.72 of their size high, and no more than 0.15 of it further.
func TestGroundUnderATextIsAsLargeAsTheText(t *testing.T) {
	ops := painted(t, Options{Scale: 20}, drawing.Text{Of: tagged(drawing.RoleLabel), S: "WIDE TEXT", Pt: 20, Halo: true, At: r2.Point{X: 500, Y: 250}})
	rect, set := named(ops, "f"), named(ops, "Td")
	if len(rect) != 1 || len(set) != 1 || rect[0].alpha < 0.5 || rect[0].alpha == 1 || set[0].alpha != 1 {
		t.Fatalf("%+v, %+v", rect, set)
	}
	doc := document(false)
	doc.SetFont(Sans, "", 20)
	w := units(doc.GetStringWidth("WIDE TEXT"))
	x, y := set[0].v[0], set[0].v[1]
	r := rect[0].v // left, top, width and a negative height
	for side, beyond := range map[string]float64{"left": x - r[0], "right": r[0] + r[2] - x - w, "top": r[1] - y - 0.72*20, "foot": y - r[1] - r[3]} {
		if beyond < 0 || beyond > 0.15*20 {
			t.Errorf("%s: the ground reaches %.2f beyond letters of 20", side, beyond)
		}
	}
	if plain := painted(t, Options{Scale: 20}, drawing.Text{Of: tagged(drawing.RoleLabel), S: "WIDE TEXT"}); len(named(plain, "f")) > 0 {
		t.Error("a text without a halo has a ground")
	}
}

// Letters the fonts lack become a square, controls a space.
func TestCleanTexts(t *testing.T) {
	for s, want := range map[string]string{"a\nb": "a b", "\U0001F50B": "□", "\U00010000": "□", "\uFFFD": "□", "a\u2028b": "a b", "\uFFFC": "\uFFFC", "Größe": "Größe"} {
		if got := Clean(s); got != want {
			t.Errorf("%q became %q", s, got)
		}
	}
}
