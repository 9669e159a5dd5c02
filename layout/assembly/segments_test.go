package assembly

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

func hypot(a, b float64) float64 { return math.Hypot(a, b) }

// everyCut finds the fewest parts, and among them the lowest highest voltage, by trying every set of cuts.
func everyCut(v, j []float64, r Rule) (parts int, worst float64) {
	worst = math.Inf(1)
	for set := range 1 << (len(v) - 1) {
		n, sv, sj, w, ok := 1, 0.0, 0.0, 0.0, true
		for i := range v {
			if i > 0 && set>>(i-1)&1 == 1 {
				n, sv, sj = n+1, 0, 0
			}
			sv, sj = sv+v[i], sj+j[i]
			ok, w = ok && r.holds(sv, sj), max(w, sv)
		}
		if ok && (parts == 0 || n < parts || n == parts && w < worst) {
			parts, worst = n, w
		}
	}
	return parts, worst
}

func TestBreaksAgainstEveryCut(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	rules := []Rule{LimitsOf(sceneOf().Plan.Settings.Assembly).TouchRule(), LimitsOf(sceneOf().Plan.Settings.Assembly).SegmentRule()}
	for range 200 {
		n := 1 + r.IntN(11)
		v, j := make([]float64, n), make([]float64, n)
		for i := range v {
			v[i], j[i] = 10+float64(r.IntN(45)), 5e5+float64(r.IntN(3_000_000))
		}
		for _, rule := range rules {
			want, worst := everyCut(v, j, rule)
			got := fewest(v, j, rule)
			if got != want {
				t.Fatalf("%s: %v %v: %d parts, want %d", rule.Name, v, j, got, want)
			}
			ends, w := evenest(v, j, rule, got)
			if math.Abs(w-worst) > 1e-9 || ends[len(ends)-1] != n {
				t.Fatalf("%s: %v: highest part %v, want %v", rule.Name, v, w, worst)
			}
		}
	}
}

// Six modules of 29.2 V and 320 V x 100 Ah... by hand: 8 cells x 3.2 V x 100 Ah = 2.56 kWh = 9.216 MJ each, more than
// 6 MJ, so that only the voltage of the 120 V rule can be met: 4 x 29.2 = 116.8 V.
func TestSegmentByHand(t *testing.T) {
	b := modelOf(boxWith("b", "eight", 6)).Suggest(Limits{SegmentV: 120, SegmentJ: 6e6}.SegmentRule())[0]
	if !b.Heavy || b.Cannot || b.Holds() || len(b.After) != 1 {
		t.Fatalf("%+v", b)
	}
	near(t, "segment", b.Segment.V, 6*29.2)
	near(t, "energy", b.Segment.J, 6*9.216e6)
	near(t, "larger part", b.WorstV, 3*29.2)
	if b.After[0].Body.ID != "b/m3" {
		t.Errorf("link after %s", b.After[0].Body.ID)
	}
}

func TestTouchRuleMeetsSixtyVolts(t *testing.T) {
	r := Rule{V: 60}
	if !r.holds(60, 0) || r.holds(60.001, 0) {
		t.Error("60 V DC is the last voltage that is not hazardous (UN Regulation 100: up to and including)")
	}
	if s := (Limits{SegmentV: 120, SegmentJ: 6e6}).SegmentRule(); s.holds(120, 1) || !s.holds(119.9, 6e6) || s.holds(100, 6.1e6) {
		t.Error("a maintenance segment is below 120 V and at most 6 MJ (EV.5.1.2)")
	}
}

func TestCrashLeavesLive(t *testing.T) {
	m := modelOf(boxWith("b1", "eight", 2, "contactor"), boxWith("b2", "eight", 3, "contactor"))
	c := m.Crash()
	if len(c.Live) != 1 || c.Inertia != nil {
		t.Fatalf("%d live parts", len(c.Live))
	}
	s := c.Live[0]
	near(t, "live voltage", s.V, 5*29.2)
	if s.OpenNeg || s.OpenPos || len(s.Cables) != 1 {
		t.Errorf("open ends %v %v, %d cables; contactors hold both ends and one cable stays live", s.OpenNeg, s.OpenPos, len(s.Cables))
	}
	near(t, "cable", s.Cables[0].V, 2*29.2)
	bare := modelOf(boxWith("b1", "eight", 2)).Crash().Live[0]
	if !bare.OpenNeg || !bare.OpenPos {
		t.Error("without contactors both ends stay live")
	}
}

