package geometry

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// MaxCorners is the greatest number of corners of a valid polygon, all rings
// together.
const MaxCorners = 10000

// maxCrossings is how many crossings are told before the rest are left out.
const maxCrossings = 50

// Fault is one thing wrong with a polygon, a prism or a space.
type Fault struct {
	// Part is where in the shape the fault is, such as "outer" or "holes[2]";
	// it is empty for the shape as a whole.
	Part string
	// Corner is the index of the corner, or of the edge that starts there; -1
	// where the fault concerns the whole part.
	Corner int
	// Wrong is what is wrong and what is allowed.
	Wrong string
}

// Error gives place and fault in one line.
func (f *Fault) Error() string {
	switch {
	case f.Part == "":
		return f.Wrong
	case f.Corner < 0:
		return f.Part + ": " + f.Wrong
	}
	return fmt.Sprintf("%s[%d]: %s", f.Part, f.Corner, f.Wrong)
}

func fault(part string, corner int, format string, args ...any) error {
	return &Fault{Part: part, Corner: corner, Wrong: fmt.Sprintf(format, args...)}
}

// Validate gives everything wrong with the polygon, nothing when it is valid;
// each is a [*Fault]. In a valid polygon every coordinate is a number of
// magnitude up to [MaxCoordinate], there are at most [MaxCorners] corners, no
// ring has fewer than three corners, repeats a corner, crosses or touches
// itself or runs back along itself, and every hole lies inside the outer ring
// and outside the other holes; it may touch them at single points. Corners and
// crossings are judged on the lattice.
func (p Polygon) Validate() []error {
	if n := p.Corners(); n > MaxCorners {
		return []error{fault("", -1, "%d corners: at most %d are allowed", n, MaxCorners)}
	}
	var faults []error
	for i := range p.ringCount() {
		faults = append(faults, checkCorners(p.ring(i), ringName(i))...)
	}
	if len(faults) > 0 {
		return faults
	}
	if faults = p.crossings(); len(faults) > 0 {
		return faults
	}
	return p.misplacedHoles()
}

func ringName(i int) string {
	if i == 0 {
		return "outer"
	}
	return fmt.Sprintf("holes[%d]", i-1)
}

// checkCorners finds what is wrong with single corners of a ring.
func checkCorners(r Ring, name string) []error {
	var faults []error
	if len(r) < 3 {
		faults = append(faults, fault(name, -1, "%d corners: at least 3 are needed", len(r)))
	}
	for i, c := range r {
		next := r.corner(i + 1)
		switch {
		case !finite(c):
			faults = append(faults, fault(name, i, "(%v, %v) is not a pair of finite numbers", c.X, c.Y))
		case math.Abs(c.X) > MaxCoordinate || math.Abs(c.Y) > MaxCoordinate:
			faults = append(faults, fault(name, i, "(%v, %v) is too far out: coordinates must be within ±%d mm", c.X, c.Y, int(MaxCoordinate)))
		case len(r) > 1 && finite(next) && toNode(c) == toNode(next):
			faults = append(faults, fault(name, i, "repeats at the next corner: (%.2f, %.2f)", c.X, c.Y))
		}
	}
	if len(faults) == 0 && onLine(r) {
		faults = append(faults, fault(name, -1, "encloses no area: all corners lie on one line"))
	}
	return faults
}

// onLine tells whether all corners lie on one line on the lattice.
func onLine(r Ring) bool {
	a, b := toNode(r[0]), toNode(r[1])
	for _, c := range r[2:] {
		if side(a, b, toNode(c)) != 0 {
			return false
		}
	}
	return true
}

// edge is one edge of a polygon on the lattice.
type edge struct {
	a, b       node
	ring, i, n int
}

func (e edge) String() string { return fmt.Sprintf("%s edge %d", ringName(e.ring), e.i) }

func (p Polygon) edges() []edge {
	out := make([]edge, 0, p.Corners())
	for k := range p.ringCount() {
		r := p.ring(k)
		for i := range r {
			out = append(out, edge{toNode(r[i]), toNode(r.corner(i + 1)), k, i, len(r)})
		}
	}
	return out
}

