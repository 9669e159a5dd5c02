package geometry

import (
	"math"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

// pt is short for a point.
func pt(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

// ringOf makes a ring from coordinates in pairs.
func ringOf(xy ...float64) Ring {
	r := make(Ring, 0, len(xy)/2)
	for i := 0; i < len(xy); i += 2 {
		r = append(r, pt(xy[i], xy[i+1]))
	}
	return r
}

// cell is a unit square with its least corner at x, y.
type cell struct{ x, y int }

// cells is a region made of unit squares: the brute-force twin of a polygon.
type cells map[cell]bool

// drawCells draws a region of unit squares in one piece, with no two squares
// touching only at a corner, so that its boundary is made of simple rings.
func drawCells(t *rapid.T, size int, label string) cells {
	grid := rapid.SliceOfN(rapid.Bool(), size*size, size*size).Draw(t, label)
	all := cells{}
	for i, on := range grid {
		if on {
			all[cell{i % size, i / size}] = true
		}
	}
	all[cell{0, 0}] = true
	all.fillPinches(size)
	return all.piece(cell{0, 0})
}

// fillPinches fills squares until none touch only at a corner.
func (s cells) fillPinches(size int) {
	for again := true; again; {
		again = false
		for y := range size - 1 {
			for x := range size - 1 {
				a, b := s[cell{x, y}], s[cell{x + 1, y}]
				c, d := s[cell{x, y + 1}], s[cell{x + 1, y + 1}]
				if a == d && b == c && a != b {
					s[cell{x, y}], s[cell{x + 1, y}] = true, true
					again = true
				}
			}
		}
	}
}

func (s cells) piece(from cell) cells {
	out := cells{from: true}
	todo := []cell{from}
	for len(todo) > 0 {
		c := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, n := range []cell{{c.x + 1, c.y}, {c.x - 1, c.y}, {c.x, c.y + 1}, {c.x, c.y - 1}} {
			if s[n] && !out[n] {
				out[n] = true
				todo = append(todo, n)
			}
		}
	}
	return out
}

func (s cells) shifted(dx, dy int) cells {
	out := cells{}
	for c := range s {
		out[cell{c.x + dx, c.y + dy}] = true
	}
	return out
}

// and counts the squares in both regions.
func (s cells) and(o cells) int {
	n := 0
	for c := range s {
		if o[c] {
			n++
		}
	}
	return n
}

// grown is every square within k squares of the region, sideways or slantwise.
func (s cells) grown(k int) cells {
	out := cells{}
	for c := range s {
		for dx := -k; dx <= k; dx++ {
			for dy := -k; dy <= k; dy++ {
				out[cell{c.x + dx, c.y + dy}] = true
			}
		}
	}
	return out
}

// shrunk is every square of the region all of whose squares within k, sideways
// or slantwise, are in the region too.
func (s cells) shrunk(k int) cells {
	out := cells{}
	for c := range s {
		whole := true
		for dx := -k; dx <= k; dx++ {
			for dy := -k; dy <= k; dy++ {
				whole = whole && s[cell{c.x + dx, c.y + dy}]
			}
		}
		if whole {
			out[c] = true
		}
	}
	return out
}

// polygon traces the boundary, the region on its left, keeping every unit edge
// a separate edge.
func (s cells) polygon() Polygon {
	next := map[cell]cell{}
	for c := range s {
		a, b := cell{c.x + 1, c.y}, cell{c.x + 1, c.y + 1}
		d := cell{c.x, c.y + 1}
		edge := func(out cell, from, to cell) {
			if !s[out] {
				next[from] = to
			}
		}
		edge(cell{c.x, c.y - 1}, c, a)
		edge(cell{c.x + 1, c.y}, a, b)
		edge(cell{c.x, c.y + 1}, b, d)
		edge(cell{c.x - 1, c.y}, d, c)
	}
	return fromRings(chain(next))
}

func chain(next map[cell]cell) []Ring {
	var rings []Ring
	for len(next) > 0 {
		var at cell
		for at = range next {
			break
		}
		var r Ring
		for {
			to, ok := next[at]
			if !ok {
				break
			}
			r = append(r, pt(float64(at.x), float64(at.y)))
			delete(next, at)
			at = to
		}
		rings = append(rings, r)
	}
	return rings
}

func fromRings(rings []Ring) Polygon {
	var p Polygon
	for _, r := range rings {
		if r.Area() > 0 {
			p.Outer = r
		} else {
			p.Holes = append(p.Holes, r)
		}
	}
	return p
}

// slanted maps the unit grid to one with sides of 5 off the axes, exactly:
// (1,0) to (3,4) and (0,1) to (-4,3). It turns by atan(4/3) and scales by 5.
func slanted(p Polygon) Polygon {
	return p.mapped(func(q r2.Point) r2.Point { return pt(3*q.X-4*q.Y, 4*q.X+3*q.Y) })
}

// drawRing draws a simple ring of few corners on a coarse grid, where contact,
// corners on edges and shared edges are common.
func drawRing(t *rapid.T, label string) Ring {
	return rapid.Custom(func(t *rapid.T) Ring {
		n := rapid.IntRange(3, 7).Draw(t, "n")
		r := make(Ring, n)
		for i := range r {
			r[i] = pt(float64(rapid.IntRange(0, 6).Draw(t, "x")), float64(rapid.IntRange(0, 6).Draw(t, "y")))
		}
		return r
	}).Filter(simpleByBrute).Draw(t, label)
}

// simpleByBrute checks all pairs of edges in floating point, exact for small
// whole numbers.
func simpleByBrute(r Ring) bool {
	n := len(r)
	for i := range n {
		a, b := r[i], r[(i+1)%n]
		if a == b {
			return false
		}
		for k := i + 1; k < n; k++ {
			c, d := r[k], r[(k+1)%n]
			next := k == i+1 || (i == 0 && k == n-1)
			if next && foldsBack(a, b, c, d) || !next && touchByBrute(a, b, c, d) {
				return false
			}
		}
	}
	return true
}

// foldsBack tells whether two edges with a common corner run the same way from
// it.
func foldsBack(a, b, c, d r2.Point) bool {
	if b != c {
		a, b, c, d = c, d, a, b
	}
	u, v := a.Sub(b), d.Sub(c)
	return b == c && u.Cross(v) == 0 && u.Dot(v) > 0
}

func touchByBrute(a, b, c, d r2.Point) bool {
	return distanceByBrute(a, b, c, d) < 1e-9
}

// distanceByBrute is the distance of two segments: zero when they cross, else
// the least of the four distances of an end to the other.
func distanceByBrute(a, b, c, d r2.Point) float64 {
	o := func(p, q, r r2.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	if o(a, b, c)*o(a, b, d) < 0 && o(c, d, a)*o(c, d, b) < 0 {
		return 0
	}
	return min(pointByBrute(a, c, d), pointByBrute(b, c, d), pointByBrute(c, a, b), pointByBrute(d, a, b))
}

func pointByBrute(p, a, b r2.Point) float64 {
	t := p.Sub(a).Dot(b.Sub(a)) / b.Sub(a).Dot(b.Sub(a))
	t = math.Max(0, math.Min(1, t))
	return p.Sub(a.Mul(1 - t).Add(b.Mul(t))).Norm()
}

// boundaryByBrute is the distance of a point from the boundary.
func boundaryByBrute(p Polygon, q r2.Point) float64 {
	best := math.Inf(1)
	for i := range p.ringCount() {
		r := p.ring(i)
		for k := range r {
			best = min(best, pointByBrute(q, r[k], r.corner(k+1)))
		}
	}
	return best
}

// insideByBrute sums the angles the edges subtend at a point: a full turn for
// each ring around it.
func insideByBrute(p Polygon, q r2.Point) bool {
	turns := 0.0
	for i := range p.ringCount() {
		r, sum := p.ring(i), 0.0
		for k := range r {
			u, v := r[k].Sub(q), r.corner(k+1).Sub(q)
			sum += math.Atan2(u.Cross(v), u.Dot(v))
		}
		if i == 0 {
			turns += math.Abs(sum)
		} else {
			turns -= math.Abs(sum)
		}
	}
	return turns > math.Pi
}

// drawStar draws a polygon with corners in order of angle about a centre, off
// the lattice, often with sharp re-entrant corners.
func drawStar(t *rapid.T, label string) Polygon {
	return rapid.Custom(func(t *rapid.T) Polygon {
		n := rapid.IntRange(3, 14).Draw(t, "n")
		cx := rapid.Float64Range(-500, 500).Draw(t, "cx")
		cy := rapid.Float64Range(-500, 500).Draw(t, "cy")
		r := make(Ring, n)
		for i := range r {
			a := 2 * math.Pi * (float64(i) + rapid.Float64Range(0, 0.8).Draw(t, "a")) / float64(n)
			l := rapid.Float64Range(40, 300).Draw(t, "r")
			r[i] = pt(cx+l*math.Cos(a), cy+l*math.Sin(a))
		}
		return Polygon{Outer: r}
	}).Filter(func(p Polygon) bool { return len(p.Validate()) == 0 && p.Outer.Area() > 1000 }).Draw(t, label)
}

func drawRect(t *rapid.T, label string) Rect {
	return rapid.Custom(func(t *rapid.T) Rect {
		turn := rapid.OneOf(rapid.Map(rapid.IntRange(-4, 8), func(k int) float64 { return float64(k) * 90 }), rapid.Float64Range(-360, 360)).Draw(t, "turn")
		return Rect{
			Centre: pt(rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y")),
			Half:   pt(rapid.Float64Range(1, 200).Draw(t, "hx"), rapid.Float64Range(1, 200).Draw(t, "hy")),
			Turn:   degrees(turn),
		}
	}).Draw(t, label)
}
