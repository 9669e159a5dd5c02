package drawing

import (
	"cmp"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout"
)

// wish is a name that wants to be set at the first of several spots that is free.
type wish struct {
	s    string
	size float64 // mm of the view
	role Role
	ref  string
	at   []spot
	off  []r2.Rect // what it must not lie over besides names
	soft bool      // lie over off rather than be left out
	last bool      // let all others choose first
	near bool      // rather left out than led far
	note bool      // said of a place that a finding is about; near what it keeps off it has a leader too

	across []r2.Rect // whose sides it must not cross, though it may lie in one

	tip func(name r2.Point) r2.Point // where a leader from a place farther off ends, if no spot is free; nil: no leader
}

// rim is the tip of leaders to a circle.
func rim(c r2.Point, radius float64) func(r2.Point) r2.Point {
	return func(name r2.Point) r2.Point { return c.Add(name.Sub(c).Normalize().Mul(radius)) }
}

type spot struct {
	At     r2.Point
	Anchor Anchor
}

func (p *pen) wish(w wish) { p.wishes = append(p.wishes, w) }

// names sets bay and box names and whatever else wished for a place, none over another.
func (p *pen) names(s *layout.Scene) {
	if p.o.on(LayerLabels) {
		p.boxNames(s.Boxes)
		p.bayNames(s.Bays, s.Boxes)
	}
	p.takeTexts()
	p.grantAll()
}

// takeTexts keeps names off the texts that are set already, those of boxes from the cache among them.
func (p *pen) takeTexts() {
	for _, it := range p.items {
		if t, ok := it.(Text); ok {
			p.lettered = append(p.lettered, t.extent())
		}
	}
}

// grantAll sets names, first all that find a free spot beside what they name, so that no other one is led there.
func (p *pen) grantAll() {
	for _, last := range []bool{false, true} {
		var left []wish
		for _, w := range p.wishes {
			if w.last == last && !p.grantOff(w, w.off) {
				left = append(left, w)
			}
		}
		for _, w := range left {
			p.grantFarther(w)
		}
	}
	p.wishes = nil
}

// grantFarther sets a name that finds no spot beside what it names; one that finds none farther off is left out rather than
// set over another.
func (p *pen) grantFarther(w wish) {
	if w.tip != nil && p.grantLed(w) || !w.soft {
		return
	}
	p.grantOff(w, nil)
}

func (p *pen) grantOff(w wish, off []r2.Rect) bool {
	for _, at := range w.at {
		if r, ok := p.set(w, at, off); ok {
			if w.note && len(w.off) > 0 {
				p.leader(w, r)
			}
			return true
		}
	}
	return false
}

// haloEm is how far a name keeps off others and off what it must not lie over, in text sizes: the halo round it reaches as far.
const haloEm = 0.12

// set sets a name at a spot if nothing is there, and returns what it covers.
func (p *pen) set(w wish, at spot, off []r2.Rect) (r2.Rect, bool) {
	t := p.nameAt(w, at)
	r := t.extent()
	if !p.free(w, r, off) {
		return r, false
	}
	p.taken = append(p.taken, r)
	if w.note {
		p.noted = append(p.noted, r)
	}
	p.text(t)
	return r, true
}

func (p *pen) nameAt(w wish, at spot) Text {
	return Text{Of: p.tag(w.role, w.ref), At: at.At, S: w.s, InMM: w.size * p.o.names(), Anchor: at.Anchor, Halo: true}
}

// free tells whether a name may cover a rectangle.
func (p *pen) free(w wish, r r2.Rect, off []r2.Rect) bool {
	wide := r.ExpandedByMargin(haloEm * w.size * p.o.names())
	return p.o.holds(r) && clearOf(p.taken, wide) && clearOf(p.lettered, wide) && clearOf(off, wide) && !crosses(w.across, wide) && !p.underLeader(wide)
}

// crosses tells whether a rectangle lies partly in one of others.
func crosses(others []r2.Rect, r r2.Rect) bool {
	return slices.ContainsFunc(others, func(o r2.Rect) bool { return o.Intersects(r) && !o.Contains(r) })
}

