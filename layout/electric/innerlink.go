package electric

import (
	"math"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// A link leaves its terminal by stub and, where a body is in the way, passes over it by rise (mm, common practice).
const (
	stub = 5.0
	rise = 10.0
)

// innerLink is a conductor inside a box, in the box's frame.
type innerLink struct {
	from, to *layout.TerminalAt
	path     []r3.Vector
	world    []r3.Vector // the same in the vehicle; not to be changed
	length   float64
}

// linkCost is the length of the shortest link from a positive terminal of a to a negative one of b, with only
// their own two bodies in the way.
func linkCost(a, b *slot) float64 {
	best := math.Inf(1)
	for i := range a.pos {
		for k := range b.neg {
			best = min(best, poleDistance(&a.pos[i], &b.neg[k], a, b))
		}
	}
	return best
}

func poleDistance(p, q *pole, a, b *slot) float64 {
	s, t := p.lifted, q.lifted
	if !a.crosses(s, t) && !b.crosses(s, t) {
		return s.Sub(t).Norm() + 2*stub
	}
	return over(s, t, max(a.hi.Z, b.hi.Z)+rise) + 2*stub
}

// over is the length of the way up to a height, across and down.
func over(s, t r3.Vector, z float64) float64 {
	top := max(z, s.Z, t.Z)
	x, y := s.X-t.X, s.Y-t.Y
	return top - s.Z + top - t.Z + math.Sqrt(x*x+y*y)
}

// manyModules is the number of modules in a box above which the lengths of all possible links are not kept.
const manyModules = 100

// cost is the length of the link from slot i to slot k.
func (f *boxFacts) cost(i, k int) float64 {
	n := len(f.slots)
	if n > manyModules {
		return linkCost(&f.slots[i], &f.slots[k])
	}
	f.pricing.Do(func() {
		f.price = make([]float64, n*n)
		for a := range n {
			for b := range n {
				if a != b {
					f.price[a*n+b] = linkCost(&f.slots[a], &f.slots[b])
				}
			}
		}
	})
	return f.price[i*n+k]
}

// link returns the link from slot i to slot k, kept for the next time it is asked for.
func (f *boxFacts) link(i, k int) innerLink {
	f.mu.Lock()
	defer f.mu.Unlock()
	key := linkKey{i, k}
	l, ok := f.links[key]
	if !ok {
		l = f.layLink(i, k)
		f.links[key] = l
	}
	return l
}

func (f *boxFacts) layLink(i, k int) innerLink {
	a, b := &f.slots[i], &f.slots[k]
	p, q := bestPoles(a, b)
	l := innerLink{from: p.at, to: q.at, path: f.way(p.p, p.lifted, q.lifted, q.p)}
	l.length, l.world = pathLength(l.path), l.inVehicle(f)
	return l
}

func bestPoles(a, b *slot) (p, q *pole) {
	if len(a.pos) == 1 && len(b.neg) == 1 {
		return &a.pos[0], &b.neg[0]
	}
	best := math.Inf(1)
	for i := range a.pos {
		for k := range b.neg {
			if d := poleDistance(&a.pos[i], &b.neg[k], a, b); d < best {
				best, p, q = d, &a.pos[i], &b.neg[k]
			}
		}
	}
	return p, q
}

// way leads from a over s and t to b: straight from s to t where no module is in the way, else up over the
// modules in the way. Whether the lid leaves room for that is not looked at.
func (f *boxFacts) way(a, s, t, b r3.Vector) []r3.Vector {
	top, blocked := math.Inf(-1), false
	for i := range f.slots {
		if f.slots[i].crosses(s, t) {
			blocked, top = true, max(top, f.slots[i].hi.Z+rise)
		}
	}
	if !blocked {
		return []r3.Vector{a, s, t, b}
	}
	top = max(top, s.Z, t.Z)
	return []r3.Vector{a, s, {X: s.X, Y: s.Y, Z: top}, {X: t.X, Y: t.Y, Z: top}, t, b}
}

func pathLength(path []r3.Vector) float64 {
	sum := 0.0
	for i := 1; i < len(path); i++ {
		sum += path[i].Sub(path[i-1]).Norm()
	}
	return sum
}
