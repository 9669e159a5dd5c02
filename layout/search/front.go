package search

// spot is what differs between arrangements of one group: front share off target, height and side, in steps.
type spot [3]int32

// reaches tells whether a is nowhere worse than b.
func (a spot) reaches(b spot) bool { return a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2] }

// member is an arrangement of a group that nothing found so far beats.
type member struct {
	spot   spot
	push   int
	counts []uint16 // by box of the group
	first  row      // mass and moments of the whole vehicle
}

// front is the set of members of a group that do not beat each other, and the spots of other groups that are
// nowhere worse in all else.
type front struct {
	members []member
	others  []spot
}

// reached tells whether something at least as good is there already. What is hit is looked at sooner next time.
func (f *front) reached(s spot) bool {
	for i := range f.members {
		if f.members[i].spot.reaches(s) {
			if i > 0 {
				f.members[i], f.members[i/2] = f.members[i/2], f.members[i]
			}
			return true
		}
	}
	for i, o := range f.others {
		if o.reaches(s) {
			if i > 0 {
				f.others[i], f.others[i/2] = f.others[i/2], f.others[i]
			}
			return true
		}
	}
	return false
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
}

// thin keeps the spots that no other one reaches; of equals the first.
func thin(in []spot) []spot {
	var out []spot
next:
	for i, s := range in {
		for k, o := range in {
			if k != i && o.reaches(s) && (o != s || k < i) {
				continue next
			}
		}
		out = append(out, s)
	}
	return out
}
