package pdf

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

func document(compress bool) *fpdf.Fpdf {
	doc := fpdf.New("L", "mm", "A4", "")
	doc.SetCompression(compress)
	doc.SetCatalogSort(true)
	doc.SetCreationDate(time.Unix(0, 0).UTC())
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	AddFonts(doc)
	doc.AddPage()
	return doc
}

// ruler is a rectangle of one metre by half a metre with a dimension, a hatch, a name and an opening.
func ruler() *drawing.List {
	area := geometry.NewRect(0, 0, 1000, 500)
	hole := geometry.NewRect(400, 200, 600, 300).Outer.Reversed()
	open := geometry.Polygon{Outer: area.Outer, Holes: []geometry.Ring{hole}}
	return &drawing.List{Title: "Ruler", Bounds: r2.RectFromPoints(r2.Point{X: -100, Y: -100}, r2.Point{X: 1100, Y: 600}), Items: []drawing.Item{
		drawing.Fill{Of: drawing.Tag{Role: drawing.RoleBay}, Area: open},
		drawing.Hatch{Of: drawing.Tag{Role: drawing.RoleKeepOut}, Area: open, Deg: 45},
		drawing.Stroke{Of: drawing.Tag{Role: drawing.RoleBox}, Points: area.Outer, Closed: true},
		drawing.Dimension{Of: drawing.Tag{Role: drawing.RoleDimension}, A: r2.Point{X: 1000}, B: r2.Point{}, Offset: 60},
		drawing.Text{Of: drawing.Tag{Role: drawing.RoleLabel}, At: r2.Point{X: 500, Y: 400}, S: "Größe Ω", Halo: true},
	}}
}

func output(t *testing.T, doc *fpdf.Fpdf) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A metre at 1:20 is 50 mm on paper, and a PDF unit is 1/72 inch (ISO 32000-1, 8.3.2.3): 141.73 units.
func TestScaleOnThePage(t *testing.T) {
	doc := document(false)
	p := Paint(doc, ruler(), Rect{X: 20, Y: 20, W: 200, H: 150}, Options{Scale: 20})
	if p.Scale != 20 || p.Clipped {
		t.Fatalf("placed at 1:%v, clipped %v", p.Scale, p.Clipped)
	}
	xs := regexp.MustCompile(`(?m)^([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l\s+([\d.]+) ([\d.]+) l\s+([\d.]+) ([\d.]+) l\s+h\s+S`).FindSubmatch(output(t, doc))
	if xs == nil {
		t.Fatal("the rectangle is not in the page")
	}
	x0, _ := strconv.ParseFloat(string(xs[1]), 64)
	x1, _ := strconv.ParseFloat(string(xs[3]), 64)
	if got, want := x1-x0, 50/25.4*72; math.Abs(got-want) > 0.02 {
		t.Errorf("a metre is %.3f units long, want %.3f", got, want)
	}
}

func TestToPageRunsDown(t *testing.T) {
	p := Paint(document(true), ruler(), Rect{X: 20, Y: 20, W: 200, H: 150}, Options{Scale: 20})
	lo, hi := p.ToPage(r2.Point{}), p.ToPage(r2.Point{X: 1000, Y: 500})
	if d := hi.Sub(lo); math.Abs(d.X-50) > 1e-9 || math.Abs(d.Y+25) > 1e-9 {
		t.Errorf("1000 x 500 mm at 1:20 spans %v", d)
	}
	if c := p.ToPage(ruler().Bounds.Center()); math.Abs(c.X-120) > 1e-9 || math.Abs(c.Y-95) > 1e-9 {
		t.Errorf("the drawing's middle lies at %v, want the field's middle", c)
	}
}

func TestScaleIsChosenToFit(t *testing.T) {
	p := Paint(document(true), ruler(), Rect{W: 100, H: 100}, Options{})
	if p.Scale != 15 || p.Clipped {
		t.Errorf("1200 mm into 100 mm: 1:%v, clipped %v", p.Scale, p.Clipped)
	}
	if p := Paint(document(true), ruler(), Rect{W: 10, H: 10}, Options{Scale: 2}); !p.Clipped {
		t.Error("a list too large for its field is not said to be clipped")
	}
}

func TestSameListSameBytes(t *testing.T) {
	var files [2][]byte
	for i := range files {
		doc := document(true)
		Paint(doc, ruler(), Rect{X: 20, Y: 20, W: 200, H: 150}, Options{})
		files[i] = output(t, doc)
	}
	if !bytes.Equal(files[0], files[1]) {
		t.Error("two paintings of the same list differ")
	}
}

func TestStateIsLeftAsItWas(t *testing.T) {
	doc := document(true)
	doc.SetFont(Sans, "B", 9)
	doc.SetDrawColor(1, 2, 3)
	doc.SetLineWidth(0.77)
	before := inkOf(doc)
	Paint(doc, ruler(), Rect{X: 20, Y: 20, W: 200, H: 150}, Options{Border: true})
	if after := inkOf(doc); after != before {
		t.Errorf("before %+v, after %+v", before, after)
	}
}

// Texts are found once, by an independent reader of PDF.
func TestTextIsFoundOnce(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed")
	}
	doc := document(true)
	Paint(doc, ruler(), Rect{X: 20, Y: 20, W: 200, H: 150}, Options{})
	file := filepath.Join(t.TempDir(), "ruler.pdf")
	if err := os.WriteFile(file, output(t, doc), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{"Größe Ω", "1000"} {
		if n := strings.Count(string(out), s); n != 1 {
			t.Errorf("%q is found %d times in %q", s, n, out)
		}
	}
}
