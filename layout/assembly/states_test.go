package assembly

import "testing"

// work is every state of a string of one box at the level of single steps: each joint with its two covers, its link and
// its two bolts.
type work struct {
	m *Model
}

// jointState is how far one joint is.
type jointState struct{ bareA, bareB, link, tightA, tightB bool }

// finishedJoint is a joint that is tight and covered.
func (s jointState) done() bool { return s.link && s.tightA && s.tightB && !s.bareA && !s.bareB }

// cheapest goes through every order of every step by Dijkstra's method and returns the least cost of finishing all
// joints. What a step costs is read off the bench, with no formula of joints or trees.
func (w *work) cheapest(n int) cost {
	type node struct {
		at [4]jointState
		c  cost
	}
	open := []node{{}}
	known := map[[4]jointState]cost{{}: {}}
	for len(open) > 0 {
		least := 0
		for i := range open {
			if open[i].c.less(open[least].c) {
				least = i
			}
		}
		now := open[least]
		open[least] = open[len(open)-1]
		open = open[:len(open)-1]
		if known[now.at].less(now.c) {
			continue
		}
		finished := true
		for i := range n {
			finished = finished && now.at[i].done()
		}
		if finished {
			return now.c
		}
		for i := range n {
			for _, next := range moves(now.at[i]) {
				to := now.at
				to[i] = next
				c := now.c.plus(w.price(now.at, to, n))
				if old, ok := known[to]; !ok || c.less(old) {
					known[to] = c
					open = append(open, node{to, c})
				}
			}
		}
	}
	return cost{}
}

// moves are the states that one step leads to. A link needs both ends bare, a bolt its end bare and the link in. An end
// is covered once its bolt is tight, or before its link is in.
func moves(s jointState) []jointState {
	var out []jointState
	add := func(ok bool, change func(*jointState)) {
		if ok {
			t := s
			change(&t)
			out = append(out, t)
		}
	}
	add(!s.bareA && !s.tightA, func(t *jointState) { t.bareA = true })
	add(!s.bareB && !s.tightB, func(t *jointState) { t.bareB = true })
	add(s.bareA && (s.tightA || !s.link), func(t *jointState) { t.bareA = false })
	add(s.bareB && (s.tightB || !s.link), func(t *jointState) { t.bareB = false })
	add(!s.link && s.bareA && s.bareB, func(t *jointState) { t.link = true })
	add(s.link && s.bareA && !s.tightA, func(t *jointState) { t.tightA = true })
	add(s.link && s.bareB && !s.tightB, func(t *jointState) { t.tightB = true })
	return out
}

// price looks at the bench during a step: what is bare before or after it is bare during it.
func (w *work) price(from, to [4]jointState, n int) cost {
	b := newBench(w.m)
	for i := range b.placed[0] {
		b.placed[0][i] = true
	}
	for i := range n {
		j := w.m.Joints[w.m.tracks[0].seams[i].joint]
		b.made[0][i] = to[i].link
		if from[i].bareA || to[i].bareA {
			b.uncover(j.A)
		}
		if from[i].bareB || to[i].bareB {
			b.uncover(j.B)
		}
	}
	var s Step
	b.look(&s)
	c := cost{volts: s.HighestV}
	if s.Hazard {
		c.steps = 1
	}
	return c
}

// TestEveryOrderOfEveryStep: no interleaving of steps beats working on one joint at a time in the planned order.
func TestEveryOrderOfEveryStep(t *testing.T) {
	for _, c := range []struct {
		module string
		n      int
	}{{"eight", 2}, {"twenty", 2}, {"eight", 3}, {"eight", 4}, {"four", 4}} {
		m := modelOf(boxWith("b", c.module, c.n))
		w := &work{m: m}
		got := w.cheapest(c.n - 1)
		volts := alike(c.n, m.tracks[0].pieces[0].volts)
		_, want := joinOrder(volts, 60)
		if got.less(want) || want.less(got) {
			t.Errorf("%d x %s: step by step %+v, planned %+v", c.n, c.module, got, want)
		}
	}
}
