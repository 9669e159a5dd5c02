package drawing

// Band is a range of voltage with a name.
type Band struct {
	Name    string
	Lo, Hi  float64 // volts
	Nominal float64 // 0: none
	Sag     float64 // lowest voltage under load; 0: none
	Ref     string
}

const (
	voltRow   = 8.5
	voltThick = 4.5
	voltNames = 34.0
	voltTexts = 40.0
)

// VoltageScale draws the pack's voltage from lowest to highest on a scale, and under it the windows that it has
// to stay inside: inverter, charger. Where the pack leaves a window, that part is cross-hatched and said in words.
func VoltageScale(title string, pack Band, windows []Band, widthMM float64) *List {
	vs := []float64{pack.Lo, pack.Hi}
	if pack.Sag > 0 {
		vs = append(vs, pack.Sag)
	}
	for _, w := range windows {
		vs = append(vs, w.Lo, w.Hi)
	}
	a := Axis{}.spanning(vs)
	v := voltScale{newPen(PlanView, &Options{}), a, widthMM - voltNames - voltTexts}
	v.pack(pack)
	for i, w := range windows {
		v.window(w, pack, -float64(i+1)*voltRow)
	}
	v.scale(-float64(len(windows)+1) * voltRow)
	v.p.reach(pt(widthMM-voltNames, 0))
	return v.p.chart(title)
}

type voltScale struct {
	p *pen
	a Axis
	w float64
}

func (v voltScale) x(volt float64) float64 { return v.w * (volt - v.a.Lo) / (v.a.Hi - v.a.Lo) }

func (v voltScale) pack(b Band) {
	t := Tag{Role: RoleChartMark, Ref: b.Ref}
	h := voltThick / 2
	v.p.chartText(Tag{Role: RoleChartAxis}, pt(-2, 0), b.Name, East)
	area := v.p.rect(pt(v.x(b.Lo), -h), pt(v.x(b.Hi), h))
	v.p.fill(t, area)
	v.p.loop(t, area.Outer)
	if b.Nominal > 0 {
		v.p.segment(Tag{Role: RoleLabel}, pt(v.x(b.Nominal), -h-0.8), pt(v.x(b.Nominal), h+0.8))
	}
	if b.Sag > 0 {
		v.p.segment(Tag{Role: RoleCGDonor}, pt(v.x(b.Sag), 0), pt(v.x(b.Lo), 0))
		v.p.loop(Tag{Role: RoleCGDonor}, v.p.disc(pt(v.x(b.Sag), 0), 1.3, 4).Outer)
	}
	v.p.chartText(Tag{Role: RoleChartAxis}, pt(v.w+2.5, 0), packWords(b), West)
}

func packWords(b Band) string {
	s := figure(b.Lo)
	if b.Nominal > 0 {
		s += " / " + figure(b.Nominal)
	}
	s += " / " + figure(b.Hi) + " V"
	if b.Sag > 0 {
		s += ", " + figure(b.Sag) + " under load"
	}
	return s
}

func (v voltScale) window(w, pack Band, y float64) {
	t := Tag{Role: RoleWindow, Ref: w.Ref}
	h := voltThick / 2
	v.p.chartText(Tag{Role: RoleChartAxis}, pt(-2, y), w.Name, East)
	area := v.p.rect(pt(v.x(w.Lo), y-h), pt(v.x(w.Hi), y+h))
	v.p.fill(t, area)
	v.p.loop(t, area.Outer)
	low := pack.Lo
	if pack.Sag > 0 {
		low = min(low, pack.Sag)
	}
	below, above := low < w.Lo, pack.Hi > w.Hi
	if below {
		v.outside(w.Ref, low, min(w.Lo, pack.Hi), y)
	}
	if above {
		v.outside(w.Ref, max(w.Hi, pack.Lo), pack.Hi, y)
	}
	role := RoleChartAxis
	s := figure(w.Lo) + " to " + figure(w.Hi) + " V"
	if below || above {
		role, s = RoleBreach, s+leaves(below, above)
	}
	v.p.chartText(Tag{Role: role}, pt(v.w+2.5, y), s, West)
}

func leaves(below, above bool) string {
	switch {
	case below && above:
		return ", pack under and over"
	case below:
		return ", pack under"
	}
	return ", pack over"
}

func (v voltScale) outside(ref string, lo, hi, y float64) {
	h := voltThick / 2
	area := v.p.rect(pt(v.x(lo), y-h), pt(v.x(hi), y+h))
	v.p.hatch(Tag{Role: RoleBreach, Ref: ref}, area, Hatch{Deg: 45, PitchPt: 3, Cross: true})
	v.p.loop(Tag{Role: RoleBreach, Ref: ref}, area.Outer)
}

func (v voltScale) scale(y float64) {
	t := Tag{Role: RoleChartAxis}
	step := niceStep(v.a.Hi-v.a.Lo, 7)
	top := voltRow / 2
	v.p.segment(t, pt(0, y+top), pt(v.w, y+top))
	for _, volt := range ticks(v.a.Lo, v.a.Hi, step) {
		x := v.x(volt)
		v.p.segment(Tag{Role: RoleGrid}, pt(x, y+top), pt(x, top))
		v.p.segment(t, pt(x, y+top), pt(x, y+top-1.2))
		v.p.chartText(t, pt(x, y+top-1.8), tickText(volt, step), North)
	}
	v.p.chartText(t, pt(v.w+6, y+top-1.8), "V", North)
}
