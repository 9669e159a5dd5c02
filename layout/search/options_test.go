package search

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// The energy wanted is the option's where it states any, however little, and the plan's otherwise.
func TestEnergyWanted(t *testing.T) {
	p := &layout.Plan{}
	p.Settings.Search.EnergyKWh = 20
	for stated, want := range map[float64]float64{0: 20, 0.4: 0.4, 1.5: 1.5, 30: 30} {
		if got := (&Options{MinEnergyKWh: stated}).minEnergy(p); got != want {
			t.Errorf("%g kWh stated: %g", stated, got)
		}
	}
}

// Module types are those of the options, else those of the plan's search settings, else those that stand in its arrangements, by name; each
// once.
func TestModulesThatAreSearched(t *testing.T) {
	var ms []*vehicles.Module
	for _, id := range []string{"a", "b", "c", "d"} {
		ms = append(ms, block(id, 300, 150, 100, 14, 50, 400, vehicles.Flat))
	}
	lib := vehicles.Catalogue().With(vehicles.Records{Modules: ms})
	used := []*layout.Arrangement{
		{Boxes: []*layout.Box{{Modules: []layout.Placement{{Module: "d"}, {Module: "c"}}}, {}}},
		{Boxes: []*layout.Box{{Modules: []layout.Placement{{Module: "c"}}}}},
	}
	for _, c := range []struct {
		options, plan []string
		in            []*layout.Arrangement
		want, problem string
	}{
		{[]string{"b", "a", "b"}, []string{"c"}, used, "b a", ""}, {[]string{"a"}, nil, nil, "a", ""}, {nil, []string{"c"}, used, "c", ""}, {nil, []string{"c", "a"}, used, "c a", ""},
		{nil, nil, used, "c d", ""}, {nil, nil, used[1:], "c", ""}, {nil, nil, nil, "", "no module type"}, {[]string{"e"}, nil, nil, "", `no module "e"`},
	} {
		p := &layout.Plan{Arrangements: c.in}
		p.Settings.Search.Modules = c.plan
		got, err := (&Options{Modules: c.options}).modules(p, lib)
		var ids []string
		for _, m := range got {
			ids = append(ids, m.ID)
		}
		if strings.Join(ids, " ") != c.want || (err == nil) != (c.problem == "") || err != nil && !strings.Contains(err.Error(), c.problem) {
			t.Errorf("%+v: %v, %v", c, ids, err)
		}
	}
}

// All four pushes are searched where none is named, else those that are.
func TestPushesThatAreSearched(t *testing.T) {
	for _, c := range []struct{ in, want []Push }{
		{nil, []Push{Low, Forward, Rearward, Centre}}, {[]Push{Centre}, []Push{Centre}}, {[]Push{Forward, Forward, Low}, []Push{Forward, Low}}, {[]Push{Low, "up"}, nil},
	} {
		if got, err := (&Options{Pushes: c.in}).pushes(); !slices.Equal(got, c.want) || (err != nil) != (c.want == nil) {
			t.Errorf("%v: %v, %v", c.in, got, err)
		}
	}
}

// Objectives count where none are named or they are; the cost only where everything has a price.
func TestObjectivesThatCount(t *testing.T) {
	for _, c := range []struct {
		want   []Objective
		priced bool
		on     string
	}{{nil, true, "111111111"}, {nil, false, "111111110"}, {[]Objective{Cost, Mass}, true, "010000001"}, {[]Objective{Cost, Mass}, false, "010000000"}, {[]Objective{Energy}, true, "100000000"}} {
		got := ""
		for _, on := range active(c.want, c.priced) {
			got += fmt.Sprint(map[bool]int{true: 1}[on])
		}
		if got != c.on {
			t.Errorf("%v, priced %v: %s, want %s", c.want, c.priced, got, c.on)
		}
	}
	for i, o := range Objectives() {
		if found, ok := ObjectiveOf(o.Key()); int(o) != i || found != o || !ok || o.Label() == "" || o.More() != (o.Key() == "energy_kwh") {
			t.Errorf("objective %d: %s, found %v, %v", i, o.Key(), found, ok)
		}
	}
	if _, ok := ObjectiveOf("beauty"); ok || len(Objectives()) != 9 {
		t.Errorf("%d objectives", len(Objectives()))
	}
}
