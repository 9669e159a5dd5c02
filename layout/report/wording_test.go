package report

import (
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/layout/report/fabricate"
)

func TestValueWithItsUncertainty(t *testing.T) {
	for want, r := range map[string]layout.Reading{
		"120 ± 4 mm": {Value: 120, PlusMinus: 4, Unit: "mm"},
		"120 mm":     {Value: 120, Unit: "mm"},
		"0.5 ± 0.1":  {Value: 0.5, PlusMinus: 0.1},
		"7":          {Value: 7},
	} {
		if got := Value(r); strings.ReplaceAll(got, "0.500", "0.5") != want && strings.NewReplacer("0.500", "0.5", "0.100", "0.1").Replace(got) != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A string that the routing did not make is called by its number, counted from one.
func TestNamesOfStrings(t *testing.T) {
	b := &book{e: &check.Evaluation{Electric: &electric.Result{Strings: []electric.String{{ID: "left"}, {ID: "right"}}}}}
	for i, want := range []string{"left", "right", "3", "4"} {
		if got := b.stringName(i); got != want {
			t.Errorf("string %d is called %q, want %q", i, got, want)
		}
	}
}

func TestWordsOnMatching(t *testing.T) {
	const best, blind = "No other choice", "have neither a measured capacity nor a resistance"
	for name, c := range map[string]struct {
		m                        assembly.Matching
		proved, unmeasured, left bool
	}{
		"proved":     {assembly.Matching{Cost: 1, Bound: 1}, true, false, false},
		"not proved": {assembly.Matching{Cost: 2, Bound: 1}, false, false, false},
		"one blind":  {assembly.Matching{Blind: 1}, true, true, false},
		"left over":  {assembly.Matching{Spare: []string{"W7", "W9"}}, true, false, true},
	} {
		got := matchWords(&c.m)
		if strings.Contains(got, best) != c.proved || strings.Contains(got, blind) != c.unmeasured || strings.Contains(got, "Left over: W7, W9.") != c.left {
			t.Errorf("%s: %q", name, got)
		}
	}
	if got := matchWords(&assembly.Matching{Cost: 2.5, Bound: 1.25}); !strings.Contains(got, "2.500, no less than 1.250.") {
		t.Errorf("%q", got)
	}
}

func TestFindingsOfARuleAreCounted(t *testing.T) {
	f := func(rule string, s check.Severity) check.Finding { return check.Finding{Rule: rule, Severity: s} }
	b := &book{es: []*check.Evaluation{
		{Findings: []check.Finding{f("a", check.Fails), f("a", check.Fails), f("a", check.Warns), f("b", check.Fails)}},
		{Findings: []check.Finding{f("a", check.Fails), f("c", check.Passes)}},
	}}
	for _, c := range []struct {
		rule string
		s    check.Severity
		want string
	}{{"a", check.Fails, "3"}, {"a", check.Warns, "1"}, {"b", check.Fails, "1"}, {"b", check.Warns, ""}, {"c", check.Passes, "1"}, {"d", check.Fails, ""}} {
		if got := b.tally(c.rule, c.s); got != c.want {
			t.Errorf("%s, %v: %q, want %q", c.rule, c.s, got, c.want)
		}
	}
}

// Holes of one size and purpose are one row, times the pieces; the smallest come first.
func TestDrillsBySize(t *testing.T) {
	round := func(what string, d float64) fabricate.Hole { return fabricate.Hole{For: what, DiameterMM: d} }
	b := &book{}
	got := b.drillsOf(&fabricate.Box{Blanks: []fabricate.Blank{
		{Pieces: 2, Holes: []fabricate.Hole{round("foot", 9), round("foot", 9), round("lid", 6.6), {For: "connector", WidthMM: 40, HeightMM: 20}}},
		{Pieces: 1, Holes: []fabricate.Hole{round("lid", 6.6), round("vent", 9), round("foot", 9), {For: "connector", WidthMM: 40, HeightMM: 20}}},
	}})
	want := []drill{{"dia 6.60 mm", "lid", 6.6, 3}, {"dia 9 mm", "foot", 9, 5}, {"dia 9 mm", "vent", 9, 1}, {"40 x 20 mm", "connector", 40, 3}}
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, w := range want {
		w.size = strings.Replace(w.size, "6.60", trim(6.6), 1)
		if got[i] != w {
			t.Errorf("%+v, want %+v", got[i], w)
		}
	}
}

func TestMassWithItsUncertainty(t *testing.T) {
	b := &book{}
	if got := b.pm(mass.Figure{Value: 812.4, PlusMinus: 9.6}); got != "812 ± 10" {
		t.Errorf("%q", got)
	}
	b.imperial = true // 812.4 kg / 0.45359237 = 1791.0 lb, 9.6 kg = 21.2 lb
	if got := b.pm(mass.Figure{Value: 812.4, PlusMinus: 9.6}); got != "1791 ± 21" {
		t.Errorf("%q", got)
	}
}

func TestJointsLeftOutAreMentioned(t *testing.T) {
	if got := missingPictures(mostPictures - 1); got != "" {
		t.Errorf("%q", got)
	}
	if got := missingPictures(mostPictures); !strings.Contains(got, "first 240 joints") {
		t.Errorf("%q", got)
	}
}

func TestFigureOrNothing(t *testing.T) {
	b := &book{}
	if got := b.orNothing(1.2345, ""); got != "1.23" {
		t.Errorf("%q", got)
	}
	if got := b.orNothing(0, ""); got != "" {
		t.Errorf("%q", got)
	}
}
