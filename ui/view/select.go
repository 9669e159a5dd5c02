package view

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
)

// Select picks things, moves them and pulls a rubber band.
type Select struct {
	m *Model

	down    bool
	from    r2.Point
	view    drawing.View
	refs    []string // what moves; empty while a rubber band is pulled
	fixed   string   // what was pressed and cannot be moved here; no band is pulled from it
	before  r2.Rect  // what it covers before the drag
	moved   bool
	snapper Snapper
	snaps   [2]Snap
	to      r2.Point
	last    Pointer
	late    func() // what to do on release if nothing was dragged
	ghosts  []drawing.GhostPrism
	by      r2.Point

	grip    *gripDrag // what is dragged instead of things
	current *gripDrag
	hot     *Grip // under the pointer
}

// NewSelect returns the tool in hand when a window opens.
func NewSelect(m *Model) *Select { return &Select{m: m} }

// Name implements [Tool].
func (t *Select) Name() string { return "Pick and move" }

// Hint implements [Tool].
func (t *Select) Hint() string {
	if t.moved {
		return fmt.Sprintf("moved %s, %s. Shift: one direction; Alt: no snapping; Esc: back",
			t.m.Units().Delta(t.by.X, "mm"), t.m.Units().Delta(t.by.Y, "mm"))
	}
	return "Click to pick, drag to move, drag on nothing to pick several. Double click: on a module its box, on an edge picked a new corner."
}

// Press implements [Tool]. What is pressed is picked at once, so that a drag moves it. What was typed for a grip is let go.
func (t *Select) Press(p Pointer) {
	t.m.Drop()
	if t.pressOutline(p) {
		return
	}
	hit := p.Index.Top(p.At, p.Slack)
	ref := hit.Ref
	if p.Twice {
		ref, _ = Split(ref)
	}
	*t = Select{m: t.m, down: true, from: p.At, to: p.At, view: p.View}
	switch {
	case ref == "" || hit.Kind == BayKind && !t.m.Selection.Has(ref):
		t.pressOnNothing(p, ref)
	case p.Ctrl:
		t.m.Selection.Toggle(ref)
		t.m.tell(TheSelection)
	case !t.m.Selection.Has(ref):
		t.m.Pick(ref)
	default:
		t.late = func() { t.m.Pick(ref) }
	}
	switch {
	case ref == "" || !t.m.Selection.Has(ref):
	case t.m.movable(ref):
		t.take(p)
	default:
		t.fixed = ref
	}
}

// CornerReach is how much farther than other things corners and edges of what is picked can be taken hold of.
const CornerReach = 1.4

// pressOutline takes the one thing picked by a grip, puts a corner on its edge by a double click, or takes the thing by
// its edge though something else lies there.
func (t *Select) pressOutline(p Pointer) bool {
	if p.Ctrl {
		return false
	}
	if g, ok := t.m.gripNear(p); ok && !(p.Twice && g.Kind == EdgeGrip) {
		*t = Select{m: t.m, down: true, from: p.At, to: p.At, view: p.View, grip: newGripDrag(t.m, g, p), hot: &g.Grip}
		t.m.tell(TheTool)
		return true
	}
	if p.View != drawing.PlanView {
		return false
	}
	edge, on, ok := t.m.EdgeAt(p.At, p.Slack)
	if !ok {
		return false
	}
	*t = Select{m: t.m, down: true, from: p.At, to: p.At, view: p.View}
	if p.Twice {
		t.down = false
		_ = t.m.AddCornerHere(on, p.Slack)
		return true
	}
	top := p.Index.Top(p.At, p.Slack)
	t.late = func() { t.m.Pick(top.Ref) }
	if top.Ref == edge.Ref || top.Kind == Nothing || top.Kind == BayKind {
		t.late = nil
	}
	t.take(p)
	return true
}

// hover shows what is under the pointer: a corner of what is picked before anything else.
func (t *Select) hover(p Pointer) {
	t.m.SetHover(p.Index.Top(p.At, p.Slack).Ref)
	var hot *Grip
	if g, ok := t.m.gripNear(p); ok {
		hot = &g.Grip
	}
	if (hot == nil) != (t.hot == nil) || hot != nil && *hot != *t.hot {
		t.hot = hot
		t.m.tell(TheTool)
	}
}

// movable reports whether a thing can be moved here; the donor's own keep-outs are changed in the donor.
func (m *Model) movable(ref string) bool {
	box, _ := Split(ref)
	a := m.Arrangement()
	return a.Taken(box) || isSurvey(a, ref)
}

