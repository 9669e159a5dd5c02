package packing

import (
	"encoding/binary"
	"slices"
)

// Before orders of stacks are searched, the columns are searched for loads: which
// kinds stand across each column, whatever their order, if only their heights add
// up to no more than the bay is high for the lowest and the highest of them. That
// is quick, and says for each load the most modules that can still come.

// load is one choice of kinds across a column, those that ended there taken off.
type load struct {
	across []int32 // kinds, sorted
	ended  bool    // some kind ended just here
	count  int     // the most modules so far
	more   int     // the most that can follow
	next   []loadStep
}

// loadStep adds kinds to a load at the start of its column.
type loadStep struct {
	added []int32
	to    *load
}

// loads lists, by column, the loads that may lie on a packing of the target.
type loads struct {
	c      *columns
	target int
	work   int // steps left
	stop   func() bool
	layers []loadLayer
}

// loadLayer holds the loads at one column, in the order in which they were met.
type loadLayer struct {
	list  []*load
	index map[string]*load
}

func newLoadLayer() loadLayer { return loadLayer{index: map[string]*load{}} }

// at is the load of some kinds, made when it is new.
func (l *loadLayer) at(across []int32, ended bool) *load {
	key := keyOf(across, ended)
	if known := l.index[key]; known != nil {
		return known
	}
	made := &load{across: across, ended: ended}
	l.index[key] = made
	l.list = append(l.list, made)
	return made
}

func keyOf(across []int32, flag bool) string {
	out := make([]byte, 0, 2*len(across)+1)
	for _, k := range across {
		out = binary.LittleEndian.AppendUint16(out, uint16(k))
	}
	if flag {
		out = append(out, 1)
	}
	return string(out)
}

// find lists the loads; it reports false when the work is used up.
func (l *loads) find() bool {
	l.layers = make([]loadLayer, len(l.c.xs)+1)
	for i := range l.layers {
		l.layers[i] = newLoadLayer()
	}
	l.layers[0].at(nil, false)
	for i := range l.c.xs {
		for _, from := range l.layers[i].list {
			l.extend(i, from, nil, 0)
			if l.work <= 0 || l.stop() {
				return false
			}
		}
	}
	for i := len(l.c.xs) - 1; i >= 0; i-- {
		for _, from := range l.layers[i].list {
			for _, s := range from.next {
				from.more = max(from.more, len(s.added)+s.to.more)
			}
		}
	}
	return true
}

// extend adds kinds from the k-th of those that start at column i on.
func (l *loads) extend(i int, from *load, added []int32, k int) {
	if l.work--; l.work <= 0 {
		return
	}
	across := append(slices.Clone(from.across), added...)
	slices.Sort(across)
	if !l.c.fitsAcross(across) {
		return
	}
	l.arrive(i, from, across, added)
	for ; k < len(l.c.from[i]); k++ {
		j := l.c.from[i][k]
		if l.c.kinds[j].atWall || from.ended {
			l.extend(i, from, append(slices.Clone(added), j), k)
		}
	}
}

// arrive notes what a load becomes at the next column.
func (l *loads) arrive(i int, from *load, across, added []int32) {
	count := from.count + len(added)
	var committed float64
	for _, k := range across {
		kd := &l.c.kinds[k]
		committed += float64(kd.high) * float64(kd.end-l.c.xs[i])
	}
	if float64(count)+(l.c.room[i]-committed)/l.c.least < float64(l.target)-slack {
		return
	}
	to := l.layers[i+1].at(l.c.past(i+1, across))
	to.count = max(to.count, count)
	from.next = append(from.next, loadStep{added, to})
}

// past takes off the kinds that ended at or before the i-th column, and reports
// whether any ended just there.
func (c *columns) past(i int, across []int32) (left []int32, ended bool) {
	if i >= len(c.xs) {
		return nil, false
	}
	for _, k := range across {
		switch end := c.kinds[k].end; {
		case end > c.xs[i]:
			left = append(left, k)
		case end == c.xs[i]:
			ended = true
		}
	}
	return left, ended
}

// fitsAcross reports whether the heights of kinds add up to no more than lies
// between the lowest place of one and the highest of another.
func (c *columns) fitsAcross(across []int32) bool {
	if len(across) == 0 {
		return true
	}
	var sum int64
	for _, k := range across {
		sum += c.kinds[k].high
	}
	for i, a := range across {
		for j, b := range across {
			if (i != j || len(across) == 1) && c.kinds[b].hi+c.kinds[b].high-c.kinds[a].lo >= sum {
				return true
			}
		}
	}
	return false
}
