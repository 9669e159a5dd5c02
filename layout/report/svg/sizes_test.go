package svg

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// drawn is a file as an XML reader has it, its style rules by their names.
type drawn struct {
	Width   string `xml:"width,attr"`
	Height  string `xml:"height,attr"`
	ViewBox string `xml:"viewBox,attr"`
	Style   string `xml:"style"`
	Texts   []struct {
		Class     string `xml:"class,attr"`
		X         string `xml:"x,attr"`
		Y         string `xml:"y,attr"`
		Transform string `xml:"transform,attr"`
		S         string `xml:",chardata"`
	} `xml:"text"`
	Paths []struct {
		Class string `xml:"class,attr"`
		D     string `xml:"d,attr"`
	} `xml:"path"`
}

// paint writes a view of 1200 x 700 mm with the items given and reads the file.
func paint(t *testing.T, s Sheet, items ...drawing.Item) drawn {
	t.Helper()
	var b bytes.Buffer
	l := &drawing.List{Bounds: r2.RectFromPoints(r2.Point{X: -100, Y: -100}, r2.Point{X: 1100, Y: 600}), Items: items}
	if err := Write(&b, l, s); err != nil {
		t.Fatal(err)
	}
	var d drawn
	if err := xml.Unmarshal(b.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// rule is a property in the style of a class, "" where it has none.
func (d drawn) rule(class, property string) string {
	_, rest, _ := strings.Cut(d.Style, "."+class+"{")
	rest, _, _ = strings.Cut(rest, "}")
	for _, p := range strings.Split(rest, ";") {
		if v, ok := strings.CutPrefix(p, property+":"); ok {
			return v
		}
	}
	return ""
}

func tagged(r drawing.Role) drawing.Tag { return drawing.Tag{Role: r} }

// At 1:20 with an edge of 5 mm a place lies (x + 100)/20 + 5 mm from the left and (600 - y)/20 + 5 mm from the top.
func TestPlacesOnTheSheet(t *testing.T) {
	area := geometry.Polygon{Outer: geometry.Ring{{X: 0, Y: 0}, {X: 1000, Y: 0}, {X: 1000, Y: 500}}, Holes: []geometry.Ring{{{X: 700, Y: 100}, {X: 700, Y: 200}, {X: 900, Y: 200}}}}
	line := []r2.Point{{X: -100, Y: 600}, {X: 500, Y: 250}}
	d := paint(t, Sheet{Scale: 20, MarginMM: 5}, drawing.Fill{Of: tagged(drawing.RoleModule), Area: area}, drawing.Stroke{Of: tagged(drawing.RoleBox), Points: line})
	for i, want := range []string{"M10 35L60 35L60 10ZM45 30L45 25L55 25Z", "M5 5L35 22.5"} {
		if i >= len(d.Paths) || d.Paths[i].D != want {
			t.Errorf("path %d of %+v, want %s", i, d.Paths, want)
		}
	}
	if d.rule(d.Paths[0].Class, "fill-rule") != "evenodd" {
		t.Error("the hole is filled")
	}
}

// A drawing without a scale is at 1:1, one at 1:0.5 twice as large; one without bounds is a blank sheet of a centimetre.
func TestSizeOfTheSheet(t *testing.T) {
	for _, c := range []struct {
		s    Sheet
		w, h string
	}{{Sheet{}, "1200", "700"}, {Sheet{Scale: 0.5, MarginMM: 1}, "2402", "1402"}, {Sheet{Scale: 30}, "40", "23.333"}} {
		if d := paint(t, c.s); d.Width != c.w+"mm" || d.Height != c.h+"mm" || d.ViewBox != "0 0 "+c.w+" "+c.h {
			t.Errorf("%+v: %s x %s, %s", c.s, d.Width, d.Height, d.ViewBox)
		}
	}
	var b bytes.Buffer
	if err := Write(&b, &drawing.List{Bounds: r2.EmptyRect()}, Sheet{MarginMM: 3}); err != nil || !strings.Contains(b.String(), `width="16mm" height="16mm"`) {
		t.Errorf("an empty sheet: %v, %s", err, b.String())
	}
}

// The note stands in the middle of a strip of 6 mm under the drawing, in letters of 8 points: 8/72 of an inch.
func TestNoteStandsUnderTheDrawing(t *testing.T) {
	d := paint(t, Sheet{Scale: 20, MarginMM: 5, Note: "Plan, 1:20"})
	if d.Height != "51mm" || d.ViewBox != "0 0 70 51" {
		t.Errorf("a sheet of 45 mm is %s high with its note, %s", d.Height, d.ViewBox)
	}
	n := d.Texts[0]
	if n.S != "Plan, 1:20" || n.X != "35" || n.Y != "48" || d.rule(n.Class, "text-anchor") != "middle" {
		t.Errorf("%+v", n)
	}
	if got := d.rule(n.Class, "font-size"); got != "2.822px" {
		t.Errorf("letters of %s, want 2.822 mm", got)
	}
}

// Widths and dashes are in points of 25.4/72 mm: those of the item, or else those of its role.
func TestLinesAreAsWideAsSaid(t *testing.T) {
	ends := []r2.Point{{}, {X: 100}}
	d := paint(t, Sheet{Scale: 20},
		drawing.Stroke{Of: tagged(drawing.RoleBox), Points: ends},
		drawing.Stroke{Of: tagged(drawing.RoleBox), Points: ends, Pt: 0.5},
		drawing.Stroke{Of: tagged(drawing.RoleBox), Points: ends, Pt: 2, Dash: []float64{4, 2}},
		drawing.Stroke{Of: tagged(drawing.RoleWarning), Points: ends})
	own := drawing.Print().Style(tagged(drawing.RoleBox)).Pt
	for i, want := range []struct{ width, dash string }{{strconv.FormatFloat(own*25.4/72, 'f', 3, 64), ""}, {"0.176", ""}, {"0.706", "1.411,0.706"}, {"0.353", "1.411,0.706"}} {
		c := d.Paths[i].Class
		if w, dash := d.rule(c, "stroke-width"), d.rule(c, "stroke-dasharray"); w != want.width || dash != want.dash {
			t.Errorf("line %d: %s mm wide, dashed %q, want %s, %q", i, w, dash, want.width, want.dash)
		}
	}
}

// Hatch lines lie as far apart on paper as said, in points: 36 are half an inch, whatever the scale.
func TestHatchLinesLieApartOnPaper(t *testing.T) {
	area := geometry.NewRect(0, 0, 1000, 500)
	own := drawing.Print().Style(tagged(drawing.RoleCut)).Pitch
	for pt, want := range map[float64]float64{36: 12.7, 0.9: 0.3175, 0: own * 25.4 / 72} {
		d := paint(t, Sheet{Scale: 20}, drawing.Hatch{Of: tagged(drawing.RoleCut), Area: area, PitchPt: pt})
		var x0, x1, y, before float64
		lines := strings.Split(strings.TrimPrefix(d.Paths[0].D, "M"), "M")
		for i, l := range lines {
			if _, err := fmt.Sscanf(l, "%g %gL%g %g", &x0, &y, &x1, new(float64)); err != nil || x1-x0 != 50 {
				t.Fatalf("%q: %v", l, err)
			}
			if d := before - y; i > 0 && (d < want-0.0011 || d > want+0.0011) {
				t.Fatalf("lines of a pitch of %g pt lie %g mm apart, want %g", pt, d, want)
			}
			before = y
		}
		if n := int(25/want) + 1; len(lines) != n {
			t.Errorf("%d lines of a pitch of %g pt on 25 mm, want %d", len(lines), pt, n)
		}
	}
	if d := paint(t, Sheet{}, drawing.Hatch{Of: tagged(drawing.RoleCut)}); len(d.Paths) > 0 {
		t.Errorf("a hatch of nothing: %+v", d.Paths)
	}
}

// Letters have the size said in points, or in millimetres of the view; a text's place is where its anchor says.
func TestTextsHaveTheirSizeAndPlace(t *testing.T) {
	label := drawing.Print().Style(tagged(drawing.RoleLabel)).Size
	own := label * 25.4 / 72
	for i, c := range []struct {
		text   drawing.Text
		size   float64
		anchor string
		below  float64 // of the base line under the place, in sizes
	}{
		{drawing.Text{InMM: 100}, 5, "middle", 0.36},
		{drawing.Text{InMM: 1}, 0.05, "middle", 0.36},
		{drawing.Text{Pt: 10, Anchor: drawing.West}, 254. / 72, "start", 0.36},
		{drawing.Text{Pt: 1, Anchor: drawing.East}, 25.4 / 72, "end", 0.36},
		{drawing.Text{Anchor: drawing.North}, own, "middle", 0.72},
		{drawing.Text{Anchor: drawing.South}, own, "middle", 0},
	} {
		c.text.Of, c.text.At, c.text.S = tagged(drawing.RoleLabel), r2.Point{X: 500, Y: 400}, "x"
		d := paint(t, Sheet{Scale: 20, MarginMM: 5}, c.text)
		w := d.Texts[0]
		fixed := func(v float64) float64 { s, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', 3, 64), 64); return s }
		if got := d.rule(w.Class, "font-size"); got != fmt.Sprintf("%gpx", fixed(c.size)) || d.rule(w.Class, "text-anchor") != c.anchor {
			t.Errorf("text %d: %s, %s", i, got, d.rule(w.Class, "text-anchor"))
		}
		if w.X != "35" || w.Y != fmt.Sprint(fixed(15+c.below*c.size)) || w.Transform != "" {
			t.Errorf("text %d at %s, %s %s", i, w.X, w.Y, w.Transform)
		}
	}
}

// SVG turns clockwise (SVG 1.1, 7.6), drawings anticlockwise; however little it is.
func TestTurnedTexts(t *testing.T) {
	for deg, want := range map[float64]string{30: "rotate(-30 35 15)", 1: "rotate(-1 35 15)", -90: "rotate(90 35 15)"} {
		d := paint(t, Sheet{Scale: 20, MarginMM: 5}, drawing.Text{Of: tagged(drawing.RoleLabel), At: r2.Point{X: 500, Y: 400}, S: "x", Deg: deg})
		if got := d.Texts[0].Transform; got != want {
			t.Errorf("%g: %s, want %s", deg, got, want)
		}
	}
}

// What lies under a text shines neither through its letters nor blots out its neighbours: the halo is a rim thinner than half
// the letters, of the paper's colour. Bold is what the palette has so.
func TestHaloAndBold(t *testing.T) {
	text := drawing.Text{Of: tagged(drawing.RoleLabel), S: "x", InMM: 200}
	plain := paint(t, Sheet{Scale: 20}, text)
	if c := plain.Texts[0].Class; plain.rule(c, "stroke") != "" || plain.rule(c, "font-weight") != "" {
		t.Errorf("a plain text: %s", plain.Style)
	}
	text.Halo, text.Of = true, tagged(drawing.RoleTitle)
	d := paint(t, Sheet{Scale: 20}, text)
	c := d.Texts[0].Class
	w, err := strconv.ParseFloat(d.rule(c, "stroke-width"), 64)
	if err != nil || w < 1 || w > 5 || d.rule(c, "stroke") != "#ffffff" || d.rule(c, "paint-order") != "stroke" || d.rule(c, "font-weight") != "bold" {
		t.Errorf("letters of 10 mm: %s", d.Style)
	}
}

// Colours that let shine through say how much, of 255; what has no colour is left out.
func TestOpacity(t *testing.T) {
	area := geometry.NewRect(0, 0, 1000, 500)
	d := paint(t, Sheet{Scale: 20}, drawing.Fill{Of: tagged(drawing.RoleHot), Area: area}, drawing.Fill{Of: tagged(drawing.RoleModule), Area: area}, drawing.Fill{Of: tagged(drawing.RoleLiner), Area: area},
		drawing.Stroke{Of: drawing.Tag{Role: drawing.RoleBox, Mark: drawing.Ghost}, Points: area.Outer})
	if len(d.Paths) != 3 {
		t.Fatalf("%d paths, want none for what has no fill", len(d.Paths))
	}
	for i, want := range []string{"0.314", "", ""} { // 0x50 of 0xff
		if got := d.rule(d.Paths[i].Class, "fill-opacity"); got != want {
			t.Errorf("fill %d: %q, want %q", i, got, want)
		}
	}
	if got := d.rule(d.Paths[2].Class, "stroke-opacity"); got != "0.565" { // 0x90 of 0xff
		t.Errorf("a ghost's line: %q", got)
	}
}

// Numbers have a thousandth of a millimetre and no needless zeros.
func TestNumbers(t *testing.T) {
	for v, want := range map[float64]string{1. / 3: "0.333", 10: "10", 100.5: "100.5", -0.0001: "0", 0: "0", -1.25: "-1.25"} {
		if got := num(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}
