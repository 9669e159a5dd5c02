package search

// spot is what differs between arrangements of one group: front share off target, height and side, in steps.
type spot [3]int32

// reaches tells whether a is nowhere worse than b.
func (a spot) reaches(b spot) bool { return a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2] }

// member is an arrangement of a group that nothing found so far beats.
type member struct {
	spot  spot
	picks []uint16 // by box of the group, which of its bay's options
	first row      // mass and moments of the whole vehicle
}

// front is the set of members of a group that do not beat each other, and the spots of other groups that are
// nowhere worse in all else. A table tells most of the time at once whether a spot is reached.
type front struct {
	members []member
	spots   []spot // of members and of other groups; some may be reached by later ones
	table   table
}

// reached tells whether something at least as good is there already.
func (f *front) reached(s spot) bool {
	if f.table.reached(s) {
		return true
	}
	if f.table.exact() {
		return false
	}
	for i := range f.spots {
		if f.spots[i].reaches(s) {
			return true
		}
	}
	return false
}

// mark remembers a spot as reached.
func (f *front) mark(s spot) {
	f.table.mark(s)
	if !f.table.exact() {
		f.spots = append(f.spots, s)
	}
}

// add puts in a member that is not reached, and takes out those that it beats.
func (f *front) add(m member) {
	kept := f.members[:0]
	for i := range f.members {
		if !m.spot.reaches(f.members[i].spot) {
			kept = append(kept, f.members[i])
		}
	}
	f.members = append(kept, m)
	f.mark(m.spot)
}

// table holds for front shares and heights, each no worse than that of a cell, the least side that is reached. A
// cell is one step wide, or more where there are too many steps for the table: then it knows some of what is
// reached, not all.
type table struct {
	at      [2]int32 // the least of front share off target and of height
	wide, n [2]int32 // of a cell, in steps; cells
	side    []int32
}

// mostCells bounds the cells of a table along each side.
const mostCells = 256

// unreached is a side that nothing has.
const unreached = int32(1) << 30

// reset makes room for spots from lo to hi.
func (t *table) reset(lo, hi spot) {
	for k := range 2 {
		steps := max(int64(hi[k])-int64(lo[k])+1, 1)
		t.at[k] = lo[k]
		t.wide[k] = int32((steps + mostCells - 1) / mostCells)
		t.n[k] = int32((steps + int64(t.wide[k]) - 1) / int64(t.wide[k]))
	}
	n := int(t.n[0] * t.n[1])
	if cap(t.side) < n {
		t.side = make([]int32, n)
	}
	t.side = t.side[:n]
	for i := range t.side {
		t.side[i] = unreached
	}
}

func (t *table) exact() bool { return t.wide == [2]int32{1, 1} }

func (t *table) reached(s spot) bool {
	i, k := s[0]-t.at[0], s[1]-t.at[1]
	if i < 0 || k < 0 {
		return false
	}
	if t.wide[0] > 1 {
		i /= t.wide[0]
	}
	if t.wide[1] > 1 {
		k /= t.wide[1]
	}
	return t.side[min(i, t.n[0]-1)*t.n[1]+min(k, t.n[1]-1)] <= s[2]
}

// mark fills the cells that a spot reaches. Sides only fall with either index, which ends each run early.
func (t *table) mark(s spot) {
	i0, k0 := t.cell(s, 0), t.cell(s, 1)
	if k0 >= t.n[1] {
		return
	}
	for i := i0; i < t.n[0]; i++ {
		row := t.side[i*t.n[1] : (i+1)*t.n[1]]
		if row[k0] <= s[2] {
			return
		}
		for k := k0; k < t.n[1] && row[k] > s[2]; k++ {
			row[k] = s[2]
		}
	}
}

// cell is the first cell all of which a spot reaches along an axis.
func (t *table) cell(s spot, axis int) int32 {
	d := s[axis] - t.at[axis]
	if d <= 0 {
		return 0
	}
	return (d + t.wide[axis] - 1) / t.wide[axis]
}
