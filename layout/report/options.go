package report

import (
	"fmt"
	"slices"
	"strings"

	"stowbay/layout/report/page"
)

// The sizes of paper.
const (
	A4     = page.A4
	Letter = page.Letter
)

// Options says what a report holds and how it is set. The zero value is the whole report on A4.
type Options struct {
	Paper    page.Paper                   // A4 where empty
	Units    string                       // "mm_kg" or "in_lb"; empty: the plan's setting
	Sections []string                     // keys of the sections wanted; empty: all of them
	Source   []byte                       // the plan's file as it was read; nil: as Stowbay writes it
	Progress func(done float64, s string) // called with the share done and what is being set; may be nil
}

// SectionInfo is a section that a report can be made of.
type SectionInfo struct{ Key, Title string }

// SectionList lists the sections in their order.
func SectionList() []SectionInfo {
	out := make([]SectionInfo, 0, len(sections))
	for _, s := range sections {
		out = append(out, SectionInfo{s.key, s.title})
	}
	return out
}

// Check tells what is wrong with the options.
func (o Options) Check() error {
	var wrong []string
	for _, k := range o.Sections {
		if !slices.ContainsFunc(sections, func(s section) bool { return s.key == k }) {
			wrong = append(wrong, fmt.Sprintf("there is no section %q; there are %s", k, strings.Join(sectionKeys(), ", ")))
		}
	}
	if o.Paper != "" && o.Paper != A4 && o.Paper != Letter {
		wrong = append(wrong, fmt.Sprintf("paper %q is none of a4, letter", o.Paper))
	}
	if o.Units != "" && o.Units != "mm_kg" && o.Units != "in_lb" {
		wrong = append(wrong, fmt.Sprintf("units %q are none of mm_kg, in_lb", o.Units))
	}
	if len(wrong) > 0 {
		return fmt.Errorf("%s", strings.Join(wrong, "\n"))
	}
	return nil
}

func sectionKeys() []string {
	var out []string
	for _, s := range sections {
		out = append(out, s.key)
	}
	return out
}

func (o Options) wants(key string) bool {
	return len(o.Sections) == 0 || slices.Contains(o.Sections, key)
}

func (o Options) progress(done float64, s string) {
	if o.Progress != nil {
		o.Progress(done, s)
	}
}
