package electric

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// table reads a file of published values; its rows are maps from the header's names.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, v := range row {
			m[rows[0][i]] = v
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return out
}

// num reads a figure; ok is false for an empty cell.
func num(t *testing.T, s string) (v float64, ok bool) {
	t.Helper()
	if s == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v, true
}

func must(t *testing.T, s string) float64 {
	t.Helper()
	v, ok := num(t, s)
	if !ok {
		t.Fatal("a figure is missing")
	}
	return v
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	tol := share * want
	if tol < 0 {
		tol = -tol
	}
	if !(got >= want-tol-1e-12 && got <= want+tol+1e-12) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}
