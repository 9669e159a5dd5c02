package packing

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Where modules that are pushed to one side can stand at a few coordinates only along
// one axis, say x, but anywhere along the other, as in a taper, the bay is searched
// column by column along x. What stands across a column is a stack: an order of
// modules from below to above. How high they stand is left open; each stack only
// adds demands that one module lie above another by at least its height. Such
// demands, with the heights that walls allow, can be met at real heights if and only
// if the longest chains of them fit (difference constraints: Bellman 1958; from
// memory, not checked against the text). So the search is finite and its answer
// holds for real positions.

// kind is an option that starts at one x, between two heights of its least corner.
// The heights reach up to a lattice step further than the walls allow, so that no
// real position between two steps of the lattice is lost.
type kind struct {
	opt        int
	start, end int64 // along x; end is where the next may start
	high       int64 // what the next above must be higher
	lo, hi     int64
	atWall     bool // it stands at a wall or a fixed module on its left
}

// columns lists the kinds of a plane by where they start.
type columns struct {
	p     *plane
	kinds []kind
	xs    []int64
	from  [][]int32 // kinds by start
	least float64   // the area of the least envelope
	room  []float64 // the most modules' area that columns from each start on can hold
}

// maxKinds bounds the kinds of a bay to be searched by columns.
const maxKinds = 2500

// byColumns is the plane, mirrored and transposed as needed, in columns; it is nil
// where neither axis has few coordinates.
func (p *plane) byColumns(ctx context.Context) (c *columns, upright func(spot) spot) {
	if _, plain := p.envelopes(); !plain {
		return nil, nil
	}
	for k := range 4 {
		alongX, alongY := k&1 == 1, k&2 == 2
		m := p.mirroredAlong(alongX, alongY)
		xs, ys := m.domains(ctx)
		for _, swap := range [2]bool{false, true} {
			q, along := m, xs
			if swap {
				q, along = m.transposed(), ys
			}
			if !exactAlong(along, 0, 1) {
				continue
			}
			if d := newColumns(q, along); d != nil && (c == nil || len(d.kinds) < len(c.kinds)) {
				c = d
				upright = func(t spot) spot {
					if swap {
						t.vec = t.vec.transposed()
					}
					return m.mirroredSpot(t, alongX, alongY)
				}
			}
		}
	}
	return c, upright
}

func newColumns(p *plane, xs []domain) *columns {
	env, ok := p.envelopes()
	if !ok {
		return nil
	}
	c := &columns{p: p, least: math.Inf(1)}
	t := p.shrunkAcross()
	for o, d := range xs {
		c.least = math.Min(c.least, float64(env[o].w())*float64(env[o].h()))
		walls := wallContacts(p, o, 1)
		for _, iv := range d {
			_, atWall := slices.BinarySearch(walls, iv.lo)
			for _, h := range t.row(o, iv.lo) {
				c.kinds = append(c.kinds, kind{o, iv.lo, iv.lo + env[o].hi.x, env[o].hi.y, h.lo - 1, h.hi, atWall})
			}
		}
		if len(c.kinds) > maxKinds {
			return nil
		}
	}
	slices.SortStableFunc(c.kinds, func(a, b kind) int { return cmp.Compare(a.start, b.start) })
	for i, k := range c.kinds {
		if n := len(c.xs); n == 0 || c.xs[n-1] != k.start {
			c.xs = append(c.xs, k.start)
			c.from = append(c.from, nil)
		}
		c.from[len(c.from)-1] = append(c.from[len(c.from)-1], int32(i))
	}
	c.findRoom()
	return c
}

// shrunkAcross is the plane transposed, each body a lattice step less high in it as
// it was: where a body stands at a real height, the shrunk one can stand at that
// height rounded up.
func (p *plane) shrunkAcross() *plane {
	t := p.transposed()
	for i := range t.options {
		o := &t.options[i]
		o.w--
		for k := range o.parts {
			o.parts[k].hi.x--
		}
	}
	return t
}

// findRoom sums, from each start to the end, the width of each column times the
// greatest height of a stack in it.
func (c *columns) findRoom() {
	c.room = make([]float64, len(c.xs)+1)
	ends := slices.Clone(c.xs)
	for _, k := range c.kinds {
		ends = append(ends, k.end)
	}
	ends = sortedUnique(ends)
	for i := len(c.xs) - 1; i >= 0; i-- {
		c.room[i] = c.room[i+1]
		for e := 0; e+1 < len(ends); e++ {
			if ends[e] >= c.xs[i] && (i+1 == len(c.xs) || ends[e] < c.xs[i+1]) {
				c.room[i] += float64(ends[e+1]-ends[e]) * c.stackOver(ends[e])
			}
		}
	}
}

// stackOver is the greatest sum of heights of modules across the column from x on.
func (c *columns) stackOver(x int64) float64 {
	lo, hi := int64(math.MaxInt64), int64(math.MinInt64)
	var heights []int64
	for _, k := range c.kinds {
		if k.start <= x && x < k.end {
			lo, hi = min(lo, k.lo), max(hi, k.hi+k.high)
			heights = append(heights, k.high)
		}
	}
	if len(heights) == 0 {
		return 0
	}
	return tallest(sortedUnique(heights), hi-lo, func(h int64) float64 { return float64(h) })
}
