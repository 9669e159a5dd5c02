package goldentest

import (
	"reflect"
	"slices"
	"testing"
)

type inner struct{ X, Y float64 }

type outer struct {
	Key    string
	Name   string
	N      int
	On     bool
	Parts  []inner
	By     map[string]int
	Again  *inner
	Itself *outer
	Told   func() inner
	hidden int
}

func TestDumpReachesEverything(t *testing.T) {
	p := &inner{1, 2.5}
	v := &outer{Key: "a", Name: "b", N: 3, Parts: []inner{{0.1, -4}}, By: map[string]int{"b": 2, "a": 1}, Again: p, Told: func() inner { return inner{8, 9} }, hidden: 7}
	v.Itself = v
	d := dumper{seen: map[uintptr]bool{}}
	d.value("r", reflect.ValueOf(v), 0)
	want := []string{`r.Key = "a"`, "r.N = 3", "r.On = false", "r.Parts[0].X = 0.1", "r.Parts[0].Y = -4", "r.By{a} = 1", "r.By{b} = 2", "r.Again.X = 1", "r.Again.Y = 2.5", "r.Told().X = 8", "r.Told().Y = 9"}
	if !slices.Equal(d.lines, want) {
		t.Errorf("got %q", d.lines)
	}
}

func TestLinesThatSayTheSame(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"x = 1", "x = 1", true}, {"x = 1", "x = 1.0000000001", true}, {"x = 1000", "x = 1000.00000001", true},
		{"x = 1", "x = 1.00001", false}, {"x = 1", "y = 1", false}, {`x = "a"`, `x = "b"`, false}, {"", "x = 1", false}, {"x = -1", "x = 1", false},
	} {
		if got := alike(c.a, c.b); got != c.want {
			t.Errorf("%q and %q: %v", c.a, c.b, got)
		}
	}
}
