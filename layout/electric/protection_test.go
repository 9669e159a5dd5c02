package electric

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// equipped is a plan of two boxes with all the gear of a pack.
func equipped() *layout.Plan {
	p := twoBoxes()
	a := p.Arrangements[0]
	put := func(b *layout.Box, id, gear, role string) {
		n := float64(len(b.Gear))
		b.Gear = append(b.Gear, layout.PlacedGear{ID: id, Gear: gear, Role: role, At: vehicles.XYZ{300 + 90*n, 400, 10}})
	}
	front, rear := a.Boxes[0], a.Boxes[1]
	put(rear, "k1", "contactor", "negative")
	put(rear, "f1", "fuse", "box")
	put(rear, "b1", "board", "")
	put(rear, "b2", "board", "")
	put(front, "k2", "contactor", "positive")
	put(front, "f2", "fuse", "box")
	put(front, "s1", "disconnect", "middle")
	put(front, "p1", "precharge", "")
	for _, id := range []string{"b1", "b2", "b3"} {
		put(front, id, "board", "")
	}
	front.Openings = []layout.Opening{{ID: "c1", Kind: "connector", Face: "rear", At: vehicles.XYZ{880, 250, 100}}, {ID: "v", Kind: "vent", Face: "front"}}
	a.Gear = append(a.Gear, layout.PlacedGear{ID: "crash", Gear: "inertia"}, layout.PlacedGear{ID: "iso", Gear: "monitor"}, layout.PlacedGear{ID: "chg", Gear: "charger"})
	return p
}

func TestPolesAndDisconnect(t *testing.T) {
	r := Evaluate(resolve(equipped()), nil)
	p := &r.Protection
	if !p.HasContactors() || p.Poles[0].Contactor.ID != "rear/k1" || p.Poles[1].Contactor.ID != "front/k2" {
		t.Errorf("%+v", p.Poles)
	}
	// 9 modules, the front box holds modules 4 to 9: the joints nearest the middle come after 4 or 5 of them.
	d := p.Disconnects[0]
	if d.Gear == nil || (d.After != 4 && d.After != 5) {
		t.Fatalf("%+v", d)
	}
	near(t, "the two parts", d.LowV+d.HighV, 9*50.4, 1e-9)
	near(t, "one part", d.LowV, float64(d.After)*50.4, 1e-9)
	near(t, "off the middle", d.OffMiddle, 0.5/9, 1e-9)
	if p.Inertia == nil || p.Inertia.ID != "crash" {
		t.Error("inertia switch not found")
	}
}

func TestBoxWithBothEndsNeedsTwoContactors(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 1, 3)
	b.Gear = []layout.PlacedGear{{ID: "k", Gear: "contactor"}}
	r := Evaluate(resolve(planOf(b)), nil)
	if r.Protection.HasContactors() {
		t.Error("one contactor is not one in each pole")
	}
	b.Gear = append(b.Gear, layout.PlacedGear{ID: "k2", Gear: "contactor"})
	if r := Evaluate(resolve(planOf(b)), nil); !r.Protection.HasContactors() {
		t.Error("two contactors are")
	}
}

func TestBoardsCountCellsAndSensors(t *testing.T) {
	r := Evaluate(resolve(equipped()), nil)
	want := []Boards{{Cells: 72, Channels: 72, NeedSensors: 12, Sensors: 24}, {Cells: 36, Channels: 48, NeedSensors: 6, Sensors: 16}}
	for i, b := range r.Protection.Boards {
		b.Box, b.Gear = nil, nil
		if b.Cells != want[i].Cells || b.Channels != want[i].Channels || b.NeedSensors != want[i].NeedSensors || b.Sensors != want[i].Sensors {
			t.Errorf("box %d: %+v, want %+v", i, b, want[i])
		}
	}
	if len(r.Protection.BoardOrder) != 2 || r.Protection.BoardLoopMM <= 0 {
		t.Errorf("loop %v of %v mm", r.Protection.BoardOrder, r.Protection.BoardLoopMM)
	}
}

func TestPilotLoopStations(t *testing.T) {
	r := Evaluate(resolve(equipped()), nil)
	want := []string{"lid of front", "connector front/c1", "front/s1", "lid of rear", "inv1", "crash", "chg"}
	if !slices.Equal(r.Protection.Pilot, want) {
		t.Errorf("%v, want %v", r.Protection.Pilot, want)
	}
}

