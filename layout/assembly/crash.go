package assembly

import "stowbay/layout"

// Crash is what stays live once the inertia switch has dropped every contactor. Service links stay closed in a crash.
type Crash struct {
	Inertia *layout.GearBody // nil: nothing drops the contactors, and the whole pack stays switched on
	Live    []Segment
}

// Segment is a part of a string that stays joined.
type Segment struct {
	String  string
	Boxes   []*layout.BoxScene // the boxes it is in
	Members []Member
	V, J    float64
	Cables  []Between // live conductors outside the boxes
	Refs    []string  // boxes and modules, for drawings
	OpenNeg bool      // no contactor holds its negative end: what leaves the box there stays live
	OpenPos bool
}

// Between is a cable from box to box.
type Between struct {
	From, To *layout.BoxScene
	V        float64 // against the segment's negative end
}

// Crash cuts every string at its contactors.
func (m *Model) Crash() Crash {
	c := Crash{Inertia: m.Circuit.Inertia}
	for t := range m.tracks {
		c.Live = append(c.Live, m.segments(t, func(k seamKind) bool { return k == contactor })...)
	}
	return c
}

// segments cuts a string where cut says and returns the parts that hold modules.
func (m *Model) segments(t int, cut func(seamKind) bool) []Segment {
	tr := &m.tracks[t]
	var out []Segment
	from := 0
	for i := range tr.pieces {
		if i+1 < len(tr.pieces) && !cut(tr.seams[i].kind) {
			continue
		}
		if s := m.segment(t, from, i); len(s.Members) > 0 {
			out = append(out, s)
		}
		from = i + 1
	}
	return out
}

func (m *Model) segment(t, from, to int) Segment {
	tr := &m.tracks[t]
	s := Segment{String: m.Circuit.Strings[t].ID, OpenNeg: from == 0, OpenPos: to == len(tr.pieces)-1}
	for i := from; i <= to; i++ {
		p := &tr.pieces[i]
		if n := len(s.Boxes); n == 0 || s.Boxes[n-1] != p.box {
			if n > 0 {
				s.Cables = append(s.Cables, Between{s.Boxes[n-1], p.box, s.V})
			}
			s.Boxes = append(s.Boxes, p.box)
			s.Refs = append(s.Refs, p.box.Box.ID)
		}
		if p.body != nil {
			s.Members = append(s.Members, m.Circuit.Strings[t].Members[p.member])
			s.Refs = append(s.Refs, p.body.ID)
		}
		s.V, s.J = s.V+p.volts, s.J+p.joul
	}
	return s
}
