package vehicles_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// table reads a file of published values; testdata/reference/SOURCES.md names the source of each.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, head := range rows[0] {
			m[head] = row[i]
		}
		out = append(out, m)
	}
	return out
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// recomputed returns the numbers in a worked example's column of that name.
func recomputed(t *testing.T, id string) []float64 {
	t.Helper()
	for _, row := range table(t, "worked_examples.csv") {
		if row["id"] != id {
			continue
		}
		var out []float64
		for part := range strings.SplitSeq(row["recomputed"], ",") {
			out = append(out, number(t, strings.TrimSpace(part)))
		}
		return out
	}
	t.Fatalf("no worked example %s", id)
	return nil
}