// Replacing a module: every way of opening joints, tried out, against the stretch by stretch search.
func everyWayFree(volts []float64, l, r, want int) (cost, int) {
	if l == r {
		return cost{}, 0
	}
	var best cost
	joints := -1
	for j := l; j < r; j++ {
		nl, nr := l, j
		if j < want {
			nl, nr = j+1, r
		}
		c, n := everyWayFree(volts, nl, nr, want)
		v, w := 0.0, 0.0
		for i := l; i <= r; i++ {
			if i <= j {
				v += volts[i]
			} else {
				w += volts[i]
			}
		}
		if c = c.plus(jointCost(v, w, 60)); joints < 0 || c.less(best) || !best.less(c) && n+1 < joints {
			best, joints = c, n+1
		}
	}
	return best, joints
}

func TestFreeAgainstEveryWay(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 100 {
		volts := make([]float64, 2+r.IntN(9))
		for i := range volts {
			volts[i] = float64(5 + r.IntN(60))
		}
		want := r.IntN(len(volts))
		can := make([]bool, len(volts)-1)
		for i := range can {
			can[i] = true
		}
		cuts, got := freeOrder(volts, can, want, 60)
		best, joints := everyWayFree(volts, 0, len(volts)-1, want)
		if got.less(best) || best.less(got) || len(cuts) != joints {
			t.Fatalf("%v, module %d: %+v with %d joints, want %+v with %d", volts, want, got, len(cuts), best, joints)
		}
	}
}

func kinds(q *Sequence) string {
	var out []string
	for _, s := range q.Steps {
		out = append(out, string(s.Kind))
	}
	return strings.Join(out, ", ")
}

func TestReplaceByHand(t *testing.T) {
	m := modelOf(boxWith("b1", "eight", 4, "link", "connector"), boxWith("b2", "eight", 2, "connector"))
	q, err := Replace(context.Background(), m, "b1/m4")
	if err != nil {
		t.Fatal(err)
	}
	// Out: link m3-m4 alone, as the plug frees the other end; 58.4 V in the piece between service link and plug.
	want := "open service link, measure, disconnect box, open box, uncover, uncover, loosen, loosen, take off link, cover, cover, take out, " +
		"place, uncover, uncover, fit link, torque, torque, cover, cover, close box, connect box, close service link"
	if got := kinds(q); got != want {
		t.Errorf("steps are\n%s\nwant\n%s", got, want)
	}
	if q.HazardSteps != 0 || q.HighestV > 29.2+1e-9 || !q.Proved {
		t.Errorf("%d hazardous steps, %v V, proved %v", q.HazardSteps, q.HighestV, q.Proved)
	}
	if _, err := Replace(context.Background(), m, "b1/m9"); err == nil {
		t.Error("a module that is not there was replaced")
	}
}

func TestTakeBoxOut(t *testing.T) {
	m := modelOf(boxWith("b1", "eight", 2), boxWith("b2", "eight", 2), boxWith("b3", "eight", 2))
	q, err := TakeBoxOut(context.Background(), m, "b2")
	if err != nil {
		t.Fatal(err)
	}
	// Two bolted cables: the first is opened in the whole 175.2 V. With one end off, b2 hangs on 58.4 V more: 116.8 V.
	if q.HazardSteps != 5+1+5 {
		t.Errorf("%d hazardous steps, want 11: five and one with both sides of the first cable (116.8 and 58.4 V), five of the second", q.HazardSteps)
	}
	if last := q.Steps[len(q.Steps)-1]; last.Kind != TakeOut || last.CircuitV != 58.4 {
		t.Errorf("last step %+v", last)
	}
	if _, err := TakeBoxOut(context.Background(), m, "b9"); err == nil {
		t.Error("a box that is not there was taken out")
	}
}

// Rows of small figures, where a limit is often met exactly: the least number of parts and the lowest highest voltage of
// every set of cuts, and the parts themselves.
func TestBreaksAgainstEveryCutOfSmallFigures(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 400 {
		n := 1 + r.IntN(7)
		v, j := make([]float64, n), make([]float64, n)
		for i := range v {
			v[i], j[i] = float64(1+r.IntN(4))/8, float64(r.IntN(4))/4
		}
		rule := Rule{V: 0.5 + float64(r.IntN(3))/4, J: float64(r.IntN(4)), Below: r.IntN(2) == 0}
		want, worst := everyCut(v, j, rule)
		got := fewest(v, j, rule)
		if got != want {
			t.Fatalf("%+v: %v %v: %d parts, want %d", rule, v, j, got, want)
		}
		if want == 0 {
			continue
		}
		ends, w := evenest(v, j, rule, got)
		from, highest := 0, 0.0
		for _, e := range ends {
			var sv, sj float64
			for i := from; i < e; i++ {
				sv, sj = sv+v[i], sj+j[i]
			}
			if !rule.holds(sv, sj) {
				t.Fatalf("%+v: %v %v: part %d to %d breaks the rule", rule, v, j, from, e)
			}
			from, highest = e, max(highest, sv)
		}
		if from != n || highest != worst || w != worst {
			t.Fatalf("%+v: %v %v: parts %v, highest %v (says %v), want %v", rule, v, j, ends, highest, w, worst)
		}
	}
}

