package drawing

import (
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/layout/check"
	"stowbay/layout/search"
)

// comparedTable has three arrangements with a reading and their energies; of the third the reading is missing where short is set.
func comparedTable(better search.Better, short bool) *search.Table {
	row := func(key, label, unit string, b search.Better, vs ...float64) search.Row {
		r := search.Row{Key: key, Label: label, Unit: unit, Better: b}
		for _, v := range vs {
			r.Cells = append(r.Cells, search.Cell{Has: true, Value: v})
		}
		return r
	}
	t := &search.Table{
		Columns: []search.Column{{ID: "a", Name: "A"}, {ID: "b", Name: "B", Counts: map[check.Severity]int{check.Fails: 1}}, {ID: "c", Name: "C", Counts: map[check.Severity]int{check.Warns: 3}}},
		Rows:    []search.Row{row("cg", "offset", "mm", better, -8, 2, 5), row("energy_kwh", "energy", "kWh", search.More, 60, 40, 50)},
	}
	if short {
		t.Rows[0].Cells[2].Has = false
	}
	return t
}

// An arrangement in which a finding fails is a cross, others are not; figures that are better near zero are set by how far they are
// from it; and the axis says when less is better.
func TestComparisonIsPlottedAsItIsBetter(t *testing.T) {
	for _, c := range []struct {
		better search.Better
		label  string
		rising bool // from A to C, C at the right
	}{
		{search.Less, "offset, mm (less is better)", true}, {search.More, "offset, mm", true},
		{search.NearZero, "offset, either way, mm (less is better)", false},
	} {
		l := ComparedScatter(comparedTable(c.better, false), "cg", 100, 80)
		at, crosses := map[string]r2.Point{}, map[string]int{}
		for _, it := range l.Items {
			if s, ok := it.(Stroke); ok && s.Of.Ref != "" {
				at[s.Of.Ref] = r2.RectFromPoints(s.Points...).Center()
				if s.Of.Role == RoleBreach {
					crosses[s.Of.Ref]++
				}
			}
		}
		if len(crosses) != 1 || crosses["b"] != 2 {
			t.Errorf("crosses %v, want one for b", crosses)
		}
		if !strings.Contains("\n"+textsOf(l), "\n"+c.label+"\n") {
			t.Errorf("no %q in %q", c.label, textsOf(l))
		}
		if got := at["a"].X < at["c"].X; got != c.rising || !(at["a"].Y > at["c"].Y && at["c"].Y > at["b"].Y) {
			t.Errorf("%s: %v", c.label, at)
		}
	}
}

// Two arrangements are compared, one is not, nor by a reading that none has.
func TestOneArrangementIsNoComparison(t *testing.T) {
	table := comparedTable(search.Less, true)
	if l := ComparedScatter(table, "cg", 100, 80); l == nil {
		t.Error("two are not compared")
	}
	table.Rows[1].Cells[1].Has = false
	if l := ComparedScatter(table, "cg", 100, 80); l != nil {
		t.Error("one is compared")
	}
	if l := ComparedScatter(table, "none", 100, 80); l != nil {
		t.Error("a reading that is not there is compared")
	}
}
