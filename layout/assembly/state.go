package assembly

import "stowbay/layout"

// State is how things stand at a step, for pictures and for a player that steps forward and back.
type State struct {
	Placed map[string]bool // modules and gear in place, by id
	Joined [][2]string     // conductors that a link, lead or cable joins
	Bare   []Bare
}

// At returns the state during step i of a sequence of this model; i may be any step, in any order. It is worked out
// from the sequence's beginning: a player that goes through all steps costs a few milliseconds in all.
func (q *Sequence) At(m *Model, i int) State {
	s := State{Placed: map[string]bool{}}
	joined := map[[2]string]bool{}
	if q.Whole {
		m.Scene.Bodies(func(_ *layout.BoxScene, x *layout.Body) { s.Placed[x.ID] = true })
		for _, b := range m.Scene.Boxes {
			for _, g := range b.Gear {
				s.Placed[g.ID] = true
			}
		}
		for _, j := range m.Joints {
			joined[m.ends(j)] = true
		}
	}
	for k := 0; k <= i && k < len(q.Steps); k++ {
		switch t := &q.Steps[k]; t.Kind {
		case Place, FitFuse:
			s.Placed[t.Refs[0]] = true
		case TakeOut:
			if k < i {
				delete(s.Placed, t.Refs[0])
			}
		case FitLink:
			joined[[2]string{t.Refs[0], t.Refs[1]}] = true
		case TakeOffLink:
			if k < i {
				delete(joined, [2]string{t.Refs[0], t.Refs[1]})
			}
		}
	}
	s.Joined = make([][2]string, 0, len(joined))
	for _, j := range m.Joints {
		if joined[m.ends(j)] {
			s.Joined = append(s.Joined, m.ends(j))
		}
	}
	if i >= 0 && i < len(q.Steps) {
		s.Bare = q.Steps[i].Bare
	}
	return s
}

func (m *Model) ends(j Joint) [2]string { return [2]string{m.Conductors[j.A].ID, m.Conductors[j.B].ID} }
