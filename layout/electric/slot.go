package electric

import (
	"sync"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// boxFacts is what follows from one box alone: where modules and terminals stand in the box's frame, and the
// orders already worked out in it. It is shared between results in which the box is the same.
type boxFacts struct {
	box   *layout.BoxScene
	slots []slot
	index map[*layout.Body]int
	ports []port

	mu     sync.Mutex
	routes map[routeKey][]int
	links  map[linkKey]innerLink

	pricing sync.Once
	price   []float64 // linkCost of every pair, row from, column to; nil where there are too many

	once     sync.Once
	measured *measured
}

// slot is a module in its box's frame.
type slot struct {
	body     *layout.Body
	lo, hi   r3.Vector
	neg, pos []pole
}

// pole is a terminal in the box's frame.
type pole struct {
	at     *layout.TerminalAt
	p      r3.Vector
	lifted r3.Vector // where a link is clear of the terminal's face
}

type routeKey struct {
	members     string
	entry, exit int
}

type linkKey struct{ from, to int }

func newBoxFacts(b *layout.BoxScene) *boxFacts {
	f := &boxFacts{box: b, index: make(map[*layout.Body]int, len(b.Modules)), routes: map[routeKey][]int{}, links: map[linkKey]innerLink{}}
	f.slots = make([]slot, len(b.Modules))
	for i, m := range b.Modules {
		f.slots[i] = newSlot(b, m)
		f.index[m] = i
	}
	f.ports = portsOf(b)
	return f
}

func newSlot(b *layout.BoxScene, m *layout.Body) slot {
	s := slot{body: m, lo: m.Pose.At, hi: m.Pose.At.Add(m.Pose.Extent())}
	for i := range m.Terminals {
		t := &m.Terminals[i]
		p := pole{at: t, p: m.Pose.Point(t.At.Vector())}
		p.lifted = p.p.Add(m.Pose.Normal(t.Face).Mul(stub))
		switch t.Polarity {
		case "negative":
			s.neg = append(s.neg, p)
		case "positive":
			s.pos = append(s.pos, p)
		}
	}
	return s
}

// usable tells whether the module has both poles.
func (s *slot) usable() bool { return len(s.neg) > 0 && len(s.pos) > 0 }

// centre is the middle of the body.
func (s *slot) centre() r3.Vector { return s.lo.Add(s.hi).Mul(0.5) }

// crosses tells whether the straight line between two points passes through the body's inside (slab method,
// Kay and Kajiya, SIGGRAPH 1986).
func (s *slot) crosses(a, b r3.Vector) bool {
	if max(a.X, b.X) <= s.lo.X || min(a.X, b.X) >= s.hi.X || max(a.Y, b.Y) <= s.lo.Y || min(a.Y, b.Y) >= s.hi.Y ||
		max(a.Z, b.Z) <= s.lo.Z || min(a.Z, b.Z) >= s.hi.Z {
		return false
	}
	t0, t1 := 0.0, 1.0
	return slab(a.X, b.X, s.lo.X, s.hi.X, &t0, &t1) &&
		slab(a.Y, b.Y, s.lo.Y, s.hi.Y, &t0, &t1) &&
		slab(a.Z, b.Z, s.lo.Z, s.hi.Z, &t0, &t1)
}

// graze is how deep in mm a line may run in a body and still count as touching it.
const graze = 0.1

func slab(a, b, lo, hi float64, t0, t1 *float64) bool {
	lo, hi = lo+graze, hi-graze
	d := b - a
	if d == 0 {
		return a > lo && a < hi
	}
	u, v := (lo-a)/d, (hi-a)/d
	if u > v {
		u, v = v, u
	}
	*t0, *t1 = max(*t0, u), min(*t1, v)
	return *t0 < *t1
}
