package drawing

import (
	"math"
	"slices"

	"github.com/golang/geo/r1"

	"stowbay/geometry"
)

// nearestMM is the least step that a chain of dimensions shows.
const nearestMM = 6

// corners are the places of a space's corners along x and y.
func corners(s geometry.Space) (xs, ys []float64) {
	for _, q := range s.Solids {
		for _, c := range q.Base.Outer {
			xs, ys = append(xs, c.X), append(ys, c.Y)
		}
	}
	return steps(xs), steps(ys)
}

// steps sorts places and drops those too near to the one before; the last one always stays.
func steps(vs []float64) []float64 {
	slices.Sort(vs)
	var out []float64
	for i, v := range vs {
		switch {
		case len(out) == 0 || v-out[len(out)-1] >= nearestMM:
			out = append(out, v)
		case i == len(vs)-1 && len(out) > 1:
			out[len(out)-1] = v
		}
	}
	return out
}

func (h *sheet) x() r1.Interval { return r1.Interval{Lo: h.lo.X, Hi: h.lo.X + h.size.X} }
func (h *sheet) y() r1.Interval { return r1.Interval{Lo: h.lo.Y, Hi: h.lo.Y + h.size.Y} }

// feet dimensions the feet's bolt centres over and at the right of the view from above: from foot to foot, and
// beyond that from the box's ends to the first and the last.
func (h *sheet) feet(p *pen) {
	var xs, ys []float64
	for _, f := range h.box.Box.Feet {
		xs, ys = append(xs, f.At[0]), append(ys, f.At[1])
	}
	if len(xs) == 0 {
		return
	}
	top, right := p.bounds.Y.Hi, p.bounds.X.Hi
	for _, s := range h.footSteps(steps(xs), h.x()) {
		p.dimension(Dimension{A: pt(s.from, top), B: pt(s.to, top), Offset: math.Copysign(s.out, s.to-s.from)})
	}
	for _, s := range h.footSteps(steps(ys), h.y()) {
		p.dimension(Dimension{A: pt(right, s.from), B: pt(right, s.to), Offset: math.Copysign(s.out, s.from-s.to)})
	}
}

// step is a distance to be dimensioned, so far out from the view.
type step struct{ from, to, out float64 }

// footSteps lists the distances between feet and, a row further out, from the box's ends to the feet next to them;
// these run outward, so that a figure that does not fit stands clear of the others.
func (h *sheet) footSteps(feet []float64, ends r1.Interval) []step {
	var out []step
	near := 0.7 * h.row
	for i, up := range h.levels(feet) {
		out = append(out, step{feet[i], feet[i+1], near + up})
	}
	if len(feet) > 1 {
		near += h.row
	}
	first, last := feet[0], feet[len(feet)-1]
	if math.Abs(first-ends.Lo) > 0.5 {
		out = append(out, step{max(first, ends.Lo), min(first, ends.Lo), near})
	}
	if math.Abs(last-ends.Hi) > 0.5 {
		out = append(out, step{min(last, ends.Hi), max(last, ends.Hi), near})
	}
	return out
}

// heights are the box's floor and top, with the openings in the walls between them.
func (h *sheet) heights() []float64 {
	vs := []float64{h.lo.Z, h.lo.Z + h.size.Z}
	for _, o := range h.box.Box.Openings {
		if o.Face != "top" && o.Face != "bottom" {
			vs = append(vs, o.At[2])
		}
	}
	return steps(vs)
}

// openingsAcross are the places of openings in the front and rear wall between the sides.
func (h *sheet) openingsAcross() []float64 {
	vs := []float64{h.y().Lo, h.y().Hi}
	for _, o := range h.box.Box.Openings {
		if o.Face == "front" || o.Face == "rear" {
			vs = append(vs, o.At[1])
		}
	}
	return steps(vs)
}

// below dimensions places along the horizontal axis under a view: a chain, and under it the whole.
func (h *sheet) below(p *pen, vs []float64) {
	y := p.bounds.Y.Lo
	h.horizontal(p, vs, y, -1)
}

// horizontal draws the chain where there is more than the whole, and the whole beyond it.
func (h *sheet) horizontal(p *pen, vs []float64, y, way float64) {
	if len(vs) < 2 {
		return
	}
	off := way * 0.7 * h.row
	if len(vs) > 2 {
		h.chainX(p, vs, y, off)
		off += way * h.row
	}
	h.chainX(p, []float64{vs[0], vs[len(vs)-1]}, y, off)
}

func (h *sheet) chainX(p *pen, vs []float64, y, off float64) {
	for i, up := range h.levels(vs) {
		p.dimension(Dimension{A: pt(vs[i], y), B: pt(vs[i+1], y), Offset: off + math.Copysign(up, off)})
	}
}

// levels tells for each step of a chain how much further out it has to lie: every second one of steps side by side
// that are too short for their figures moves out, so that the figures do not run into each other.
func (h *sheet) levels(vs []float64) []float64 {
	out := make([]float64, max(len(vs)-1, 0))
	was := false
	for i := range out {
		step := vs[i+1] - vs[i]
		short := step < TextWidth(length(step, h.o.Imperial))*h.name+0.3*h.row
		if short && was {
			out[i] = 0.6 * h.row
		}
		was = short && !was
	}
	return out
}

// atLeft dimensions places along the vertical axis at a view's left: a chain, and beyond it the whole.
func (h *sheet) atLeft(p *pen, vs []float64) {
	if len(vs) < 2 {
		return
	}
	x, off := p.bounds.X.Lo, 0.7*h.row
	if len(vs) > 2 {
		h.chainY(p, vs, x, off)
		off += h.row
	}
	h.chainY(p, []float64{vs[0], vs[len(vs)-1]}, x, off)
}

func (h *sheet) chainY(p *pen, vs []float64, x, off float64) {
	for i, up := range h.levels(vs) {
		p.dimension(Dimension{A: pt(x, vs[i]), B: pt(x, vs[i+1]), Offset: off + math.Copysign(up, off)})
	}
}
