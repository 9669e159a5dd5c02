// Package goldentest keeps computed results as text beside the tests, so that no figure changes unnoticed. A golden file
// proves nothing about a formula: that is what the checks against standards, handbooks and worked examples are for.
package goldentest

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Compare dumps values and compares them with testdata/golden/NAME.txt. Numbers may differ in the ninth figure. Values of the
// packages named are left out, but for readings: they are what the result was computed from. Functions without arguments, such
// as a reading's explanation, are called. Words meant for people only may change freely.
func Compare(t *testing.T, name string, without []string, values ...any) {
	t.Helper()
	d := dumper{without: without, seen: map[uintptr]bool{}}
	for i, v := range values {
		d.value(fmt.Sprint(i), reflect.ValueOf(v), 0)
	}
	file := filepath.Join("testdata", "golden", name+".txt")
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(strings.Join(d.lines, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	compare(t, file, strings.Split(strings.TrimSuffix(string(data), "\n"), "\n"), d.lines)
}

func compare(t *testing.T, file string, want, got []string) {
	t.Helper()
	wrong := 0
	for i := range max(len(want), len(got)) {
		var w, g string
		if i < len(want) {
			w = want[i]
		}
		if i < len(got) {
			g = got[i]
		}
		if !alike(w, g) {
			if wrong++; wrong <= 10 {
				t.Errorf("%s:%d: was %q, is %q", file, i+1, w, g)
			}
		}
	}
	if wrong > 0 {
		t.Errorf("%d lines differ. Where the change is meant, run the test with -update and look at what changed", wrong)
	}
}

// alike tells whether two lines say the same, numbers to nine figures.
func alike(a, b string) bool {
	if a == b {
		return true
	}
	pa, va, _ := strings.Cut(a, " = ")
	pb, vb, _ := strings.Cut(b, " = ")
	x, errX := strconv.ParseFloat(va, 64)
	y, errY := strconv.ParseFloat(vb, 64)
	return pa == pb && errX == nil && errY == nil && math.Abs(x-y) <= 1e-9*max(1, math.Abs(x), math.Abs(y))
}

// prose are fields with words for people.
var prose = []string{"Label", "Name", "Note", "Formula", "Source", "Remark", "Text", "Words", "Assumed", "Missing", "Problems"}

// dumper writes every exported value that can be reached as a line of path and value.
type dumper struct {
	without []string
	seen    map[uintptr]bool
	lines   []string
}

func (d *dumper) line(path string, v any) { d.lines = append(d.lines, fmt.Sprintf("%s = %v", path, v)) }

func (d *dumper) value(path string, v reflect.Value, depth int) {
	if depth > 12 || !v.IsValid() || d.leftOut(v.Type()) {
		return
	}
	switch v.Kind() {
	case reflect.Bool:
		d.line(path, v.Bool())
	case reflect.Int, reflect.Int64, reflect.Int32, reflect.Int8:
		d.line(path, v.Int())
	case reflect.Float64:
		d.line(path, strconv.FormatFloat(v.Float(), 'g', 12, 64))
	case reflect.String:
		if v.Len() > 0 {
			d.line(path, strconv.Quote(v.String()))
		}
	case reflect.Pointer, reflect.Interface:
		d.pointed(path, v, depth)
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && !slices.Contains(prose, f.Name) {
				d.value(path+"."+f.Name, v.Field(i), depth+1)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			d.value(path+"["+strconv.Itoa(i)+"]", v.Index(i), depth+1)
		}
	case reflect.Map:
		d.entries(path, v, depth)
	case reflect.Func:
		if !v.IsNil() && v.Type().NumIn() == 0 && v.Type().NumOut() == 1 {
			d.value(path+"()", v.Call(nil)[0], depth+1)
		}
	}
}

// leftOut tells whether values of a type are none of the result.
func (d *dumper) leftOut(t reflect.Type) bool {
	return slices.Contains(d.without, t.PkgPath()) && !slices.Contains([]string{"Reading", "Why", "Input", "Basis"}, t.Name())
}

// pointed goes where a pointer leads, once.
func (d *dumper) pointed(path string, v reflect.Value, depth int) {
	if v.IsNil() {
		return
	}
	if v.Kind() == reflect.Pointer {
		if d.seen[v.Pointer()] {
			return
		}
		d.seen[v.Pointer()] = true
	}
	d.value(path, v.Elem(), depth+1)
}

func (d *dumper) entries(path string, v reflect.Value, depth int) {
	keys := v.MapKeys()
	sort.Slice(keys, func(i, j int) bool { return fmt.Sprint(keys[i]) < fmt.Sprint(keys[j]) })
	for _, k := range keys {
		d.value(fmt.Sprintf("%s{%v}", path, k), v.MapIndex(k), depth+1)
	}
}
