package mass

import (
	"fmt"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// boxWeight is a box with all that is in it. It is taken over between results while the box stays the same.
type boxWeight struct {
	scene   *layout.BoxScene
	panels  []Panel
	entries []Entry
	links   Entry // estimates, which figures from the caller replace
	coolant Entry
	sum     sum // of entries; without the errors of module masses, which types hold
	types   []typeSum
	middle  r3.Vector
	shellKg float64
}

// boxTotal is a box with those of its estimates that nothing given replaces.
type boxTotal struct {
	of   *boxWeight
	own  []Entry // the estimates
	sum  sum     // without the errors of module masses: there they join those of other boxes' modules
	full sum     // with them
}

// typeSum is all modules of one type in a box: the row of one kilogram at each.
type typeSum struct {
	module *vehicles.Module
	count  float64
	at     row
}

// weighBox weighs a box. Panels of old are taken over where only the box's place or contents changed.
func weighBox(b *layout.BoxScene, old *boxWeight, s *layout.Scene, d defaults) *boxWeight {
	w := &boxWeight{scene: b}
	if old != nil && samePanels(b.Box, old.scene.Box) {
		w.panels = old.panels
	} else {
		w.panels = Panels(b.Box)
	}
	for i := range w.panels {
		w.shellKg += w.panels[i].Kg
	}
	w.middle = boxMiddle(b)
	w.entries = make([]Entry, 0, 8+len(b.Gear))
	w.addPanels(d)
	w.addModules(d)
	w.addGear(d)
	w.addConnectors(s.Library, d)
	w.links = linkEntry(b, s.Plan.Settings.Electric, d)
	w.coolant = coolantEntry(b, s.Plan.Settings.Cooling, d)
	return w
}

// samePanels tells whether two boxes have the same sheet. Edits replace lists, they never change them in place.
func samePanels(a, b *layout.Box) bool {
	return a.Shell == b.Shell && sameList(a.Levels, b.Levels) && sameList(a.Feet, b.Feet) &&
		sameList(a.Openings, b.Openings) && sameList(a.Barriers, b.Barriers)
}

func sameList[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

func (w *boxWeight) add(e Entry) {
	w.sum.addEntry(&e)
	w.entries = append(w.entries, e)
}

// sheetLines are the ledger's lines of a box's own mass, by panel kind.
var sheetLines = []struct {
	id, name string
	group    Group
	kinds    []PanelKind
}{
	{"sheet", "walls and floor", Sheet, []PanelKind{WallPanel, FloorPanel}},
	{"lid", "lid", Sheet, []PanelKind{LidPanel}},
	{"flanges", "lid flange", Sheet, []PanelKind{FlangePanel}},
	{"feet", "feet", Sheet, []PanelKind{FootPanel}},
	{"liner", "insulating liner", Liner, []PanelKind{LinerPanel}},
	{"barriers", "barriers", Liner, []PanelKind{BarrierPane}},
}

func (w *boxWeight) addPanels(d defaults) {
	x, y, z := w.axes()
	for _, l := range sheetLines {
		var part sum
		n := 0
		for i := range w.panels {
			if p := &w.panels[i]; p.Kind == l.kinds[0] || p.Kind == l.kinds[len(l.kinds)-1] {
				part.exact(p.Kg, w.scene.Frame.ToVehicle(p.Centroid), p.own.turned(x, y, z))
				n++
			}
		}
		if n > 0 {
			w.add(part.entry(w.id(l.id), l.group, w.scene.Box.ID, l.name, n, Computed).settle(0, d))
		}
	}
}

// entry makes one line of what a sum holds.
func (s *sum) entry(id string, g Group, of, name string, n int, known string) Entry {
	c := s.cg()
	return Entry{ID: id, Group: g, Of: of, Name: name, Count: n, Kg: s.kg(), Known: known, At: c, Own: s.second.moved(s.kg(), s.moments(), c)}
}

func (w *boxWeight) id(part string) string { return w.scene.Box.ID + "/" + part }

// axes are the box's axes in the vehicle.
func (w *boxWeight) axes() (x, y, z r3.Vector) {
	f := w.scene.Frame
	return f.Direction(r3.Vector{X: 1}), f.Direction(r3.Vector{Y: 1}), r3.Vector{Z: 1}
}

func (w *boxWeight) addModules(d defaults) {
	for _, m := range w.moduleTypes() {
		var part sum
		t := typeSum{module: m}
		x, y, z := w.axes()
		for _, b := range w.scene.Modules {
			if b.Module != m {
				continue
			}
			part.exact(m.MassKg, b.CG, blockSecond(m.MassKg, b.Pose.Extent()).turned(x, y, z))
			t.count++
			t.at = t.at.plus(at(b.CG), 1)
		}
		e := part.entry(w.id("modules/"+m.ID), Modules, w.scene.Box.ID, m.Name, int(t.count), "datasheet")
		e = e.settle(m.PlusMinusKg*t.count, d)
		w.sum.plus(&part)
		w.entries = append(w.entries, e)
		w.types = append(w.types, t)
	}
}

// moduleTypes are the types in the order of their first module.
func (w *boxWeight) moduleTypes() []*vehicles.Module {
	var out []*vehicles.Module
next:
	for _, b := range w.scene.Modules {
		for _, m := range out {
			if m == b.Module {
				continue next
			}
		}
		out = append(out, b.Module)
	}
	return out
}

// moduleHalf is the half width of one module's mass.
func moduleHalf(m *vehicles.Module, d defaults) float64 {
	return or(m.PlusMinusKg, m.MassKg*d.datasheet)
}

func (w *boxWeight) addGear(d defaults) {
	x, y, z := w.axes()
	for _, g := range w.scene.Gear {
		e := gearEntry(g, w.scene.Box.ID, d)
		e.Own = e.Own.turned(x, y, z)
		w.add(e)
	}
}

// gearEntry is the line of a piece of gear; its middle is taken as its centre of gravity.
func gearEntry(g *layout.GearBody, of string, d defaults) Entry {
	e := Entry{
		ID: "gear/" + g.ID, Group: Gear, Of: of, Name: g.Gear.Name, Count: 1, Kg: g.Gear.MassKg, Known: "datasheet",
		At: g.CG, Own: blockSecond(g.Gear.MassKg, g.Pose.Extent()),
	}
	return e.settle(g.Gear.PlusMinusKg, d)
}

// addConnectors counts the connector that an opening names, unless it is placed in the box as gear already.
func (w *boxWeight) addConnectors(lib *vehicles.Library, d defaults) {
	for i := range w.scene.Box.Openings {
		o := &w.scene.Box.Openings[i]
		if o.Gear == "" || w.placed(o.Gear) {
			continue
		}
		g := lib.Gear(o.Gear)
		if g == nil {
			continue
		}
		e := Entry{
			ID: w.id(fmt.Sprintf("opening/%s", o.ID)), Group: Gear, Of: w.scene.Box.ID, Name: g.Name, Count: 1,
			Kg: g.MassKg, Known: "datasheet", At: w.scene.Frame.ToVehicle(o.At.Vector()),
		}
		w.add(e.settle(g.PlusMinusKg, d))
	}
}

func (w *boxWeight) placed(id string) bool {
	for _, g := range w.scene.Gear {
		if g.Placed.ID == id {
			return true
		}
	}
	return false
}

// total sums a box up.
func (w *boxWeight) total(given map[Group]bool, d defaults) *boxTotal {
	t := &boxTotal{of: w, own: w.estimates(given), sum: w.sum}
	for i := range t.own {
		t.sum.addEntry(&t.own[i])
	}
	t.full = t.sum
	for _, m := range w.types {
		t.full.spread(m.at.times(moduleHalf(m.module, d)))
	}
	return t
}

// mass is the box with what the caller's entries say is its own.
func (t *boxTotal) mass(extras []Entry) BoxMass {
	all := t.full
	id := t.of.scene.Box.ID
	for i := range extras {
		if extras[i].Of == id {
			all.addEntry(&extras[i])
		}
	}
	return BoxMass{ID: id, Body: all.body(), SheetKg: t.of.shellKg, Panels: t.of.panels}
}

// estimates are a box's estimated lines that nothing given replaces.
func (w *boxWeight) estimates(given map[Group]bool) []Entry {
	var out []Entry
	for _, e := range []*Entry{&w.links, &w.coolant} {
		if e.Kg > 0 && !given[e.Group] {
			out = append(out, *e)
		}
	}
	return out
}
