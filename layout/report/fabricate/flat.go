package fabricate

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/mass"
)

// The sheet sizes taken where the plan states none, as the plan's field reference has them.
const (
	sheetLength = 2000.0
	sheetWidth  = 1000.0
)

// SheetSize is the size of the sheets bought, mm.
func SheetSize(s layout.Sheet) (length, width float64) {
	length, width = s.LengthMM, s.WidthMM
	if length == 0 {
		length = sheetLength
	}
	if width == 0 {
		width = sheetWidth
	}
	return math.Max(length, width), math.Min(length, width)
}

// Flatten works out the blanks of a box from its panels, the mass ledger's. Where the edges are folded, walls are bent up from the floor and flanges
// out from the walls, as far as the flat pattern does not run into itself and goes onto the sheet; what does not is
// cut as a piece of its own and welded, and a remark says so.
func Flatten(b *layout.Box, panels []mass.Panel, sheet layout.Sheet) Box {
	f := flattener{box: b, sheet: sheet, up: uprightOf(b.Shell.LidSide == "bottom"), out: Box{Box: b, Panels: panels}}
	f.sort()
	for _, p := range f.floors {
		f.tray(p)
	}
	for _, w := range f.walls {
		if !f.used[w.panel.ID] {
			f.loose(w)
		}
	}
	for _, p := range f.flanges {
		if !f.used[p.ID] {
			f.flat(p, nil)
		}
	}
	for _, p := range f.lids {
		f.flat(p, f.lidHoles(p))
	}
	for _, p := range f.others {
		f.flat(p, nil)
	}
	f.number()
	f.remarks()
	return f.out
}

// flattener holds a box while it is laid flat.
type flattener struct {
	box   *layout.Box
	sheet layout.Sheet
	up    upright
	out   Box
	used  map[string]bool
	told  []told

	floors, flanges, lids, others []*mass.Panel
	walls                         []*wall
}

func (f *flattener) sort() {
	f.used = map[string]bool{}
	for i := range f.out.Panels {
		p := &f.out.Panels[i]
		switch p.Kind {
		case mass.FloorPanel:
			f.floors = append(f.floors, p)
		case mass.WallPanel:
			f.walls = append(f.walls, &wall{panel: p, foot: p.Outline.Bounds().Y.Lo, bend: f.bend(p.ThicknessMM)})
		case mass.FlangePanel:
			f.flanges = append(f.flanges, p)
		case mass.LidPanel:
			f.lids = append(f.lids, p)
		default:
			f.others = append(f.others, p)
		}
	}
	if f.folded() {
		for _, p := range f.flanges {
			f.hang(p)
		}
	}
	sort.SliceStable(f.floors, func(i, j int) bool { return f.floors[i].AreaMM2 > f.floors[j].AreaMM2 })
}

func (f *flattener) folded() bool { return f.box.Shell.Join != "weld" }

func (f *flattener) bend(thickness float64) Bend {
	k := f.sheet.KFactor
	if k == 0 {
		k = KFactor(f.box.Shell.Bend(), thickness)
	}
	return Bend{Deg: 90, RadiusMM: f.box.Shell.Bend(), ThicknessMM: thickness, K: k}
}

// hang finds the wall that a flange strip is bent from.
func (f *flattener) hang(p *mass.Panel) {
	z := f.up.height(p) + p.ThicknessMM/2
	ring := p.Outline.Outer
	if len(ring) != 4 {
		return
	}
	for _, w := range f.walls {
		shift, ok := along(p, 0, plan(w.panel.Origin.Add(w.panel.Normal.Mul(w.panel.ThicknessMM/2))), plan(w.panel.U))
		base := [2]float64{ring[0].X + shift, ring[3].X + shift}
		top, found := w.topAt(z, base)
		if !ok || !found {
			continue
		}
		width := -p.Outline.Bounds().Y.Lo
		if width <= w.bend.RadiusMM {
			return
		}
		w.flanges = append(w.flanges, flangeStrip{panel: p, z: z, base: base, top: top, tip: [2]float64{ring[1].X + shift, ring[2].X + shift}, width: width, shift: shift, bolted: boltPlaces(p)})
		f.used[p.ID] = true
		return
	}
}

