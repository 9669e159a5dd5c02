package assembly

import (
	"math/rand/v2"
	"testing"
)

// everyCover finds the fewest points that cover all edges by trying every set.
func everyCover(n int, edges [][2]int, forced []int) int {
	best := n
	for set := range 1 << n {
		size, ok := 0, true
		for i := range n {
			size += set >> i & 1
		}
		for _, f := range forced {
			ok = ok && set>>f&1 == 1
		}
		for _, e := range edges {
			ok = ok && (set>>e[0]&1 == 1 || set>>e[1]&1 == 1)
		}
		if ok {
			best = min(best, size)
		}
	}
	return best
}

func TestVertexCoverAgainstEverySet(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		n := 1 + r.IntN(12)
		var edges [][2]int
		for range r.IntN(25) {
			if e := [2]int{r.IntN(n), r.IntN(n)}; e[0] != e[1] {
				edges = append(edges, e)
			}
		}
		var forced []int
		if r.IntN(2) == 0 {
			forced = append(forced, r.IntN(n))
		}
		chosen, least, proved := vertexCover(n, edges, forced)
		want := everyCover(n, edges, forced)
		if len(chosen) != want || !proved || least != want {
			t.Fatalf("%d points, %v, forced %v: %d (bound %d, proved %v), want %d", n, edges, forced, len(chosen), least, proved, want)
		}
	}
}

// Two modules of 29.2 V in a lined box, terminals on top along the length of 300 mm: by hand, with a part of 250 mm.
func TestBridgesByHand(t *testing.T) {
	m := modelOf(boxWith("b", "eight", 2))
	got := m.Bridges()[0]
	pairs := map[string]Bridge{}
	for _, p := range got.Pairs {
		other := p.Metal
		if p.B != nil {
			other = p.B.ID
		}
		pairs[p.A.ID+" "+other] = p
	}
	// - and + of one module are 240 mm apart, 228 between metal of 12 mm diameter.
	p, ok := pairs["b/m1/- b/m1/+"]
	if !ok {
		t.Fatalf("no bridge over module 1: %v", pairs)
	}
	near(t, "distance", p.MM, 228)
	near(t, "voltage", p.V, 29.2)
	near(t, "current", p.CurrentA(), 29.2/0.005)
	// The first module's + and the second one's - are 80 mm apart and joined: nothing to bridge.
	if _, ok := pairs["b/m1/+ b/m2/-"]; ok {
		t.Error("a link counts as a bridge")
	}
	// m1 - to m2 + is 560 mm: out of reach.
	if _, ok := pairs["b/m1/- b/m2/+"]; ok {
		t.Error("a part of 250 mm bridges 548 mm")
	}
	// The rim is at z = 200, the terminal at 114; in plan the side wall's inner face is 95 - 1.5 from it.
	p = pairs["b/m1/- rim"]
	want := -6 + hypot(50-1.5, 86)
	near(t, "distance to the rim", p.MM, want)
	near(t, "voltage to the rim", p.V, 58.4)
	if got.Covers != 3 || !got.Proved || got.Caps != 4 {
		t.Errorf("%d covers (proved %v), %d caps; want 3, as the link's two ends share one, and 4", got.Covers, got.Proved, got.Caps)
	}
	if got.Hazards != 0 {
		t.Errorf("%d hazards in 58.4 V", got.Hazards)
	}
}

// A longer part reaches more, a shorter one less, and covering a bridge's ends can only need as many covers.
func TestLongerPartBridgesMore(t *testing.T) {
	s := sceneOf(boxWith("b", "eight", 8, "fuse", "contactor"))
	last, covers := -1, 0
	for _, mm := range []float64{1, 60, 120, 250, 400, 1000} {
		s.Plan.Settings.Assembly.ToolMM = mm
		f := New(s, inOrder(s)).Bridges()[0]
		if len(f.Pairs) < last || f.Covers < covers {
			t.Errorf("%g mm: %d pairs, %d covers after %d and %d", mm, len(f.Pairs), f.Covers, last, covers)
		}
		last, covers = len(f.Pairs), f.Covers
		for _, p := range f.Pairs {
			if p.MM > mm {
				t.Errorf("%g mm bridges %g", mm, p.MM)
			}
		}
	}
}

