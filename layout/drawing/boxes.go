package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
)

// boxes draws all boxes and the gear outside them, the farthest from the eye first.
func (p *pen) boxes(s *layout.Scene) {
	marked := p.o.markedBoxes()
	gear := p.gearOutside(s)
	for _, b := range byNearness(p.v, s.Boxes) {
		near := spaceNearness(p.v, b.Outer)
		for len(gear) > 0 && p.v.nearness(gear[0].Prism) <= near {
			p.gear(gear[0])
			gear = gear[1:]
		}
		if marked[b.Box.ID] {
			p.box(b)
			continue
		}
		p.drawn(layerKey{part: "box", box: b}, func(q *pen) { q.box(b) })
	}
	for _, g := range gear {
		p.gear(g)
	}
}

func byNearness(v View, boxes []*layout.BoxScene) []*layout.BoxScene {
	out := slices.Clone(boxes)
	slices.SortStableFunc(out, func(a, b *layout.BoxScene) int {
		return cmp.Compare(spaceNearness(v, a.Outer), spaceNearness(v, b.Outer))
	})
	return out
}

func spaceNearness(v View, s geometry.Space) float64 {
	n := math.Inf(-1)
	for _, q := range s.Solids {
		n = max(n, v.nearness(q))
	}
	return n
}

func (p *pen) box(b *layout.BoxScene) {
	if p.o.on(LayerBoxes) {
		p.shell(b)
	}
	if p.o.on(LayerFixings) {
		p.feet(b)
	}
	behind := func(g *layout.GearBody) bool { return p.isBehind(b, g) }
	p.gearOf(b, behind)
	p.modules(b)
	p.gearOf(b, func(g *layout.GearBody) bool { return !behind(g) })
	if p.o.on(LayerFixings) {
		p.openings(b)
	}
}

// gearOf draws the gear of a box that is picked.
func (p *pen) gearOf(b *layout.BoxScene, picked func(*layout.GearBody) bool) {
	if !p.o.on(LayerGear) {
		return
	}
	for _, g := range b.Gear {
		if picked(g) {
			p.gear(g)
		}
	}
}

// isBehind tells whether a module that is nearer to the eye covers a part of a piece of gear.
func (p *pen) isBehind(b *layout.BoxScene, g *layout.GearBody) bool {
	r, near := p.prismExtent(g.Prism), p.v.nearness(g.Prism)
	return slices.ContainsFunc(b.Modules, func(m *layout.Body) bool {
		return p.v.nearness(m.Prism) > near && p.prismExtent(m.Prism).InteriorIntersects(r)
	})
}

// shell draws the wall as two lines, one outside and one inside wall and liner, and the barriers inside.
func (p *pen) shell(b *layout.BoxScene) {
	t := p.tag(RoleBox, b.Box.ID)
	whole := p.silhouette(b.Outer)
	for _, a := range whole {
		p.fill(t, a)
	}
	p.stepLines(b)
	for _, a := range whole {
		p.outline(t, a)
	}
	inside := Tag{Role: RoleLiner, Ref: b.Box.ID}
	for _, area := range p.distinct(b.Inner.Solids) {
		p.outline(inside, area)
	}
	for i := range b.Box.Barriers {
		w := &b.Box.Barriers[i]
		area := p.prism(b.Frame.Prism(solid(w.Outline, w.FloorMM, w.CeilingMM)))
		p.shape(Tag{Role: RoleBarrier, Ref: b.Box.ID}, area.Outer)
	}
}

// stepLines draws finely the edges of the levels of a stepped box.
func (p *pen) stepLines(b *layout.BoxScene) {
	if len(b.Outer.Solids) < 2 {
		return
	}
	for _, a := range p.distinct(b.Outer.Solids) {
		p.outline(Tag{Role: RoleLiner, Ref: b.Box.ID}, a)
	}
}

// silhouette is what the view shows of a space as a whole. Where its parts cannot be joined it is the parts.
func (p *pen) silhouette(s geometry.Space) []geometry.Polygon {
	parts := p.distinct(s.Solids)
	if len(parts) < 2 {
		return parts
	}
	whole, err := geometry.Union(parts...)
	if err != nil {
		return parts
	}
	for i := range whole {
		whole[i] = whole[i].Simplified()
	}
	return whole
}

// distinct projects prisms and drops those that look the same from the eye.
func (p *pen) distinct(qs []geometry.Prism) []geometry.Polygon {
	var out []geometry.Polygon
	for _, q := range qs {
		area := p.prism(q)
		if !slices.ContainsFunc(out, func(o geometry.Polygon) bool { return alike(o, area) }) {
			out = append(out, area)
		}
	}
	return out
}

func alike(a, b geometry.Polygon) bool {
	return len(a.Outer) == len(b.Outer) && a.Bounds() == b.Bounds() && len(a.Holes) == len(b.Holes)
}

