package vehicles_test

import (
	"slices"
	"strings"
	"testing"

	"stowbay/vehicles"
)

// Twelve cells in series, three in parallel, of 3.6 V and 50 Ah: 43.2 V, 150 Ah, 6.48 kWh, by hand.
func TestModuleFollowsFromItsCells(t *testing.T) {
	m := vehicles.Module{Series: 12, Parallel: 3, Cell: vehicles.Cell{NominalV: 3.6, MinV: 2.8, MaxV: 4.2, CapacityAh: 50}}
	near(t, "nominal voltage", m.NominalV(), 43.2, 1e-9)
	near(t, "lowest voltage", m.MinV(), 33.6, 1e-9)
	near(t, "highest voltage", m.MaxV(), 50.4, 1e-9)
	near(t, "capacity", m.CapacityAh(), 150, 1e-9)
	near(t, "energy", m.EnergyKWh(), 6.48, 1e-9)
}

// problems are what a record's own rules find, as "path: message".
func problems(of interface{ Problems(func(path, msg string)) }) []string {
	var all []string
	of.Problems(func(path, msg string) { all = append(all, path+": "+msg) })
	return all
}

// Figures below one count like larger ones.
func TestSmallFiguresAreHeldAgainstOneAnother(t *testing.T) {
	for name, c := range map[string]struct {
		of   interface{ Problems(func(path, msg string)) }
		want string
	}{
		"peak without its time":     {&vehicles.Currents{PeakA: 0.5}, "peak_s: is missing"},
		"no peak":                   {&vehicles.Currents{}, ""},
		"peak below the continuous": {&vehicles.Currents{PeakA: 0.5, PeakS: 1, ContinuousA: 0.6}, "peak_a: 0.5 is less than continuous_a, which is 0.6"},
		"peak like the continuous":  {&vehicles.Currents{PeakA: 0.6, PeakS: 1, ContinuousA: 0.6}, ""},
		"swelling without axis":     {&vehicles.Swelling{MM: 0.5}, "axis: is missing"},
		"no swelling":               {&vehicles.Swelling{}, ""},
		"voltages the wrong way":    {&vehicles.Gear{VoltageMinV: 0.9, VoltageMaxV: 0.8}, "voltage_min_v: 0.9 must be below voltage_max_v, which is 0.8"},
		"only a lowest voltage":     {&vehicles.Gear{VoltageMinV: 0.9}, ""},
		"a slab of nothing":         {&vehicles.Level{FloorMM: 3, CeilingMM: 3.0095}, "ceiling_mm: 3.0095 must lie above floor_mm"},
		"a lattice step":            {&vehicles.Level{FloorMM: 3, CeilingMM: 3.0105}, ""},
		"a height of half a mm":     {&vehicles.CGRise{How: "maker", HeightMM: 0.5}, ""},
		"no height":                 {&vehicles.CGRise{How: "maker"}, "height_mm: is missing"},
	} {
		got := strings.Join(problems(c.of), "\n")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: got %q, want %q", name, got, c.want)
		}
	}
	short := vehicles.Donor{WheelbaseMM: 0.5, CentreOfGravity: vehicles.CGRise{How: "maker", HeightMM: 1, Lifts: []vehicles.Lift{{Raised: "rear", RaisedMM: 0.5}}}}
	if got := problems(&short); len(got) != 1 || !strings.Contains(got[0], "is not less than the wheelbase of 0.5") {
		t.Errorf("raised by the wheelbase: %q", got)
	}
}

// A curve of open-circuit voltages needs its two ends and nothing between them.
func TestCurveOfTwoPoints(t *testing.T) {
	c := vehicles.Cell{MinV: 3, NominalV: 3.6, MaxV: 4.2, OpenV: []vehicles.OpenVolt{{SOCPct: 0, V: 3.2}, {SOCPct: 100, V: 4.1}}}
	if got := problems(&c); len(got) != 0 {
		t.Errorf("both ends: %q", got)
	}
	c.OpenV = c.OpenV[:1]
	if got := problems(&c); len(got) != 1 || !strings.HasPrefix(got[0], "open_circuit: must run from 0 to 100") {
		t.Errorf("one end: %q", got)
	}
}

// A terminal may stand out of its face by 30 mm or be sunk as deep; an end face has one plane at nought and one at the
// length.
func TestTerminalsLieOnTheirFaces(t *testing.T) {
	at := func(face vehicles.Face, x float64) []string {
		return problems(&vehicles.Gear{LengthMM: 300, WidthMM: 100, HeightMM: 80, Terminals: []vehicles.Terminal{{ID: "a", Face: face, At: vehicles.XYZ{x, 50, 40}}}})
	}
	for _, c := range []struct {
		face vehicles.Face
		x    float64
		on   bool
	}{
		{vehicles.Front, 0, true}, {vehicles.Front, 30, true}, {vehicles.Front, -30, true}, {vehicles.Front, 30.5, false}, {vehicles.Front, -30.5, false},
		{vehicles.Back, 300, true}, {vehicles.Back, 270, true}, {vehicles.Back, 330, true}, {vehicles.Back, 269.5, false}, {vehicles.Back, 330.5, false},
		{"unheard of", 1000, true}, // said by the field's own rule
	} {
		if got := at(c.face, c.x); (len(got) == 0) != c.on {
			t.Errorf("%s at x = %g: %q", c.face, c.x, got)
		}
	}
	if got := at(vehicles.Back, 0); len(got) != 1 || !strings.Contains(got[0], "[0, 50, 40] is not on the back face of a body of 300 x 100 x 80 mm; that face lies at x = 300, and up to 30 mm") {
		t.Errorf("%q", got)
	}
}

// A module without terminals is asked for them by the field's own rule; one with a single pole lacks the other.
func TestBothPolesAreWanted(t *testing.T) {
	m := vehicles.Module{LengthMM: 300, WidthMM: 100, HeightMM: 80, Terminals: []vehicles.Terminal{{ID: "a", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 50, 40}}}}
	if got := problems(&m); !slices.Contains(got, "terminals: have no negative one; a module needs both") {
		t.Errorf("%q", got)
	}
	m.Terminals = nil
	for _, p := range problems(&m) {
		if strings.HasPrefix(p, "terminals") {
			t.Errorf("no terminal at all: %q", p)
		}
	}
}

// The number a file begins with is part of the format: raising it needs a migration.
func TestFormatsAreTheFirst(t *testing.T) {
	for name, read := range readers {
		for text, refused := range map[string]bool{"format: 1\n": false, "format: 2\n": true} {
			if err := read(name+".yaml", []byte(text)); strings.Contains(err.Error(), "format: ") != refused {
				t.Errorf("%s, %q: %v", name, text, err)
			}
		}
	}
	if vehicles.DonorFormat != 1 || vehicles.ModuleFormat != 1 || vehicles.GearFormat != 1 {
		t.Error("the formats in the files are 1")
	}
}
