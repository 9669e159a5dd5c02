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
