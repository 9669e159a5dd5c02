package packing

import (
	"context"
	"math"
)

// raster is a division of a plane, mirrored as suits it best, into oblongs in which
// modules that are pushed left and down may have their least corners.
type raster struct {
	p              *plane // mirrored
	alongX, alongY bool
	anchor         vec
	step           vec
	xs, ys         []domain
}

// newRaster mirrors a plane so that walls leave modules the fewest places to be
// pushed to.
func newRaster(ctx context.Context, p *plane, step int64) *raster {
	var best *raster
	least := math.Inf(1)
	for k := range 4 {
		q := &raster{p: p, alongX: k&1 == 1, alongY: k&2 == 2, step: vec{step, step}}
		if k > 0 {
			q.p = p.mirroredAlong(q.alongX, q.alongY)
		}
		q.anchor = q.p.fields[q.p.options[0].parts[0].field].bounds.lo
		q.xs, q.ys = q.p.domains(ctx)
		fine := vec{max(1, step/8), max(1, step/8)}
		if n := q.size(fine); n < least {
			best, least = q, n
		}
	}
	return best
}

// size counts the oblongs of a step that the domains meet.
func (q *raster) size(step vec) float64 {
	n := 0.0
	for o := range q.p.usable {
		n += float64(len(pieces(q.xs[o], q.anchor.x, step.x))) * float64(len(pieces(q.ys[o], q.anchor.y, step.y)))
	}
	return n
}

// piece is what a domain leaves of a step from at: from lo to hi, which is left out
// where half is set.
type piece struct {
	at, lo, hi int64
	half       bool
}

func pieces(d domain, anchor, step int64) []piece {
	var out []piece
	for _, iv := range d {
		for k := floorDiv(iv.lo-anchor, step); k <= floorDiv(iv.hi-anchor, step); k++ {
			at := anchor + k*step
			c := piece{at, max(at, iv.lo), min(at+step, iv.hi), iv.hi >= at+step}
			if n := len(out); n > 0 && out[n-1].at == at {
				out[n-1].hi, out[n-1].half = c.hi, c.half
				continue
			}
			out = append(out, c)
		}
	}
	return out
}

// exactAlong reports whether every domain has single coordinates on steps only.
func exactAlong(ds []domain, anchor, step int64) bool {
	for _, d := range ds {
		for _, iv := range d {
			if iv.lo != iv.hi || (iv.lo-anchor)%step != 0 {
				return false
			}
		}
	}
	return true
}

// finer divides the steps along the axes on which that tells places better apart;
// it is nil when there is none.
func (q *raster) finer() *raster {
	f := *q
	if !exactAlong(q.xs, q.anchor.x, q.step.x) {
		f.step.x = lesserDivisor(q.step.x)
	}
	if !exactAlong(q.ys, q.anchor.y, q.step.y) {
		f.step.y = lesserDivisor(q.step.y)
	}
	if f.step == q.step {
		return nil
	}
	return &f
}

// lesserDivisor is the greatest divisor of n less than n.
func lesserDivisor(n int64) int64 {
	for k := int64(2); k*k <= n; k++ {
		if n%k == 0 {
			return n / k
		}
	}
	return 1
}

// rowCost estimates the nanoseconds to look at one row of oblongs, for an option.
func (q *raster) rowCost() int64 {
	n, walls := 0, 0
	for o := range q.p.usable {
		n += len(pieces(q.xs[o], q.anchor.x, q.step.x))
	}
	for _, f := range q.p.fields {
		walls = max(walls, len(f.walls))
	}
	return int64(n/q.p.usable) * int64(200+100*walls)
}

// reachable lists the oblongs in which some place may be free, or nothing when stop
// says so first.
func (q *raster) reachable(stop func() bool) []spot {
	return q.reachableWhere(func(spot) bool { return true }, stop)
}

// rounded is the least corner of the oblong about a place.
func (q *raster) rounded(v vec) vec {
	return vec{q.anchor.x + floorDiv(v.x-q.anchor.x, q.step.x)*q.step.x,
		q.anchor.y + floorDiv(v.y-q.anchor.y, q.step.y)*q.step.y}
}

// reachableWhere is reachable among the oblongs that a test lets through.
func (q *raster) reachableWhere(may func(spot) bool, stop func() bool) []spot {
	var out []spot
	for o := range q.p.usable {
		xs, ys := pieces(q.xs[o], q.anchor.x, q.step.x), pieces(q.ys[o], q.anchor.y, q.step.y)
		for _, y := range ys {
			if stop() {
				return nil
			}
			for _, x := range xs {
				r := region{rect{vec{x.lo, y.lo}, vec{x.hi, y.hi}}, [2]bool{x.half, y.half}}
				c := spot{o, vec{x.at, y.at}}
				if may(c) && q.p.somewhereFree(o, r, halvings) {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// floored gives cores a whole number of steps that overlap only if the cores of the
// places rounded down do.
func (q *raster) floored(cores []rect) []rect {
	out := make([]rect, len(cores))
	for i, c := range cores {
		s := q.step
		out[i] = rect{vec{ceilDiv(c.lo.x, s.x) * s.x, ceilDiv(c.lo.y, s.y) * s.y},
			vec{floorDiv(c.hi.x, s.x) * s.x, floorDiv(c.hi.y, s.y) * s.y}}
	}
	return out
}

// unmirrored gives spots as they are in the plane that was divided.
func (q *raster) unmirrored(in []spot) []spot {
	out := make([]spot, len(in))
	for i, t := range in {
		out[i] = q.p.mirroredSpot(t, q.alongX, q.alongY)
	}
	return out
}