// pressOnNothing begins a rubber band; a bay under it is picked if no band is pulled.
func (t *Select) pressOnNothing(p Pointer, bay string) {
	if p.Ctrl {
		return
	}
	t.m.Pick()
	if bay != "" {
		t.late = func() { t.m.Pick(bay) }
	}
}

// take gets ready to move the things picked.
func (t *Select) take(p Pointer) {
	t.refs = slices.DeleteFunc(t.m.Selection.Refs(), func(r string) bool { return !t.m.movable(r) })
	t.before = r2.EmptyRect()
	for _, ref := range t.refs {
		t.before = t.before.Union(p.Index.Bounds(ref))
	}
	t.snapper = t.m.Snapper(t.refs, p.View)
	t.ghosts = t.m.ghosts(t.refs)
}

// Move implements [Tool].
func (t *Select) Move(p Pointer, down bool) {
	if !t.down || !down {
		t.hover(p)
		return
	}
	t.to, t.last = p.At, p
	if t.grip != nil {
		t.grip.move(p)
		return
	}
	if !t.moved && p.At.Sub(t.from).Norm() < p.Slack {
		return
	}
	t.moved = true
	if len(t.refs) == 0 {
		if t.fixed != "" {
			t.m.Say(t.fixed + " is part of the donor's survey. It is changed in the donor, not here.")
		}
		t.m.tell(TheTool)
		return
	}
	t.by = t.shift(p)
	by := Vehicle(t.view, t.by)
	if t.m.Preview(func(p *layout.Plan, a string) (layout.Edit, error) { return MoveThings(p, a, t.refs, by) }) == nil {
		t.m.Say(t.Hint())
	}
	t.m.tell(TheTool)
}

// shift is how far the things move, with snapping.
func (t *Select) shift(p Pointer) r2.Point {
	by := p.At.Sub(t.from)
	if p.Shift {
		if math.Abs(by.X) > math.Abs(by.Y) {
			by.Y = 0
		} else {
			by.X = 0
		}
	}
	t.snaps = [2]Snap{}
	if p.Alt || !t.m.Display.Snap || t.before.IsEmpty() {
		return tidyPoint(by)
	}
	t.snapper.Reach = 2 * p.Slack
	moved := r2.RectFromPoints(t.before.Lo().Add(by), t.before.Hi().Add(by))
	t.snaps[0], t.snaps[1] = t.snapper.Box(moved)
	step := r2.Point{X: t.snaps[0].By, Y: t.snaps[1].By}
	if p.Shift && by.X == 0 {
		step.X, t.snaps[0] = 0, Snap{}
	}
	if p.Shift && by.Y == 0 {
		step.Y, t.snaps[1] = 0, Snap{}
	}
	return tidyPoint(by.Add(step))
}

func tidyPoint(p r2.Point) r2.Point { return r2.Point{X: tidy(p.X), Y: tidy(p.Y)} }

// Release implements [Tool].
func (t *Select) Release(p Pointer) {
	if !t.down {
		return
	}
	if t.grip != nil {
		t.releaseGrip()
		return
	}
	moved, refs, fixed, late, band := t.moved, t.refs, t.fixed, t.late, r2.RectFromPoints(t.from, p.At)
	by := Vehicle(t.view, t.by)
	*t = Select{m: t.m}
	switch {
	case !moved:
		if late != nil {
			late()
		}
	case len(refs) > 0:
		if t.m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return MoveThings(p, a, refs, by) }) == nil {
			t.m.Say("")
		}
	case fixed == "":
		for _, ref := range p.Index.In(band) {
			t.m.Selection.Add(ref)
		}
		t.m.tell(TheSelection)
	}
	t.m.tell(TheTool)
}

// releaseGrip makes a drag one step of the history. A grip that was only clicked waits for what is typed.
func (t *Select) releaseGrip() {
	d := t.grip
	*t = Select{m: t.m, hot: t.hot}
	if d.moved {
		d.release()
	} else {
		t.current = d
		t.m.Say(d.grip.Kind.String() + ": " + d.asks() + ". Arrows: by a small step, with Shift a larger one. Esc: done")
	}
	t.m.tell(TheTool)
}

// Current returns the grip that was clicked and waits for what is typed.
func (t *Select) Current() (Grip, bool) {
	if !t.waits() {
		return Grip{}, false
	}
	return t.current.grip, true
}

// waits tells whether a grip of what is picked still waits, where it is now. Else it is let go with what was typed for it.
func (t *Select) waits() bool {
	d := t.current
	if d == nil {
		return false
	}
	for _, g := range t.m.grips(d.view, 0) {
		if g.Grip == d.grip {
			if !t.m.preview {
				d.settle()
			}
			return true
		}
	}
	t.current = nil
	t.m.Drop()
	return false
}

