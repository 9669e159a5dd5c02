package search

// moments are first moments in x, y and z in kg mm.
type moments [3]float64

func (r *row) moments() moments { return moments{r[1], r[2], r[3]} }

// point is one choice of options in one box or in two. Its numbers index the options of each bay.
type point struct {
	at   moments
	a, b uint16
}

// span is what some points span: the least and the greatest moments, and the least moments along some slanted
// directions, which tell how low points can lie that are far to the front or to the rear.
type span struct {
	lo, hi moments
	tilt   tilts
}

// tilts are moments in z plus a multiple of those in x, for slopes from down to the rear to up to the rear; slopes are
// the multiples, in pairs of one and its opposite from either end.
type tilts [2 * slopePairs]float64

const (
	slopePairs  = 3
	middleSlope = 1
)

// slopesOf are the multiples for a module type, the same for all its trees.
func slopesOf(per moments) (out tilts) {
	for i, s := range [...]float64{-0.6, -0.25, -0.1, 0.1, 0.25, 0.6} { // steps of height for a step of front share; found by trial
		out[i] = s * per[0] / per[2]
	}
	return out
}

func (t *tilts) of(m *moments) (out tilts) {
	for i, s := range t {
		out[i] = m[2] + s*m[0]
	}
	return out
}

func (s *span) plus(o *span) (out span) {
	for d := range s.lo {
		out.lo[d], out.hi[d] = s.lo[d]+o.lo[d], s.hi[d]+o.hi[d]
	}
	for i := range s.tilt {
		out.tilt[i] = s.tilt[i] + o.tilt[i]
	}
	return out
}

// of is the span of one node of each of two trees, on top of a sum.
func (out *span) of(sum, a, b *span) {
	for d := range out.lo {
		out.lo[d], out.hi[d] = sum.lo[d]+a.lo[d]+b.lo[d], sum.hi[d]+a.hi[d]+b.hi[d]
	}
	for i := range out.tilt {
		out.tilt[i] = sum.tilt[i] + a.tilt[i] + b.tilt[i]
	}
}

// widen takes in another span.
func (s *span) widen(o *span) {
	for d := range s.lo {
		s.lo[d], s.hi[d] = min(s.lo[d], o.lo[d]), max(s.hi[d], o.hi[d])
	}
	for i := range s.tilt {
		s.tilt[i] = min(s.tilt[i], o.tilt[i])
	}
}

// spanOf is the span of one point.
func (t *tilts) spanOf(m moments) span { return span{m, m, t.of(&m)} }

// node is some points next to each other and what they span.
type node struct {
	span
	wide     float64 // the widest of the spans, in steps of the objectives
	from, to int32   // its points
	low, up  int32   // its halves; 0: a leaf
}

func (n *node) ways() float64 { return float64(n.to - n.from) }

// tree halves points again and again along the moment in which they are farthest apart in steps, so that a whole
// branch can be judged by what it spans. (k-d tree: Bentley 1975.)
type tree struct {
	points []point
	nodes  []node
}

// leafSize is how many points are no longer halved.
const leafSize = 2

// treeOf makes a tree of points. per is how many steps of the objectives a unit of each moment makes, about.
func treeOf(points []point, per moments, slopes *tilts) tree {
	t := tree{points: points}
	if len(points) > 0 {
		t.nodes = make([]node, 0, 2*len(points)/leafSize+1)
		t.grow(0, len(points), per, slopes)
	}
	return t
}

func (t *tree) grow(from, to int, per moments, slopes *tilts) int32 {
	n := node{from: int32(from), to: int32(to)}
	n.span = slopes.spanOf(t.points[from].at)
	for i := from + 1; i < to; i++ {
		one := slopes.spanOf(t.points[i].at)
		n.widen(&one)
	}
	along := 0
	for d := range per {
		if w := (n.hi[d] - n.lo[d]) * per[d]; w > n.wide {
			n.wide, along = w, d
		}
	}
	me := len(t.nodes)
	t.nodes = append(t.nodes, n)
	if to-from > leafSize && n.wide > 0 {
		mid := (from + to) / 2
		halve(t.points[from:to], mid-from, along)
		low := t.grow(from, mid, per, slopes)
		up := t.grow(mid, to, per, slopes)
		t.nodes[me].low, t.nodes[me].up = low, up
	}
	return int32(me)
}

// halve puts the k least points along an axis in front (Hoare's selection).
func halve(ps []point, k, axis int) {
	lo, hi := 0, len(ps)-1
	for lo < hi {
		pivot := ps[(lo+hi)/2].at[axis]
		i, j := lo, hi
		for i <= j {
			for ps[i].at[axis] < pivot {
				i++
			}
			for ps[j].at[axis] > pivot {
				j--
			}
			if i <= j {
				ps[i], ps[j] = ps[j], ps[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
}

// pool is all ways to use one box or two together, by count of modules.
type pool struct {
	bays []*bay
	at   []tree
}

// poolOf makes the pool of one bay or two, or of none: that holds no module in one way.
func poolOf(per moments, slopes *tilts, bays ...*bay) *pool {
	p := &pool{bays: bays}
	by := make([][]point, 1) // without a way to use its boxes it has an empty tree
	add := func(count int, q point) {
		for len(by) <= count {
			by = append(by, nil)
		}
		by[count] = append(by[count], q)
	}
	switch len(bays) {
	case 0:
		add(0, point{})
	case 1:
		bays[0].each(func(i, count int, o *option) { add(count, point{at: o.first.moments(), a: uint16(i)}) })
	default:
		bays[0].each(func(i, n int, o *option) {
			bays[1].each(func(k, m int, q *option) {
				sum := o.first.plus(q.first, 1)
				add(n+m, point{at: sum.moments(), a: uint16(i), b: uint16(k)})
			})
		})
	}
	p.at = make([]tree, len(by))
	for n := range by {
		p.at[n] = treeOf(by[n], per, slopes)
	}
	return p
}

// each calls f for every option that a bay can be used with.
func (b *bay) each(f func(index, count int, o *option)) {
	for c := b.lo; c <= b.hi; c++ {
		for i := b.from[c]; i < b.from[c+1]; i++ {
			f(i, c, &b.all[i])
		}
	}
}
