package drawing

import "strconv"

// Bar is one row of a bar chart.
type Bar struct {
	Name  string
	Value float64
	Was   float64 // the donor's or the start's value, shown as a hollow mark; 0: none
	Limit float64 // what it must not exceed; 0: none
	Unit  string
	Ref   string
}

// The sizes of a bar chart in mm on paper.
const (
	barRow   = 8.5
	barThick = 4.2
	barNames = 34.0
	barTexts = 44.0
)

// Bars draws values against their limits, such as axle loads against ratings: a bar to each value, a heavy stroke
// at its limit, a hollow mark at what it was. What goes beyond a limit is cross-hatched, and said in words.
func Bars(title string, bars []Bar, widthMM float64) *List {
	p := newPen(PlanView, &Options{})
	most := 0.0
	for _, b := range bars {
		most = max(most, b.Value, b.Was, b.Limit)
	}
	if most <= 0 {
		most = 1
	}
	k := (widthMM - barNames - barTexts) / (1.04 * most)
	for i, b := range bars {
		p.bar(b, -float64(i)*barRow, k)
	}
	n := float64(len(bars))
	p.segment(Tag{Role: RoleChartAxis}, pt(0, barRow/2), pt(0, barRow/2-n*barRow))
	p.reach(pt(widthMM-barNames, 0))
	return p.chart(title)
}

func (p *pen) bar(b Bar, y, k float64) {
	t := Tag{Role: RoleChartMark, Ref: b.Ref}
	h := barThick / 2
	p.chartText(Tag{Role: RoleChartAxis}, pt(-2, y), b.Name, East)
	area := p.rect(pt(0, y-h), pt(max(0, k*b.Value), y+h))
	p.fill(t, area)
	p.loop(t, area.Outer)
	over := b.Limit > 0 && b.Value > b.Limit
	if over {
		p.hatch(Tag{Role: RoleBreach, Ref: b.Ref}, p.rect(pt(k*b.Limit, y-h), pt(k*b.Value, y+h)), Hatch{Deg: 45, PitchPt: 3, Cross: true})
	}
	if b.Limit > 0 {
		p.limitMark(over, k*b.Limit, y)
	}
	if b.Was > 0 {
		p.wasMark(k*b.Was, y)
	}
	end := max(k*b.Value, k*b.Limit, k*b.Was)
	p.barText(b, over, end+2.5, y)
}

func (p *pen) barText(b Bar, over bool, x, y float64) {
	role := RoleChartAxis
	s := figure(b.Value) + " " + b.Unit
	if b.Limit > 0 {
		s += " of " + figure(b.Limit)
	}
	if over {
		role, s = RoleBreach, s+", over"
	}
	p.chartText(Tag{Role: role}, pt(x, y), s, West)
}

// limitMark is a stroke higher than the bar with a foot at each end.
func (p *pen) limitMark(over bool, x, y float64) {
	t := Tag{Role: RoleChartBest}
	if over {
		t.Role = RoleBreach
	}
	h := 0.75 * barThick
	ps := p.room(4)
	ps[0], ps[1], ps[2], ps[3] = pt(x-1, y+h), pt(x, y+h), pt(x, y-h), pt(x-1, y-h)
	p.line(t, ps...)
}

func (p *pen) wasMark(x, y float64) {
	p.loop(Tag{Role: RoleCGDonor}, p.disc(pt(x, y), 0.42*barThick, 4).Outer)
}

// figure writes a value for reading: whole from a hundred on, else with one decimal where it has any.
func figure(v float64) string {
	if v >= 100 || v <= -100 || v == float64(int64(v)) {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'f', 1, 64)
}
