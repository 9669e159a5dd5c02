package layout

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// BoxForBay returns a box that fills a bay: the bay's free space less its clearance at walls, floors, ceilings and
// keep-outs of its own, and less other keep-outs with the margins they ask for; see [Arrangement.BoxFor]. Where that
// falls into several pieces the box is the largest of them, and remark says so; a keep-out that would leave a hole
// through the box has the box end beside it instead. The box has no modules yet, and its lid flange is not taken off the space.
//
// The error says why no box fits; it is a [NoRoom] where too little of the bay is left for one.
func BoxForBay(bay *vehicles.Bay, beside []vehicles.KeepOut, id string, shell Shell) (box *Box, remark string, err error) {
	free, err := roomIn(bay, beside)
	if err != nil {
		return nil, "", err
	}
	var whole []geometry.Prism
	cut := false
	for _, p := range free.Solids {
		q, holed, err := withoutHoles(p)
		if err != nil {
			return nil, "", err
		}
		whole, cut = append(whole, q...), cut || holed
	}
	pieces := connected(whole)
	if len(pieces) == 0 {
		return nil, "", &NoRoom{fmt.Sprintf("keep-outs leave nothing of bay %s", nameOr(bay.Name, bay.ID))}
	}
	box, err = boxOf(pieces[0], id, bay, shell)
	return box, pieceRemark(pieces, cut), err
}

// roomIn is the part of a bay where a box may be, empty where keep-outs leave nothing.
func roomIn(bay *vehicles.Bay, beside []vehicles.KeepOut) (geometry.Space, error) {
	free, err := BaySpace(bay).Inset(bay.ClearanceMM, bay.ClearanceMM, bay.ClearanceMM)
	if err == nil && len(free.Solids) == 0 {
		err = &NoRoom{fmt.Sprintf("nothing is left of bay %s at a clearance of %g mm", nameOr(bay.Name, bay.ID), bay.ClearanceMM)}
	}
	for i := 0; i < len(beside) && err == nil; i++ {
		free, err = outOf(free, KeepOutPrism(&beside[i]))
	}
	return free, err
}

// NoRoom is why there is no room for a box or inside one.
type NoRoom struct{ Why string }

// Error says why.
func (e *NoRoom) Error() string { return e.Why }

func pieceRemark(pieces [][]geometry.Prism, cut bool) string {
	remark := ""
	if len(pieces) > 1 {
		var all float64
		for _, p := range pieces {
			all += volume(p)
		}
		remark = fmt.Sprintf("the free space falls into %d pieces; the box is the largest, with %.0f %% of it", len(pieces), 100*volume(pieces[0])/all)
	}
	if cut {
		if remark != "" {
			remark += "; "
		}
		remark += "a keep-out stands free in the bay, and the box ends beside it"
	}
	return remark
}

// boxOf makes a box of prisms, with its origin at their least corner.
func boxOf(solids []geometry.Prism, id string, bay *vehicles.Bay, shell Shell) (*Box, error) {
	lo, _ := geometry.Space{Solids: solids}.Bounds()
	at := snapped(lo)
	b := &Box{ID: id, Name: clip(bay.Name, 200), Bay: bay.ID, At: at, Shell: shell, Sealed: bay.InCabin}
	for _, p := range stacked(solids) {
		p = p.Translate(at.Vector().Mul(-1))
		base := p.Base.Simplified()
		if base.IsEmpty() {
			continue
		}
		b.Levels = append(b.Levels, vehicles.Level{Outline: outline(base.Outer), FloorMM: snap(p.Bottom), CeilingMM: snap(p.Top)})
	}
	if len(b.Levels) == 0 {
		return nil, &NoRoom{"what is left of the bay is too thin for a box"}
	}
	return b, nil
}

func outline(r geometry.Ring) []vehicles.XY {
	out := make([]vehicles.XY, len(r))
	for i, p := range r {
		out[i] = vehicles.XY{snap(p.X), snap(p.Y)}
	}
	return out
}

// stacked joins prisms of the same base that stand on one another.
func stacked(ps []geometry.Prism) []geometry.Prism {
	var out []geometry.Prism
	for _, p := range ps {
		i := slices.IndexFunc(out, func(q geometry.Prism) bool {
			return math.Abs(q.Top-p.Bottom) < geometry.Lattice && sameBase(q.Base, p.Base)
		})
		if i >= 0 {
			out[i].Top = p.Top
			continue
		}
		out = append(out, p)
	}
	return out
}

func sameBase(a, b geometry.Polygon) bool {
	a, b = a.Simplified(), b.Simplified()
	return len(a.Holes)+len(b.Holes) == 0 && slices.EqualFunc(a.Outer, b.Outer, func(p, q r2.Point) bool {
		return p.Sub(q).Norm() < geometry.Lattice
	})
}

// withoutHoles cuts a prism so that no piece has a hole: the largest part beside each hole is kept.
func withoutHoles(p geometry.Prism) (out []geometry.Prism, cut bool, err error) {
	open := []geometry.Polygon{p.Base}
	for n := 0; len(open) > 0; n++ {
		if n > geometry.MaxCorners {
			return nil, cut, errors.New("the bay has too many keep-outs that stand free in it")
		}
		base := open[0]
		open = open[1:]
		if len(base.Holes) == 0 {
			out = append(out, geometry.Prism{Base: base, Bottom: p.Bottom, Top: p.Top})
			continue
		}
		cut = true
		side, err := largestBeside(base, base.Holes[0].Bounds())
		if err != nil {
			return nil, cut, err
		}
		open = append(open, side...)
	}
	return out, cut, nil
}

