package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A package with everything that has to be switched differently, and tests that look after about half of it.
const kinds = `package m

import "time"

const most = 12

type side int

const wait = 3 * time.Second

const (
	least, half  = 2, 0.5
	next9 side   = 9
	rows         = 2
	twice        = 2 * least
	unused       = 3
	beam         = 8
	Reach        = 6
)

var table [rows]int

func squared(x float64) float64 { return half*half*x + least }

func beams(n int) int { return n * beam * Reach }

func far(s side) bool { return s > next9 && len(table) > 0 }

var share = 1.0 / 3

func limit(n int) bool { return n <= most }

func double[T int | float64](v T) T { return 2 * v }

func words(a, b string) string { return a + b + "" }

func turned(x float64) float64 {
	s := -x
	s += x*x/2 -
		1
	return -2*s + share
}

func next() int { return 1 }

func filled() []int {
	a := [...]int{2: 5, 1: 4}
	s := a[:]
	s[next()] += 3
	for i := 0; i < len(s); i++ {
		s[i] *= 2
	}
	return s
}

func longest(d time.Duration, s side) bool { return d > wait+2*time.Second && s != 4 }

func unseen(a int) int { return a - 1 }
`

const kindsTested = `package m

import (
	"slices"
	"testing"
	"time"
)

func TestFilled(t *testing.T) {
	if got := filled(); !slices.Equal(got, []int{0, 14, 10}) || limit(13) || words("a", "b") != "ab" {
		t.Error(got)
	}
}

func TestTurned(t *testing.T) {
	if got := turned(2) - 3 - 1.0/3; got < -1.1 && got > -1 || double(2) != 4 {
		t.Error(got)
	}
	if turned(2) != 2+1.0/3 {
		t.Error(turned(2))
	}
}

func TestLongest(t *testing.T) {
	if !longest(6*time.Second, 1) || squared(8) != 4 || !far(10) || far(9) || beams(2) != 2*beam*6 {
		t.Error()
	}
}
`

// Switched on, each change is noticed or not as when it is built by itself; switched off, the tests pass.
func TestSwitchedOnAsBuiltByItself(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a module several times")
	}
	dir := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module m\n\ngo 1.26\n", "m.go": kinds, "m_test.go": kindsTested} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	ctx := context.Background()
	pkgs, err := packages(ctx, []string{"."})
	if err != nil {
		t.Fatal(err)
	}
	changes, err := pkgs[0].changes()
	if err != nil {
		t.Fatal(err)
	}
	r, err := newRig(ctx, pkgs[0], changes, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	lab := trial{timeout: time.Minute, rig: r}
	if err := lab.sound(ctx); err != nil {
		t.Fatal(err)
	}
	seen := map[verdict]int{}
	for i, c := range changes {
		got, err := lab.try(ctx, pkgs[0], i)
		if err != nil {
			t.Fatal(err)
		}
		want, err := lab.built(ctx, c, []string{"m"})
		if err != nil {
			t.Fatal(err)
		}
		if got.verdict != want {
			t.Errorf("%s: %s when switched on, %s when built", c, got.verdict, want)
		}
		if r.inside[i] {
			seen[got.verdict]++
		}
	}
	if len(r.inside) < len(changes)/2 || seen[noticed] < 5 || seen[survived] < 2 {
		t.Errorf("%d of %d can be switched: %v", len(r.inside), len(changes), seen)
	}
	t.Logf("%d of %d can be switched: %v", len(r.inside), len(changes), seen)
}