// Type implements [Tool]: a length, an angle, a place or a height for the grip that was clicked.
func (t *Select) Type(r rune) bool {
	if !t.waits() {
		return false
	}
	d := t.current
	switch {
	case d.typed == "" && (r == 'o' || r == 'O'):
		d.other = !d.other
	case d.typed == "" && !d.typed.begins(r, false):
		return false
	default:
		d.typed = d.typed.add(r)
		d.show()
	}
	t.m.tell(TheTool)
	return true
}

// Key implements [Tool].
func (t *Select) Key(name string) bool {
	if name == "Escape" && (t.down || t.current != nil) {
		t.Cancel()
		return true
	}
	return t.waits() && t.current.key(name)
}

// Cancel implements [Tool].
func (t *Select) Cancel() {
	if !t.down && t.current == nil {
		return
	}
	*t = Select{m: t.m}
	t.m.Drop()
	t.m.Say("")
	t.m.tell(TheTool)
}

// nudge moves the grip that was clicked by mm in the vehicle's frame, and tells whether there is one.
func (t *Select) nudge(by r3.Vector) bool {
	if !t.waits() {
		return false
	}
	d := *t.current
	d.to = d.from.Add(d.view.Point(by))
	if t.m.Do(d.act) == nil {
		t.current.settle()
		t.m.tell(TheTool)
	}
	return true
}

// Ghosts returns where the things dragged were.
func (t *Select) Ghosts() []drawing.GhostPrism {
	if !t.moved {
		return nil
	}
	return t.ghosts
}

// Overlay implements [Tool].
func (t *Select) Overlay(v drawing.View) []drawing.Item {
	for _, d := range []*gripDrag{t.grip, t.current} {
		if d != nil && v == d.view && (d.moved || d == t.current) {
			return d.overlay()
		}
	}
	if !t.moved || v != t.view {
		return nil
	}
	if len(t.refs) > 0 {
		return append(guides(t.snaps[:]...), t.note().items(t.last, t.noteAt())...)
	}
	if t.fixed != "" {
		return nil
	}
	area := geometry.NewRect(t.from.X, t.from.Y, t.to.X, t.to.Y)
	band := tag(RoleBand)
	return []drawing.Item{drawing.Fill{Of: band, Area: area}, drawing.Stroke{Of: band, Points: area.Outer, Closed: true}}
}

// noteAt is where the note stands by: the lower right corner of what is dragged, or the pointer where that is out of sight.
func (t *Select) noteAt() r2.Point {
	off := t.last.unit() * (noteOff - 4)
	corner := r2.Point{X: t.before.X.Hi + t.by.X - off, Y: t.before.Y.Lo + t.by.Y + off}
	if seen := t.last.Seen; t.before.IsEmpty() || !seen.ContainsPoint(corner) || !seen.Contains(t.note().area(t.last, corner)) {
		return t.to
	}
	return corner
}

// NoteArea is what the note beside what is dragged covers in a view; empty where there is none.
func (t *Select) NoteArea(v drawing.View) r2.Rect {
	if !t.moved || v != t.view || len(t.refs) == 0 {
		return r2.EmptyRect()
	}
	return t.note().area(t.last, t.noteAt())
}

// note says how far the things dragged have come and what they snapped to; what is breached is lit where it is.
func (t *Select) note() note {
	u := t.m.Units()
	out := note{lines: []string{u.Delta(t.by.X, "mm") + ", " + u.Delta(t.by.Y, "mm")}}
	for _, s := range t.snaps {
		if why := u.Prose(s.Why); why != "" && !slices.Contains(out.lines, why) {
			out.lines = append(out.lines, why)
		}
	}
	return out
}

// ghosts are the bodies of things as they stand now.
func (m *Model) ghosts(refs []string) []drawing.GhostPrism {
	var out []drawing.GhostPrism
	wanted := make(map[string]bool, len(refs))
	for _, ref := range refs {
		wanted[ref] = true
	}
	add := func(ref string, p ...geometry.Prism) {
		for _, q := range p {
			out = append(out, drawing.GhostPrism{Ref: ref, Prism: q})
		}
	}
	gear := func(gs []*layout.GearBody) {
		for _, g := range gs {
			if wanted[g.ID] {
				add(g.ID, g.Prism)
			}
		}
	}
	gear(m.scene.Gear)
	for i := range m.scene.Bays {
		if b := &m.scene.Bays[i]; wanted[b.Bay.ID] {
			add(b.Bay.ID, b.Space.Solids...)
		}
	}
	for _, k := range m.scene.KeepOuts {
		if wanted[k.Ref] {
			add(k.Ref, k.Prism)
		}
	}
	for _, b := range m.scene.Boxes {
		gear(b.Gear)
		if wanted[b.Box.ID] {
			add(b.Box.ID, b.Outer.Solids...)
		}
		for _, body := range b.Modules {
			if wanted[body.ID] {
				add(body.ID, body.Prism)
			}
		}
	}
	return out
}