// topAt is the stretch of the wall's upper edge at a height over which a strip lies, and whether there is one.
func (w *wall) topAt(z float64, base [2]float64) (top [2]float64, ok bool) {
	ring := w.panel.Outline.Normalised().Outer
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if near(p.Y, z) && near(q.Y, z) && q.X < p.X && base[0] > q.X-w.reach() && base[1] < p.X+w.reach() {
			return [2]float64{q.X, p.X}, true
		}
	}
	return top, false
}

// fold is a wall that can be bent up from a side of a floor.
type fold struct {
	side  int
	wall  *wall
	shift float64 // s of the side less u of the wall
}

// folds are the walls that stand on a whole side of the floor, the longest first.
func (f *flattener) folds(p *mass.Panel, sides []side) []fold {
	var out []fold
	for i, s := range sides {
		for _, w := range f.walls {
			if f.used[w.panel.ID] || !near(w.panel.ThicknessMM, p.ThicknessMM) || !footed(w.panel) || !near(w.foot, f.up.height(p)+p.ThicknessMM/2) {
				continue
			}
			shift, ok := along(w.panel, w.panel.ThicknessMM/2, s.a, s.dir)
			lo, hi := w.extent()
			t := w.panel.ThicknessMM / 2
			if ok && near(lo+shift, t*s.turnA) && near(hi+shift, s.length-t*s.turnB) {
				out = append(out, fold{i, w, shift})
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return sides[out[i].side].length > sides[out[j].side].length })
	return out
}

// tray lays a floor flat with the walls that can be bent up from it.
func (f *flattener) tray(p *mass.Panel) {
	floor := p.Outline.Normalised()
	if !f.folded() || len(floor.Holes) > 0 {
		f.flat(p, nil)
		return
	}
	sides := sidesOf(floor.Outer)
	var chosen []fold
	for _, c := range f.folds(p, sides) {
		try := append(chosen[:len(chosen):len(chosen)], c)
		why := f.fits(f.trayOutline(p, sides, try))
		if spent(sides, moved(sides, try)) {
			why = "would run into itself"
		}
		if why != "" {
			f.remark("Cut on their own and welded, since bent up from "+p.ID+" the flat pattern "+why, c.wall.panel.ID)
			continue
		}
		chosen = try
	}
	if len(chosen) == 0 {
		f.flat(p, nil)
		return
	}
	f.addTray(p, sides, chosen)
}

// fits tells why a flat pattern cannot be cut in one piece, or nothing.
func (f *flattener) fits(outline geometry.Ring) string {
	p := geometry.Polygon{Outer: outline}
	size := p.Bounds().Size()
	l, w := SheetSize(f.sheet)
	if math.Max(size.X, size.Y) > l-2*sheetMargin || math.Min(size.X, size.Y) > w-2*sheetMargin {
		return fmt.Sprintf("would not go onto a sheet of %g x %g mm", l, w)
	}
	if len(p.Validate()) > 0 {
		return "would run into itself"
	}
	return ""
}

// moved are the floor's corners once the folds' sides are moved in to where their bends begin.
func moved(sides []side, folds []fold) []r2.Point {
	in := map[int]float64{}
	for _, c := range folds {
		in[c.side] = c.wall.bend.Setback()
	}
	return corners(sides, in)
}

// spent tells whether the bends beside a short side of the floor take up more than all of it.
func spent(sides []side, cs []r2.Point) bool {
	for i, s := range sides {
		if s.dir.Dot(cs[(i+1)%len(cs)].Sub(cs[i])) < 0 {
			return true
		}
	}
	return false
}

// corners are the floor's corners with the folded sides moved in to where their bends begin.
func corners(sides []side, in map[int]float64) []r2.Point {
	out := make([]r2.Point, len(sides))
	for i, s := range sides {
		k := (i + len(sides) - 1) % len(sides)
		out[i] = meet(sides[k].at(0, -in[k]), sides[k].dir, s.at(0, -in[i]), s.dir)
	}
	return out
}

// meet is where two lines cross; where they run alike, the second one's point.
func meet(p, d, q, e r2.Point) r2.Point {
	c := d.Cross(e)
	if math.Abs(c) < 1e-9 {
		return q
	}
	return p.Add(d.Mul(q.Sub(p).Cross(e) / c))
}

// prepare sets a wall up for being bent from a floor.
func (f *flattener) prepare(c fold, s side, floor float64) {
	b := c.wall.bend
	t := c.wall.panel.ThicknessMM
	c.wall.below, c.wall.taken = floor, b.Deduction()
	c.wall.start = b.Allowance() - b.Setback()
	c.wall.trim = [2]float64{math.Max(0, t/2*s.turnA), math.Max(0, t/2*s.turnB)}
}

// trayOutline is the outline of a floor with walls laid out round it, in plan.
func (f *flattener) trayOutline(p *mass.Panel, sides []side, folds []fold) geometry.Ring {
	at := map[int]fold{}
	for _, c := range folds {
		f.prepare(c, sides[c.side], p.ThicknessMM)
		at[c.side] = c
	}
	cs := moved(sides, folds)
	var out geometry.Ring
	for i, s := range sides {
		out = append(out, cs[i])
		c, ok := at[i]
		if !ok {
			continue
		}
		next := cs[(i+1)%len(cs)]
		a, b := s.dir.Dot(cs[i].Sub(s.a)), s.dir.Dot(next.Sub(s.a))
		out = append(out, s.at(a, c.wall.start))
		for _, q := range c.wall.chain() {
			out = append(out, s.at(q.X+c.shift, q.Y))
		}
		out = append(out, s.at(b, c.wall.start))
	}
	return tidy(out)
}

// tidy drops corners that repeat, or nearly: nobody cuts an edge of two hundredths.
func tidy(r geometry.Ring) geometry.Ring {
	var out geometry.Ring
	for i, q := range r {
		if q.Sub(r[(i+len(r)-1)%len(r)]).Norm() > 2*geometry.Lattice {
			out = append(out, q)
		}
	}
	return geometry.Polygon{Outer: out}.Simplified().Outer
}

func tidied(p geometry.Polygon) geometry.Polygon {
	p = p.Simplified()
	p.Outer = tidy(p.Outer)
	return p
}

func (f *flattener) addTray(p *mass.Panel, sides []side, folds []fold) {
	b := Blank{Kind: "tray", Panels: []string{p.ID}, Material: p.Material, ThicknessMM: p.ThicknessMM, Holes: holesOf(p)}
	b.Outline = geometry.Polygon{Outer: f.trayOutline(p, sides, folds)}
	cs := moved(sides, folds)
	for _, c := range folds {
		s, w := sides[c.side], c.wall
		f.take(&b, w)
		y := w.bend.Allowance()/2 - w.bend.Setback()
		a, z := s.dir.Dot(cs[c.side].Sub(s.a)), s.dir.Dot(cs[(c.side+1)%len(cs)].Sub(s.a))
		b.Bends = append(b.Bends, BendLine{A: s.at(a, y), B: s.at(z, y), Up: true, Bend: w.bend})
		for _, l := range w.bends() {
			l.A, l.B = s.at(l.A.X+c.shift, l.A.Y), s.at(l.B.X+c.shift, l.B.Y)
			b.Bends = append(b.Bends, l)
		}
		for _, h := range w.holes() {
			h.At = s.at(h.At.X+c.shift, h.At.Y)
			h.TurnDeg = math.Atan2(s.dir.Y, s.dir.X) * 180 / math.Pi
			b.Holes = append(b.Holes, h)
		}
	}
	f.add(b, p.DensityKgM3)
}

// take notes that a wall and its flanges are in a blank.
func (f *flattener) take(b *Blank, w *wall) {
	f.used[w.panel.ID] = true
	b.Panels = append(b.Panels, w.panel.ID)
	for _, s := range w.flanges {
		b.Panels = append(b.Panels, s.panel.ID)
	}
}

// loose lays a wall flat by itself, with its flanges.
func (f *flattener) loose(w *wall) {
	w.below, w.taken, w.start, w.trim = 0, 0, 0, [2]float64{}
	p := w.panel
	if len(w.flanges) == 0 || len(p.Outline.Holes) > 0 {
		f.loosen(w)
		f.used[p.ID] = true
		f.flat(p, nil)
		return
	}
	b := Blank{Kind: "wall", Material: p.Material, ThicknessMM: p.ThicknessMM, Outline: geometry.Polygon{Outer: tidy(w.chain())}, Bends: w.bends(), Holes: w.holes()}
	if why := f.fits(b.Outline.Outer); why != "" {
		f.remark("Flanges cut on their own and welded, since in one piece with the wall the flat pattern "+why, p.ID)
		f.loosen(w)
		f.used[p.ID] = true
		f.flat(p, nil)
		return
	}
	f.take(&b, w)
	f.add(b, p.DensityKgM3)
}

// loosen gives back a wall's flanges, to be cut on their own.
func (f *flattener) loosen(w *wall) {
	for _, s := range w.flanges {
		f.used[s.panel.ID] = false
	}
	w.flanges = nil
}

// flat cuts a panel as it is.
func (f *flattener) flat(p *mass.Panel, more []Hole) {
	b := Blank{Kind: string(p.Kind), Panels: []string{p.ID}, Material: p.Material, ThicknessMM: p.ThicknessMM, Outline: tidied(p.Outline), Holes: append(holesOf(p), more...)}
	if b.Outline.IsEmpty() {
		f.remark("Too narrow to cut, left out", p.ID)
		return
	}
	if p.Kind == mass.FlangePanel {
		for _, u := range boltPlaces(p) {
			b.Holes = append(b.Holes, Hole{For: "lid bolt " + lidBolt, At: r2.Point{X: u, Y: p.Outline.Bounds().Center().Y}, DiameterMM: clearanceHole(lidBolt), Drilled: true})
		}
	}
	f.add(b, p.DensityKgM3)
	size := b.Outline.Bounds().Size()
	if l, w := SheetSize(f.sheet); math.Max(size.X, size.Y) > l || math.Min(size.X, size.Y) > w {
		f.remark(fmt.Sprintf("Too large for a sheet of %g x %g mm: buy a larger one, or join", l, w), p.ID)
	}
}

// lidHoles are the bolts of the flanges under a lid, in the lid's plane.
func (f *flattener) lidHoles(lid *mass.Panel) []Hole {
	var out []Hole
	for _, p := range f.flanges {
		if !near(f.up.height(p)+p.ThicknessMM/2, f.up.height(lid)-lid.ThicknessMM/2) {
			continue
		}
		mid := p.Outline.Bounds().Center().Y
		for _, u := range boltPlaces(p) {
			q := plan(p.Origin.Add(p.U.Mul(u)).Add(p.V.Mul(mid)))
			if lid.Outline.Contains(q) == geometry.Inside {
				out = append(out, Hole{For: "lid bolt " + lidBolt, At: q, DiameterMM: clearanceHole(lidBolt), Drilled: true})
			}
		}
	}
	return out
}

func (f *flattener) add(b Blank, density float64) {
	b.finish(density)
	b.Pieces = 1
	for i := range f.out.Blanks {
		if o := &f.out.Blanks[i]; o.alike(&b) {
			o.Pieces++
			o.Panels = append(o.Panels, b.Panels...)
			return
		}
	}
	f.out.Blanks = append(f.out.Blanks, b)
}

// number names the blanks by box and kind.
func (f *flattener) number() {
	n, all := map[string]int{}, map[string]int{}
	for _, b := range f.out.Blanks {
		all[b.Kind]++
	}
	for i := range f.out.Blanks {
		b := &f.out.Blanks[i]
		n[b.Kind]++
		b.ID = f.box.ID + "/" + b.Kind
		if all[b.Kind] > 1 {
			b.ID += fmt.Sprintf("-%d", n[b.Kind])
		}
	}
}

// told is something to say about panels.
type told struct {
	text string
	of   []string
}

func (f *flattener) remark(text, of string) {
	for i := range f.told {
		if f.told[i].text == text {
			f.told[i].of = append(f.told[i].of, of)
			return
		}
	}
	f.told = append(f.told, told{text, []string{of}})
}

func (f *flattener) remarks() {
	for _, t := range f.told {
		f.out.Remarks = append(f.out.Remarks, t.text+": "+strings.Join(t.of, ", ")+".")
	}
}
