package drawing

// scaleBar draws a bar of one metre in steps of 200 mm (or three feet in steps of one) under the view.
func (p *pen) scaleBar() {
	if p.o.OnScreen || !p.o.on(LayerScale) || p.bounds.IsEmpty() {
		return
	}
	step, n, unit := 200.0, 5, "1000 mm"
	if p.o.Imperial {
		step, n, unit = 12*mmPerInch, 3, "3 ft"
	}
	t := Tag{Role: RoleScaleBar}
	x, y := p.bounds.X.Lo+40, p.bounds.Y.Lo-110
	for i := range n {
		area := p.rect(pt(x+float64(i)*step, y), pt(x+float64(i+1)*step, y+26))
		if i%2 == 0 {
			p.fill(t, area)
		}
		p.loop(t, area.Outer)
	}
	end := x + float64(n)*step
	p.text(Text{Of: t, At: pt(x, y-12), S: "0", InMM: 44 * p.o.names(), Anchor: North})
	p.text(Text{Of: t, At: pt(end, y-12), S: unit, InMM: 44 * p.o.names(), Anchor: North})
}