// largestBeside gives the largest of the four parts of a polygon in front of, behind, left and right of a rectangle.
func largestBeside(p geometry.Polygon, r r2.Rect) ([]geometry.Polygon, error) {
	b := p.Bounds()
	halves := []geometry.Polygon{
		geometry.NewRect(b.X.Lo, b.Y.Lo, r.X.Lo, b.Y.Hi), geometry.NewRect(r.X.Hi, b.Y.Lo, b.X.Hi, b.Y.Hi),
		geometry.NewRect(b.X.Lo, b.Y.Lo, b.X.Hi, r.Y.Lo), geometry.NewRect(b.X.Lo, r.Y.Hi, b.X.Hi, b.Y.Hi),
	}
	var best []geometry.Polygon
	var most float64
	for _, h := range halves {
		part, err := geometry.Intersection(p, h)
		if err != nil {
			return nil, err
		}
		var area float64
		for _, q := range part {
			area += q.Area()
		}
		if area > most {
			best, most = part, area
		}
	}
	return best, nil
}

// connected groups prisms that share a face, the largest group first.
func connected(ps []geometry.Prism) [][]geometry.Prism {
	group := make([]int, len(ps))
	for i := range ps {
		group[i] = i
		for j := range i {
			if group[i] != group[j] && shareFace(ps[i], ps[j]) {
				from, to := group[i], group[j]
				for k := range i + 1 {
					if group[k] == from {
						group[k] = to
					}
				}
			}
		}
	}
	by := map[int][]geometry.Prism{}
	for i, p := range ps {
		by[group[i]] = append(by[group[i]], p)
	}
	out := make([][]geometry.Prism, 0, len(by))
	for i := range ps {
		if g := by[group[i]]; g != nil {
			out = append(out, g)
			delete(by, group[i])
		}
	}
	slices.SortStableFunc(out, func(a, b []geometry.Prism) int {
		return cmp.Compare(volume(b), volume(a))
	})
	return out
}

func volume(ps []geometry.Prism) float64 {
	var v float64
	for _, p := range ps {
		v += p.Volume()
	}
	return v
}

// shareFace tells whether two prisms meet in more than an edge: one on the other, or side by side at a common height. Prisms
// that meet side by side are told by growing one by a lattice step along the plan.
func shareFace(a, b geometry.Prism) bool {
	lo, hi := max(a.Bottom, b.Bottom), min(a.Top, b.Top)
	if hi < lo-geometry.Lattice {
		return false
	}
	if hi-lo < geometry.Lattice {
		return a.Base.Overlaps(b.Base)
	}
	const step = 0.5 // mm: more than the allowance for turned shapes, less than any box wall
	for _, d := range []r2.Point{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
		if a.Base.Translate(d).Overlaps(b.Base) {
			return true
		}
	}
	return false
}

// SuggestFeet returns feet for a box that has none: brackets with one M10 8.8 bolt each on the walls along its longer side, near the ends and
// no more than 600 mm apart, at the floor of the part they stand at, the bolts pointing down. The spacing is common practice, not
// a rule; the restraint checks say whether they hold.
func SuggestFeet(b *Box) []Foot {
	local := *b
	local.At, local.TurnDeg = vehicles.XYZ{}, 0
	e := local.extent()
	long, across := AlongX, AlongY
	if size := e.hi.Sub(e.lo); size.Y > size.X {
		long, across = AlongY, AlongX
	}
	var feet []Foot
	for _, side := range []float64{-1, 1} {
		for _, at := range footRow(long.of(e.lo), long.of(e.hi)) {
			wall, floor, ok := wallAt(b.Levels, long, at, side)
			if !ok {
				continue
			}
			v := long.vector(at).Add(across.vector(wall + side*footArmMM)).Add(AlongZ.vector(floor))
			feet = append(feet, Foot{ID: fmt.Sprintf("f%d", len(feet)+1), At: snapped(v), Normal: "down", Bolt: "M10", Class: "8.8"})
		}
	}
	return feet
}

// wallAt finds the outermost wall of levels on a side (-1 or 1) at a place along an axis of the plan, and the floor of the level it belongs to.
func wallAt(ls []vehicles.Level, long Axis, at, side float64) (wall, floor float64, ok bool) {
	for _, l := range ls {
		for i, p := range l.Outline {
			q := l.Outline[(i+1)%len(l.Outline)]
			pl, ql := p[long], q[long]
			if pl == ql || at < min(pl, ql) || at > max(pl, ql) {
				continue
			}
			w := p[1-long] + (q[1-long]-p[1-long])*(at-pl)/(ql-pl)
			if !ok || side*w > side*wall {
				wall, floor, ok = w, l.FloorMM, true
			}
		}
	}
	return wall, floor, ok
}

// Places of suggested feet: common practice.
const (
	footArmMM   = 25.0  // bolt centre to the wall
	footEndMM   = 60.0  // from the box's end
	footPitchMM = 600.0 // most between two feet
)

// footRow spaces feet along a side from lo to hi.
func footRow(lo, hi float64) []float64 {
	end := min(footEndMM, (hi-lo)/4)
	span := hi - lo - 2*end
	n := max(1, int(math.Ceil(span/footPitchMM)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = lo + end + span*float64(i)/float64(n)
	}
	return out
}
