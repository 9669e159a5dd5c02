package view

import (
	"context"
	"slices"
	"strings"
	"testing"

	"stowbay/layout/search"
	"stowbay/ui/paint"
)

// What a search found is opened as new arrangements in one step, and shown; opening it again gives others.
func TestOpenFound(t *testing.T) {
	m := testModel(t, 4)
	r, err := search.Run(context.Background(), m.Document().Plan(), m.Arrangement(), m.Library(), search.Options{Modules: []string{"block"}}, nil)
	if err != nil || len(r.Found) < 2 {
		t.Fatalf("%d found, %v, left out %v", len(r.Found), err, r.Excluded)
	}
	had := len(m.Plan().Arrangements)
	for range 2 {
		if err := m.OpenFound(&r, []int{0, 1}); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(m.Plan().Arrangements) - had; n != 4 {
		t.Fatalf("%d arrangements opened, want 4", n)
	}
	if _, done := m.Document().History(); done != 2 {
		t.Errorf("%d steps, want 2", done)
	}
	if got, want := m.Scene().Count(), r.Found[0].Series*r.Found[0].Parallel; got != want {
		t.Errorf("%d modules shown, want %d", got, want)
	}
	page := FoundPage(900, paint.NewFonts(), Metric, "EUR", &r, r.Rank(nil), map[int]bool{1: true})
	rows := map[string]int{}
	for _, row := range page.Rows {
		kind, _, _ := strings.Cut(row.Key, " ")
		rows[kind]++
	}
	if rows["found"] != min(len(r.Found), mostFound) || rows["rank"] != len(r.Objectives) {
		t.Errorf("%v rows for %d found by %d figures", rows, len(r.Found), len(r.Objectives))
	}
	heavy := Number(r.Found[0].Values[search.Mass]/0.45359237, 0) // the pound of 1959
	if got := texts(FoundPage(900, paint.NewFonts(), Imperial, "EUR", &r, []int{0}, nil)); !slices.Contains(got, heavy) || !slices.Contains(got, "lb") || slices.Contains(got, "mm") {
		t.Errorf("%s lb is not among %q", heavy, got)
	}
	for range 2 { // what was opened can be taken back
		if err := m.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(m.Plan().Arrangements); n != had {
		t.Errorf("%d arrangements after undo, %d before", n, had)
	}
}

// What was left out is said in the units shown: 50.8 mm are 2 in.
func TestLeftOutInInches(t *testing.T) {
	r := &search.Result{Excluded: []search.Excluded{{Limit: search.Clearance, Text: "50.8 mm are left."}}}
	if got := texts(ExcludedPage(900, paint.NewFonts(), Imperial, r)); !slices.Contains(got, "2 in are left.") {
		t.Errorf("%q", got)
	}
}

// That one beats all others is claimed only of a search that went through all choices.
func TestFoundSummaryClaimsNoMoreThanIsProved(t *testing.T) {
	for _, c := range []struct {
		found             int
		complete, stopped bool
		want              string
	}{
		{1, true, false, "One arrangement beats all others"},
		{1, false, false, "One arrangement beats the others looked at"},
		{1, true, true, "One arrangement beats the others looked at"},
		{3, true, false, "3 arrangements that no other one beats"},
		{3, false, false, "3 arrangements that no other one found beats"},
		{3, false, true, "3 arrangements that no other one found beats"},
	} {
		r := &search.Result{Found: make([]search.Found, c.found), Complete: c.complete, Stopped: c.stopped}
		got := FoundSummary(r)
		sure := c.complete && !c.stopped
		if !strings.HasPrefix(got, c.want) || strings.Contains(got, "proved complete for") != sure || strings.Contains(got, "there may be better ones") == sure {
			t.Errorf("%+v: %s", c, got)
		}
	}
}

func TestCostsStandUnderTheirCurrency(t *testing.T) {
	r := &search.Result{Objectives: []search.Objective{search.Mass, search.Cost}}
	if got := texts(FoundPage(900, paint.NewFonts(), Metric, "EUR", r, nil, nil)); !slices.Contains(got, "EUR") {
		t.Errorf("no currency among %q", got)
	}
}