// Snapper returns what the things picked can line up with in a view.
func (m *Model) Snapper(refs []string, v drawing.View) Snapper {
	var s Snapper
	scene := m.scene
	first := ""
	if len(refs) > 0 {
		first = refs[0]
	}
	box, inner := Split(first)
	if b := scene.Box(box); b != nil && inner != "" {
		var gaps layout.BodyGaps
		if body := scene.Body(first); body != nil {
			gaps = layout.GapsOf(body.Module, body.Pose)
		}
		m.snapInside(&s, b, gaps, refs, v)
	} else {
		m.snapOutside(&s, refs, v)
	}
	if v == drawing.PlanView && inner == "" {
		d := scene.Donor
		if d != nil {
			s.AddCentreLine([2]float64{0, d.WheelbaseMM})
		}
	}
	return s
}

// snapInside adds the walls of a box and what else is in it, at the gaps that a module keeps.
func (m *Model) snapInside(s *Snapper, b *layout.BoxScene, gaps layout.BodyGaps, refs []string, v drawing.View) {
	quarter := math.Mod(b.Box.TurnDeg, 180) != 0
	for _, p := range b.Inner.Solids {
		area, _ := shadow(v, p)
		wall := max(gaps.Wall, gaps.Swell.X/2, gaps.Swell.Y/2)
		up := wall
		if v != drawing.PlanView {
			up = 0
		}
		s.AddRing(area, wall, up, "wall")
	}
	for _, body := range b.Modules {
		if slices.Contains(refs, body.ID) {
			continue
		}
		other := layout.GapsOf(body.Module, body.Pose)
		gx := gapBetween(gaps.Between.X, other.Between.X, gaps.Swell.X, other.Swell.X)
		gy := gapBetween(gaps.Between.Y, other.Between.Y, gaps.Swell.Y, other.Swell.Y)
		if quarter {
			gx, gy = gy, gx
		}
		gz := gapBetween(gaps.Between.Z, other.Between.Z, gaps.Swell.Z, other.Swell.Z)
		area, _ := shadow(v, body.Prism)
		gap := v.Point(r3.Vector{X: gx, Y: gy, Z: gz})
		s.AddSolid(area.Bounds(), gap.X, gap.Y, body.Placement.ID)
	}
}

// gapBetween is the gap that two bodies keep: the larger of their own gaps, and half the swelling of each.
func gapBetween(a, b, swellA, swellB float64) float64 {
	return max(a, b, (swellA+swellB)/2)
}

// snapOutside adds bays with their clearance, other boxes and loose gear.
func (m *Model) snapOutside(s *Snapper, refs []string, v drawing.View) {
	scene := m.scene
	for i := range scene.Bays {
		b := &scene.Bays[i]
		if slices.Contains(refs, b.Bay.ID) {
			continue
		}
		for _, p := range b.Space.Solids {
			area, _ := shadow(v, p)
			s.AddRing(geometry.Ring(area).Polygon().Outer, b.Bay.ClearanceMM, b.Bay.ClearanceMM, "bay "+b.Bay.ID+" with clearance")
		}
	}
	for _, b := range scene.Boxes {
		if slices.Contains(refs, b.Box.ID) {
			continue
		}
		for _, p := range b.Outer.Solids {
			area, _ := shadow(v, p)
			s.AddSolid(area.Bounds(), 0, 0, b.Box.ID)
		}
		if v == drawing.PlanView {
			r := spaceBounds(b)
			s.Y = append(s.Y, Edge{At: -r.Y.Hi, Span: [2]float64{r.X.Lo, r.X.Hi}, Side: -1, Why: "mirror of " + b.Box.ID},
				Edge{At: -r.Y.Lo, Span: [2]float64{r.X.Lo, r.X.Hi}, Side: +1, Why: "mirror of " + b.Box.ID})
		}
	}
	for _, g := range scene.Gear {
		if !slices.Contains(refs, g.ID) {
			area, _ := shadow(v, g.Prism)
			s.AddSolid(area.Bounds(), 0, 0, g.ID)
		}
	}
}

// ArrowShift is the step of an arrow key in a view: right, left, up, down as drawn.
func ArrowShift(v drawing.View, key string, step float64) r3.Vector {
	d := map[string]r2.Point{"Right": {X: step}, "Left": {X: -step}, "Up": {Y: step}, "Down": {Y: -step}}[key]
	return Vehicle(v, d)
}
