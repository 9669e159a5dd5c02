package record

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// What the file's own limits let through and what they do not, on both sides of each.
func TestLimitsOfAFile(t *testing.T) {
	for n, ok := range map[int]bool{1_000_000: true, 1_000_001: false} {
		for _, mark := range []string{"\n", ":", "{"} {
			if got := tooLarge([]byte(strings.Repeat(mark, n))); (got == "") != ok {
				t.Errorf("%d of %q: %q", n, mark, got)
			}
		}
	}
	if got := tooLarge([]byte(strings.Repeat(",", 600_000) + strings.Repeat("[", 400_001))); got != "the file has more than 1000000 values" {
		t.Errorf("marks of two kinds: %q", got)
	}
	if got := tooLarge(make([]byte, 16<<20)); got != "" {
		t.Errorf("16 MiB: %q", got)
	}
	for deep, ok := range map[int]bool{64: true, 65: false} {
		_, got := parse([]byte(strings.Repeat("[", deep-1) + "1" + strings.Repeat("]", deep-1)))
		if (got == nil) != ok {
			t.Errorf("%d deep: %v", deep, got)
		}
	}
}

// Depth counted by hand: the lists' own and that of what lies in the deepest.
func TestDepth(t *testing.T) {
	for text, want := range map[string]int{"1": 1, "[]": 1, "[1]": 2, "[[1], 1]": 3, "a: {b: [1]}": 4, "[1, [1, [1]], 1]": 4} {
		var n yaml.Node
		if err := yaml.Unmarshal([]byte(text), &n); err != nil {
			t.Fatal(err)
		}
		if got := depth(n.Content[0]); got != want {
			t.Errorf("%s: %d, want %d", text, got, want)
		}
	}
	bottomless := &yaml.Node{}
	bottomless.Content = []*yaml.Node{bottomless}
	if got := depth(bottomless); got != MaxDepth+1 {
		t.Errorf("a node that holds itself: %d", got)
	}
}

// Lists and texts without a limit of their own end at 100,000 entries and 4000 characters.
func TestUnstatedLengths(t *testing.T) {
	free := rules{minLen: -1, maxLen: -1}
	for n, ok := range map[int]bool{4000: true, 4001: false} {
		if got := stringProblem(strings.Repeat("ü", n), free); (got == "") != ok {
			t.Errorf("%d letters: %q", n, got)
		}
	}
	of := reflect.TypeFor[struct {
		List []int `yaml:"list"`
	}]()
	for n, ok := range map[int]bool{100_000: true, 100_001: false} {
		d := &decoder{top: &yaml.Node{}}
		list := &yaml.Node{Kind: yaml.SequenceNode, Content: make([]*yaml.Node, n)}
		for i := range list.Content {
			list.Content[i] = &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: "1"}
		}
		s, err := schemaOf(of)
		if err != nil {
			t.Fatal(err)
		}
		d.list(list, reflect.New(of.Field(0).Type).Elem(), &s.fields[0], nil)
		if (len(d.problems) == 0) != ok {
			t.Errorf("%d entries: %v", n, d.problems)
		}
	}
}

// Lengths bound a list of names, not each name in it.
func TestLengthsOfAListDoNotBoundItsTexts(t *testing.T) {
	if got := stringProblem("green", rules{minLen: 1, maxLen: 2, oneOf: []string{"red", "green"}}); got != "" {
		t.Error(got)
	}
	if got := stringProblem("a-long-name", rules{minLen: 20, maxLen: 30, id: true}); got != "" {
		t.Error(got)
	}
	if got := stringProblem("blue", rules{minLen: -1, maxLen: -1, oneOf: []string{"red"}}); got != `"blue" is not known; allowed is red` {
		t.Errorf("one allowed: %q", got)
	}
}