// The result before an edit saves work and changes nothing.
func TestBridgesTakenOver(t *testing.T) {
	s := sceneOf(boxWith("b1", "eight", 4), boxWith("b2", "eight", 4))
	c := inOrder(s)
	first := Evaluate(s, c, nil)
	again := Evaluate(s, c, first)
	if len(again.Bridges) != 2 || &again.Bridges[0].Pairs[0] != &first.Bridges[0].Pairs[0] {
		t.Error("a box that is the same was worked out again")
	}
	c.Strings[0].Members = c.Strings[0].Members[:6] // the string ends earlier: every first fault has less behind it
	c.Strings[0].Passages[1].To = 6
	fresh, taken := Evaluate(s, c, nil), Evaluate(s, c, first)
	for i := range fresh.Bridges {
		a, b := fresh.Bridges[i], taken.Bridges[i]
		if len(a.Pairs) != len(b.Pairs) || a.Pairs[0].V != b.Pairs[0].V || a.Covers != b.Covers {
			t.Errorf("box %d: fresh %d pairs %v V, taken over %d pairs %v V", i, len(a.Pairs), a.Pairs[0].V, len(b.Pairs), b.Pairs[0].V)
		}
	}
}

// Two strings of two modules in one box, 5 milliohm and 29.2 V a module: from the middle of one to the negative end of
// the other it is 5 mohm over the negative ends and 15 mohm over the positive ones, 3.75 mohm in parallel: 7787 A.
func TestBridgeBetweenParallelStringsByHand(t *testing.T) {
	s := sceneOf(boxWith("b", "eight", 4))
	c := inOrder(s)
	all := c.Strings[0]
	c.Strings = nil
	for i, id := range []string{"S1", "S2"} {
		c.Strings = append(c.Strings, Chain{ID: id, Members: all.Members[2*i : 2*i+2], Passages: []Passage{{Box: s.Boxes[0], To: 2}}})
	}
	m := New(s, c)
	f := finished(m)
	middle, start := m.byID["b/m1/+"], m.byID["b/m3/-"]
	v, ohm := f.across(middle, start)
	near(t, "voltage", v, 29.2)
	near(t, "resistance", ohm, 0.00375)
	if a := current(v, ohm); a < 7786 || a > 7787 {
		t.Errorf("current %v", a)
	}
	w, back := f.across(start, middle)
	near(t, "voltage the other way", w, v)
	near(t, "resistance the other way", back, ohm)
}

// Every pair of a box is looked at, the farthest in plan too: with bare metal of 50 mm radius, the most that a terminal may
// state, terminals 320 mm apart are 220 mm from each other.
func TestBridgesAgainstEveryPair(t *testing.T) {
	for _, radius := range []float64{6, 30, maxRadius} {
		m := modelOf(boxWith("b1", "eight", 8, "fuse", "contactor"), boxWith("b2", "four", 3, "connector"))
		for i := range m.Conductors {
			m.Conductors[i].RadiusMM = radius
		}
		b := finished(m)
		want := map[string]int{}
		for i := range m.Conductors {
			x := &m.Conductors[i]
			if x.piece < 0 {
				continue
			}
			if v, _ := b.worst(i); v > 0 && metalNear(x).mm <= 250 {
				want[x.Box.Box.ID]++
			}
			for k := range i {
				y := &m.Conductors[k]
				if v, _, joined := b.between(i, k); joined && v > 1e-6 && x.Box == y.Box && apart(x, y) <= 250 {
					want[x.Box.Box.ID]++
				}
			}
		}
		for _, f := range m.Bridges() {
			if len(f.Pairs) != want[f.Box.Box.ID] {
				t.Errorf("radius %g, box %s: %d pairs, want %d", radius, f.Box.Box.ID, len(f.Pairs), want[f.Box.Box.ID])
			}
		}
	}
}

// A module of 1 V bridges as any other: 1 V over its 5 milliohm, and 1 V to the rim from both ends.
func TestSmallVoltageIsBridgedToo(t *testing.T) {
	f := modelOf(boxWith("b", "one", 1)).Bridges()[0]
	if len(f.Pairs) != 3 || f.Covers != 2 || f.LeastCovers != 2 || f.Caps != 2 {
		t.Errorf("%d pairs, %d covers (bound %d), %d caps", len(f.Pairs), f.Covers, f.LeastCovers, f.Caps)
	}
	for i := range f.Pairs {
		near(t, "voltage", f.Pairs[i].V, 1)
		near(t, "current", f.Pairs[i].CurrentA(), 200)
	}
}

