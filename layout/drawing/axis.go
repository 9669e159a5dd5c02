package drawing

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"
)

// Charts are drawn in millimetres on paper, at 1:1, texts in points.

// Axis is an axis of a chart.
type Axis struct {
	Title string  // with the unit: "energy, kWh"
	Less  bool    // less is better
	Lo    float64 // ends of the axis; both 0: from the data
	Hi    float64
}

// niceStep is the least of 1, 2 and 5 times a power of ten that parts a span into at most n steps, after
// P. Heckbert, Nice numbers for graph labels, in Graphics Gems, 1990.
func niceStep(span float64, n int) float64 {
	if !(span > 0) || math.IsInf(span, 1) {
		return 1
	}
	raw := span / float64(n)
	ten := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if m*ten >= raw*(1-1e-9) {
			return m * ten
		}
	}
	return 10 * ten
}

// ticks are the whole multiples of the step inside the interval; nought has no minus.
func ticks(lo, hi, step float64) []float64 {
	var out []float64
	for k := math.Ceil(lo/step-1e-9) + 0; k*step <= hi+1e-9*step; k++ {
		out = append(out, k*step)
	}
	return out
}

// tickText writes a tick with as many decimals as its step needs.
func tickText(v, step float64) string {
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

// spanning gives an axis its ends: those stated, or round numbers about the data.
func (a Axis) spanning(vs []float64) Axis {
	if a.Lo != 0 || a.Hi != 0 {
		return a
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range vs {
		lo, hi = min(lo, v), max(hi, v)
	}
	if lo > hi {
		lo, hi = 0, 1
	}
	if hi-lo < 1e-9*max(1, math.Abs(hi)) {
		lo, hi = lo-1, hi+1
	}
	pad := 0.08 * (hi - lo)
	step := niceStep(hi-lo+2*pad, 5)
	a.Lo, a.Hi = math.Floor((lo-pad)/step)*step, math.Ceil((hi+pad)/step)*step
	if lo >= 0 {
		a.Lo = max(a.Lo, 0)
	}
	return a
}

// plot is a chart's field with its two axes.
type plot struct {
	p    *pen
	x, y Axis
	w, h float64
}

func newPlot(x, y Axis, w, h float64) plot {
	return plot{newPen(PlanView, &Options{}), x, y, w, h}
}

func (c plot) at(x, y float64) r2.Point {
	return pt(c.w*(x-c.x.Lo)/(c.x.Hi-c.x.Lo), c.h*(y-c.y.Lo)/(c.y.Hi-c.y.Lo))
}

// frame draws both axes with ticks, faint lines and titles.
func (c plot) frame() {
	t := Tag{Role: RoleChartAxis}
	xs, ys := niceStep(c.x.Hi-c.x.Lo, 6), niceStep(c.y.Hi-c.y.Lo, 5)
	for _, v := range ticks(c.x.Lo, c.x.Hi, xs) {
		q := c.at(v, c.y.Lo)
		c.p.segment(Tag{Role: RoleGrid}, q, pt(q.X, c.h))
		c.p.segment(t, q, q.Sub(pt(0, 1.2)))
		c.p.chartText(t, q.Sub(pt(0, 1.8)), tickText(v, xs), North)
	}
	for _, v := range ticks(c.y.Lo, c.y.Hi, ys) {
		q := c.at(c.x.Lo, v)
		c.p.segment(Tag{Role: RoleGrid}, q, pt(c.w, q.Y))
		c.p.segment(t, q, q.Sub(pt(1.2, 0)))
		c.p.chartText(t, q.Sub(pt(1.8, 0)), tickText(v, ys), East)
	}
	c.p.loop(t, c.p.rect(pt(0, 0), pt(c.w, c.h)).Outer)
	c.p.chartText(t, pt(c.w/2, -6.5), better(c.x), North)
	c.p.chartText(t, pt(-8, c.h+3), better(c.y), West)
}

// better words which way an axis is better.
func better(a Axis) string {
	if a.Less {
		return a.Title + " (less is better)"
	}
	return a.Title
}

// chartPt is the size of texts in charts.
const chartPt = 7.5

// chartText sets a text of a chart and keeps its place.
func (p *pen) chartText(t Tag, at r2.Point, s string, a Anchor) {
	if s == "" {
		return
	}
	x := Text{Of: t, At: at, S: s, Pt: chartPt, Anchor: a}
	x.InMM = chartPt * mmPerPt
	r := x.extent()
	x.InMM = 0
	p.bounds = p.bounds.Union(r)
	p.taken = append(p.taken, r)
	p.items = append(p.items, x)
}

func (p *pen) chart(title string) *List {
	l := p.list(title)
	if title != "" && !l.Bounds.IsEmpty() {
		at := pt(l.Bounds.X.Lo, l.Bounds.Y.Hi+3)
		x := Text{Of: Tag{Role: RoleLabel}, At: at, S: title, InMM: 9 * mmPerPt, Anchor: West}
		l.Bounds = l.Bounds.Union(x.extent())
		x.InMM, x.Pt = 0, 9
		l.Items = append(l.Items, x)
	}
	if !l.Bounds.IsEmpty() {
		l.Bounds = l.Bounds.ExpandedByMargin(1.5)
	}
	return l
}