// membersOf are modules of the voltages and energies (J) given.
func membersOf(v, j []float64) (s Segment) {
	for i := range v {
		m := &vehicles.Module{Series: 1, Parallel: 1, Cell: vehicles.Cell{NominalV: 1, MaxV: v[i], CapacityAh: j[i] / 3600}}
		s.Members = append(s.Members, Member{Body: &layout.Body{Module: m}})
		s.V, s.J = s.V+v[i], s.J+j[i]
	}
	return s
}

func TestSuggestByHand(t *testing.T) {
	touch := Limits{TouchV: 60}.TouchRule()
	for name, c := range map[string]struct {
		v, j           []float64
		rule           Rule
		after          []int // modules
		worstV, worstJ float64
		cannot, heavy  bool
	}{
		"as it is":                       {[]float64{29, 31}, []float64{7, 5}, touch, nil, 60, 12, false, false},
		"40 + 10, 50, 30":                {[]float64{40, 10, 50, 30}, []float64{7, 5, 1, 2}, touch, []int{1, 2}, 50, 12, false, false},
		"without energy":                 {[]float64{40, 50}, []float64{0, 0}, touch, []int{0}, 50, 0, false, false},
		"the first parts are the longer": {alike(5, 29.2), alike(5, 1), Rule{V: 120}, []int{2}, 87.6, 3, false, false},
		"energy alone":                   {alike(4, 1), []float64{1, 1, 1, 1}, Rule{V: 60, J: 2}, []int{1}, 2, 2, false, false},
		"one module too heavy":           {[]float64{29}, []float64{7}, Rule{V: 60, J: 1}, nil, 29, 7, false, true},
		"one module too high":            {[]float64{29, 61}, []float64{7, 7}, touch, nil, 90, 14, true, false},
	} {
		s := membersOf(c.v, c.j)
		got := suggest(s, c.rule)
		var after []int
		for _, x := range got.After {
			after = append(after, slices.IndexFunc(s.Members, func(y Member) bool { return y.Body == x.Body }))
		}
		if !slices.Equal(after, c.after) || got.Cannot != c.cannot || got.Heavy != c.heavy {
			t.Errorf("%s: links after %v, cannot %v, heavy %v", name, after, got.Cannot, got.Heavy)
		}
		if holds := len(c.after) == 0 && !c.cannot && !c.heavy; got.Holds() != holds {
			t.Errorf("%s: holds %v", name, got.Holds())
		}
		near(t, name+": voltage", got.WorstV, c.worstV)
		near(t, name+": energy", got.WorstJ, c.worstJ)
	}
}

// One module alone behind its contactors stays live, and a pack falls apart at its plugs, no module lost.
func TestSegmentsLoseNoModule(t *testing.T) {
	if live := modelOf(boxWith("b", "eight", 1, "contactor", "contactor")).Crash().Live; len(live) != 1 || len(live[0].Members) != 1 {
		t.Errorf("%+v", live)
	}
	parts := modelOf(boxWith("b1", "eight", 2, "connector"), boxWith("b2", "four", 3, "connector")).ServiceSegments()
	if len(parts) != 2 || len(parts[0].Members) != 2 || len(parts[1].Members) != 3 {
		t.Errorf("%+v", parts)
	}
}

// Of zero volts and 30 V many ways cost the same: the one with the fewest joints counts.
func TestFreeOpensNoJointForNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for range 200 {
		volts := make([]float64, 2+r.IntN(6))
		for i := range volts {
			volts[i] = []float64{0, 0, 30}[r.IntN(3)]
		}
		can := make([]bool, len(volts)-1)
		for i := range can {
			can[i] = true
		}
		want := r.IntN(len(volts))
		cuts, got := freeOrder(volts, can, want, 60)
		best, joints := everyWayFree(volts, 0, len(volts)-1, want)
		if got.less(best) || best.less(got) || len(cuts) != joints {
			t.Fatalf("%v, module %d: %+v with %d joints, want %+v with %d", volts, want, got, len(cuts), best, joints)
		}
	}
	if cuts, _ := freeOrder(alike(3, 10), []bool{true, true}, 1, 60); !slices.Equal(cuts, []int{0, 1}) {
		t.Errorf("of two equal ways %v, want the one from the negative end", cuts)
	}
}
