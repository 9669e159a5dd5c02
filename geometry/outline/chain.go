package outline

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"stowbay/geometry"
)

// chain is a path flattened, in mm. A closed one may lack its last side.
type chain struct {
	layer string
	line  int
	pts   []r2.Point
}

// chain flattens a path.
func (p path) chain(mm float64) (chain, error) {
	c := chain{layer: p.layer, line: p.line}
	ok := true
	if p.arc != nil {
		c.pts, ok = p.arc.scaled(mm).open()
	} else {
		c.pts, ok = p.flatten(mm)
	}
	if !ok {
		return c, &Fault{Line: p.line, Wrong: fmt.Sprintf("to keep within %g mm of the curves here would need more than %d chords for one, or %d in all", ChordTolerance, maxCurve, maxPoints)}
	}
	for _, q := range c.pts {
		if !inRange(q) {
			return c, &Fault{Line: p.line, Wrong: fmt.Sprintf("(%g, %g) mm is too far out: coordinates must be within ±%g mm", q.X, q.Y, float64(geometry.MaxCoordinate))}
		}
	}
	return c, nil
}

func (e ellipse) scaled(mm float64) ellipse {
	e.centre, e.rx, e.ry = e.centre.Mul(mm), e.rx*mm, e.ry*mm
	return e
}

// open are the points of the arc with both ends.
func (e ellipse) open() ([]r2.Point, bool) {
	return e.flatten([]r2.Point{e.at(e.start)}, e.at(e.start+e.sweep), ChordTolerance)
}

func (p path) flatten(mm float64) (pts []r2.Point, ok bool) {
	for i, v := range p.pts {
		a := v.at.Mul(mm)
		if i == 0 {
			pts = append(pts, a)
		}
		if i+1 == len(p.pts) && !p.closed {
			break
		}
		b := p.pts[(i+1)%len(p.pts)].at.Mul(mm)
		if math.Abs(v.bulge) < 1e-9 || a == b {
			pts = append(pts, b)
			continue
		}
		if pts, ok = bulged(a, b, v.bulge).flatten(pts, b, ChordTolerance); !ok || len(pts) > maxPoints {
			return nil, false
		}
	}
	return pts, true
}

// joint is how near in mm the ends of two pieces must be to be joined.
const joint = geometry.Lattice

// knots numbers the places where chains of a layer may join: ends nearer than
// a joint share a place.
type knots struct {
	cells map[knotCell][]int
	at    []r2.Point
}

// knotCell is a square of the size of a joint; places to share lie in the
// same or a neighbouring one.
type knotCell struct {
	layer string
	x, y  int64
}

// row is the row of squares, or the column, that a coordinate lies in.
func row(v float64) int64 { return int64(math.Floor(v / joint)) }

func (k *knots) number(layer string, p r2.Point) int {
	for x := row(p.X - joint); x <= row(p.X+joint); x++ {
		for y := row(p.Y - joint); y <= row(p.Y+joint); y++ {
			for _, i := range k.cells[knotCell{layer, x, y}] {
				if p.Sub(k.at[i]).Norm() < joint {
					return i
				}
			}
		}
	}
	n := len(k.at)
	k.at = append(k.at, p)
	home := knotCell{layer, row(p.X), row(p.Y)}
	k.cells[home] = append(k.cells[home], n)
	return n
}

// joiner puts chains end to end.
type joiner struct {
	open  []chain
	ends  [][2]int // the knots of each chain's first and last point
	meets [][]int  // the chains whose ends meet at each knot
	done  []bool
}

// join puts chains end to end, within a layer, where exactly two ends meet. It
// gives the closed loops, and what is left.
func join(open []chain) (loops, loose []chain) {
	j := newJoiner(open)
	for i := range open {
		if !j.done[i] {
			if loop, ok := j.follow(i); ok {
				loops = append(loops, loop)
			} else {
				loose = append(loose, open[i])
			}
		}
	}
	return loops, loose
}

func newJoiner(open []chain) *joiner {
	k := knots{cells: map[knotCell][]int{}}
	j := &joiner{open: open, ends: make([][2]int, len(open)), done: make([]bool, len(open))}
	for i, c := range open {
		j.ends[i] = [2]int{k.number(c.layer, c.pts[0]), k.number(c.layer, c.pts[len(c.pts)-1])}
	}
	j.meets = make([][]int, len(k.at))
	for i, e := range j.ends {
		j.meets[e[0]] = append(j.meets[e[0]], i)
		j.meets[e[1]] = append(j.meets[e[1]], i)
	}
	return j
}

// follow goes from a chain to the next at each knot until it comes back; it
// answers no where the way ends or forks. Only a loop's chains are done with.
func (j *joiner) follow(first int) (chain, bool) {
	members := j.way(first)
	if members == nil {
		return chain{}, false
	}
	loop := chain{layer: j.open[first].layer, line: j.open[first].line}
	at := j.ends[first][0]
	for _, m := range members {
		j.done[m] = true
		pts := j.open[m].pts
		if j.ends[m][0] != at {
			pts = slices.Clone(pts)
			slices.Reverse(pts)
		}
		at = j.ends[m][0] + j.ends[m][1] - at
		loop.pts = append(loop.pts, pts...)
	}
	return loop, true
}

// way is the chains of the loop that starts with one, in order; nil when there
// is none.
func (j *joiner) way(first int) []int {
	home, at := j.ends[first][0], j.ends[first][1]
	members := []int{first}
	passed := []int{at}
	for at != home {
		next, ok := j.other(at, members[len(members)-1])
		if !ok {
			return j.cut(passed)
		}
		members = append(members, next)
		at = j.ends[next][0] + j.ends[next][1] - at
		passed = append(passed, at)
	}
	if len(j.meets[home]) != 2 {
		return j.cut(passed)
	}
	return members
}

// cut takes the knots of a way that does not close apart, so that no later
// search goes along it again: no loop can pass there.
func (j *joiner) cut(passed []int) []int {
	for _, at := range passed {
		j.meets[at] = nil
	}
	return nil
}

// other is the one chain that meets a chain at a knot.
func (j *joiner) other(at, now int) (int, bool) {
	m := j.meets[at]
	if len(m) != 2 || m[0] == m[1] {
		return 0, false
	}
	return m[0] + m[1] - now, true
}
