package packing

import (
	"cmp"
	"slices"
)

// propped makes every module of a stack rest on a floor or on a module of the layer below it: a plane of modules is
// packed without regard to what lies under it. From the second layer on, modules over nothing go, and where the
// pattern of the layer below carries more, that is taken over; room left over is filled from the other. Modules that
// stood on those that went go in turn. The first layer is taken to be carried. What comes out of a layer is a packing of its
// plane again, so that bounds stay valid.
func (k *stacker) propped(in []solid) []solid {
	var out []solid
	for i := 0; i < len(in); {
		n := i + 1
		for n < len(in) && in[n].z == in[i].z {
			n++
		}
		if i == 0 {
			out = append(out, in[:n]...)
		} else {
			out = append(out, k.carried(in[i:n], out)...)
		}
		i = n
	}
	return out
}

// carried is what of a layer can stand on the modules below it.
func (k *stacker) carried(layer, below []solid) []solid {
	z, n := layer[0].z, layer[0].layer
	carriers := k.carriers(z, below)
	under := make([]rect, len(carriers))
	for i, t := range carriers {
		under[i] = k.plan(t)
	}
	stand := slices.DeleteFunc(slices.Clone(layer), func(t solid) bool { return !standsOver(k.plan(t), under) })
	if len(stand) == len(layer) {
		return layer
	}
	pattern := slices.Clone(carriers)
	for i := range pattern {
		pattern[i].z, pattern[i].layer = z, n
	}
	kept, repeated := k.filled(z, n, stand, pattern), k.filled(z, n, pattern, stand)
	if len(repeated) > len(kept) {
		return repeated
	}
	return kept
}

// carriers are the modules, fixed ones and those of other floors among them, that something at a height can stand on.
func (k *stacker) carriers(z int64, below []solid) []solid {
	build := planeBuilder{s: k.s, bay: k.bay, f: k.f}
	all := append(build.obstacles(k.beside), below...)
	return slices.DeleteFunc(all, func(t solid) bool { return t.z+k.s.rise(&k.s.p.Postures[t.posture]) != z })
}

// standsOver tells whether a module seen from above stands over one of those.
func standsOver(a rect, under []rect) bool {
	return slices.ContainsFunc(under, func(b rect) bool {
		return a.lo.x < b.hi.x && b.lo.x < a.hi.x && a.lo.y < b.hi.y && b.lo.y < a.hi.y
	})
}

// plan is a module seen from above.
func (k *stacker) plan(t solid) rect {
	o := newOption(k.s.lat, &k.s.p.Postures[t.posture], t.posture, t.turn, 0, 0)
	return o.body().at(vec{t.x, t.y})
}

// filled stands modules on the plane at a height, those of the first list and then those of the second, where they may
// stand and do not conflict with those before.
func (k *stacker) filled(z int64, layer int, first, second []solid) []solid {
	p := k.planeAt(z, layer, k.fitting(z)).p
	if p == nil {
		return nil
	}
	var out []solid
	var spots []spot
	for _, list := range [][]solid{first, second} {
		for _, t := range list {
			s := spot{p.optionOf(turned{t.posture, t.turn}), vec{t.x, t.y}}
			free := s.opt >= 0 && p.allowed(s) && !slices.ContainsFunc(spots, func(q spot) bool { return p.conflict(q, s) })
			if free {
				spots, out = append(spots, s), append(out, t)
			}
		}
	}
	slices.SortFunc(out, func(a, b solid) int { return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.x, b.x)) })
	return out
}

// optionOf is the option of a posture in a turn, -1 where the plane has none.
func (p *plane) optionOf(t turned) int {
	return slices.IndexFunc(p.options[:p.usable], func(o option) bool {
		return o.posture == t.posture && o.turn == t.turn || slices.Contains(o.same, t)
	})
}
