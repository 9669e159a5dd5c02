package drawing

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"
)

// Spot is one arrangement in a scatter.
type Spot struct {
	X, Y float64
	Name string
	Ref  string
	Best bool // no other one is better in both
	Mark Mark // Breached: some finding fails; Selected: with a ring about it
}

// Scatter draws arrangements by two figures in a field of w by h millimetres. Those that no other one beats in
// both are diamonds with names, joined by the stepped line that bounds what has been reached; the others are
// small rings, and those in which a finding fails are crosses.
func Scatter(title string, x, y Axis, spots []Spot, w, h float64) *List {
	xs, ys := make([]float64, len(spots)), make([]float64, len(spots))
	for i, s := range spots {
		xs[i], ys[i] = s.X, s.Y
	}
	c := newPlot(x.spanning(xs), y.spanning(ys), w, h)
	c.frame()
	c.steps(spots)
	for _, s := range spots {
		c.spot(s)
	}
	for _, s := range spots {
		if s.Best && s.Name != "" {
			c.spotName(s)
		}
	}
	c.p.grantPt(1)
	return c.p.chart(title)
}

// steps draws the line that bounds what has been reached.
func (c plot) steps(spots []Spot) {
	best := slices.DeleteFunc(slices.Clone(spots), func(s Spot) bool { return !s.Best })
	slices.SortStableFunc(best, func(a, b Spot) int { return cmp.Compare(a.X, b.X) })
	var ps []r2.Point
	for i, s := range best {
		if i > 0 {
			ps = append(ps, c.corner(best[i-1], s))
		}
		ps = append(ps, c.at(s.X, s.Y))
	}
	if len(best) > 1 {
		c.p.line(Tag{Role: RoleChartBest}, ps...)
	}
}

// corner is the place where what a reaches and what b reaches meet, b lying to the right of a.
func (c plot) corner(a, b Spot) r2.Point {
	if c.x.Less {
		return c.at(b.X, a.Y)
	}
	return c.at(a.X, b.Y)
}

func (c plot) spot(s Spot) {
	q := c.at(s.X, s.Y)
	switch {
	case s.Mark&Breached != 0:
		t := Tag{Role: RoleBreach, Ref: s.Ref}
		c.p.segment(t, q.Sub(pt(1.1, 1.1)), q.Add(pt(1.1, 1.1)))
		c.p.segment(t, q.Add(pt(-1.1, 1.1)), q.Add(pt(1.1, -1.1)))
	case s.Best:
		t := Tag{Role: RoleChartBest, Ref: s.Ref}
		c.p.shape(t, c.p.disc(q, 1.6, 4).Outer)
	default:
		c.p.loop(Tag{Role: RoleChartMark, Ref: s.Ref, Mark: s.Mark}, c.p.disc(q, 1.1, 12).Outer)
	}
	if s.Mark&Selected != 0 {
		c.p.loop(Tag{Role: RoleChartBest, Ref: s.Ref}, c.p.disc(q, 2.6, 16).Outer)
	}
	c.p.taken = append(c.p.taken, r2.RectFromCenterSize(q, pt(3.2, 3.2)))
}

// SpotAt is the reference of the spot of a scatter that is nearest to a place, within a distance, both in the list's
// millimetres; "" where there is none.
func (l *List) SpotAt(at r2.Point, within float64) string {
	ref, least := "", within
	for _, it := range l.Items {
		t := it.Tag()
		if s, ok := it.(Stroke); ok && t.Ref != "" {
			if d := r2.RectFromPoints(s.Points...).Center().Sub(at).Norm(); d <= least {
				ref, least = t.Ref, d
			}
		}
	}
	return ref
}

func (c plot) spotName(s Spot) {
	q := c.at(s.X, s.Y)
	c.p.wish(wish{s: s.Name, size: chartPt * mmPerPt, role: RoleLabel, ref: s.Ref, at: []spot{
		{q.Add(pt(2.4, 1.8)), West}, {q.Add(pt(-2.4, 1.8)), East}, {q.Add(pt(2.4, -1.8)), West}, {q.Add(pt(-2.4, -1.8)), East},
		{q.Add(pt(0, 2.6)), South}, {q.Sub(pt(0, 2.6)), North},
	}})
}

// grantPt grants wishes for texts that are sized in points at the scale 1:n.
func (p *pen) grantPt(n float64) {
	from := len(p.items)
	p.grantAll()
	for i := from; i < len(p.items); i++ {
		if t, ok := p.items[i].(Text); ok {
			t.Pt, t.InMM = t.InMM/PaperMM(1, n), 0
			p.items[i] = t
		}
	}
}

// Series is one line of a curve chart.
type Series struct {
	Name   string
	Points []r2.Point
	Ref    string
}

// Level is a limit that a curve chart shows as a line across.
type Level struct {
	Name string
	Y    float64
}

var seriesDashes = [][]float64{nil, {5, 2}, {1.5, 1.5}, {7, 2, 1.5, 2}}

// Curves draws lines over one axis, told apart by their dashes and named at their ends, and limits across.
func Curves(title string, x, y Axis, series []Series, limits []Level, w, h float64) *List {
	var xs, ys []float64
	for _, s := range series {
		for _, q := range s.Points {
			xs, ys = append(xs, q.X), append(ys, q.Y)
		}
	}
	for _, l := range limits {
		ys = append(ys, l.Y)
	}
	c := newPlot(x.spanning(xs), y.spanning(ys), w, h)
	c.frame()
	for _, l := range limits {
		c.p.segment(Tag{Role: RoleBreach}, c.at(c.x.Lo, l.Y), c.at(c.x.Hi, l.Y))
		c.p.chartText(Tag{Role: RoleBreach}, c.at(c.x.Lo, l.Y).Add(pt(2, 1.8)), l.Name, West)
	}
	for i, s := range series {
		c.curve(s, seriesDashes[i%len(seriesDashes)])
	}
	c.p.grantPt(1)
	return c.p.chart(title)
}

func (c plot) curve(s Series, dash []float64) {
	if len(s.Points) == 0 {
		return
	}
	ps := c.p.room(len(s.Points))
	for i, q := range s.Points {
		ps[i] = c.at(q.X, q.Y)
	}
	c.p.reach(ps...)
	c.p.items = append(c.p.items, Stroke{Of: Tag{Role: RoleChartMark, Ref: s.Ref}, Points: ps, Pt: 1.4, Dash: dash})
	end := ps[len(ps)-1]
	at := make([]spot, 0, 9)
	for _, dy := range []float64{0, 3, -3, 6, -6, 9, -9, 12, -12} {
		at = append(at, spot{end.Add(pt(1.5, dy)), West})
	}
	c.p.wish(wish{s: s.Name, size: chartPt * mmPerPt, role: RoleLabel, ref: s.Ref, at: at})
}
