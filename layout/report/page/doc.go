// Package page sets running pages of a PDF document: a title block on every page, headings with bookmarks, text,
// tables that run on with their heads repeated, drawings at a stated scale, and links between them. It knows
// nothing of plans; what is set is the report's business.
//
// Places and sizes on the page are in millimetres from its top left corner. The same calls give the same bytes.
package page

import (
	"bytes"
	"fmt"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"stowbay/layout/report/pdf"
)

// Paper is a size of sheet.
type Paper string

// The papers: A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 in.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// The edges of a page, mm. The left one leaves room for a binder's holes.
const (
	leftEdge   = 20.0
	rightEdge  = 12.0
	topEdge    = 19.0
	bottomEdge = 25.0
)

// Head is what the title block says.
type Head struct {
	Title    string
	Plan     string
	Donor    string
	Revision string
	Date     string // year-month-day; also the document's own date
	Author   string
	Hash     string // of the plan's file
	Caution  string // the line under every title block
}

// Doc is a document being set.
type Doc struct {
	pdf      *fpdf.Fpdf
	head     Head
	w, h     float64 // of the current page
	y        float64 // where the next thing goes
	wide     bool    // the current page lies on its side
	running  string
	anchors  map[string]anchor
	wanted   []string // links in the order in which they were first used
	contents contents
	pages    []sheet
	level    int // of the last bookmark, so that no level is skipped
}

type anchor struct {
	link int
	set  bool
	page int
}

// sheet is what has to be known of a page to write on it again.
type sheet struct {
	w, h    float64
	running string
}

// New starts a document without pages.
func New(paper Paper, head Head) *Doc {
	size := "A4"
	if paper == Letter {
		size = "Letter"
	}
	p := fpdf.New("P", "mm", size, "")
	p.SetMargins(leftEdge, topEdge, rightEdge)
	p.SetAutoPageBreak(false, bottomEdge)
	p.SetCatalogSort(true)
	at := dateOf(head.Date)
	p.SetCreationDate(at)
	p.SetModificationDate(at)
	p.SetProducer("Stowbay", true)
	p.SetTitle(clean(head.Title+", "+head.Plan), true)
	p.SetAuthor(clean(head.Author), true)
	p.SetLang("en-GB")
	pdf.AddFonts(p)
	return &Doc{pdf: p, head: head, anchors: map[string]anchor{}, level: -1}
}

// dateOf reads a date written year-month-day; anything else is the start of 2000, so that a plan without a date
// gives the same bytes each time.
func dateOf(s string) time.Time {
	if t, err := time.Parse("2006-01-02", s); err == nil {
		return t
	}
	return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
}

// Width is the width between the edges of the current page.
func (d *Doc) Width() float64 { return d.w - leftEdge - rightEdge }

// Room is the height left on the current page.
func (d *Doc) Room() float64 { return d.h - bottomEdge - d.y }

// Pages is the number of pages so far.
func (d *Doc) Pages() int { return len(d.pages) }

// Upright starts a page that stands.
func (d *Doc) Upright() { d.start(false) }

// Wide starts a page that lies on its side.
func (d *Doc) Wide() { d.start(true) }

func (d *Doc) start(wide bool) {
	w, h, _ := d.pdf.PageSize(0)
	size, way := fpdf.SizeType{Wd: w, Ht: h}, "P"
	if wide {
		way = "L"
	}
	d.pdf.AddPageFormat(way, size)
	d.w, d.h = d.pdf.GetPageSize()
	d.wide, d.y = wide, topEdge
	d.pages = append(d.pages, sheet{d.w, d.h, d.running})
}

// begin starts the first page where there is none.
func (d *Doc) begin() {
	if len(d.pages) == 0 {
		d.start(d.wide)
	}
}

// Need starts another page like this one where less than h is left on it.
func (d *Doc) Need(h float64) {
	if len(d.pages) == 0 || d.Room() < h {
		d.start(d.wide)
	}
}

// Space leaves a gap, unless the page is just begun.
func (d *Doc) Space(h float64) {
	if d.y > topEdge {
		d.y += h
	}
}

// Running sets the words in the head of the pages that follow.
func (d *Doc) Running(s string) { d.running = s }

// Bytes ends the document. Links to places that were never set are an error.
func (d *Doc) Bytes() ([]byte, error) {
	for _, name := range d.wanted {
		if !d.anchors[name].set {
			return nil, fmt.Errorf("the report links to %q, which is not in it", name)
		}
	}
	d.fillContents()
	for i := range d.pages {
		d.titleBlock(i)
	}
	var b bytes.Buffer
	err := d.pdf.Output(&b)
	return b.Bytes(), err
}
