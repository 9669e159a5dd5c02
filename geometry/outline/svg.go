package outline

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"

	"github.com/golang/geo/r2"
	"stowbay/geometry"
)

// shapes are the elements of SVG that draw something and are not read (SVG 1.1
// recommendation, chapters 9 to 11 and section 5.6).
var shapes = map[string]bool{"rect": true, "circle": true, "ellipse": true, "line": true, "polyline": true, "polygon": true, "text": true, "image": true, "use": true}

// ReadSVG reads the closed outlines of the path elements of an SVG file, see
// [ParseSVGPath]. One unit of the drawing counts as a millimetre, and y is
// turned about, so that up is up. An outline's Layer is the id of its path, or
// "path 3" where it has none.
//
// Paths that cannot be used, other shapes and transforms are left out with a
// note. A file that is no XML is an error, a [*Fault].
func ReadSVG(r io.Reader) (Drawing, error) { return readSVG(r, MaxSVGBytes) }

// readSVG reads a file of at most so many bytes.
func readSVG(r io.Reader, most int64) (Drawing, error) {
	left := &io.LimitedReader{R: r, N: most + 1}
	s := svgReader{dec: xml.NewDecoder(left), skipped: map[string]int{}}
	for {
		t, err := s.dec.Token()
		switch {
		case left.N == 0:
			return Drawing{}, &Fault{Wrong: fmt.Sprintf("the file is greater than %d MB", MaxSVGBytes>>20)}
		case errors.Is(err, io.EOF):
			return s.finish()
		case err != nil:
			line, column := s.dec.InputPos()
			return Drawing{}, &Fault{Line: line, Column: column, Wrong: "cannot be read as SVG: " + plainXML(err)}
		}
		if el, ok := t.(xml.StartElement); ok {
			s.element(el)
		}
	}
}

// plainXML is what is wrong with a file of XML, without the line that the library puts before it.
func plainXML(err error) string {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return syntax.Msg
	}
	return err.Error()
}

// svgReader gathers the outlines of a file.
type svgReader struct {
	dec       *xml.Decoder
	out       Drawing
	seen      bool // an svg element
	paths     int
	unusable  int
	turned    int // line of the first transform; 0: none
	skipped   map[string]int
	surplus   bool
	faultText []string
}

func (s *svgReader) element(el xml.StartElement) {
	name := el.Name.Local
	s.seen = s.seen || name == "svg"
	line, _ := s.dec.InputPos()
	if s.turned == 0 && attribute(el, "transform") != "" {
		s.turned = line
	}
	switch {
	case name == "path":
		s.path(el, line)
	case shapes[name]:
		s.skipped[name]++
	}
}

func attribute(el xml.StartElement, name string) string {
	for _, a := range el.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}

func (s *svgReader) path(el xml.StartElement, line int) {
	s.paths++
	id := attribute(el, "id")
	if id == "" {
		id = fmt.Sprintf("path %d", s.paths)
	}
	rings, err := ParseSVGPath(attribute(el, "d"))
	if err != nil {
		if s.unusable++; s.unusable <= maxFaults {
			s.faultText = append(s.faultText, fmt.Sprintf("%.60s, line %d, is left out: %v", id, line, err))
		}
		return
	}
	for _, ring := range rings {
		if s.surplus = len(s.out.Outlines) == MaxOutlines; s.surplus {
			return
		}
		s.out.Outlines = append(s.out.Outlines, Outline{Layer: id, Line: line, Ring: upright(ring)})
	}
}

// upright turns y about and keeps the sense of the ring.
func upright(r geometry.Ring) geometry.Ring {
	out := make(geometry.Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = r2.Point{X: p.X, Y: -p.Y}
	}
	return out
}

// finish writes the notes.
func (s *svgReader) finish() (Drawing, error) {
	if !s.seen {
		return Drawing{}, &Fault{Wrong: "there is no svg element in the file: it is no SVG drawing, or it is empty"}
	}
	s.out.MMPerUnit = 1
	s.note("One unit of the drawing counts as a millimetre; set the scale if it is not.")
	if s.turned > 0 {
		s.note("The drawing has transforms, the first in line %d. They are not applied: check size and place, or save the drawing without them.", s.turned)
	}
	for _, name := range slices.Sorted(maps.Keys(s.skipped)) {
		s.note("%d × %s left out: only paths are read. Turn such shapes into paths where they are wanted.", s.skipped[name], name)
	}
	s.out.Notes = append(s.out.Notes, s.faultText...)
	if more := s.unusable - len(s.faultText); more > 0 {
		s.note("%d more paths are left out.", more)
	}
	if s.surplus {
		s.note("There are more than %d outlines; the rest is left out.", MaxOutlines)
	}
	return s.out, nil
}

func (s *svgReader) note(format string, args ...any) {
	s.out.Notes = append(s.out.Notes, fmt.Sprintf(format, args...))
}