// A box in which nothing but one connector's terminal is live has one bridge: to its metal.
func TestOneLiveTerminalAlone(t *testing.T) {
	s := sceneOf(boxWith("b1", "eight", 2), boxWith("b2", "eight", 0, "connector"))
	s.Plan.Settings.Assembly.ToolMM = 2000
	c := inOrder(s)
	c.Strings[0].Passages[1].Positive = s.Boxes[1].Gear
	got := New(s, c).Bridges()
	if len(got) != 2 || len(got[1].Pairs) != 1 || got[1].Covers != 1 {
		t.Fatalf("%d boxes with bridges; in the last %+v", len(got), got[len(got)-1])
	}
	near(t, "voltage", got[1].Pairs[0].V, 58.4)
}

// What a joint inside the box joins has one number, and all else a number of its own; how far the mates lie apart in the list
// says which joint it is.
func TestJoinedTerminalsShareANumber(t *testing.T) {
	for _, gear := range [][]string{{"contactor", "fuse", "inertia"}, {"fuse"}} {
		joinedTerminals(t, modelOf(boxWith("b", "eight", 4, gear...)))
	}
}

func joinedTerminals(t *testing.T, m *Model) {
	t.Helper()
	b := finished(m)
	ends := b.live()[0]
	net, n := b.nets(ends)
	mate := map[int]int{}
	for _, j := range m.Joints {
		mate[j.A], mate[j.B] = j.B, j.A
	}
	numbers := map[int]int{}
	for _, i := range ends {
		numbers[net[i]]++
		k, joined := mate[i]
		if joined && net[k] != net[i] || net[i] < 0 || net[i] >= n {
			t.Errorf("%s has number %d of %d, its mate %d", m.Conductors[i].ID, net[i], n, net[k])
		}
		if got := mateOffset(&m.Conductors[i]); joined && got != k-i || !joined && got != 0 {
			t.Errorf("%s is %d from its mate, want %d", m.Conductors[i].ID, got, k-i)
		}
	}
	if n != len(ends)-len(m.Joints) || len(numbers) != n {
		t.Errorf("%d numbers, %d of them used, for %d terminals with %d joints", n, len(numbers), len(ends), len(m.Joints))
	}
}

// Two strings of two modules side by side: 29.2 V between the end of one and the middle of the other, nothing between their
// middles. The way over the negative ends is 10 + 5 = 15 mohm, that over the positive ends 0 + 5: 3.75 mohm in parallel.
func TestAcrossStringsOfUnlikeStations(t *testing.T) {
	s := sceneOf(boxWith("b", "eight", 4))
	c := inOrder(s)
	all := c.Strings[0].Members
	c.Strings = nil
	for i, id := range []string{"S1", "S2"} {
		c.Strings = append(c.Strings, Chain{ID: id, Members: all[2*i : 2*i+2], Passages: []Passage{{Box: s.Boxes[0], To: 2}}})
	}
	m := New(s, c)
	b := finished(m)
	v, ohm := b.across(m.byID["b/m2/+"], m.byID["b/m3/+"])
	near(t, "end to middle", v, 29.2)
	near(t, "resistance", ohm, 0.00375)
	v, _ = b.across(m.byID["b/m1/+"], m.byID["b/m3/+"])
	near(t, "middle to middle", v, 0)
	for i := range m.tracks {
		m.tracks[i].ohms = make([]float64, len(m.tracks[i].ohms))
	}
	if _, ohm := b.across(m.byID["b/m2/+"], m.byID["b/m3/+"]); ohm != 0 || current(v, ohm) != 0 {
		t.Errorf("%v ohm, %v A where no resistance is known", ohm, current(v, ohm))
	}
}

// An open contactor lies between its two sides: no voltage that a tool could short.
func TestNothingIsBridgedAcrossAnOpenContactor(t *testing.T) {
	m := modelOf(boxWith("b", "eight", 2, "contactor"))
	if v, ohm := finished(m).across(m.byID["b/contactor1/1"], m.byID["b/contactor1/2"]); v != 0 || ohm != 0 {
		t.Errorf("%v V over %v ohm", v, ohm)
	}
}

