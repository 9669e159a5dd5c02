package restraint

import (
	"slices"
	"testing"

	"stowbay/layout"
)

// The standing sets are those of testdata/reference/restraint_accelerations.csv, in its order: ISO 12991 table 1,
// UN R100, racing rules, GB 38031, the French order of 1979.
func TestSetsAreThoseOfTheTable(t *testing.T) {
	rows := table(t, "restraint_accelerations.csv")
	if len(rows) != len(Sets()) {
		t.Fatalf("%d rows, %d sets", len(rows), len(Sets()))
	}
	stated := func(cell string) float64 {
		if cell == "" {
			return 0
		}
		return number(t, cell)
	}
	for i, s := range Sets() {
		r := rows[i]
		for column, got := range map[string]float64{"forward_g": s.ForwardG, "lateral_g": s.SideG, "rearward_g": s.RearwardG} {
			near(t, s.ID+" "+column, got, stated(r[column]), 0)
		}
		near(t, s.ID+" up", s.UpG, stated(r["vertical_g"]), 0)
		near(t, s.ID+" down", s.DownG, stated(r["vertical_g"]), 0)
	}
}

func TestDirectionsOfASet(t *testing.T) {
	s := Set{ForwardG: 1, RearwardG: 2, SideG: 3, UpG: 4, DownG: 5}
	for d, want := range map[Direction]float64{Forward: 1, Rearward: 2, Left: 3, Right: 3, Up: 4, Down: 5} {
		near(t, string(d), s.G(d), want, 0)
	}
	if got := s.Silent(); len(got) != 0 {
		t.Errorf("silent on %v", got)
	}
	if got := (Set{ForwardG: 1, UpG: 1}).Silent(); !slices.Equal(got, []Direction{Rearward, Left, Right, Down}) {
		t.Errorf("silent on %v", got)
	}
}

func TestChosenSet(t *testing.T) {
	for _, c := range []struct {
		r      layout.Restraint
		id     string
		chosen bool
	}{
		{layout.Restraint{}, Own, false},
		{layout.Restraint{Set: Own}, Own, false},
		{layout.Restraint{Set: "nobody's", ForwardG: 3}, Own, false},
		{layout.Restraint{Set: "r100-m2n2", ForwardG: 3}, "r100-m2n2", true},
		{layout.Restraint{ForwardG: 3}, Own, true},
		{layout.Restraint{RearG: 3}, Own, true},
		{layout.Restraint{Set: Own, SideG: 3}, Own, true},
		{layout.Restraint{UpG: 3}, Own, true},
		{layout.Restraint{DownG: 3}, Own, true},
	} {
		s, ok := Chosen(c.r)
		if s.ID != c.id || ok != c.chosen {
			t.Errorf("%+v: %s, %v", c.r, s.ID, ok)
		}
	}
	s, _ := Chosen(layout.Restraint{ForwardG: 1, RearG: 2, SideG: 3, UpG: 4, DownG: 5})
	for d, want := range map[Direction]float64{Forward: 1, Rearward: 2, Left: 3, Right: 3, Up: 4, Down: 5} {
		near(t, "own "+string(d), s.G(d), want, 0)
	}
}
