package electric

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// shut is the gap in mm between a barrier's edge and the box below which the edge counts as closed.
const shut = 1.0

// sheet is an insulating barrier in the box's frame with the edges that a spark could go round.
type sheet struct {
	id    string
	prism geometry.Prism
	edges [][2]r3.Vector
}

// sheetOf finds the open edges of a barrier: the upper ones unless it reaches the ceiling, the lower ones unless it
// stands on the floor, the upright ones unless they reach a wall.
func sheetOf(b *layout.Barrier, room *roomFacts) sheet {
	s := sheet{id: b.ID, prism: geometry.Prism{Base: layout.PolygonOf(b.Outline), Bottom: b.FloorMM, Top: b.CeilingMM}}
	pts := vehicles.Points(b.Outline)
	for i, q := range pts {
		p := pts[(i+len(pts)-1)%len(pts)]
		mid := p.Add(q).Mul(0.5)
		floor, ceiling, inside := room.heights(mid, (b.FloorMM+b.CeilingMM)/2)
		if inside && b.CeilingMM < ceiling-shut {
			s.edges = append(s.edges, [2]r3.Vector{lift(p, b.CeilingMM), lift(q, b.CeilingMM)})
		}
		if inside && b.FloorMM > floor+shut {
			s.edges = append(s.edges, [2]r3.Vector{lift(p, b.FloorMM), lift(q, b.FloorMM)})
		}
		if d, in := room.wallAt(q, (b.FloorMM+b.CeilingMM)/2); in && d > shut {
			s.edges = append(s.edges, [2]r3.Vector{lift(q, b.FloorMM), lift(q, b.CeilingMM)})
		}
	}
	return s
}

func lift(p r2.Point, z float64) r3.Vector { return r3.Vector{X: p.X, Y: p.Y, Z: z} }

// around is the length of the shortest way from a to b by one open edge of the sheet, with the point passed. It
// is never longer than the true way round, which may have to pass more edges. It is infinite where the sheet
// closes the box off.
func (s *sheet) around(a, b r3.Vector) (length float64, by r3.Vector) {
	length = math.Inf(1)
	for _, e := range s.edges {
		p := bend(a, b, e[0], e[1])
		if l := a.Sub(p).Norm() + p.Sub(b).Norm(); l < length {
			length, by = l, p
		}
	}
	return length, by
}

// bend is the point of the segment pq by which the way from a to b is shortest: the two are turned about the line
// into one plane, where the way is straight.
func bend(a, b, p, q r3.Vector) r3.Vector {
	u := q.Sub(p)
	l := u.Norm()
	if l == 0 {
		return p
	}
	u = u.Mul(1 / l)
	ta, tb := a.Sub(p).Dot(u), b.Sub(p).Dot(u)
	ha, hb := a.Sub(p.Add(u.Mul(ta))).Norm(), b.Sub(p.Add(u.Mul(tb))).Norm()
	t := (ta + tb) / 2
	if ha+hb > 0 {
		t = (ta*hb + tb*ha) / (ha + hb)
	}
	return p.Add(u.Mul(min(max(t, 0), l)))
}

// airWay is the length of the way through air between two points, with the point it bends at and the barrier it
// goes round where one is in the straight line. Of several barriers the longest single way round counts, which is
// never more than the true one.
func airWay(a, b r3.Vector, sheets []sheet) (length float64, by r3.Vector, barrier string) {
	length = b.Sub(a).Norm()
	for i := range sheets {
		s := &sheets[i]
		if !geometry.SegmentPrism(a, b, s.prism) {
			continue
		}
		l, p := s.around(a, b)
		if math.IsInf(l, 1) {
			return l, b, s.id
		}
		if l > length {
			length, by, barrier = l, p, s.id
		}
	}
	return length, by, barrier
}
