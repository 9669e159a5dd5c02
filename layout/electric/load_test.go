package electric

import (
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// By hand: P over U, more of it by the losses; the rated current where no power or no voltage is known.
func TestInverterAmpsByHand(t *testing.T) {
	for _, c := range []struct{ kw, rated, v, eff, want float64 }{
		{60, 300, 400, 0, 150}, {60, 300, 400, 80, 187.5}, {60, 300, 400, 0.5, 30000}, {0.8, 300, 400, 0, 2},
		{0, 300, 400, 80, 300}, {60, 300, 0, 80, 300}, {1, 300, 400, 0, 2.5}, {60, 300, 0.5, 0, 120000},
	} {
		close9(t, "A", InverterAmps(&vehicles.Gear{EfficiencyPct: c.eff}, c.kw, c.rated, c.v), c.want)
	}
}

// memberOf is a string of modules that differ in the time of their peak.
func memberOf(times ...float64) String {
	s := String{ContinuousA: 100, PeakA: 250, RegenA: 80}
	for _, v := range times {
		m := block()
		m.Current.PeakS = v
		s.Modules = append(s.Modules, Member{Body: &layout.Body{Module: m}})
	}
	return s
}

// The peak lasts as long as the inverter says, else as the shortest stated for a module, else 10 s.
func TestTimeOfThePeak(t *testing.T) {
	for _, c := range []struct {
		inverter float64
		strings  []String
		want     float64
	}{
		{30, []String{memberOf(5, 8)}, 30}, {0.5, []String{memberOf(5, 8)}, 0.5}, {0, []String{memberOf(8, 0, 5), memberOf(6)}, 5},
		{0, []String{memberOf(0.6, 0.8)}, 0.6}, {0, []String{memberOf(0.6, 0.5)}, 0.5}, {0, []String{memberOf(0, 0)}, 10}, {0, nil, 10}, {0, []String{memberOf(1)}, 1}, {0, []String{memberOf(1, 4)}, 1},
	} {
		l := Load{Inverter: &vehicles.Gear{PeakS: c.inverter}}
		close9(t, "s", l.peakTime(c.strings), c.want)
	}
	none := Load{}
	close9(t, "without an inverter", none.peakTime([]String{memberOf(7)}), 7)
}

// Without an inverter the currents are what the strings' modules allow, all strings together.
func TestCurrentsOfTheModules(t *testing.T) {
	var l Load
	l.ask(use{}, 0, []String{memberOf(5), memberOf(8)})
	close9(t, "continuous", l.ContinuousA, 200)
	close9(t, "peak", l.PeakA, 500)
	close9(t, "recuperation", l.RegenA, 160)
	if l.Basis != layout.Assumed {
		t.Errorf("%s", l.Basis)
	}
}

// By hand: a charger of 6.6 kW at 400 V gives 16.5 A; without a power its rated current counts; without a pack nothing does.
func TestChargingCurrent(t *testing.T) {
	for _, c := range []struct{ kw, rated, v, want float64 }{{6.6, 20, 400, 16.5}, {0, 20, 400, 20}, {0.4, 20, 400, 1}, {6.6, 20, 0, 0}, {6.6, 20, 0.5, 13200}} {
		l := Load{Charger: &vehicles.Gear{PowerKW: c.kw, ContinuousA: c.rated}}
		l.charging(c.v, nil)
		close9(t, "A", l.ChargeA, c.want)
	}
}

// The settings name a piece placed or a record; a name of nothing, or none at all, leaves the first of its kind.
func TestWhichInverterCounts(t *testing.T) {
	other := inverter()
	other.ID = "other"
	spare := inverter()
	spare.ID = "spare"
	lib := testLibrary.With(vehicles.Records{Gear: []*vehicles.Gear{other, spare}})
	p := withInverter(planOf(boxOf("b", vehicles.XYZ{}, 1, 1)))
	a := p.Arrangements[0]
	a.Gear = append(a.Gear, layout.PlacedGear{ID: "iso", Gear: "monitor"}, layout.PlacedGear{ID: "inv2", Gear: "other"})
	for named, want := range map[string][2]string{"": {"inv", "inv1"}, "inv2": {"other", "inv2"}, "other": {"other", "inv2"}, "inv1": {"inv", "inv1"}, "spare": {"spare", ""}, "moon": {"inv", "inv1"}} {
		p.Settings.Inverter = named
		l := Evaluate(layout.Resolve(p, a, lib, nil), nil).Load
		at := ""
		if l.InverterAt != nil {
			at = l.InverterAt.ID
		}
		if l.Inverter.ID != want[0] || at != want[1] {
			t.Errorf("%q: %s placed as %q, want %v", named, l.Inverter.ID, at, want)
		}
	}
}

// The capacitance of the bus is what the settings state, of all gear placed, and of an inverter that is named but not placed;
// by hand for the suggested resistor: 0.5 s over 3.0 time constants of 1390 uF is 120 ohm, of the series R10 100 ohm.
func TestBusCapacitanceByHand(t *testing.T) {
	p := planOf(boxOf("b", vehicles.XYZ{}, 1, 2))
	p.Settings.Electric.ExternalUF = 1390
	r := Evaluate(resolve(p), nil)
	close9(t, "stated", r.Precharge.CapacitanceF, 1390e-6)
	if r.Precharge.Ohm != 100 || !r.Precharge.Suggested {
		t.Errorf("%v ohm", r.Precharge.Ohm)
	}
	p.Settings.Electric.ExternalUF = 0.5
	p.Settings.Inverter = "inv"
	r = Evaluate(resolve(p), nil)
	close9(t, "with an inverter not placed", r.Precharge.CapacitanceF, 600.5e-6)
	if want := []string{"stated in the settings", "inv (not placed)"}; !slices.Equal(r.Precharge.Sources, want) {
		t.Errorf("%v", r.Precharge.Sources)
	}
	small := &vehicles.Gear{ID: "small", Name: "Small", Kind: "dc_dc", LengthMM: 80, WidthMM: 60, HeightMM: 60, MassKg: 1, CapacitanceUF: 0.5}
	weak := inverter()
	weak.ID, weak.CapacitanceUF = "weak", 0.5
	lib := testLibrary.With(vehicles.Records{Gear: []*vehicles.Gear{small, weak}})
	p.Settings.Electric.ExternalUF, p.Settings.Inverter = 0, "weak"
	a := p.Arrangements[0]
	a.Gear = []layout.PlacedGear{{ID: "x", Gear: "small"}}
	r = Evaluate(layout.Resolve(p, a, lib, nil), nil)
	close9(t, "of small gear", r.Precharge.CapacitanceF, 1e-6)
	if len(r.Precharge.Sources) != 2 || !strings.HasPrefix(r.Precharge.Sources[0], "x") {
		t.Errorf("%v", r.Precharge.Sources)
	}
}

// Without a capacitance, or without a pack, there is nothing to precharge and no resistor to suggest.
func TestNothingToPrecharge(t *testing.T) {
	for _, p := range []*layout.Plan{planOf(boxOf("b", vehicles.XYZ{}, 1, 2)), withInverter(planOf(boxOf("b", vehicles.XYZ{}, 0, 0)))} {
		r := Evaluate(resolve(p), nil)
		if c := r.Precharge; c.Suggested || c.Ohm != 0 || c.T95S != 0 || c.Charging != (Charging{}) {
			t.Errorf("%+v", c)
		}
		if len(r.Strings) == 0 && (r.highestV() != 0 || r.faultThroughString() != 0 || r.Insulation.ToMetal != Required{}) {
			t.Errorf("no modules, yet %v V, %v A and %+v", r.highestV(), r.faultThroughString(), r.Insulation.ToMetal)
		}
	}
}

// By hand: of three strings whose own faults are 8400 A two feed 16 800 A into the third; a single one
// sees only its own. Unequal ones: strings of 8400, 4200 and 2100 A leave 12 600 A to the weakest.
func TestFaultThroughTheWeakestString(t *testing.T) {
	s := func(v float64) String {
		m := block()
		m.Ohmic.MilliOhm = 6
		return String{MaxV: v, Modules: []Member{{Body: &layout.Body{Module: m}}}}
	}
	for _, c := range []struct {
		volts []float64
		want  float64
	}{{[]float64{50.4}, 8400}, {[]float64{50.4, 50.4, 50.4}, 16800}, {[]float64{50.4, 25.2, 12.6}, 12600}, {[]float64{12.6, 50.4, 25.2}, 12600}, {[]float64{50.4, 12.6}, 8400}} {
		var r Result
		for _, v := range c.volts {
			r.Strings = append(r.Strings, s(v))
		}
		close9(t, "A", r.faultThroughString(), c.want)
	}
}

// mixedString is a string of modules that differ as said: by their cells' chemistry, their capacity or their name only.
func mixedString(ids ...string) String {
	s := String{ID: "A"}
	for _, id := range ids {
		m := block()
		m.ID = id
		switch id {
		case "chemistry":
			m.Cell.Chemistry = "LFP"
		case "capacity":
			m.Cell.CapacityAh *= 0.9
		case "hair more":
			m.Cell.CapacityAh *= 1.0105
		case "hair less":
			m.Cell.CapacityAh *= 1.0095
		}
		s.Modules = append(s.Modules, Member{Body: &layout.Body{ID: id, Module: m}})
	}
	return s
}

// Of several differences in a string the gravest is named: chemistry before capacity before type. A hundredth of the capacity
// makes the difference between the last two.
func TestGravestDifferenceIsNamed(t *testing.T) {
	for _, c := range []struct {
		ids  []string
		kind string
		of   string
	}{
		{[]string{"block", "type", "capacity", "chemistry"}, MixedChemistry, "chemistry"}, {[]string{"block", "chemistry", "capacity", "type"}, MixedChemistry, "chemistry"},
		{[]string{"block", "type", "capacity"}, MixedCapacity, "capacity"}, {[]string{"block", "capacity", "type"}, MixedCapacity, "capacity"},
		{[]string{"block", "block", "type"}, MixedTypes, "type"}, {[]string{"block", "hair more"}, MixedCapacity, "hair more"}, {[]string{"block", "hair less"}, MixedTypes, "hair less"},
	} {
		var r Result
		s := mixedString(c.ids...)
		r.compareModules(&s)
		if len(r.Problems) != 1 || r.Problems[0].Kind != c.kind || !slices.Equal(r.Problems[0].Refs, []string{"block", c.of}) {
			t.Errorf("%v: %+v", c.ids, r.Problems)
		}
	}
	var r Result
	s := mixedString("block", "block")
	if r.compareModules(&s); len(r.Problems) != 0 {
		t.Errorf("all alike: %+v", r.Problems)
	}
}

// Strings side by side: the lowest and the highest are named, wherever they stand; a millionth apart counts as equal.
func TestUnequalStringsAreNamed(t *testing.T) {
	for _, c := range []struct {
		volts []float64
		refs  string
	}{
		{[]float64{400, 390, 410}, "s1 s2"}, {[]float64{410, 400, 390}, "s2 s0"}, {[]float64{390, 410, 400}, "s0 s1"}, {[]float64{400, 410, 390, 405}, "s2 s1"},
		{[]float64{400, 400.0003}, ""}, {[]float64{400, 400.0005}, "s0 s1"}, {[]float64{400}, ""},
	} {
		var r Result
		for i, v := range c.volts {
			r.Strings = append(r.Strings, String{ID: string(rune('A' + i)), MaxV: v, Modules: []Member{{Body: &layout.Body{ID: "s" + string(rune('0'+i))}}}})
		}
		r.compareVoltages()
		got := ""
		for _, p := range r.Problems {
			got += strings.Join(p.Refs, " ")
		}
		if got != c.refs {
			t.Errorf("%v: %q, want %q", c.volts, got, c.refs)
		}
	}
}

// A string longer than the one module asked for, and one string where two are asked for, are said.
func TestCountsAskedFor(t *testing.T) {
	p := planOf(boxOf("b", vehicles.XYZ{}, 1, 3))
	a := p.Arrangements[0]
	a.Strings = []layout.String{{ID: "A", Modules: []string{"b/m1", "b/m2"}}}
	a.Series = 1
	if got := problemKinds(Evaluate(resolve(p), nil)); !slices.Equal(got, []string{ShortString}) {
		t.Errorf("two in series where one is asked for: %v", got)
	}
	a.Series, a.Parallel = 2, 2
	r := Evaluate(resolve(p), nil)
	if len(r.Problems) != 1 || r.Problems[0].Want != 2 || r.Problems[0].Have != 1 {
		t.Errorf("one string where two are asked for: %+v", r.Problems)
	}
}

// Every choice in the order of rising count, then series, with its figures: each the module's times the counts. By hand.
func TestChoicesByHand(t *testing.T) {
	m := block()
	got := Choices(m, nil, 4, 0)
	var counts [][2]int
	for _, c := range got {
		counts = append(counts, [2]int{c.Series, c.Parallel})
		s, p := float64(c.Series), float64(c.Parallel)
		close9(t, "least", c.MinV, 36*s)
		close9(t, "nominal", c.NominalV, 44.4*s)
		close9(t, "most", c.MaxV, 50.4*s)
		close9(t, "energy", c.EnergyKWh, s*p*4.44)
		close9(t, "mass", c.MassKg, s*p*12)
		close9(t, "current", c.ContinuousA, p*200)
		if !c.Fits || c.Count != c.Series*c.Parallel {
			t.Errorf("%+v", c)
		}
	}
	if want := [][2]int{{1, 1}, {1, 2}, {2, 1}, {1, 3}, {3, 1}, {1, 4}, {2, 2}, {4, 1}}; !slices.Equal(counts, want) {
		t.Errorf("%v, want %v", counts, want)
	}
	for _, c := range Choices(m, nil, 2, 1) {
		if c.Fits != (c.Count == 1) {
			t.Errorf("room for one: %+v", c)
		}
	}
	for _, c := range []struct {
		gear   []*vehicles.Gear
		lo, hi float64
	}{
		{nil, 0, 1500}, {[]*vehicles.Gear{nil, {VoltageMinV: 100}}, 100, 1500}, {[]*vehicles.Gear{{VoltageMaxV: 0.5}}, 0, 0.5},
		{[]*vehicles.Gear{{VoltageMinV: 100, VoltageMaxV: 500}, {VoltageMinV: 200, VoltageMaxV: 450}}, 200, 450},
	} {
		if lo, hi := CommonWindow(c.gear); lo != c.lo || hi != c.hi {
			t.Errorf("%v to %v, want %v to %v", lo, hi, c.lo, c.hi)
		}
	}
}

// A curve of two points is a curve; without one the voltage goes straight from the lowest over the nominal to the highest.
func TestShortCurves(t *testing.T) {
	c := vehicles.Cell{MinV: 3, NominalV: 3.6, MaxV: 4.2, OpenV: []vehicles.OpenVolt{{SOCPct: 0, V: 3.2}, {SOCPct: 100, V: 4}}}
	for soc, want := range map[float64]float64{0: 3.2, 25: 3.4, 100: 4} {
		got, assumed := OpenVolts(&c, soc)
		if close9(t, "V", got, want); assumed {
			t.Error("assumed")
		}
	}
	c.OpenV = c.OpenV[:1]
	for soc, want := range map[float64]float64{0: 3, 0.5: 3.006, 25: 3.3, 50: 3.6, 100: 4.2} {
		got, assumed := OpenVolts(&c, soc)
		if close9(t, "V", got, want); !assumed {
			t.Error("not assumed")
		}
	}
}

// A resistance that is not positive counts as a micro-ohm: 1 V between two such strings drives 0.5 MA round.
func TestResistanceOfNothing(t *testing.T) {
	p := SolveParallel([]Branch{{V: 1}, {V: 0, Ohm: -1}}, 0)
	close9(t, "A", p.A[0], 5e5)
	close9(t, "A", p.A[1], -5e5)
	close9(t, "side by side", SideBySide(0.5, 0, 0.5), 0.25)
}

// Currents below 1 A: fuses, contactors and gear see their share of them, and of a peak four times as large.
func TestSmallCurrentsAreShared(t *testing.T) {
	p := twoBoxes()
	p.Settings.Electric.ContinuousA, p.Settings.Electric.PeakA = 0.5, 2
	for _, b := range p.Arrangements[0].Boxes {
		b.Gear = []layout.PlacedGear{{ID: "k", Gear: "contactor"}, {ID: "f", Gear: "fuse"}, {ID: "s", Gear: "disconnect"}}
	}
	r := Evaluate(resolve(p), nil)
	for _, c := range r.Fuses {
		close9(t, "fuse", c.LoadA, 0.5)
		close9(t, "fuse, peak", c.PeakA, 2)
	}
	for _, c := range r.Contactors {
		close9(t, "contactor", c.LoadA, 0.5)
		close9(t, "contactor, peak", c.PeakA, 2)
	}
	if len(r.Rated) != 2 || len(r.Contactors) != 2 || len(r.Fuses) != 2 {
		t.Fatalf("%d, %d and %d", len(r.Rated), len(r.Contactors), len(r.Fuses))
	}
	for _, g := range r.Rated {
		close9(t, "gear", g.LoadA, 0.5)
	}
}

// By hand: the contactor of 0.2 and the fuse of 0.3 milliohm in a box that two strings share count half for
// each of them.
func TestGearThatStringsShare(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 2, 2)
	b.Gear = []layout.PlacedGear{{ID: "k", Gear: "contactor"}, {ID: "f", Gear: "fuse"}}
	p := planOf(b)
	for parallel, want := range map[int]float64{1: 0.5e-3, 2: 0.25e-3} {
		p.Arrangements[0].Parallel = parallel
		r := Evaluate(resolve(p), nil)
		close9(t, "ohm", r.gearOhm(&r.Strings[0]), want)
	}
}

