package inputs

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestSpoiltInputsDifferAndStayShort(t *testing.T) {
	example := []byte("a: [1, 2.5]\nb: {c: -3}\n")
	s := newSpoiler(1, [][]byte{example}, nil, numbers, 60)
	seen := map[string]bool{}
	for range 5000 {
		b := s.next()
		if len(b) > 60 {
			t.Fatalf("%d bytes", len(b))
		}
		seen[string(b)] = true
	}
	if len(seen) < 3000 {
		t.Errorf("only %d different inputs", len(seen))
	}
	if string(example) != "a: [1, 2.5]\nb: {c: -3}\n" {
		t.Error("the example was spoilt itself")
	}
}

// Every way to spoil an input bears an empty one and changes a long one sooner or later.
func TestEachChangeChanges(t *testing.T) {
	long := []byte("a: [1, 2.5]\nb: -3\n" + strings.Repeat("c: [1, 2.5]\n", 9))
	for i, change := range changes {
		s := newSpoiler(uint64(i), [][]byte{long, {}}, nil, numbers, 1000)
		change(s, nil)
		changed := false
		for range 100 {
			changed = changed || !bytes.Equal(change(s, bytes.Clone(long)), long)
		}
		if !changed {
			t.Errorf("change %d does nothing", i)
		}
	}
}

func TestTellsPanicsAndBrokenPromises(t *testing.T) {
	for name, read := range map[string]func(T) error{
		"panic":   func(T) error { panic("no") },
		"promise": func(t T) error { t.Errorf("broken"); return nil },
		"fatal":   func(t T) error { t.Fatal("broken for good"); return nil },
	} {
		var p probe
		ok := tried(&p, read)
		if ok || len(p.says) != 1 {
			t.Errorf("%s: said %q", name, p.says)
		}
	}
	var p probe
	if !tried(&p, func(T) error { return errors.New("refused") }) {
		t.Error("a refused input is no fault")
	}
}

func TestKindIsOfTheFirstProblemsLetters(t *testing.T) {
	a, b, c := errors.New("f:1:2: x: want \"a\"\nsecond"), errors.New("f:13:4: x: want \"b\""), errors.New("f:1:2: y: want \"a\"")
	if kind(a) != kind(b) || kind(a) == kind(c) || kind(nil) == kind(a) {
		t.Error("kinds are mixed up")
	}
}

func TestUnpacksWhatPackageTestingWrites(t *testing.T) {
	for file, want := range map[string]string{
		"go test fuzz v1\n[]byte(\"a\\x00\\n\")\n": "a\x00\n",
		"go test fuzz v1\nstring(\"M0 0\")\n":      "M0 0",
	} {
		if got, err := unpack([]byte(file)); err != nil || string(got) != want {
			t.Errorf("%q: got %q, %v", file, got, err)
		}
	}
	if _, err := unpack([]byte("something else")); err == nil {
		t.Error("no error")
	}
}

func TestInsertBearsPartsOfItself(t *testing.T) {
	b := append(make([]byte, 0, 100), "abcdef"...)
	if got := string(insert(b, 1, b[2:5])); got != "acdebcdef" {
		t.Errorf("got %q", got)
	}
}

func BenchmarkSpoil(b *testing.B) {
	s := newSpoiler(rand.Uint64(), [][]byte{[]byte(strings.Repeat("a: [1, 2.5]\n", 30))}, nil, numbers, 400)
	for b.Loop() {
		s.next()
	}
}