// Lengths and choices as the reference states them, one and nought among them.
func TestAllowedLengths(t *testing.T) {
	list, text := reflect.TypeFor[[]int](), reflect.TypeFor[string]()
	for want, f := range map[string]field{
		"0 to 1 entries":       {typ: list, rules: rules{minLen: 0, maxLen: 1}},
		"at least no entries":  {typ: list, rules: rules{minLen: 0, maxLen: -1}},
		"at least 1 entry":     {typ: list, rules: rules{minLen: 1, maxLen: -1}},
		"at most no entries":   {typ: list, rules: rules{minLen: -1, maxLen: 0}},
		"at most 1 character":  {typ: text, rules: rules{minLen: -1, maxLen: 1}},
		"":                     {typ: list, rules: rules{minLen: -1, maxLen: -1}},
		"red":                  {typ: text, rules: rules{minLen: -1, maxLen: -1, oneOf: []string{"red"}}},
		"red or green":         {typ: text, rules: rules{minLen: -1, maxLen: -1, oneOf: []string{"red", "green"}}},
		"red, green or yellow": {typ: text, rules: rules{minLen: -1, maxLen: -1, oneOf: []string{"red", "green", "yellow"}}},
	} {
		if got := allowed(&f); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// Numbers are written without an exponent from a millionth up to, not including, 10^15.
func TestNumbersAreWrittenAsPeopleDo(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 1e-6: "0.000001", 9.9e-7: "9.9e-07", 1e15: "1e+15", 999999999999999: "999999999999999", 0.1: "0.1", -1e15: "-1e+15", 1.05e15: "1.05e+15",
		1.05e-6: "0.00000105", 1234.5678: "1234.5678",
	} {
		if got := formatNumber(x); got != want {
			t.Errorf("%v is written %q, want %q", x, got, want)
		}
	}
	for text, want := range map[string]bool{"0": false, "01": true, "-00": true, "0.5": false, "09": true, "10": false, "+0e1": false} {
		if got := leadingZero(text); got != want {
			t.Errorf("%q starts with a zero too many: %v", text, got)
		}
	}
}

// A field is suggested where at most a third of what was written is wrong, two letters at least.
func TestWhatIsSuggested(t *testing.T) {
	s := &schema{fields: []field{{name: "width_mm"}, {name: "id"}, {name: "centre_of_gravity"}}}
	for written, want := range map[string]string{
		"widht_mm": "width_mm", "wigth_nm": "width_mm", "xigth_nm": "", "WIDTH": "width_mm", "ix": "id", "xy": "id", "xyz": "", "zzz": "",
		"center_of_gravety": "centre_of_gravity", "kenter_of_gravetx": "centre_of_gravity", "kenter_of_krafetx": "",
	} {
		got := suggestion(written, s)
		if want != "" && got != fmt.Sprintf("; did you mean %q?", want) || want == "" && strings.Contains(got, "mean") {
			t.Errorf("%q: %q, want %q", written, got, want)
		}
	}
}

func TestPathsThatAreNone(t *testing.T) {
	for path, ok := range map[string]bool{"a[0].b": true, "a": true, "": true, "a..b": false, ".a": false, "a[-1]": false, "a[x]": false, "a[1": false, "a[0]": true} {
		if _, err := parsePath(path); (err == nil) != ok {
			t.Errorf("%q: %v", path, err)
		}
	}
}

// A mapping that was made, not read, has no lines: a field given twice is found all the same.
func TestAFieldGivenTwiceWithoutLines(t *testing.T) {
	of := reflect.TypeFor[struct {
		A int `yaml:"a"`
	}]()
	word := func(s, tag string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Tag: tag, Value: s} }
	top := &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{word("a", "!!str"), word("1", "!!int"), word("a", "!!str"), word("2", "!!int")}}
	d := &decoder{top: top}
	d.mapping(top, reflect.New(of).Elem(), nil)
	if len(d.problems) != 1 || d.problems[0].Msg != "is given twice; the first is in line 1" {
		t.Errorf("%v", d.problems)
	}
}

// A migration that fails says between which formats.
func TestAMigrationThatFails(t *testing.T) {
	k := Kind{Migrations: map[int]func(*yaml.Node) error{
		3: func(*yaml.Node) error { return nil }, 4: func(*yaml.Node) error { return fmt.Errorf("no length") },
	}}
	if got, want := migrate(nil, 3, 6, k), "cannot be brought from format 4 to 5: no length"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := migrate(nil, 2, 5, k), "format 2 is older than this program can read; it reads from format 3 on"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := migrate(nil, 4, 4, k); got != "" {
		t.Error(got)
	}
}

// A syntax error's place: its line as the YAML library counts, the first column; the library counts the line of some from
// nought.
func TestPlaceOfASyntaxError(t *testing.T) {
	for text, line := range map[string]int{"a: 1\nb: \"x\\q\"\n": 2, "a: 1\nb: 2\n c: [}\n": 3} {
		if _, got := parse([]byte(text)); got == nil || got.Line != line || got.Column != 1 {
			t.Errorf("%q: %+v, want line %d", text, got, line)
		}
	}
}

// An outline that is wrong as a whole is not blamed on a corner, and none at all is no fault.
func TestFaultsOfAnOutline(t *testing.T) {
	of := func(corners ...[2]float64) []cornerFault { return polygonFaults(reflect.ValueOf(corners)) }
	if got := of(); got != nil {
		t.Errorf("no corners: %v", got)
	}
	if got := of([2]float64{0, 0}); len(got) == 0 || got[0].corner != -1 {
		t.Errorf("one corner: %v", got)
	}
}
