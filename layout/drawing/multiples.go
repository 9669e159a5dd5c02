package drawing

import "github.com/golang/geo/r2"

// Multiples sets lists side by side in columns, all at the same scale so that they compare, each in a cell of w by
// h millimetres on paper with its title under it. The result is in millimetres on paper, at 1:1.
func Multiples(title string, lists []*List, columns int, w, h float64) *List {
	columns = max(columns, 1)
	const words = 6.0
	scale := 0.0
	for _, l := range lists {
		if !l.Bounds.IsEmpty() {
			scale = max(scale, l.Bounds.Size().X/w, l.Bounds.Size().Y/(h-words))
		}
	}
	if scale == 0 {
		scale = 1
	}
	p := newPen(PlanView, &Options{})
	for i, l := range lists {
		x, y := float64(i%columns)*(w+4), -float64(i/columns)*(h+4)
		cell := p.rect(pt(x, y-h), pt(x+w, y))
		p.loop(Tag{Role: RoleGrid}, cell.Outer)
		p.cell(l.Scaled(1/scale), cell.Bounds().Center().Add(pt(0, words/2)))
		p.chartText(Tag{Role: RoleLabel}, pt(x+w/2, y-h+words/2), l.Title, Middle)
	}
	return p.chart(title)
}

// cell adds a list's items with its middle at c, in thin lines.
func (p *pen) cell(l *List, c r2.Point) {
	if l.Bounds.IsEmpty() {
		return
	}
	m := l.Shifted(c.Sub(l.Bounds.Center()))
	for _, it := range m.Items {
		if s, ok := it.(Stroke); ok {
			s.Pt = 0.35
			it = s
		}
		p.items = append(p.items, it)
	}
}