// A box that a string passes twice is shared by that string once.
func TestBoxPassedTwiceIsSharedOnce(t *testing.T) {
	p := twoBoxes()
	p.Arrangements[0].Strings = []layout.String{{ID: "A", Modules: []string{"front/m3", "rear/m1", "front/m1"}, Pinned: true}, {ID: "B", Modules: []string{"front/m2"}}}
	r := Evaluate(resolve(p), nil)
	for i, want := range [][]int{{0, 1}, {0}} {
		if got := r.sharing(r.Scene.Boxes[i]); !slices.Equal(got, want) {
			t.Errorf("box %d: %v, want %v", i, got, want)
		}
	}
}

// A cell of half an ampere-hour has a C-rate like any other: 1 A of 0.5 Ah is 2 an hour.
func TestCRateOfASmallCell(t *testing.T) {
	_, s := row(cellsAsModule(3.7, 3, 4.2, 0.5, 1), 2)
	s.Plan.Settings.Electric.ContinuousA, s.Plan.Settings.Electric.PeakA = 1, 3
	e := Evaluate(s, nil).Energy
	close9(t, "C-rate", e.CRate, 2)
	close9(t, "peak", e.PeakCRate, 6)
}

// A fuse used at three quarters of its rating carries the load; its melting integral counts however short the peak or small
// the fuse; a stated clearing integral is known.
func TestFuseAtItsLimits(t *testing.T) {
	fuse := func(a, melt, clear float64) *layout.GearBody {
		return &layout.GearBody{Gear: &vehicles.Gear{ContinuousA: a, MeltingA2S: melt, ClearingA2S: clear}}
	}
	for _, c := range []struct {
		load float64
		want bool
	}{{150, true}, {150.001, false}} {
		if f := (&FuseCheck{Fuse: fuse(200, 0, 0), LoadA: c.load}); f.Carries() != c.want {
			t.Errorf("%v A: %v", c.load, !c.want)
		}
	}
	close9(t, "short peak", (&FuseCheck{Fuse: fuse(100, 1e6, 0), PeakS: 0.25}).MostPeakA(), 2000)
	close9(t, "no time stated", (&FuseCheck{Fuse: fuse(100, 1e6, 0)}).MostPeakA(), 200)
	close9(t, "small fuse", (&FuseCheck{Fuse: fuse(1, 0.9, 0), PeakS: 0.1}).MostPeakA(), 3)
	for clear, want := range map[float64]bool{0: false, 0.5: true} {
		if _, known := (&FuseCheck{Fuse: fuse(1, 0, clear), WithstandA2S: 1}).Protects(); known != want {
			t.Errorf("%v A2s known: %v", clear, known)
		}
	}
	close9(t, "an hour", FusePeak(3600), 1.25)
}

