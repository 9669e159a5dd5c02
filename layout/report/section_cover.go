package report

import (
	"fmt"

	"stowbay/layout/report/page"
)

// cover sets the first page: what the report is about, the caution and the contents.
func (b *book) cover(cs []chapter) {
	b.Running("Fit report")
	b.Chapter(b.plan.Name, "cover", 0, false)
	b.Para("Fit report of a battery layout, written by Stowbay.")
	b.Facts([][2]string{
		{"Donor", b.donorName()},
		{"Revision", or(b.plan.Revision, "none")},
		{"Date", or(b.plan.Date, "undated")},
		{"Drawn by", or(b.plan.Author, "not stated")},
		{"Arrangements", fmt.Sprint(len(b.es))},
		{"Units", b.unitWords()},
		{"Local code", or(b.plan.Settings.Code, "not stated")},
		{"Paper", b.paperWords()},
	}, 2)
	b.Small("SHA-256 of the plan's file: " + b.hash)
	if b.plan.Note != "" {
		b.Para(b.plan.Note)
	}
	b.Caution(Caution)
	b.Heading("Contents")
	var es []page.Entry
	for _, c := range cs {
		es = append(es, page.Entry{Title: c.title, Anchor: c.anchor, Level: c.level})
	}
	b.Contents(es)
}

func (b *book) unitWords() string {
	if b.imperial {
		return "in, lb (sentences quote mm and kg)"
	}
	return "mm, kg"
}

func (b *book) paperWords() string {
	if b.o.Paper == Letter {
		return "Letter; drawings are to scale when printed at 100 %"
	}
	return "A4; drawings are to scale when printed at 100 %"
}
