package search

import (
	"context"
	"fmt"
	"time"

	"stowbay/layout"
	"stowbay/layout/fill"
	"stowbay/vehicles"
)

// Stance is a module type with the postures it is packed in.
type Stance struct {
	Module  *vehicles.Module
	Posture vehicles.Posture // empty: any mix of those the maker allows
}

// stances are the ways to pack a module type: any mix first, then each posture alone where there are several.
func stances(m *vehicles.Module) []Stance {
	out := []Stance{{Module: m}}
	if len(m.Postures) > 1 {
		for _, p := range m.Postures {
			out = append(out, Stance{m, p})
		}
	}
	return out
}

// Packing is the most modules of a stance found for a box.
type Packing struct {
	Placements []layout.Placement // with those that are locked in place
	Bound      int
	Proved     bool
	Words      string // "14 fit; 15 is proved impossible"
	Problem    string // why nothing could be packed
}

// Packings keeps packings, so that a second search packs again only the boxes that changed. It is not for several
// searches at once.
type Packings struct {
	of    map[packKey]*Packing
	boxes map[*vehicles.Bay]*layout.Box
}

type packKey struct {
	box    *layout.Box
	stance Stance
}

// NewPackings returns an empty store.
func NewPackings() *Packings {
	return &Packings{of: map[packKey]*Packing{}, boxes: map[*vehicles.Bay]*layout.Box{}}
}

// Put stores a packing that was found elsewhere.
func (ps *Packings) Put(b *layout.Box, s Stance, p *Packing) { ps.of[packKey{b, s}] = p }

// Of returns the packing of a box, or nil.
func (ps *Packings) Of(b *layout.Box, s Stance) *Packing { return ps.of[packKey{b, s}] }

// boxesOf are the arrangement's boxes, and one for each bay that has none. donor may be nil.
func (ps *Packings) boxesOf(a *layout.Arrangement, donor *vehicles.Donor) []*layout.Box {
	out := append([]*layout.Box(nil), a.Boxes...)
	taken := map[string]bool{}
	for _, b := range a.Boxes {
		taken[b.Bay] = true
	}
	for i := range a.Bays {
		bay := &a.Bays[i]
		if taken[bay.ID] {
			continue
		}
		if ps.boxes[bay] == nil {
			b, _, err := a.BoxFor(bay, donor, layout.Shell{LinerMM: 2})
			if err != nil {
				continue
			}
			ps.boxes[bay] = b
		}
		out = append(out, ps.boxes[bay])
	}
	return out
}

// pack fills what is missing. It stops between two boxes when ctx ends.
func (ps *Packings) pack(ctx context.Context, boxes []*layout.Box, ss []Stance, lib *vehicles.Library, limit time.Duration, done func(n, of int)) bool {
	if limit <= 0 {
		limit = 2 * time.Second
	}
	for i, b := range boxes {
		for k, s := range ss {
			if ctx.Err() != nil {
				return false
			}
			if key := (packKey{b, s}); ps.of[key] == nil {
				p := packOne(ctx, b, s, lib, limit)
				if ctx.Err() != nil {
					return false
				}
				ps.of[key] = p
			}
			done(i*len(ss)+k+1, len(boxes)*len(ss))
		}
		ps.mixed(b, ss)
	}
	return true
}

// mixed makes the packing in any mix of postures no worse than that in one: a time limit may have cut it short.
func (ps *Packings) mixed(b *layout.Box, ss []Stance) {
	for _, s := range ss {
		one, any := ps.of[packKey{b, s}], ps.of[packKey{b, Stance{Module: s.Module}}]
		if s.Posture == "" || len(one.Placements) <= len(any.Placements) {
			continue
		}
		n := len(one.Placements)
		ps.of[packKey{b, Stance{Module: s.Module}}] = &Packing{Placements: one.Placements, Bound: max(any.Bound, n), Proved: n >= any.Bound,
			Words: fmt.Sprintf("best found %d; no more than %d", n, max(any.Bound, n))}
	}
}

func packOne(ctx context.Context, b *layout.Box, s Stance, lib *vehicles.Library, limit time.Duration) *Packing {
	if b.Locked {
		return asItStands(b, s)
	}
	for _, m := range b.Modules {
		if m.Locked && m.Module != s.Module.ID {
			return &Packing{Problem: "module " + m.ID + " is locked in it and of another type"}
		}
	}
	w := fill.Wish{Module: s.Module, Limit: limit}
	w.Goal.Low = true
	if s.Posture != "" {
		w.Postures = []vehicles.Posture{s.Posture}
	}
	o, err := fill.Box(ctx, b, lib, w, nil)
	if err != nil {
		return &Packing{Problem: err.Error()}
	}
	return &Packing{Placements: o.Box.Modules, Bound: o.Result.Bound, Proved: o.Result.Proved, Words: fill.Words(o.Result)}
}

// asItStands takes a locked box with what is in it.
func asItStands(b *layout.Box, s Stance) *Packing {
	for _, m := range b.Modules {
		if m.Module != s.Module.ID {
			return &Packing{Problem: "the box is locked and holds " + m.Module}
		}
	}
	n := len(b.Modules)
	return &Packing{Placements: b.Modules, Bound: n, Proved: true, Words: "the box is locked"}
}