// modules draws a box's free strips and modules, the farthest first. What is wholly hidden is left out.
func (p *pen) modules(b *layout.BoxScene) {
	st := p.stackOf(b)
	for k, m := range st.bodies {
		if st.hiddenBy[k] < 0 && p.o.on(LayerStrips) {
			p.strips(m)
		}
	}
	if !p.o.on(LayerModules) {
		return
	}
	for k, m := range st.bodies {
		if st.hiddenBy[k] < 0 {
			p.module(m, st.under[k], st.faceFree(k))
		}
	}
}

func (p *pen) strips(m *layout.Body) {
	for _, s := range m.Strips {
		p.hatch(Tag{Role: RoleStrip, Ref: m.ID}, p.prism(s.Prism), Hatch{Deg: 30, PitchPt: 6})
	}
}

func (p *pen) module(m *layout.Body, under []string, labelled bool) {
	t := p.tag(RoleModule, m.ID)
	area := p.prism(m.Prism)
	p.fill(t, area)
	p.outline(t, area)
	p.state(t, area)
	if p.o.on(LayerTerminals) {
		p.terminals(m.ID, m.Terminals, terminalMM(area.Bounds()))
		p.ports(m)
	}
	if labelled && p.o.on(LayerLabels) {
		p.moduleNumber(t, m, under, area.Bounds())
	}
}

// moduleNumber sets the number in the middle, and under it what the module stands on.
func (p *pen) moduleNumber(t Tag, m *layout.Body, under []string, r r2.Rect) {
	t.Role = RoleLabel
	number := m.Placement.ID
	w, h := r.Size().X, r.Size().Y
	most := 70.0
	if p.sheet != nil {
		most = 2.4 * p.sheet.name
	}
	size := fitted(number, 0.62*w, 0.36*h, 6, most)
	if size == 0 {
		return
	}
	at := r.Center()
	below := standsOn(under)
	if p.sheet != nil {
		below = joined(standing(m.Placement), below)
	}
	if below != "" {
		p.under(t, below, at.Sub(pt(0, 0.62*size)), 0.8*w, 0.2*h, 0.55*size)
	}
	p.number(Text{Of: t, At: at, S: number, InMM: size})
}

// under sets a smaller line below a number where it fits.
func (p *pen) under(t Tag, s string, at r2.Point, w, h, most float64) {
	if size := fitted(s, w, h, 5, most); size > 0 {
		p.number(Text{Of: t, At: at, S: s, InMM: size, Anchor: North})
	}
}

// number sets a module's number; in a box's own drawing it waits until the links are drawn, to lie over them.
func (p *pen) number(t Text) {
	if p.sheet != nil && p.v == PlanView {
		p.later = append(p.later, t)
		return
	}
	p.text(t)
}

// standing words a placement's posture and turn.
func standing(m *layout.Placement) string {
	if m.Turn == 0 {
		return string(m.Posture)
	}
	return string(m.Posture) + " " + strconv.Itoa(m.Turn) + "°"
}

func joined(a, b string) string {
	if b == "" {
		return a
	}
	return a + ", " + b
}

func standsOn(under []string) string {
	switch len(under) {
	case 0:
		return ""
	case 1:
		return "over " + under[0]
	}
	return "over " + length(float64(len(under)), false) + " more"
}

// gearOutside lists the gear outside the boxes, the farthest from the eye first.
func (p *pen) gearOutside(s *layout.Scene) []*layout.GearBody {
	if !p.o.on(LayerGear) {
		return nil
	}
	out := slices.Clone(s.Gear)
	slices.SortStableFunc(out, func(a, b *layout.GearBody) int {
		return cmp.Compare(p.v.nearness(a.Prism), p.v.nearness(b.Prism))
	})
	return out
}

func (p *pen) gear(g *layout.GearBody) {
	t := p.tag(RoleGear, g.ID)
	area := p.prism(g.Prism)
	p.fill(t, area)
	p.outline(t, area)
	p.state(t, area)
	r := area.Bounds()
	if p.o.on(LayerTerminals) {
		p.terminals(g.ID, g.Terminals, terminalMM(r))
	}
	if p.o.on(LayerLabels) {
		p.gearName(t, g, r)
	}
}

// gearName sets the kind of gear, or its id where the kind does not fit.
func (p *pen) gearName(t Tag, g *layout.GearBody, r r2.Rect) {
	t.Role = RoleLabel
	for _, s := range []string{kindWords(g.Gear.Kind), g.Placed.ID} {
		if size := fitted(s, 0.9*r.Size().X, 0.5*r.Size().Y, 7, 40); size > 0 {
			name := Text{Of: t, At: r.Center(), S: s, InMM: size}
			p.taken = append(p.taken, name.extent())
			p.text(name)
			return
		}
	}
}