// By hand: 158.05 A continuous asks for 210.7 A, 316.1 A for 10 s for half of that; of the series R10 250 A.
func TestFuseByHand(t *testing.T) {
	r := Evaluate(resolve(equipped()), nil)
	if len(r.Fuses) != 2 {
		t.Fatalf("%d fuses", len(r.Fuses))
	}
	for i := range r.Fuses {
		c := &r.Fuses[i]
		near(t, "least rating", c.LeastA, 60000/0.95/(9*44.4)/0.75, 1e-9)
		if c.Fuse == nil || c.PreferredA != 250 || !c.Carries() {
			t.Errorf("%+v", c)
		}
		near(t, "prospective current", c.FaultA, 9*50.4/(9*0.006), 1e-9)
		near(t, "peak held", c.MostPeakA(), 500, 1e-12)
		if ok, known := c.Protects(); !ok || !known {
			t.Errorf("lets %v through, conductors withstand %v", c.Fuse.Gear.ClearingA2S, c.WithstandA2S)
		}
		if c.CableA < 250 {
			t.Errorf("conductors chosen for a fuse of 250 A carry %v A", c.CableA)
		}
	}
}

func TestFuseRating(t *testing.T) {
	for _, c := range []struct{ load, peak, s, want float64 }{
		{75, 75, 10, 100}, {75, 400, 10, 200}, {75, 400, 11, 250}, {75, 400, 61, 320}, {75, 0, 0, 100},
	} {
		near(t, "rating", FuseRating(c.load, c.peak, c.s), c.want, 1e-12)
	}
	c := FuseCheck{Fuse: &layout.GearBody{Gear: &vehicles.Gear{ContinuousA: 100, MeltingA2S: 1e6}}, PeakS: 5}
	near(t, "by the melting integral", c.MostPeakA(), math.Sqrt(1e6/5), 1e-12)
}

// One service disconnect serves one string.
func TestDisconnectOfEachString(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 2, 2)
	b.Gear = []layout.PlacedGear{{ID: "s1", Gear: "disconnect"}}
	p := planOf(b)
	p.Arrangements[0].Parallel = 2
	d := Evaluate(resolve(p), nil).Protection.Disconnects
	if len(d) != 2 || d[0].Gear == nil || d[1].Gear != nil || d[0].After != 1 {
		t.Errorf("%+v", d)
	}
}

func TestFuseOfEachString(t *testing.T) {
	b := boxOf("b", vehicles.XYZ{}, 2, 2)
	b.Gear = []layout.PlacedGear{{ID: "f1", Gear: "fuse"}, {ID: "f2", Gear: "fuse"}}
	p := planOf(b)
	p.Arrangements[0].Parallel = 2
	r := Evaluate(resolve(p), nil)
	if len(r.Fuses) != 2 || r.Fuses[0].Fuse == nil || r.Fuses[1].Fuse == nil || r.Fuses[0].Fuse == r.Fuses[1].Fuse {
		t.Errorf("%+v", r.Fuses)
	}
	b.Gear = b.Gear[:1]
	r = Evaluate(resolve(p), nil)
	if r.Fuses[0].Fuse == nil || r.Fuses[1].Fuse != nil {
		t.Error("one fuse is the first string's only")
	}
}

func TestPrechargeOfTheBus(t *testing.T) {
	r := Evaluate(resolve(equipped()), nil)
	near(t, "capacitance", r.Precharge.CapacitanceF, 700e-6, 1e-9)
	near(t, "energy", r.Precharge.J, 0.5*700e-6*453.6*453.6, 1e-9)
	if r.Precharge.Gear == nil || r.Precharge.Suggested || r.Precharge.Ohm != 47 {
		t.Errorf("%+v", r.Precharge)
	}
	r = Evaluate(resolve(twoBoxes()), nil)
	if !r.Precharge.Suggested || r.Precharge.T95S > prechargeS || r.Precharge.T95S < prechargeS/1.3 {
		t.Errorf("suggested %v ohm takes %v s", r.Precharge.Ohm, r.Precharge.T95S)
	}
	// Closing on a bus at 95 %: a twentieth of the voltage over the pack's resistance.
	r = Evaluate(resolve(equipped()), nil)
	near(t, "making current", r.Contactors[0].MakeA, 0.05*453.6/r.Window.Ohm, 1e-9)
}

