package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/report/page"
)

// book is a report being set.
type book struct {
	*page.Doc
	units
	plan *layout.Plan
	es   []*check.Evaluation
	o    Options
	has  map[string]bool // anchors of the chapters that it holds
	hash string

	e *check.Evaluation // the arrangement being set
	n int               // its number, from 1
}

// section is a part of the report. One that belongs to an arrangement comes once for each.
type section struct {
	key, title string
	whole      bool // belongs to the plan rather than to an arrangement
	wide       bool
	set        func(*book)
	applies    func(*book) bool // nil: always
}

// chapter is a section set once.
type chapter struct {
	section
	title, anchor string
	level, n      int // n: the arrangement's number, or 0
}

// PDF sets the fit report of a plan for the arrangements given, as one PDF document. The same plan and options
// give the same bytes. An unknown section, paper or unit is an error.
func PDF(p *layout.Plan, es []*check.Evaluation, o Options) ([]byte, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	b, err := newBook(p, es, o)
	if err != nil {
		return nil, err
	}
	cs := b.chapters()
	b.cover(cs)
	for i, c := range cs {
		b.o.progress(float64(i)/float64(len(cs)+1), c.title)
		b.setChapter(c)
	}
	b.o.progress(float64(len(cs))/float64(len(cs)+1), "writing the document")
	out, err := b.Bytes()
	b.o.progress(1, "")
	return out, err
}

func newBook(p *layout.Plan, es []*check.Evaluation, o Options) (*book, error) {
	source := o.Source
	if source == nil {
		var err error
		if source, err = layout.Encode(p); err != nil {
			return nil, err
		}
	}
	sum := sha256.Sum256(source)
	b := &book{plan: p, es: es, o: o, has: map[string]bool{}, hash: hex.EncodeToString(sum[:])}
	b.units = unitsOf(p, o)
	b.Doc = page.New(o.Paper, page.Head{
		Title: "fit report", Plan: p.Name, Donor: b.donorName(), Revision: or(p.Revision, "none"), Date: or(p.Date, "undated"),
		Author: p.Author, Hash: b.hash, Caution: footCaution,
	})
	return b, nil
}

func (b *book) donorName() string {
	for _, e := range b.es {
		if e.Scene.Donor != nil {
			return e.Scene.Donor.Name
		}
	}
	return b.plan.Donor
}

func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// chapters are the chapters that the report will have, in their order.
func (b *book) chapters() []chapter {
	var out []chapter
	whole := func(before bool) {
		for _, s := range sections {
			if s.whole && before == (s.key == "compare") {
				out = b.chapter(out, s, chapter{section: s, title: s.title, anchor: s.key})
			}
		}
	}
	whole(true)
	for i, e := range b.es {
		b.e, b.n = e, i+1
		level := 0
		for _, s := range sections {
			if s.whole {
				continue
			}
			c := chapter{section: s, title: s.title, anchor: b.anchor(s.key), level: level, n: i + 1}
			if len(b.es) > 1 || s.key == "summary" {
				c.title = s.title + ": " + e.Arrangement.Name
			}
			was := len(out)
			out = b.chapter(out, s, c)
			if len(out) > was {
				level = 1
			}
		}
	}
	b.e = nil
	whole(false)
	return out
}

func (b *book) chapter(out []chapter, s section, c chapter) []chapter {
	if !b.o.wants(s.key) || s.applies != nil && !s.applies(b) {
		return out
	}
	b.has[c.anchor] = true
	return append(out, c)
}

// anchor names a place in the part of the report about the current arrangement.
func (b *book) anchor(key string) string { return fmt.Sprintf("a%d/%s", b.n, key) }

// to is the anchor of a place in a section, or nothing where the report does not hold the section.
func (b *book) to(section, place string) string {
	if !b.has[b.anchor(section)] {
		return ""
	}
	if place == "" {
		return b.anchor(section)
	}
	return b.anchor(section + "/" + place)
}

func (b *book) setChapter(c chapter) {
	b.e, b.n = nil, c.n
	running := b.plan.Name
	if c.n > 0 {
		b.e = b.es[c.n-1]
		running = b.e.Arrangement.Name
	}
	b.Running(running + "  ·  " + c.section.title)
	b.Chapter(c.title, c.anchor, c.level, c.wide)
	c.set(b)
}