func clearOf(taken []r2.Rect, r r2.Rect) bool {
	for _, q := range taken {
		if q.Intersects(r) {
			return false
		}
	}
	return true
}

// around lists spots about a rectangle: below, above, inside at the corners, right, left.
func around(r r2.Rect, gap float64) []spot {
	c := r.Center()
	return []spot{
		{pt(c.X, r.Y.Lo-gap), North}, {pt(c.X, r.Y.Hi+gap), South},
		{pt(r.X.Lo, r.Y.Lo-gap-20), West}, {pt(r.X.Hi, r.Y.Lo-gap-20), East},
		{pt(r.X.Lo, r.Y.Hi+gap+20), West}, {pt(r.X.Hi, r.Y.Hi+gap+20), East},
		{pt(r.X.Hi+gap, c.Y), West}, {pt(r.X.Lo-gap, c.Y), East},
	}
}

func above(r r2.Rect, gap float64) []spot {
	s := around(r, gap)
	s[0], s[1] = s[1], s[0]
	return s
}

// boxNames names the boxes that are seen, the nearest first; on a screen the longest name first, which finds a place less easily.
func (p *pen) boxNames(boxes []*layout.BoxScene) {
	if !p.o.on(LayerBoxes) {
		return
	}
	var shown, all []r2.Rect
	for _, b := range boxes {
		all = append(all, p.spaceExtent(b.Outer))
	}
	var names []wish
	for _, b := range slices.Backward(byNearness(p.v, boxes)) {
		r := p.spaceExtent(b.Outer)
		if !covered(shown, r) {
			names = append(names, wish{s: short(b.Box.Name, b.Box.ID), size: 52, role: RoleLabel, ref: b.Box.ID, at: around(r, p.gapAround()), off: all,
				soft: !p.o.OnScreen, near: p.o.OnScreen, tip: r.ClampPoint})
		}
		shown = append(shown, r)
	}
	if p.o.OnScreen {
		slices.SortStableFunc(names, func(a, b wish) int { return cmp.Compare(TextWidth(b.s), TextWidth(a.s)) })
	}
	p.wishes = append(p.wishes, names...)
}

// bayNames names the bays, but for those that another one covers in the view and those whose box says the name.
func (p *pen) bayNames(bays []layout.BayScene, boxes []*layout.BoxScene) {
	if !p.o.on(LayerBays) {
		return
	}
	var shown []r2.Rect
	for i := range bays {
		b := &bays[i]
		r := p.spaceExtent(b.Space)
		if !covered(shown, r) && !p.saidByBox(b, boxes) {
			p.wish(wish{s: "bay: " + short(b.Bay.Name, b.Bay.ID), size: 46, role: RoleBay, ref: b.Bay.ID, at: above(r, p.gapAround())})
		}
		shown = append(shown, r)
	}
}

// saidByBox tells whether a box in the bay bears the bay's name.
func (p *pen) saidByBox(bay *layout.BayScene, boxes []*layout.BoxScene) bool {
	return p.o.on(LayerBoxes) && slices.ContainsFunc(boxes, func(b *layout.BoxScene) bool {
		return b.Box.Bay == bay.Bay.ID && strings.Contains(strings.ToLower(short(b.Box.Name, b.Box.ID)), strings.ToLower(short(bay.Bay.Name, bay.Bay.ID)))
	})
}

// longestName is how many ems a name on a drawing may be wide.
const longestName = 13

// short is a name as drawings show it: as it is, or up to its first comma, or the id.
func short(name, id string) string {
	for _, s := range []string{name, before(name, ","), before(name, " (")} {
		if s != "" && TextWidth(s) <= longestName {
			return s
		}
	}
	return id
}

func before(s, sep string) string {
	head, _, _ := strings.Cut(s, sep)
	return head
}

func covered(by []r2.Rect, r r2.Rect) bool {
	return slices.ContainsFunc(by, func(q r2.Rect) bool { return q.ExpandedByMargin(1).Contains(r) })
}

func nameOr(name, id string) string {
	if name == "" {
		return id
	}
	return name
}