func TestIsolationOfThePlan(t *testing.T) {
	r := Evaluate(resolve(equipped()), nil)
	near(t, "required", r.Isolation.RequiredOhm, 500*453.6, 1e-9)
	near(t, "sum", r.Isolation.SumOhm, 1/(1/5e6+1/10e6), 1e-9)
	near(t, "Y energy", r.Isolation.YJ, 0.5*0.2e-6*453.6*453.6, 1e-9)
	if r.Isolation.Monitor == nil || !slices.Contains(r.Isolation.Unstated, "rear/k1") {
		t.Errorf("%+v", r.Isolation)
	}
}

func TestTouchByPlace(t *testing.T) {
	p := equipped()
	a := p.Arrangements[0]
	a.Bays = []vehicles.Bay{{ID: "cab", InCabin: true, Levels: a.Boxes[0].Levels}}
	a.Boxes[0].Bay = "cab"
	donor := &vehicles.Donor{ID: "none", Zones: []vehicles.Zone{{ID: "boot", Kind: "luggage", FloorMM: 250, CeilingMM: 900,
		Outline: []vehicles.XY{{1900, -100}, {3000, -100}, {3000, 900}, {1900, 900}}}}}
	lib := testLibrary.With(vehicles.Records{Donors: []*vehicles.Donor{donor}})
	r := Evaluate(layout.Resolve(p, a, lib, nil), nil)
	if r.Touch[0].Code != "IPXXD" || r.Touch[1].Code != "IPXXD" || !strings.Contains(r.Touch[1].Where, "boot") {
		t.Errorf("%+v", r.Touch)
	}
	donor.Zones[0].FloorMM = 500
	a.Boxes[0].Bay = ""
	r = Evaluate(layout.Resolve(p, a, lib, nil), nil)
	if r.Touch[0].Code != "IPXXB" || r.Touch[1].Code != "IPXXB" {
		t.Errorf("%+v", r.Touch)
	}
}

func TestCablesOfThePlan(t *testing.T) {
	p := equipped()
	a := p.Arrangements[0]
	a.Cables = []layout.Cable{
		{ID: "c1", From: "front", To: "rear", SectionMM2: 35, Via: []vehicles.XYZ{{1000, 900, 320}, {1500, 900, 320}}},
		{ID: "c2", From: "inv1", To: "chg", SectionMM2: 10},
		{ID: "c3", From: "inv1", To: "moon"},
		{ID: "c4", From: "inv1", To: "chg"},
	}
	r := Evaluate(resolve(p), nil)
	var between *Link
	for i := range r.Strings[0].Links {
		if l := &r.Strings[0].Links[i]; l.Between() {
			between = l
		}
	}
	if between.SectionMM2 != 35 {
		t.Errorf("section %v", between.SectionMM2)
	}
	// The string runs from rear to front, the cable is drawn from front to rear: its points come the other way round.
	at := slices.IndexFunc(between.Path, func(q r3.Vector) bool { return q.X == 1500 && q.Y == 900 })
	if at < 0 || between.Path[at+1].X != 1000 {
		t.Errorf("path %v", between.Path)
	}
	near(t, "resistance", between.Ohm, 0.524e-6*between.LengthMM, 1e-9)
	ids := map[string]Run{}
	for _, c := range r.Cables {
		ids[c.ID] = c
	}
	if ids["c1"].Kind != "cable" || ids["c2"].SectionMM2 != 10 || ids["c2"].LengthMM <= 0 {
		t.Errorf("%v", ids)
	}
	if got, want := ids["c4"].SectionMM2, r.Sections.Cable.SectionMM2; got != want || want < 1 {
		t.Errorf("without a section of its own a cable has %v mm², those of the strings %v mm²", got, want)
	}
	if got := problemKinds(r); !slices.Equal(got, []string{UnknownEnd}) {
		t.Errorf("problems %v", got)
	}
	near(t, "mass", ids["c2"].MassKg, 8.9e-6*10*ids["c2"].LengthMM*1.3, 1e-9)
}

// All conductors that a string passes are in the list of cables and links.
func TestRunsAddUp(t *testing.T) {
	r := Evaluate(resolve(bigPlan(4)), nil)
	sum, listed := 0.0, 0.0
	for i := range r.Strings {
		sum += r.Strings[i].LinkMM
	}
	for _, c := range r.Cables {
		listed += c.LengthMM
		if math.IsNaN(c.Centre.X) || c.MassKg <= 0 {
			t.Errorf("%+v", c)
		}
	}
	near(t, "length", listed, sum, 1e-9)
}
