package assembly

import (
	"context"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
)

// stepsOf are the texts of a sequence's steps of one kind.
func stepsOf(q *Sequence, k Kind) (out []Step) {
	for _, s := range q.Steps {
		if s.Kind == k {
			out = append(out, s)
		}
	}
	return out
}

// cablesOf are the boxes that a sequence's steps of a kind join by cables or part.
func cablesOf(q *Sequence, k Kind) (out []string) {
	for _, s := range stepsOf(q, k) {
		if a, b := s.Refs[0][:2], s.Refs[1][:2]; a != b {
			out = append(out, a+"-"+b)
		}
	}
	return out
}

// A box with one module and one piece of gear is built; with its lid on it has the module's 29.2 V inside, and a box with
// gear alone nothing.
func TestPlanOfSmallBoxes(t *testing.T) {
	for modules, volts := range map[int]float64{1: 29.2, 0: 0} {
		q, err := Plan(context.Background(), modelOf(boxWith("b", "eight", modules, "fuse")))
		if err != nil {
			t.Fatal(err)
		}
		if n := len(stepsOf(q, Place)); n != modules || len(stepsOf(q, FitFuse)) != 1 {
			t.Errorf("%d modules: %d placed, %d fuses", modules, n, len(stepsOf(q, FitFuse)))
		}
		near(t, "with its lid on", stepsOf(q, CloseBox)[0].CircuitV, volts)
	}
	if q, err := Plan(context.Background(), modelOf(boxWith("b", "eight", 0))); err != nil || len(q.Steps) > 0 {
		t.Errorf("an empty box takes %d steps, %v", len(q.Steps), err)
	}
}

// Gear goes in before modules: on the bench nothing else is in place.
func TestGearGoesInAlone(t *testing.T) {
	m := modelOf(boxWith("b1", "eight", 2, "fuse", "contactor"), boxWith("b2", "eight", 2, "fuse"))
	w := newWriter(context.Background(), m, "")
	w.placeGear(m.Scene.Boxes[0])
	for i, p := range m.tracks[0].pieces {
		if want := p.gear != nil && p.box == m.Scene.Boxes[0]; w.b.placed[0][i] != want {
			t.Errorf("piece %d in place: %v", i, !want)
		}
	}
}

// Four boxes of 73 V in a row of bolted cables: the outer cables first, then the middle one, as every order tried out says.
// Within the boxes there is nothing to join; what is counted is the bound.
func TestCablesFromBoxToBoxInTheBestOrder(t *testing.T) {
	for name, c := range map[string]struct {
		boxes []*layout.Box
		volts []float64
		want  []string
	}{
		"alike":                    {[]*layout.Box{boxWith("b1", "twenty", 1), boxWith("b2", "twenty", 1), boxWith("b3", "twenty", 1), boxWith("b4", "twenty", 1)}, alike(4, 73), []string{"b1-b2", "b3-b4", "b2-b3"}},
		"the last is the highest":  {[]*layout.Box{boxWith("b1", "eight", 1), boxWith("b2", "eight", 1), boxWith("b3", "eight", 2)}, []float64{29.2, 29.2, 58.4}, []string{"b1-b2", "b2-b3"}},
		"the first is the highest": {[]*layout.Box{boxWith("b1", "eight", 2), boxWith("b2", "eight", 1), boxWith("b3", "eight", 1)}, []float64{58.4, 29.2, 29.2}, []string{"b2-b3", "b1-b2"}},
	} {
		q, err := Plan(context.Background(), modelOf(c.boxes...))
		if err != nil {
			t.Fatal(err)
		}
		if got := cablesOf(q, FitLink); !slices.Equal(got, c.want) {
			t.Errorf("%s: cables in the order %v, want %v", name, got, c.want)
		}
		if want := allOrders(c.volts, 60); q.HazardSteps != want.steps || q.LeastSteps != want.steps || !q.Proved {
			t.Errorf("%s: %d hazardous steps, bound %d, proved %v; every order %d", name, q.HazardSteps, q.LeastSteps, q.Proved, want.steps)
		} else {
			near(t, name+": highest voltage", q.HighestV, want.volts)
		}
	}
}

// Cables of strings side by side are rows of their own: each joins two modules of 73 V, seven steps above 60 V.
func TestCablesOfTwoStrings(t *testing.T) {
	s := sceneOf(boxWith("b1", "twenty", 2), boxWith("b2", "twenty", 2), boxWith("b3", "twenty", 1))
	all := inOrder(s).Strings[0].Members
	var c Circuit
	for i := range 2 {
		c.Strings = append(c.Strings, Chain{Members: []Member{all[i], all[2+i]}, Passages: []Passage{{Box: s.Boxes[0], To: 1}, {Box: s.Boxes[1], From: 1, To: 2}}})
	}
	c.Strings = append(c.Strings, Chain{Members: all[4:], Passages: []Passage{{Box: s.Boxes[2], To: 1}}})
	m := New(s, c)
	q, err := Plan(context.Background(), m)
	if err != nil || q.HazardSteps != 14 || q.LeastSteps != 14 || !q.Proved {
		t.Errorf("%d hazardous steps, bound %d, proved %v, %v", q.HazardSteps, q.LeastSteps, q.Proved, err)
	}
	w := newWriter(context.Background(), m, "")
	for i, want := range []bool{true, true, false} {
		if got := w.cabled(s.Boxes[i]); got != want {
			t.Errorf("box %d: a cable is bolted on in it %v", i+1, got)
		}
	}
	q, err = TakeBoxOut(context.Background(), m, "b1")
	if got := cablesOf(q, TakeOffLink); err != nil || !slices.Equal(got, []string{"b1-b2", "b1-b2"}) || q.HazardSteps != 14 {
		t.Errorf("cables %v, %d hazardous steps, %v", got, q.HazardSteps, err)
	}
}