// A box of a single module has boards and a lid in the pilot loop, one without modules has neither; a contactor with the
// pole's role goes before one without; of two disconnects the one nearer to the middle counts.
func TestProtectionChooses(t *testing.T) {
	one, empty := boxOf("one", vehicles.XYZ{}, 1, 1), boxOf("empty", vehicles.XYZ{1000, 0, 0}, 0, 0)
	r := Evaluate(resolve(planOf(one, empty)), nil)
	if len(r.Protection.Boards) != 1 || !slices.Equal(r.Protection.Pilot, []string{"lid of one"}) {
		t.Errorf("%d boxes with boards, pilot %v", len(r.Protection.Boards), r.Protection.Pilot)
	}
	b := boxOf("b", vehicles.XYZ{}, 1, 4)
	b.Gear = []layout.PlacedGear{{ID: "plain", Gear: "contactor"}, {ID: "p", Gear: "contactor", Role: "positive"}, {ID: "n", Gear: "contactor", Role: "negative"}}
	poles := Evaluate(resolve(planOf(b)), nil).Protection.Poles
	if poles[0].Contactor.ID != "b/n" || poles[1].Contactor.ID != "b/p" {
		t.Errorf("%s and %s", poles[0].Contactor.ID, poles[1].Contactor.ID)
	}
	p := planOf(boxOf("a", vehicles.XYZ{}, 1, 2), boxOf("b", vehicles.XYZ{600, 0, 0}, 1, 4), boxOf("c", vehicles.XYZ{1200, 0, 0}, 1, 2))
	for _, b := range p.Arrangements[0].Boxes {
		b.Gear = []layout.PlacedGear{{ID: "s", Gear: "disconnect"}}
	}
	p.Arrangements[0].Strings = []layout.String{{ID: "A", Pinned: true, Modules: []string{"a/m1", "a/m2", "b/m1", "b/m2", "b/m3", "b/m4", "c/m1", "c/m2"}}}
	d := Evaluate(resolve(p), nil).Protection.Disconnects[0]
	if d.Gear.ID != "b/s" || d.After != 4 || d.OffMiddle != 0 {
		t.Errorf("%s after %d", d.Gear.ID, d.After)
	}
}
