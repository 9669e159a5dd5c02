package layout

import (
	"encoding/json"
	"fmt"

	"stowbay/vehicles"
)

// slot is a list of the plan that edits work on. A single value counts as a list of one entry that can only be replaced.
type slot[T any] struct {
	kind  string
	fixed bool
	get   func(*Plan, where) ([]*T, error) // a fresh list of the entries; they are shared
	set   func(*Plan, where, []*T) (*Plan, error)
	equal func(a, b *T) bool // nil: alike
}

func (s *slot[T]) same(a, b *T) bool {
	switch {
	case a == b:
		return true
	case a == nil || b == nil:
		return false
	case s.equal != nil:
		return s.equal(a, b)
	}
	return alike(a, b)
}

// The lists of a plan.
var (
	headSlot = valueSlot("plan", func(p *Plan, _ where) (*Plan, *head, error) { h := p.head(); return p, &h, nil },
		func(p *Plan, _ where, h *head) *Plan { return p.withHead(*h) })
	settingsSlot = valueSlot("settings", func(p *Plan, _ where) (*Plan, *Settings, error) { return p, &p.Settings, nil },
		func(p *Plan, _ where, s *Settings) *Plan { q := *p; q.Settings = *s; return &q })
	underlaySlot    = planSlot("underlays", func(p *Plan) *[]Underlay { return &p.Underlays })
	donorSlot       = planPointers("donors", func(p *Plan) *[]*vehicles.Donor { return &p.Library.Donors })
	moduleSlot      = planPointers("module_records", func(p *Plan) *[]*vehicles.Module { return &p.Library.Modules })
	gearRecordSlot  = planPointers("gear_records", func(p *Plan) *[]*vehicles.Gear { return &p.Library.Gear })
	arrangementSlot = planPointers("arrangements", func(p *Plan) *[]*Arrangement { return &p.Arrangements })

	arrangementHeadSlot = valueSlot("arrangement", getArrangementHead, setArrangementHead)
	baySlot             = arrangementList("bays", func(a *Arrangement) *[]vehicles.Bay { return &a.Bays })
	keepOutSlot         = arrangementList("keep_outs", func(a *Arrangement) *[]vehicles.KeepOut { return &a.KeepOuts })
	boxSlot             = boxesSlot()
	gearSlot            = arrangementList("gear", func(a *Arrangement) *[]PlacedGear { return &a.Gear })
	stringSlot          = arrangementList("strings", func(a *Arrangement) *[]String { return &a.Strings })
	cableSlot           = arrangementList("cables", func(a *Arrangement) *[]Cable { return &a.Cables })
	partSlot            = arrangementList("parts", func(a *Arrangement) *[]vehicles.Part { return &a.Parts })
	mirrorSlot          = arrangementList("mirrors", func(a *Arrangement) *[]Mirror { return &a.Mirrors })

	boxHeadSlot   = valueSlot("box", getBoxHead, setBoxHead)
	placementSlot = boxList("modules", func(b *Box) *[]Placement { return &b.Modules }, func(a, b *Placement) bool { return *a == *b })
	boxGearSlot   = boxList("box_gear", func(b *Box) *[]PlacedGear { return &b.Gear }, func(a, b *PlacedGear) bool { return *a == *b })
	footSlot      = boxList("feet", func(b *Box) *[]Foot { return &b.Feet }, func(a, b *Foot) bool { return *a == *b })
	openingSlot   = boxList("openings", func(b *Box) *[]Opening { return &b.Openings }, func(a, b *Opening) bool { return *a == *b })
	barrierSlot   = boxList("barriers", func(b *Box) *[]Barrier { return &b.Barriers }, nil)
)

// slots finds a slot by its kind.
var slots = map[string]interface {
	decode(at where, text string, changes json.RawMessage) (Edit, error)
}{
	headSlot.kind: headSlot, settingsSlot.kind: settingsSlot, underlaySlot.kind: underlaySlot, donorSlot.kind: donorSlot,
	moduleSlot.kind: moduleSlot, gearRecordSlot.kind: gearRecordSlot, arrangementSlot.kind: arrangementSlot,
	arrangementHeadSlot.kind: arrangementHeadSlot, baySlot.kind: baySlot, keepOutSlot.kind: keepOutSlot, boxSlot.kind: boxSlot,
	gearSlot.kind: gearSlot, stringSlot.kind: stringSlot, cableSlot.kind: cableSlot, partSlot.kind: partSlot, mirrorSlot.kind: mirrorSlot,
	boxHeadSlot.kind: boxHeadSlot, placementSlot.kind: placementSlot, boxGearSlot.kind: boxGearSlot, footSlot.kind: footSlot,
	openingSlot.kind: openingSlot, barrierSlot.kind: barrierSlot,
}