// Two terminals bare on the bench, no metal near: what a tool can lie across is a pair in one box, at a voltage, no farther
// apart than the tool is long. Modules of 29.2 V and 5 milliohm, terminals 240 mm apart with 12 mm of bare metal, 320 mm between modules.
func TestBarePairsOnTheBench(t *testing.T) {
	m := modelOf(boxWith("b1", "eight", 2), boxWith("b2", "one", 1))
	for _, c := range []struct {
		a, b        string
		tool, v, mm float64 // v 0: nothing in reach
		ohm         float64
	}{
		{"b1/m1/-", "b1/m1/+", 250, 29.2, 228, 0.005},
		{"b1/m1/-", "b1/m2/+", 250, 0, 0, 0},
		{"b1/m1/-", "b1/m2/+", 600, 58.4, 548, 0.01},
		{"b1/m1/+", "b1/m2/-", 250, 0, 0, 0}, // joined by a link
		{"b1/m1/-", "b2/m1/+", 3000, 0, 0, 0},
		{"b2/m1/-", "b2/m1/+", 250, 1, 228, 0.005},
	} {
		m.Limits.ToolMM = c.tool
		b := finished(m)
		for _, id := range []string{c.a, c.b} {
			b.uncover(m.byID[id])
			b.walls[m.byID[id]] = nearMetal{mm: 1e6}
		}
		var s Step
		b.look(&s)
		r := s.WithinReach
		if (r != nil) != (c.v > 0) {
			t.Errorf("%s, %s, %g mm: %+v", c.a, c.b, c.tool, r)
		}
		if r != nil {
			near(t, "voltage", r.V, c.v)
			near(t, "distance", r.DistanceMM, c.mm)
			near(t, "current", s.CurrentA, c.v/c.ohm)
		}
	}
}

// A bare terminal of a single module of 1 V has its rim within reach.
func TestBareTerminalBesideMetal(t *testing.T) {
	m := modelOf(boxWith("b", "one", 1))
	b := finished(m)
	b.uncover(m.byID["b/m1/+"])
	var s Step
	if b.look(&s); s.WithinReach == nil || s.WithinReach.B != "metal" || s.WithinReach.V != 1 || s.HighestV != 1 {
		t.Errorf("%+v", s)
	}
}

// Thirty triangles and a point that is taken in any case: two of each triangle have to be taken, a matching proves one of
// each, and the search gives up before it has tried enough. What it has is a cover; the bound it names is the matching's.
func TestVertexCoverThatIsNotProvedNamesItsBound(t *testing.T) {
	var edges [][2]int
	for i := 1; i <= 90; i += 3 {
		edges = append(edges, [2]int{i, i + 1}, [2]int{i + 1, i + 2}, [2]int{i + 2, i})
	}
	chosen, least, proved := vertexCover(91, edges, []int{0})
	if len(chosen) != 61 || least != 31 || proved {
		t.Errorf("%d points, bound %d, proved %v", len(chosen), least, proved)
	}
}

// A triangle and thirty edges that share no point need 32 points. The matching proves 31 of them at once, and the rest as
// soon as one point of the triangle is settled; without it all ways to cover the single edges would have to be tried.
func TestVertexCoverOfManySingleEdges(t *testing.T) {
	var edges [][2]int
	for i := 0; i < 60; i += 2 {
		edges = append(edges, [2]int{i, i + 1})
	}
	edges = append(edges, [2]int{60, 61}, [2]int{61, 62}, [2]int{62, 60})
	if chosen, least, proved := vertexCover(63, edges, nil); len(chosen) != 32 || least != 32 || !proved {
		t.Errorf("%d points, bound %d, proved %v", len(chosen), least, proved)
	}
}

func TestBusiestPointHasMostEdges(t *testing.T) {
	for _, edges := range [][][2]int{{{0, 1}, {0, 2}, {0, 3}}, {{1, 2}, {0, 1}, {0, 3}, {4, 0}}, {{3, 0}, {1, 2}, {0, 1}}} {
		v := coverSearch{in: make([]bool, 5), edges: edges}
		p, next := v.busiest()
		want := 0
		for _, e := range edges {
			if e[0] == 0 || e[1] == 0 {
				want++
			}
		}
		if p != 0 || len(next) != want {
			t.Errorf("%v: point %d with %d edges, want 0 with %d", edges, p, len(next), want)
		}
	}
}
