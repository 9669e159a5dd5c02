package view

import (
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/drawing"
)

// Place puts modules and gear from the stores into the plan.
type Place struct {
	still
	m    *Model
	key  string // key of the row in the stores
	at   r2.Point
	over bool
}

// NewPlace returns the tool that places what a row of the stores stands for.
func NewPlace(m *Model, key string) *Place { return &Place{m: m, key: key} }

// Name implements [Tool].
func (t *Place) Name() string { return "Place " + t.id() }

// PlaceKey returns the key of the row in the stores that a tool places, or "".
func PlaceKey(t Tool) string {
	if p, ok := t.(*Place); ok {
		return p.key
	}
	return ""
}

func (t *Place) id() string {
	_, id, _ := strings.Cut(t.key, ":")
	return id
}

// Hint implements [Tool].
func (t *Place) Hint() string {
	if strings.HasPrefix(t.key, ModuleKey) {
		return "Click inside a box to put the module there. Esc: done."
	}
	return "Click where the gear goes: inside a box, or outside. Esc: done."
}

// Move implements [Tool].
func (t *Place) Move(p Pointer, _ bool) {
	t.at, t.over = p.At, p.View == drawing.PlanView
	if !t.over {
		t.m.Say("Place things in the plan view.")
		t.m.Drop()
		return
	}
	if t.target() == "" && strings.HasPrefix(t.key, ModuleKey) {
		t.m.Drop()
		t.m.Say("Modules go into a box. Draw a box first, or pack a bay.")
		return
	}
	if t.m.Preview(t.act(new(string))) == nil {
		t.m.Say(t.Hint())
	}
}

// target is the box under the pointer, or "".
func (t *Place) target() string {
	for _, b := range t.m.scene.Boxes {
		for _, s := range b.Outer.Solids {
			if within(s.Base.Outer, t.at) {
				return b.Box.ID
			}
		}
	}
	return ""
}

// act gives the edit that places the thing, and sets its reference.
func (t *Place) act(ref *string) Act {
	return func(p *layout.Plan, a string) (layout.Edit, error) {
		return layout.Change(p, a, t.Name(), func(a *layout.Arrangement) error {
			*ref = t.put(newEditor(a, t.m.Library()))
			return nil
		})
	}
}

// put places the thing and returns its reference.
func (t *Place) put(e *editor) string {
	box := t.target()
	ref := ""
	if strings.HasPrefix(t.key, ModuleKey) {
		ref = e.addModule(box, t.id(), t.at)
	} else {
		ref = e.addGear(box, t.id(), t.at, t.restHeight())
	}
	if ref != "" && t.m.Display.Snap {
		t.snap(e, ref)
	}
	return ref
}

// restHeight is the height at which gear outside the boxes is put: the floor of the bay under the pointer, else the
// ground clearance.
func (t *Place) restHeight() float64 {
	for _, b := range t.m.scene.Bays {
		for _, s := range b.Space.Solids {
			if within(s.Base.Outer, t.at) {
				return s.Bottom
			}
		}
	}
	if d := t.m.scene.Donor; d != nil {
		return d.GroundClearMM
	}
	return 0
}

// placeReach is how far a module that is put down snaps, mm.
const placeReach = 12

// snap lines a new module up with its neighbours and walls.
func (t *Place) snap(e *editor, ref string) {
	box, inner := Split(ref)
	b := t.m.scene.Box(box)
	if inner == "" || b == nil {
		return
	}
	_, p := e.module(ref)
	mod := t.m.Library().Module(t.id())
	if p == nil || mod == nil {
		return
	}
	pose := layout.PoseOf(mod, p)
	s := Snapper{Reach: placeReach}
	t.m.snapInside(&s, b, layout.GapsOf(mod, pose), []string{ref}, drawing.PlanView)
	x, y := s.Box(b.Frame.Polygon(pose.Prism().Base).Bounds())
	p.At = shifted(p.At, b.Frame.DirectionFrom(r3.Vector{X: x.By, Y: y.By}))
}

// Press implements [Tool].
func (t *Place) Press(p Pointer) {
	t.Move(p, true)
	t.Drop()
}

// Drop places the thing where the pointer is.
func (t *Place) Drop() {
	if !t.m.preview {
		return
	}
	ref := ""
	t.m.Drop()
	err := t.m.Do(t.act(&ref))
	if err == nil && ref != "" {
		t.m.Pick(ref)
	}
}

// Cancel implements [Tool].
func (t *Place) Cancel() { t.m.Drop() }
