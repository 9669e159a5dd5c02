package packing

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// The same properties in problems of several bays, stepped floors, layers, two
// postures, strips, unequal gaps and slanted walls. Searches are cut short, so that
// most answers are a count and a bound; the properties hold for those too.

// drawRoom draws a bay with one or two levels, room for up to three layers.
func drawRoom(t *rapid.T, id string) Bay {
	r := drawBay(t)
	if rapid.Bool().Draw(t, "slanted") {
		b := boundsMM(r)
		c := float64(rapid.IntRange(1, 3).Draw(t, "cut"))
		r = Region{Outline: []Point{{0, 0}, {b.X, c}, {b.X, b.Y - 1}, {0, b.Y}}}
	}
	b := Bay{ID: id, Levels: []Level{{Region: r, CeilingMM: float64(rapid.IntRange(9, 32).Draw(t, "ceiling"))}}}
	if rapid.Bool().Draw(t, "stepped") {
		w, h := float64(rapid.IntRange(5, 9).Draw(t, "w2")), float64(rapid.IntRange(5, 9).Draw(t, "h2"))
		floor := float64(rapid.IntRange(0, 2).Draw(t, "floor"))
		b.Levels = append(b.Levels, Level{Region: Region{Outline: rectangle(100, 0, 100+w, h)}, FloorMM: floor, CeilingMM: floor + 12})
	}
	return b
}

func drawSpace(t *rapid.T) Problem {
	p := Problem{Bays: []Bay{drawRoom(t, "front")}, Postures: []Posture{drawPosture(t)}, Limit: 150 * time.Millisecond}
	if rapid.Bool().Draw(t, "two bays") {
		p.Bays = append(p.Bays, drawRoom(t, "rear"))
	}
	p.Postures[0].HeightMM = float64(rapid.IntRange(6, 10).Draw(t, "high"))
	p.Postures[0].Gaps.TopMM = float64(rapid.IntRange(0, 1).Draw(t, "top"))
	if rapid.Bool().Draw(t, "two postures") {
		q := p.Postures[0]
		q.Name, q.WidthMM, q.HeightMM = "on edge", q.HeightMM, q.WidthMM
		p.Postures = append(p.Postures, q)
	}
	return p
}

func TestPropertiesInSpace(t *testing.T) {
	proved, all := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		p := drawSpace(rt)
		before := solved(rt, t, p)
		if before.LayeredBound < before.Count || before.LayeredBound > before.Bound {
			rt.Errorf("%d fit, %d at most in layers, %d at most", before.Count, before.LayeredBound, before.Bound)
		}
		all++
		if before.Proved {
			proved++
		}
		what := rapid.SampledFrom([]string{"a keep-out", "fixing", "a forbidden region", "mirroring", "scaling"}).Draw(rt, "what")
		after := solved(rt, t, changed(rt, p, before, what))
		neverMore(rt, before, after, what)
		if what == "mirroring" || what == "scaling" {
			neverMore(rt, after, before, "undoing "+what)
		}
	})
	t.Logf("%d of %d proved", proved, all)
}

// changed is a problem that can hold no more than another.
func changed(t *rapid.T, p Problem, res Result, what string) Problem {
	bays := make([]Bay, len(p.Bays))
	for i, b := range p.Bays {
		b.Levels = append([]Level{}, b.Levels...)
		bays[i] = b
	}
	p.Bays, p.Postures = bays, append([]Posture{}, p.Postures...)
	l := &p.Bays[len(bays)-1].Levels[0]
	b := boundsMM(l.Region)
	switch what {
	case "a keep-out":
		l.Region.KeepOuts = append(append([][]Point{}, l.Region.KeepOuts...), drawIsland(t, b.X, b.Y))
	case "a forbidden region":
		p.Bays[0].Forbidden = []Forbidden{{Region: Region{Outline: drawIsland(t, b.X, b.Y)}, FromMM: 3, ToMM: 9}}
	case "fixing":
		for _, a := range res.Placements {
			if a.Layer == 0 && rapid.IntRange(0, 3).Draw(t, "fix") == 0 {
				p.Fixed = append(p.Fixed, a)
			}
		}
	case "mirroring":
		return mappedSpace(p, func(q Point) Point { return Point{200 - q.X, q.Y} }, mirroredPosture)
	case "scaling":
		k := rapid.SampledFrom([]float64{0.5, 3, 12.5}).Draw(t, "scale")
		for i := range p.Bays {
			for j := range p.Bays[i].Levels {
				p.Bays[i].Levels[j].FloorMM *= k
				p.Bays[i].Levels[j].CeilingMM *= k
			}
		}
		return mappedSpace(p, func(q Point) Point { return Point{q.X * k, q.Y * k} }, func(q Posture) Posture {
			q = scaledPosture(q, k)
			q.HeightMM *= k
			return q
		})
	}
	return p
}

func mappedSpace(p Problem, at func(Point) Point, posture func(Posture) Posture) Problem {
	for i := range p.Bays {
		for j := range p.Bays[i].Levels {
			p.Bays[i].Levels[j].Region = mapped(p.Bays[i].Levels[j].Region, at)
		}
	}
	for i, q := range p.Postures {
		p.Postures[i] = posture(q)
	}
	return p
}

// TestSameProblemSameResult solves boxes twice within the same work.
func TestSameProblemSameResult(t *testing.T) {
	names, problems := realBoxes(t)
	for i, p := range problems {
		if i%4 != 0 {
			continue
		}
		var first Result
		for k := range 2 {
			p.Workers = 2
			r := newSession(t.Context(), &p, nil, time.Now(), 150*time.Millisecond).solve()
			verify(t, p, r)
			if k == 0 {
				first = r
				continue
			}
			if r.Count != first.Count || r.Bound != first.Bound || r.LayeredBound != first.LayeredBound || len(r.Placements) != len(first.Placements) {
				t.Errorf("%s: %d of at most %d, then %d of at most %d", names[i], first.Count, first.Bound, r.Count, r.Bound)
			}
			for j := range r.Placements {
				if r.Placements[j] != first.Placements[j] {
					t.Errorf("%s: placement %d is %+v, then %+v", names[i], j, first.Placements[j], r.Placements[j])
					break
				}
			}
		}
	}
}
