package drawing

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/layout"
)

// stack is a box's modules in the order of nearness to the eye, with what hides what.
type stack struct {
	bodies   []*layout.Body
	rects    []r2.Rect // what each covers, in the box's frame so that turned boxes compare exactly
	hiddenBy []int     // a nearer body that covers it wholly, or -1
	under    [][]string
}

func (p *pen) stackOf(b *layout.BoxScene) stack {
	st := stack{bodies: slices.Clone(b.Modules)}
	slices.SortStableFunc(st.bodies, func(a, c *layout.Body) int {
		return cmp.Compare(p.v.nearness(a.Prism), p.v.nearness(c.Prism))
	})
	n := len(st.bodies)
	st.rects, st.hiddenBy, st.under = make([]r2.Rect, n), make([]int, n), make([][]string, n)
	for k, m := range st.bodies {
		st.rects[k] = p.footprint(b, m)
	}
	for k := range st.bodies {
		st.hiddenBy[k] = st.cover(k)
		if j := st.hiddenBy[k]; j >= 0 && p.v == PlanView {
			st.under[j] = append(st.under[j], st.bodies[k].Placement.ID)
		}
	}
	return st
}

// footprint is what a body covers in the view: in plan in the box's frame, else in the view's plane.
func (p *pen) footprint(b *layout.BoxScene, m *layout.Body) r2.Rect {
	if p.v != PlanView {
		return p.prismExtent(m.Prism)
	}
	e := m.Pose.Extent()
	return r2.RectFromPoints(pt(m.Pose.At.X, m.Pose.At.Y), pt(m.Pose.At.X+e.X, m.Pose.At.Y+e.Y))
}

// cover finds the nearest body that hides body k wholly.
func (s stack) cover(k int) int {
	const slack = 0.005
	r := r2.Rect{X: s.rects[k].X.Expanded(-slack), Y: s.rects[k].Y.Expanded(-slack)}
	for j := len(s.rects) - 1; j > k; j-- {
		if s.rects[j].Contains(r) {
			return j
		}
	}
	return -1
}

// faceFree tells whether the middle of body k is seen, so that its number can be set there.
func (s stack) faceFree(k int) bool {
	c := s.rects[k].Center()
	for j := k + 1; j < len(s.rects); j++ {
		if s.rects[j].ContainsPoint(c) {
			return false
		}
	}
	return true
}
