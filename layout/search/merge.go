package search

import "slices"

// merge marks the members that a member of any other group beats, or equals where that group comes first.
func merge(groups []*group, workers int) [][]bool {
	beaten := make([][]bool, len(groups))
	spots := make([][]spot, len(groups))
	for i, g := range groups {
		beaten[i] = make([]bool, len(g.members))
		for k := range g.members {
			spots[i] = append(spots[i], g.members[k].spot)
		}
	}
	each(len(groups), workers, func(i int) { against(groups, spots, i, beaten[i]) })
	return beaten
}

// against marks what is beaten in one group.
func against(groups []*group, spots [][]spot, i int, beaten []bool) {
	g := groups[i]
	left := len(beaten)
	for k, o := range groups {
		if k == i || !o.key.reaches(&g.key) {
			continue
		}
		same := o.key == g.key
		for n, s := range spots[i] {
			if !beaten[n] && slices.ContainsFunc(spots[k], func(p spot) bool { return p.reaches(s) && (!same || p != s || k < i) }) {
				beaten[n] = true
				left--
			}
		}
		if left == 0 {
			return
		}
	}
}
