package drawing

import (
	"math"
	"slices"
	"strconv"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
)

// mmPerPt is the typographic point: 1/72 inch.
const mmPerPt = 25.4 / 72

// PaperMM returns a length on paper, given in points, in millimetres of the view at the scale 1:n.
func PaperMM(pt, scale float64) float64 { return pt * mmPerPt * scale }

// mostHatchLines bounds the work on one hatch; beyond it the pitch is widened.
const mostHatchLines = 2000

// Lines returns the segments of the hatch with lines the given distance apart in millimetres of the view. The
// lines run through whole multiples of the pitch from the view's origin, so that hatches side by side meet.
func (h Hatch) Lines(pitchMM float64) [][2]r2.Point {
	out := hatchLines(h.Area, h.Deg, pitchMM)
	if h.Cross {
		out = append(out, hatchLines(h.Area, h.Deg+90, pitchMM)...)
	}
	return out
}

func hatchLines(area geometry.Polygon, deg, pitch float64) [][2]r2.Point {
	if area.IsEmpty() || pitch <= 0 {
		return nil
	}
	sin, cos := math.Sincos(deg * math.Pi / 180)
	along, off := pt(cos, sin), pt(-sin, cos)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range area.Outer {
		lo, hi = min(lo, c.Dot(off)), max(hi, c.Dot(off))
	}
	pitch = max(pitch, (hi-lo)/mostHatchLines)
	var out [][2]r2.Point
	for k := math.Ceil(lo / pitch); k*pitch <= hi; k++ {
		ts := crossings(area, along, off, k*pitch)
		for i := 0; i+1 < len(ts); i += 2 {
			foot := off.Mul(k * pitch)
			out = append(out, [2]r2.Point{foot.Add(along.Mul(ts[i])), foot.Add(along.Mul(ts[i+1]))})
		}
	}
	return out
}

// crossings are the places along a line at which it crosses the area's edges, in order. An edge counts from
// its lower end up to but without its upper end, so that corners count once.
func crossings(area geometry.Polygon, along, off r2.Point, d float64) []float64 {
	var ts []float64
	add := func(ring geometry.Ring) {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			da, db := a.Dot(off), b.Dot(off)
			if (da <= d) != (db <= d) {
				f := (d - da) / (db - da)
				ts = append(ts, a.Dot(along)+f*(b.Dot(along)-a.Dot(along)))
			}
		}
	}
	add(area.Outer)
	for _, h := range area.Holes {
		add(h)
	}
	slices.Sort(ts)
	return ts
}

// Parts returns a dimension as strokes and a text for the scale 1:n: extension lines, dimension line, slanted
// ticks, and the text above the line, or beyond its end where it is too short. The text reads from below or
// from the right, as ISO 129-1 asks.
func (d Dimension) Parts(scale float64, s Style) ([]Stroke, Text) {
	a, b := d.lineEnd(d.A), d.lineEnd(d.B)
	mm := func(pts float64) float64 { return PaperMM(pts, scale) }
	var out []Stroke
	add := func(p, q r2.Point) { out = append(out, Stroke{Of: d.Of, Points: []r2.Point{p, q}}) }
	along := b.Sub(a).Normalize()
	for _, e := range [2][2]r2.Point{{d.A, a}, {d.B, b}} {
		if dir := e[1].Sub(e[0]); dir.Norm() > mm(1) {
			u := dir.Normalize()
			add(e[0].Add(u.Mul(mm(1.5))), e[1].Add(u.Mul(mm(3))))
		}
	}
	add(a, b)
	tick := along.Add(along.Ortho()).Mul(mm(2))
	add(a.Sub(tick), a.Add(tick))
	add(b.Sub(tick), b.Add(tick))
	return out, d.label(a, b, scale, s)
}

func (d Dimension) label(a, b r2.Point, scale float64, s Style) Text {
	mm := func(pts float64) float64 { return PaperMM(pts, scale) }
	t := Text{Of: d.Of, S: d.S, Pt: s.Size, Anchor: South, Halo: true}
	if t.S == "" {
		t.S = strconv.FormatFloat(d.B.Sub(d.A).Norm(), 'f', 0, 64)
	}
	along := b.Sub(a).Normalize()
	t.Deg = math.Atan2(along.Y, along.X) * 180 / math.Pi
	if t.Deg > 90.01 || t.Deg <= -89.99 {
		t.Deg += 180
	}
	t.Deg = math.Remainder(t.Deg, 360)
	sin, cos := math.Sincos(t.Deg * math.Pi / 180)
	w := mm(TextWidth(t.S) * s.Size)
	t.At = a.Add(b).Mul(0.5)
	if w > b.Sub(a).Norm()-mm(3) {
		t.At = b.Add(along.Mul(w/2 + mm(4)))
		t.Anchor = Middle
		return t
	}
	t.At = t.At.Add(pt(-sin, cos).Mul(mm(2.2)))
	return t
}
