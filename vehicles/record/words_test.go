package record

import (
	"reflect"
	"strings"
	"testing"
)

func TestWhereAProblemIs(t *testing.T) {
	for want, p := range map[string]Problem{
		"wrong":                   {Msg: "wrong"},
		"f.yaml: wrong":           {File: "f.yaml", Msg: "wrong"},
		"f.yaml:3:7: wrong":       {File: "f.yaml", Line: 3, Column: 7, Msg: "wrong"},
		"1:1: a.b: wrong":         {Line: 1, Column: 1, Path: "a.b", Msg: "wrong"},
		"a.b: wrong":              {Path: "a.b", Msg: "wrong"},
		"g: a.b[0]: wrong":        {File: "g", Path: "a.b[0]", Msg: "wrong"},
		"f.yaml:12:1: a.b: wrong": {File: "f.yaml", Line: 12, Column: 1, Path: "a.b", Msg: "wrong"},
	} {
		if got := p.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Problems come in the order of the file, those of one place as they were found.
func TestProblemsInTheOrderOfTheFile(t *testing.T) {
	ps := Problems{{Line: 3, Column: 1, Msg: "e"}, {Line: 2, Column: 9, Msg: "d"}, {Line: 2, Column: 4, Msg: "b"}, {Line: 1, Column: 30, Msg: "a"}, {Line: 2, Column: 4, Msg: "c"}}
	var got strings.Builder
	for _, p := range ps.err().(Problems) {
		got.WriteString(p.Msg)
	}
	if got.String() != "abcde" {
		t.Errorf("in the order %s", got.String())
	}
	for n, want := range map[int]string{199: "", 200: "", 201: "and 1 more problems", 999: "and 799 more problems", 1000: "and at least 800 more problems"} {
		list := make(Problems, n).err().(Problems)
		if last := list[len(list)-1].Msg; last != want || len(list) != min(n, 201) {
			t.Errorf("of %d problems %d are listed, the last is %q", n, len(list), last)
		}
	}
}

// Published distances: kitten and sitting, Saturday and Sunday are 3 apart, flaw and lawn 2 (examples of the edit distance found in
// textbooks and encyclopaedias, from memory).
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"saturday", "sunday", 3}, {"flaw", "lawn", 2}, {"same", "same", 0}, {"", "abc", 3}, {"abc", "", 3}} {
		if got := editDistance(c.a, c.b); got != c.want || editDistance(c.b, c.a) != got {
			t.Errorf("%s to %s: %d edits, want %d", c.a, c.b, got, c.want)
		}
	}
	for _, c := range []struct {
		written, name string
		limit, want   int
	}{{"leng", "length_mm", 3, 1}, {"len", "length_mm", 3, 3}, {"colour", "color", 3, 1}, {"length_of_the_box", "box", 4, 4}} {
		if got := unlikeness(c.written, c.name, c.limit); got != c.want {
			t.Errorf("%s for %s: %d of at most %d edits, want %d", c.written, c.name, got, c.limit, c.want)
		}
	}
}

func TestNamesOfManyFields(t *testing.T) {
	s := &schema{}
	for i := range 14 {
		if want := map[int]string{3: "a, b, c", 12: "a, b, c, d, e, f, g, h, i, j, k, l", 13: "a, b, c, d, e, f, g, h, i, j, k, l and 1 more"}[i]; want != "" && names(s) != want {
			t.Errorf("%d fields: %q, want %q", i, names(s), want)
		}
		s.fields = append(s.fields, field{name: string(rune('a' + i))})
	}
}

func TestLongTextsAreCut(t *testing.T) {
	forty := strings.Repeat("ü", 40)
	for text, want := range map[string]string{"": "", forty: forty, forty + "x": forty + "...", "one\ntwo": "one...", "a\xffb": "a?b"} {
		if got := shorten(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

func TestLengthsAndNumbersAtTheirLimits(t *testing.T) {
	for _, c := range []struct {
		n    int
		r    rules
		want string
	}{
		{0, rules{minLen: -1, maxLen: 0}, ""}, {1, rules{minLen: -1, maxLen: 0}, "has 1 entry; at most 0 allowed"},
		{3, rules{minLen: 3, maxLen: 5}, ""}, {5, rules{minLen: 3, maxLen: 5}, ""}, {6, rules{minLen: 3, maxLen: 5}, "has 6 entries; at most 5 allowed"},
		{2, rules{minLen: 3, maxLen: 5}, "has 2 entries; at least 3 wanted"}, {0, rules{minLen: 1, maxLen: -1}, "has no entries; at least 1 wanted"},
		{10, rules{minLen: -1, maxLen: -1}, ""}, {11, rules{minLen: -1, maxLen: -1}, "has 11 entries; at most 10 allowed"},
	} {
		if got := lengthProblem(c.n, c.r, "entries", 10); got != c.want {
			t.Errorf("%d of %+v: %q, want %q", c.n, c.r, got, c.want)
		}
	}
	for x, ok := range map[float64]bool{1e12: true, -1e12: true, 1.0001e12: false, -1.0001e12: false, 0: true} {
		if got := numberProblem(x, &field{name: "free"}); (got == "") != ok {
			t.Errorf("%g: %q", x, got)
		}
	}
	if got, want := numberProblem(2e12, &field{name: "free_mm"}), "2000000000000 is out of range; allowed is -1000000000000 to 1000000000000 mm"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestWhatAMissingFieldShouldHold(t *testing.T) {
	for want, f := range map[string]field{
		"flat":                 {typ: reflect.TypeFor[string](), rules: rules{oneOf: []string{"flat"}}},
		"flat, side or end":    {typ: reflect.TypeFor[string](), rules: rules{oneOf: []string{"flat", "side", "end"}}},
		"a text: name":         {typ: reflect.TypeFor[string](), doc: "name"},
		"a list: corners":      {typ: reflect.TypeFor[[]float64](), doc: "corners"},
		"[x, y]: place":        {typ: reflect.TypeFor[[2]float64](), doc: "place"},
		"4 numbers: row":       {typ: reflect.TypeFor[[4]float64](), doc: "row"},
		"roof":                 {typ: reflect.TypeFor[*Problem](), doc: "roof"},
		"a whole number: many": {typ: reflect.TypeFor[int](), doc: "many"},
		"true or false: set":   {typ: reflect.TypeFor[bool](), doc: "set"},
	} {
		if got := wanted(&f); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