func slotFor[T any](kind string) (*slot[T], error) {
	s, ok := slots[kind].(*slot[T])
	if !ok {
		return nil, fmt.Errorf("no edit works on %q", kind)
	}
	return s, nil
}

func refs[T any](list []T) []*T {
	out := make([]*T, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

func values[T any](refs []*T) []T {
	if len(refs) == 0 {
		return nil
	}
	out := make([]T, len(refs))
	for i, r := range refs {
		out[i] = *r
	}
	return out
}

func valueSlot[O, T any](kind string, get func(*Plan, where) (O, *T, error), set func(O, where, *T) *Plan) *slot[T] {
	return &slot[T]{
		kind:  kind,
		fixed: true,
		get: func(p *Plan, at where) ([]*T, error) {
			_, v, err := get(p, at)
			return []*T{v}, err
		},
		set: func(p *Plan, at where, list []*T) (*Plan, error) {
			owner, _, err := get(p, at)
			if err != nil {
				return nil, err
			}
			return set(owner, at, list[0]), nil
		},
	}
}

func planSlot[T any](kind string, field func(*Plan) *[]T) *slot[T] {
	return &slot[T]{
		kind: kind,
		get:  func(p *Plan, _ where) ([]*T, error) { return refs(*field(p)), nil },
		set: func(p *Plan, _ where, list []*T) (*Plan, error) {
			q := *p
			*field(&q) = values(list)
			return &q, nil
		},
	}
}

func planPointers[T any](kind string, field func(*Plan) *[]*T) *slot[T] {
	return &slot[T]{
		kind: kind,
		get:  func(p *Plan, _ where) ([]*T, error) { return append([]*T(nil), *field(p)...), nil },
		set: func(p *Plan, _ where, list []*T) (*Plan, error) {
			q := *p
			*field(&q) = list
			if len(list) == 0 {
				*field(&q) = nil
			}
			return &q, nil
		},
	}
}

func arrangementList[T any](kind string, field func(*Arrangement) *[]T) *slot[T] {
	return &slot[T]{
		kind: kind,
		get: func(p *Plan, at where) ([]*T, error) {
			a, err := p.find(at.Arrangement)
			if err != nil {
				return nil, err
			}
			return refs(*field(a)), nil
		},
		set: func(p *Plan, at where, list []*T) (*Plan, error) {
			a, err := p.find(at.Arrangement)
			if err != nil {
				return nil, err
			}
			b := *a
			*field(&b) = values(list)
			return p.WithArrangement(&b), nil
		},
	}
}

func boxesSlot() *slot[Box] {
	return &slot[Box]{
		kind: "boxes",
		get: func(p *Plan, at where) ([]*Box, error) {
			a, err := p.find(at.Arrangement)
			if err != nil {
				return nil, err
			}
			return append([]*Box(nil), a.Boxes...), nil
		},
		set: func(p *Plan, at where, list []*Box) (*Plan, error) {
			a, err := p.find(at.Arrangement)
			if err != nil {
				return nil, err
			}
			b := *a
			if b.Boxes = list; len(list) == 0 {
				b.Boxes = nil
			}
			return p.WithArrangement(&b), nil
		},
	}
}

func boxList[T any](kind string, field func(*Box) *[]T, equal func(a, b *T) bool) *slot[T] {
	return &slot[T]{
		kind:  kind,
		equal: equal,
		get: func(p *Plan, at where) ([]*T, error) {
			b, err := p.findBox(at)
			if err != nil {
				return nil, err
			}
			return refs(*field(b)), nil
		},
		set: func(p *Plan, at where, list []*T) (*Plan, error) {
			b, err := p.findBox(at)
			if err != nil {
				return nil, err
			}
			c := *b
			*field(&c) = values(list)
			return p.withBox(at.Arrangement, &c), nil
		},
	}
}