// crossings finds edges that meet where they may not. Edges are taken in order
// of their least x and compared with those that start before they end.
func (p Polygon) crossings() []error {
	edges := p.edges()
	slices.SortFunc(edges, func(e, f edge) int { return cmp.Compare(min(e.a.x, e.b.x), min(f.a.x, f.b.x)) })
	var faults []error
	for i, e := range edges {
		for _, f := range edges[i+1:] {
			if min(f.a.x, f.b.x) > max(e.a.x, e.b.x) {
				break
			}
			if wrong := conflict(e, f); wrong != "" {
				faults = append(faults, conflictFault(e, f, wrong))
			}
			if len(faults) == maxCrossings {
				return append(faults, fault("", -1, "there are more such crossings; only the first %d are told", maxCrossings))
			}
		}
	}
	return faults
}

func conflictFault(e, f edge, wrong string) error {
	if f.ring < e.ring || (f.ring == e.ring && f.i < e.i) {
		e, f = f, e
	}
	at := meeting(e.a, e.b, f.a, f.b)
	return fault(ringName(e.ring), e.i, "the edge from here %s %s near (%.2f, %.2f)", wrong, f, at.X, at.Y)
}

// conflict is what two edges do that they may not, if anything.
func conflict(e, f edge) string {
	switch {
	case !meet(e.a, e.b, f.a, f.b):
		return ""
	case alongside(e, f):
		return "runs along"
	case e.ring == f.ring && ((e.i+1)%e.n == f.i || (f.i+1)%f.n == e.i):
		return ""
	case cross(e.a, e.b, f.a, f.b):
		return "crosses"
	case e.ring == f.ring:
		return "touches"
	}
	return ""
}

// alongside tells whether two edges have more than a point in common.
func alongside(e, f edge) bool {
	if side(e.a, e.b, f.a) != 0 || side(e.a, e.b, f.b) != 0 {
		return false
	}
	dx, dy := e.b.x-e.a.x, e.b.y-e.a.y
	along := func(p node) int64 { return (p.x-e.a.x)*dx + (p.y-e.a.y)*dy }
	s, t := along(f.a), along(f.b)
	return max(min(s, t), 0) < min(max(s, t), along(e.b))
}

// misplacedHoles finds holes outside the outer ring or overlapping another.
func (p Polygon) misplacedHoles() []error {
	var faults []error
	outer := Polygon{Outer: p.Outer}
	for i, h := range p.Holes {
		if !outer.ContainsPolygon(Polygon{Outer: h}) {
			faults = append(faults, fault(ringName(i+1), -1, "lies outside the outer ring or crosses it"))
		}
		for k, g := range p.Holes[:i] {
			if overlapExactly(Polygon{Outer: h}, Polygon{Outer: g}) {
				faults = append(faults, fault(ringName(i+1), -1, "overlaps holes[%d]", k))
			}
		}
	}
	return faults
}

func overlapExactly(p, q Polygon) bool {
	var pb, qb room
	pm, qm := meshOf(p, &pb), meshOf(q, &qb)
	return pm.overlaps(&qm)
}

// Validate gives everything wrong with the prism: with its base, and with its
// heights, which must be numbers within [MaxCoordinate], Top above Bottom by a
// lattice step at least.
func (p Prism) Validate() []error {
	faults := p.Base.Validate()
	if !finite(r2.Point{X: p.Bottom, Y: p.Top}) || max(math.Abs(p.Bottom), math.Abs(p.Top)) > MaxCoordinate {
		return append(faults, fault("height", -1, "from %v to %v: must be numbers within ±%d mm", p.Bottom, p.Top, int(MaxCoordinate)))
	}
	if steps(p.Top) <= steps(p.Bottom) {
		faults = append(faults, fault("height", -1, "top %v must be above bottom %v", p.Top, p.Bottom))
	}
	return faults
}

// Validate gives everything wrong with the space: no solid at all, and every
// fault of a solid or a keep-out.
func (s Space) Validate() []error {
	var faults []error
	if len(s.Solids) == 0 {
		faults = append(faults, fault("solids", -1, "none: at least one is needed"))
	}
	add := func(kind string, ps []Prism) {
		for i, p := range ps {
			for _, err := range p.Validate() {
				faults = append(faults, fmt.Errorf("%s[%d]: %w", kind, i, err))
			}
		}
	}
	add("solids", s.Solids)
	add("keep_outs", s.KeepOuts)
	return faults
}
