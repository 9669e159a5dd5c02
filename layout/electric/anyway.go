package electric

import "stowbay/layout"

// Gaps are the distances between live parts of a box and from them to metal, measured once.
type Gaps struct {
	box    *layout.BoxScene
	around Surroundings
	m      *measured
}

// GapsIn measures a box of a scene.
func GapsIn(s *layout.Scene, b *layout.BoxScene) *Gaps {
	return &Gaps{b, settingsOf(s).surroundings(), newBoxFacts(b).measure()}
}

// ShortAnyway returns the pairs that are too close together in whatever order a string of systemV volts joins the
// modules: what a gap needs is taken at the least voltage that any order leaves across it. That is half of the whole
// from a module's pole to metal, as one of the pack's poles is at least as far away as that; nothing between poles of
// two modules; and the whole where gear is concerned, whose potential is not known. Pairs that are not returned may
// still be too close in the order that the strings take in the end.
func (g *Gaps) ShortAnyway(systemV float64) []Pair {
	in := Insulation{Around: g.around, SystemV: systemV}
	var out []Pair
	for i := range g.m.gaps {
		j := judged{gap: &g.m.gaps[i]}
		j.v, j.known = g.leastV(j.gap, systemV)
		j.needed = RequiredBetween(in.kindOf(j.gap), j.v, systemV, in.Around)
		if j.gap.length < max(j.needed.ClearanceMM, j.needed.CreepageMM)-enoughMM {
			out = append(out, in.pair(g.box, g.m, j))
		}
	}
	return out
}

// leastV is the least voltage that an order of the strings leaves across a gap, and whether it depends on that.
func (g *Gaps) leastV(p *gap, systemV float64) (v float64, known bool) {
	a := g.m.parts[p.a].body != nil
	switch {
	case !a || p.b != none && g.m.parts[p.b].body == nil:
		return systemV, false
	case p.b == none:
		return systemV / 2, true
	}
	return 0, true
}
