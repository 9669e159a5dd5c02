package outline

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"stowbay/geometry"
	"stowbay/internal/inputs"
)

func TestSVGPathsWithNamesAndLines(t *testing.T) {
	d, err := ReadSVG(strings.NewReader(`<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50">
  <g><path id="bay" d="M10 10 h80 v30 h-80 z"/></g>
  <path d="M0 0 L5 0 L5 5 Z M20 20 h5 v5 z"/>
</svg>`))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, o := range d.Outlines {
		got = append(got, fmt.Sprint(o.Layer, " ", o.Line, " ", o.Ring.Polygon().Area()))
	}
	if want := "bay 3 2400, path 2 4 12.5, path 2 4 12.5"; strings.Join(got, ", ") != want {
		t.Errorf("got %v\nwant %v", strings.Join(got, ", "), want)
	}
	// What the drawing shows 10 below its upper edge lies at y = -10, and turning about keeps the sense of a ring.
	if d.MMPerUnit != 1 {
		t.Errorf("%v mm a unit, want 1", d.MMPerUnit)
	}
	if b := d.Outlines[0].Ring.Bounds(); b.Y.Lo != -40 || b.Y.Hi != -10 || sense(d.Outlines[0].Ring) <= 0 {
		t.Errorf("bounds %v, sense %v", b, sense(d.Outlines[0].Ring))
	}
}

func TestSVGSaysWhatIsLeftOut(t *testing.T) {
	d, err := ReadSVG(strings.NewReader("<svg>\n<g transform=\"scale(2)\"/><rect/><rect/><text>a</text>\n<path id=\"open\" d=\"M0 0 L5 0 L5 5\"/></svg>"))
	if err != nil || len(d.Outlines) != 0 {
		t.Fatal(d, err)
	}
	notes := strings.Join(d.Notes, "\n")
	for _, want := range []string{"counts as a millimetre", "transforms, the first in line 2", "2 × rect left out", "1 × text left out", "open, line 3, is left out: 1:1: the outline that starts here is not closed"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no note %q in:\n%s", want, notes)
		}
	}
}

func TestSVGBoundsWhatItSays(t *testing.T) {
	d, err := ReadSVG(strings.NewReader(`<svg transform="scale(2)">` + strings.Repeat(`<path d="M0 0 9"/>`, maxFaults+1) + "</svg>"))
	if notes := strings.Join(d.Notes, "\n"); err != nil || !strings.Contains(notes, "1 more paths") || !strings.Contains(notes, "the first in line 1.") {
		t.Errorf("%s, %v", notes, err)
	}
	d, err = ReadSVG(strings.NewReader("<svg>" + strings.Repeat(`<path d="M0 0"/><path d="M0 0 9"/>`, 400) + "</svg>"))
	if err != nil || len(d.Notes) > maxFaults+3 || !strings.Contains(d.Notes[len(d.Notes)-1], "350 more paths") {
		t.Errorf("%d notes, %v", len(d.Notes), err)
	}
	d, err = ReadSVG(strings.NewReader("<svg>" + strings.Repeat(`<path d="M0 0H9V9z"/>`, MaxOutlines+5) + "</svg>"))
	if err != nil || len(d.Outlines) != MaxOutlines || !strings.Contains(d.Notes[len(d.Notes)-1], "more than 2000 outlines") {
		t.Errorf("%d outlines, %v", len(d.Outlines), err)
	}
}

func TestSVGFaults(t *testing.T) {
	for in, want := range map[string]string{
		"":                                 "no svg element",
		"<html></html>":                    "no svg element",
		"<svg><path d=\"M0 0\"":            "1:20: cannot be read as SVG: unexpected EOF",
		"<svg>\n</g></svg>":                "2:5: cannot be read as SVG: element <svg> closed by </g>",
		"<svg>&boom;</svg>":                "cannot be read as SVG: invalid character entity &boom;",
		"<?xml encoding=\"utf-7\"?><svg/>": "cannot be read as SVG: xml: encoding \"utf-7\"",
	} {
		_, err := ReadSVG(strings.NewReader(in))
		var f *Fault
		if !errors.As(err, &f) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", in, err, want)
		}
	}
}

func TestSVGLimitsSize(t *testing.T) {
	_, err := ReadSVG(&blanks{head: "<svg>"})
	if err == nil || !strings.Contains(err.Error(), "greater than 64 MB") {
		t.Errorf("got %v", err)
	}
}

func TestSVGMayBeAsLongAsTheLimit(t *testing.T) {
	text := `<svg><path d="M0 0H9V9z"/></svg>`
	for more, good := range map[int]bool{0: true, 1: false} {
		_, err := readSVG(strings.NewReader(text+strings.Repeat(" ", 100-len(text)+more)), 100)
		if (err == nil) != good {
			t.Errorf("%d bytes more than allowed: %v", more, err)
		}
	}
}

// blanks is a file of blanks without end.
type blanks struct{ head string }

func (e *blanks) Read(p []byte) (int, error) {
	n := copy(p, e.head)
	e.head = e.head[n:]
	for i := n; i < len(p); i++ {
		p[i] = ' '
	}
	return len(p), nil
}

var svgFiles = []string{
	`<svg><path id="a" d="M0 0H9V9z"/></svg>`,
	`<?xml version="1.0"?><svg xmlns="a"><g transform="x"><rect/></g><path d="M1 1 a5 5 0 0 1 9 9 z"/></svg>`,
	`<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>`,
	`<svg><![CDATA[<path]]><!-- x --><path d="M0 0c1 1 2 2 3 0z" d="M"/></svg>`,
}

func FuzzReadSVG(f *testing.F) {
	for _, s := range svgFiles {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) { _ = trySVG(t, b) })
}

func TestFloodOfSVG(t *testing.T) {
	inputs.Flood{Target: "FuzzReadSVG", Most: 250, Words: inputs.SVGWords, Examples: inputs.Texts(svgFiles), Read: trySVG}.Run(t)
}

func trySVG(t inputs.T, b []byte) error {
	d, err := ReadSVG(bytes.NewReader(b))
	if err != nil && len(d.Outlines) > 0 {
		t.Error("outlines beside an error")
	}
	for _, o := range d.Outlines {
		checkRing(t, o.Ring)
	}
	return err
}

// sense is positive for a ring that turns from x towards y.
func sense(r geometry.Ring) (twice float64) {
	for i, p := range r {
		twice += p.Cross(r[(i+1)%len(r)])
	}
	return twice
}
