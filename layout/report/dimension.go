package report

import (
	"fmt"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
)

// dimensioned draws a view with dimension lines: the wheelbase and the boxes' ends behind the front axle in plan
// and side view, heights above the ground in side and rear view, distances from the centre plane in the rear view.
func (b *book) dimensioned(v drawing.View, o drawing.Options) *drawing.List {
	l := v.Draw(b.e.Scene, o)
	s := b.e.Scene
	if len(s.Boxes) == 0 || s.Donor == nil {
		return l
	}
	c := chains{l: l, step: 0.028 * max(l.Bounds.Size().X, l.Bounds.Size().Y), text: b.place0}
	xs, ys, zs := boxEdges(s)
	switch v {
	case drawing.PlanView:
		c.below(append([]float64{0}, xs...))
		c.below([]float64{0, s.Donor.WheelbaseMM})
		c.left(append([]float64{0}, ys...))
	case drawing.SideView:
		c.below(append([]float64{0}, xs...))
		c.below([]float64{0, s.Donor.WheelbaseMM})
		c.left(append([]float64{0}, zs...))
	case drawing.RearView:
		c.below(append([]float64{0}, ys...))
		c.left(append([]float64{0}, zs...))
	}
	return l
}

// boxEdges are the ends of all boxes along the vehicle's axes.
func boxEdges(s *layout.Scene) (xs, ys, zs []float64) {
	for _, b := range s.Boxes {
		lo, hi := b.Outer.Bounds()
		xs, ys, zs = append(xs, lo.X, hi.X), append(ys, lo.Y, hi.Y), append(zs, lo.Z, hi.Z)
	}
	return xs, ys, zs
}

// chains sets chains of dimensions outside a view, one row after another.
type chains struct {
	l    *drawing.List
	step float64
	text func(mm float64) string
}

// spaced sorts places and leaves out those too close to the one before to be written between.
func (c *chains) spaced(places []float64) []float64 {
	slices.Sort(places)
	out := places[:1]
	for _, p := range places[1:] {
		if p-out[len(out)-1] > 1.5*c.step {
			out = append(out, p)
		}
	}
	return out
}

func (c *chains) below(places []float64) {
	y := c.l.Bounds.Y.Lo - c.step
	ps := c.spaced(places)
	for i := 1; i < len(ps); i++ {
		c.add(r2.Point{X: ps[i-1], Y: y}, r2.Point{X: ps[i], Y: y}, ps[i]-ps[i-1])
	}
	c.l.Bounds.Y.Lo = y - 0.8*c.step
}

func (c *chains) left(places []float64) {
	x := c.l.Bounds.X.Lo - c.step
	ps := c.spaced(places)
	for i := 1; i < len(ps); i++ {
		c.add(r2.Point{X: x, Y: ps[i-1]}, r2.Point{X: x, Y: ps[i]}, ps[i]-ps[i-1])
	}
	c.l.Bounds.X.Lo = x - 1.2*c.step
}

func (c *chains) add(a, b r2.Point, mm float64) {
	c.l.Items = append(c.l.Items, drawing.Dimension{Of: drawing.Tag{Role: drawing.RoleDimension}, A: a, B: b, S: fmt.Sprint(c.text(mm))})
}
