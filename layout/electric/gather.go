package electric

import (
	"fmt"

	"stowbay/layout"
)

// place is a module with the box it stands in.
type place struct {
	facts *boxFacts
	slot  int
}

func (p place) body() *layout.Body { return p.facts.slots[p.slot].body }

// gathered is which modules make which string, before any order is found.
type gathered struct {
	id     string
	pinned bool
	places []place
}

// gather sorts the modules into strings: those that the arrangement states, or else the counts it asks for.
func (r *Result) gather() []gathered {
	a := r.Scene.Arrangement
	r.WantS, r.WantP = a.Series, max(a.Parallel, 1)
	if len(a.Strings) > 0 {
		return r.stated(a.Strings)
	}
	r.Automatic = true
	return r.counted()
}

// stated takes the strings of the arrangement. All other modules are left over.
func (r *Result) stated(ss []layout.String) []gathered {
	all := r.byID()
	used := map[string]string{}
	var out []gathered
	for i := range ss {
		s := &ss[i]
		g := gathered{id: s.ID, pinned: s.Pinned}
		for _, id := range s.Modules {
			if p, ok := r.take(all, used, s.ID, id); ok {
				g.places = append(g.places, p)
			}
		}
		if len(g.places) > 0 {
			out = append(out, g)
		}
	}
	r.leaveOver(func(id string) bool { return used[id] != "" })
	return out
}

func (r *Result) take(all map[string]place, used map[string]string, in, id string) (place, bool) {
	p, ok := all[id]
	switch {
	case !ok:
		r.problem(UnknownModule, in, []string{id}, fmt.Sprintf("String %s names %s, which is not placed in this arrangement.", in, id))
		return p, false
	case used[id] != "":
		r.problem(TwiceUsed, id, []string{id}, fmt.Sprintf("%s is in string %s and again in string %s; the second place is not counted.", id, used[id], in))
		return p, false
	}
	if !r.hasPoles(p) {
		return p, false
	}
	used[id] = in
	return p, true
}

func (r *Result) hasPoles(p place) bool {
	s := &p.facts.slots[p.slot]
	if s.usable() {
		return true
	}
	r.problem(NoTerminal, s.body.ID, []string{s.body.ID}, fmt.Sprintf("%s has no positive or no negative terminal and cannot be wired.", s.body.ID))
	return false
}

func (r *Result) byID() map[string]place {
	all := map[string]place{}
	for _, b := range r.Scene.Boxes {
		f := r.facts[b]
		for i := range f.slots {
			all[f.slots[i].body.ID] = place{f, i}
		}
	}
	return all
}

func (r *Result) leaveOver(used func(id string) bool) {
	r.Scene.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
		if !used(m.ID) {
			r.Leftover = append(r.Leftover, m)
		}
	})
}

func (r *Result) problem(kind, of string, refs []string, text string) {
	r.Problems = append(r.Problems, Problem{Kind: kind, Of: of, Refs: refs, Text: text})
}

// counted walks through all boxes once, in the order that keeps cables short, and cuts the walk into as many
// strings as asked for. Modules beyond the count at the walk's end are left over.
func (r *Result) counted() []gathered {
	boxes, members, count := r.wireable()
	series := r.WantS
	if series == 0 {
		series = count / r.WantP
	}
	if series == 0 {
		series = count
	}
	walk := r.walk(boxes, members, series)
	var out []gathered
	used := map[string]bool{}
	for len(out) < r.WantP && len(walk) > 0 {
		n := min(series, len(walk))
		for _, p := range walk[:n] {
			used[p.body().ID] = true
		}
		out = append(out, gathered{id: fmt.Sprintf("S%d", len(out)+1), places: walk[:n]})
		walk = walk[n:]
	}
	r.leaveOver(func(id string) bool { return used[id] })
	return out
}

// wireable lists the boxes that hold modules with both poles, and those modules.
func (r *Result) wireable() (boxes []*boxFacts, members map[*boxFacts][]int, count int) {
	members = map[*boxFacts][]int{}
	for _, b := range r.Scene.Boxes {
		f := r.facts[b]
		for i := range f.slots {
			if r.hasPoles(place{f, i}) {
				members[f] = append(members[f], i)
			}
		}
		if n := len(members[f]); n > 0 {
			boxes, count = append(boxes, f), count+n
		}
	}
	return boxes, members, count
}

// walk visits the modules box by box. Only in a box in which the walk is cut into strings the order inside matters
// here; the strings' own orders are found afterwards.
func (r *Result) walk(boxes []*boxFacts, members map[*boxFacts][]int, series int) []place {
	var out []place
	for _, v := range r.visit(boxes, r.WantP == 1) {
		order := members[v.facts]
		if from, to := len(out), len(out)+len(order); from/series != (to-1)/series && from < r.WantP*series {
			order = v.facts.route(order, v.entry, v.exit)
		}
		for _, i := range order {
			out = append(out, place{v.facts, i})
		}
	}
	return out
}
