package assembly

// bench is the state of the work: what is in place, what is joined, what is bare.
type bench struct {
	m      *Model
	placed [][]bool // by string and piece
	made   [][]bool // by string and seam
	bare   []int    // conductors
	walls  map[int]nearMetal
	whole  bool        // everything is in place: sums are read off the tracks
	known  [][]circuit // then, the circuit of every piece
}

func newBench(m *Model) *bench {
	b := &bench{m: m, walls: map[int]nearMetal{}}
	for i := range m.tracks {
		b.placed = append(b.placed, make([]bool, len(m.tracks[i].pieces)))
		b.made = append(b.made, make([]bool, len(m.tracks[i].seams)))
	}
	return b
}

// finished is the state of a pack that is complete and closed, its contactors open as they are when it is off.
func finished(m *Model) *bench {
	b := newBench(m)
	b.whole = true
	for i := range m.tracks {
		for k := range b.placed[i] {
			b.placed[i][k] = true
		}
		for k := range b.made[i] {
			b.made[i][k] = m.tracks[i].seams[k].kind != contactor
		}
	}
	known := make([][]circuit, len(m.tracks))
	for i := range m.tracks {
		known[i] = b.circuits(i)
	}
	b.known = known
	return b
}

// circuit is a stretch of pieces that are joined.
type circuit struct{ str, from, to int }

// circuits are the circuits of all pieces of a string.
func (b *bench) circuits(str int) []circuit {
	out := make([]circuit, len(b.placed[str]))
	for i := 0; i < len(out); {
		c := b.around(str, i)
		for ; i <= c.to; i++ {
			out[i] = c
		}
	}
	return out
}

// around returns the circuit that a piece is in.
func (b *bench) around(str, piece int) circuit {
	if b.known != nil {
		return b.known[str][piece]
	}
	c := circuit{str, piece, piece}
	for c.from > 0 && b.made[str][c.from-1] {
		c.from--
	}
	for c.to < len(b.made[str]) && b.made[str][c.to] {
		c.to++
	}
	return c
}

// sum adds volts and ohms of the pieces in place.
func (b *bench) sum(str, from, to int) (volts, ohm float64) {
	if t := &b.m.tracks[str]; b.whole {
		return t.volts[to+1] - t.volts[from], t.ohms[to+1] - t.ohms[from]
	}
	for k := from; k <= to; k++ {
		if b.placed[str][k] {
			p := &b.m.tracks[str].pieces[k]
			volts, ohm = volts+p.volts, ohm+p.ohm
		}
	}
	return volts, ohm
}

func (b *bench) volts(c circuit) float64 {
	v, _ := b.sum(c.str, c.from, c.to)
	return v
}

// worst is the highest voltage from a conductor to anything in its circuit, which a first fault can put on the metal,
// and the resistance in the way.
func (b *bench) worst(conductor int) (volts, ohm float64) {
	x := &b.m.Conductors[conductor]
	if x.piece < 0 {
		return 0, 0
	}
	c := b.around(x.String, x.piece)
	p := &b.m.tracks[x.String].pieces[x.piece]
	below := x.piece - 1
	above := x.piece
	if conductor == p.hi {
		below, above = x.piece, x.piece+1
	}
	v, r := b.sum(x.String, c.from, below)
	w, s := b.sum(x.String, above, c.to)
	if w > v {
		return w, s
	}
	return v, r
}

// between is the voltage between two conductors and the resistance in the way; false where nothing joins them.
func (b *bench) between(i, k int) (volts, ohm float64, joined bool) {
	x, y := &b.m.Conductors[i], &b.m.Conductors[k]
	if x.piece < 0 || x.String != y.String {
		return 0, 0, false
	}
	c := b.around(x.String, x.piece)
	if y.piece < c.from || y.piece > c.to {
		return 0, 0, false
	}
	from, to := b.level(i), b.level(k)
	volts, ohm = b.sum(x.String, min(from, to), max(from, to)-1)
	return volts, ohm, true
}

// level is the number of the first piece on the positive side of a conductor.
func (b *bench) level(i int) int {
	x := &b.m.Conductors[i]
	if p := &b.m.tracks[x.String].pieces[x.piece]; i == p.hi && p.hi != p.lo {
		return x.piece + 1
	}
	return x.piece
}

func (b *bench) uncover(i int) { b.bare = append(b.bare, i) }

func (b *bench) cover(i int) {
	for k, x := range b.bare {
		if x == i {
			b.bare = append(b.bare[:k:k], b.bare[k+1:]...)
			return
		}
	}
}
