package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

func list() *drawing.List {
	area := geometry.NewRect(0, 0, 1000, 500)
	holed := geometry.Polygon{Outer: area.Outer, Holes: []geometry.Ring{geometry.NewRect(400, 200, 600, 300).Outer}}
	return &drawing.List{Title: "Halle & Söhne <1>", Bounds: r2.RectFromPoints(r2.Point{X: -100, Y: -100}, r2.Point{X: 1100, Y: 600}), Items: []drawing.Item{
		drawing.Fill{Of: drawing.Tag{Role: drawing.RoleBay, Ref: "bay & one"}, Area: holed},
		drawing.Hatch{Of: drawing.Tag{Role: drawing.RoleKeepOut, Ref: "bay & one"}, Area: holed, Deg: 45, Cross: true},
		drawing.Stroke{Of: drawing.Tag{Role: drawing.RoleBox, Ref: "box"}, Points: area.Outer, Closed: true},
		drawing.Dimension{Of: drawing.Tag{Role: drawing.RoleDimension}, A: r2.Point{X: 1000}, B: r2.Point{}, Offset: 60},
		drawing.Text{Of: drawing.Tag{Role: drawing.RoleLabel}, At: r2.Point{X: 500, Y: 400}, S: "Größe \"Ω\" < 3", Halo: true, Deg: 30},
	}}
}

func write(t *testing.T, s Sheet) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, list(), s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The file is well-formed XML whose only namespace is SVG's, with nothing fetched from elsewhere.
func TestWellFormedAndSelfContained(t *testing.T) {
	s := write(t, Sheet{Scale: 20, MarginMM: 5, Note: "1:20, mm"})
	d := xml.NewDecoder(strings.NewReader(s))
	depth, most := 0, 0
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			depth++
			most = max(most, depth)
			checkElement(t, e)
		case xml.EndElement:
			depth--
		}
	}
	if depth != 0 || most < 3 {
		t.Errorf("depth %d at the end, %d at most", depth, most)
	}
}

func checkElement(t *testing.T, e xml.StartElement) {
	t.Helper()
	if e.Name.Space != "http://www.w3.org/2000/svg" {
		t.Errorf("element %v outside SVG", e.Name)
	}
	for _, a := range e.Attr {
		if strings.Contains(a.Value, "url(") || a.Name.Local == "href" {
			t.Errorf("%s fetches %q", e.Name.Local, a.Value)
		}
	}
}

func TestTextIsText(t *testing.T) {
	s := write(t, Sheet{Scale: 20})
	var doc struct {
		Texts []string `xml:"text"`
		Group []struct {
			Title string `xml:"title"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal([]byte(s), &doc); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(doc.Texts, "|"); got != `1000|Größe "Ω" < 3` {
		t.Errorf("texts %q", got)
	}
	if len(doc.Group) != 2 || doc.Group[0].Title != "bay & one" {
		t.Errorf("groups %+v", doc.Group)
	}
}

// A metre at 1:20 is 50 mm on paper: one unit of the file is a millimetre, as its width and viewBox say.
func TestScaleOnTheSheet(t *testing.T) {
	s := write(t, Sheet{Scale: 20, MarginMM: 5})
	if !strings.Contains(s, `width="70mm" height="45mm" viewBox="0 0 70 45"`) {
		t.Errorf("head of the file: %.300s", s)
	}
	m := regexp.MustCompile(`d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)L[\d.]+ [\d.]+L[\d.]+ [\d.]+Z"`).FindAllStringSubmatch(s, -1)
	if len(m) == 0 {
		t.Fatal("no rectangle in the file")
	}
	x0, _ := strconv.ParseFloat(m[0][1], 64)
	x1, _ := strconv.ParseFloat(m[0][3], 64)
	if math.Abs(x1-x0-50) > 1e-3 {
		t.Errorf("a metre is %v mm on paper, want 50", x1-x0)
	}
}

func TestSameListSameBytes(t *testing.T) {
	first, second := write(t, Sheet{Scale: 20}), write(t, Sheet{Scale: 20})
	if first != second {
		t.Error("two writings of the same list differ")
	}
}

func TestEmptyListIsAFileToo(t *testing.T) {
	var b bytes.Buffer
	if err := Write(&b, &drawing.List{Bounds: r2.EmptyRect()}, Sheet{}); err != nil {
		t.Fatal(err)
	}
	if err := xml.Unmarshal(b.Bytes(), new(struct{})); err != nil {
		t.Error(err)
	}
}