// A lead between fuse and contactor carries nothing before a module is joined to it.
func TestLeadBetweenGearCarriesNothing(t *testing.T) {
	m := modelOf(boxWith("b1", "eight", 1), boxWith("b2", "eight", 1, "fuse", "contactor"))
	w := newWriter(context.Background(), m, "")
	at := slices.IndexFunc(m.tracks[0].seams, func(s seam) bool { return s.joint >= 0 && strings.Contains(m.ID(m.Joints[s.joint]), "contactor") })
	if at < 0 {
		t.Fatal("there is no such lead")
	}
	w.join(0, at)
	w.part(0, at)
	for _, s := range w.q.Steps {
		if s.CircuitV != 0 || s.HighestV != 0 || s.Class != "A" {
			t.Errorf("%s: %v V", s.Text, s.CircuitV)
		}
	}
	if w.q.CoverChanges != 8 || w.q.LeastCovers != 8 {
		t.Errorf("%d cover changes, bound %d", w.q.CoverChanges, w.q.LeastCovers)
	}
}

func TestTorqueInWords(t *testing.T) {
	for want, c := range map[string]Conductor{" (M6) to 1 N m": {Bolt: "M6", TorqueNm: 1}, " to 1 N m": {TorqueNm: 1}, ": the torque is not stated; take it from the maker's data first": {Bolt: "M6"}} {
		if got := torqueWords(&c); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The way of a piece of gear through its steps by hand: in place from its step on, out after it is taken out; a link is there
// from the step that fits it to the one that takes it off.
func TestStateStepByStep(t *testing.T) {
	m := modelOf(boxWith("b", "eight", 2))
	bare := []Bare{{ID: "b/m1/+"}}
	q := &Sequence{Steps: []Step{{Kind: Place, Refs: []string{"b/m1"}, Bare: bare}, {Kind: FitLink, Refs: []string{"b/m1/+", "b/m2/-"}}, {Kind: Measure},
		{Kind: TakeOffLink, Refs: []string{"b/m1/+", "b/m2/-"}}, {Kind: TakeOut, Refs: []string{"b/m1"}}, {Kind: Measure, Bare: bare}}}
	for i, want := range []struct {
		placed bool
		joined int
		bare   int
	}{{true, 0, 1}, {true, 1, 0}, {true, 1, 0}, {true, 1, 0}, {true, 0, 0}, {false, 0, 1}, {false, 0, 0}} {
		s := q.At(m, i)
		if s.Placed["b/m1"] != want.placed || len(s.Joined) != want.joined || len(s.Bare) != want.bare {
			t.Errorf("step %d: %+v", i, s)
		}
	}
	if s := q.At(m, -1); len(s.Placed) != 0 || len(s.Bare) != 0 {
		t.Errorf("before the first step: %+v", s)
	}
}

// Readings are the sums and the highest of what was found, also where that is below 1 V.
func TestReadingsByHand(t *testing.T) {
	r := Evaluate(sceneOf(boxWith("b", "one", 1)), inOrder(sceneOf(boxWith("b", "one", 1))), nil)
	value := func(r *Result, key string) float64 {
		for _, x := range r.Readings() {
			if x.Key == key {
				return x.Value
			}
		}
		t.Fatalf("no reading %s", key)
		return 0
	}
	near(t, "segment", value(r, "segment_v"), 1)
	r.Bridges = []BoxBridges{{Pairs: []Bridge{{V: 0.5}}, Hazards: 1, Covers: 2}, {Pairs: []Bridge{{V: 0.75}, {V: 0.25}}, Hazards: 3, Covers: 4}}
	r.Segments = []Breaks{{Segment: Segment{V: 0.25}}, {Segment: Segment{V: 0.5}}}
	for key, want := range map[string]float64{"bridges": 3, "bridges_hazardous": 4, "bridge_v": 0.75, "covers": 6, "segment_v": 0.5} {
		near(t, key, value(r, key), want)
	}
	r.Bridges, r.Segments = r.Bridges[:1], nil
	near(t, "one pair", value(r, "bridge_v"), 0.5)
	r.Bridges = nil
	near(t, "no pair", value(r, "bridge_v"), 0)
	near(t, "no segment", value(r, "segment_v"), 0)
}

// Insulated tools reach to 1500 V DC (IEC 60900).
func TestToolsUpToTheirVoltage(t *testing.T) {
	for v, want := range map[float64]string{48: "insulated (IEC 60900)", 1500: "insulated (IEC 60900)", 1500.5: "beyond IEC 60900"} {
		if got := toolsFor(&Step{CircuitV: v}); got != want {
			t.Errorf("%v V: %s", v, got)
		}
	}
}
