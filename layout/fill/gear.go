package fill

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// Corner says towards which end of the box gear is put.
type Corner int

// The ends of a box along its own x axis.
const (
	ToFront Corner = iota
	ToRear
)

// Gear returns the box with pieces of gear put on its floor, as close to one end as they go, the largest first,
// each with its free strips inside the box and clear of what already stands there. Modules are not respected:
// put the gear in first and pack round it. The error names the first piece that finds no place.
func Gear(b *layout.Box, lib *vehicles.Library, pieces []layout.PlacedGear, end Corner) (*layout.Box, error) {
	inner, err := layout.BoxInterior(b)
	if err != nil {
		return nil, fmt.Errorf("box %s: %w", b.ID, err)
	}
	room, err := inner.Prepare()
	if err != nil {
		return nil, fmt.Errorf("box %s: %w", b.ID, err)
	}
	out := *b
	out.Gear = slices.Clone(b.Gear)
	s := stand{box: &out, lib: lib, room: room, end: end}
	s.lo, s.hi = inner.Bounds()
	for _, p := range largestFirst(pieces, lib) {
		if err := s.put(p); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

func largestFirst(pieces []layout.PlacedGear, lib *vehicles.Library) []layout.PlacedGear {
	out := slices.Clone(pieces)
	area := func(p layout.PlacedGear) float64 {
		if g := lib.Gear(p.Gear); g != nil {
			return g.LengthMM * g.WidthMM
		}
		return 0
	}
	slices.SortStableFunc(out, func(p, q layout.PlacedGear) int { return cmp.Compare(area(q), area(p)) })
	return out
}

// stand is a box in which gear is being put.
type stand struct {
	box    *layout.Box
	lib    *vehicles.Library
	room   geometry.Prepared
	end    Corner
	lo, hi r3.Vector
	solids []geometry.Prism
	strips []geometry.Prism
}

// step is the pitch in mm at which places are tried.
const step = 5

func (s *stand) put(p layout.PlacedGear) error {
	g := s.lib.Gear(p.Gear)
	if g == nil {
		return fmt.Errorf("there is no gear %q", p.Gear)
	}
	s.collect()
	best, found := p, false
	for _, turn := range []int{0, 90, 180, 270} {
		p.Turn = turn
		q, ok := s.closest(g, p)
		if ok && (!found || s.cost(g, q) < s.cost(g, best)) {
			best, found = q, true
		}
	}
	if !found {
		return fmt.Errorf("box %s has no room on its floor for %s: make the box larger, or take modules or other gear out of it", s.box.ID, g.Name)
	}
	s.box.Gear = append(s.box.Gear, best)
	return nil
}

// collect lists what already stands in the box.
func (s *stand) collect() {
	s.solids, s.strips = nil, nil
	for i := range s.box.Gear {
		if g := s.lib.Gear(s.box.Gear[i].Gear); g != nil {
			s.take(layout.GearPose(g, &s.box.Gear[i]), layout.GearStrips(g, layout.GearPose(g, &s.box.Gear[i])))
		}
	}
}

func (s *stand) take(p layout.Pose, strips []layout.BoxStrip) {
	s.solids = append(s.solids, p.Prism())
	for _, st := range strips {
		s.strips = append(s.strips, st.Prism)
	}
}

// cost is how far a piece reaches into the box from the end wanted.
func (s *stand) cost(g *vehicles.Gear, p layout.PlacedGear) float64 {
	e := layout.GearPose(g, &p).Extent()
	if s.end == ToRear {
		return s.hi.X - p.At[0]
	}
	return p.At[0] + e.X - s.lo.X
}

// closest returns the place nearest to the end at which the piece stands free, row by row.
func (s *stand) closest(g *vehicles.Gear, p layout.PlacedGear) (layout.PlacedGear, bool) {
	e := layout.GearPose(g, &p).Extent()
	for d := 0.0; d <= s.hi.X-s.lo.X-e.X; d += step {
		x := s.lo.X + d
		if s.end == ToRear {
			x = s.hi.X - e.X - d
		}
		for y := s.lo.Y; y <= s.hi.Y-e.Y; y += step {
			if q, ok := s.standsAt(g, p, x, y); ok {
				return q, true
			}
		}
	}
	return p, false
}

// standsAt tries the floors at one place in plan.
func (s *stand) standsAt(g *vehicles.Gear, p layout.PlacedGear, x, y float64) (layout.PlacedGear, bool) {
	for _, slab := range s.room.Slabs() {
		p.At = vehicles.XYZ{x, y, slab.Bottom}
		if s.free(g, p) {
			return p, true
		}
	}
	return p, false
}

func (s *stand) free(g *vehicles.Gear, p layout.PlacedGear) bool {
	pose := layout.GearPose(g, &p)
	body := pose.Prism()
	if !s.room.ContainsPrism(body) {
		return false
	}
	if !s.supported(body) {
		return false
	}
	hits := func(q geometry.Prism) bool { return q.Overlaps(body) }
	if slices.ContainsFunc(s.solids, hits) || slices.ContainsFunc(s.strips, hits) {
		return false
	}
	for _, st := range layout.GearStrips(g, pose) {
		inStrip := func(q geometry.Prism) bool { return q.Overlaps(st.Prism) }
		if !s.room.ContainsPrism(st.Prism) || slices.ContainsFunc(s.solids, inStrip) {
			return false
		}
	}
	return true
}

// supported tells whether a floor is under the middle and all four corners of a body.
func (s *stand) supported(body geometry.Prism) bool {
	b := body.Base.Bounds()
	corners := b.Vertices()
	spots := append(corners[:], b.Center())
	const half = 0.5
	for _, p := range spots {
		x, y := min(max(p.X, b.X.Lo+half), b.X.Hi-half), min(max(p.Y, b.Y.Lo+half), b.Y.Hi-half)
		patch := geometry.Prism{Base: geometry.NewRect(x-half, y-half, x+half, y+half), Bottom: body.Bottom, Top: body.Top}
		if below, _ := s.room.VerticalClearance(patch); below > geometry.Lattice {
			return false
		}
	}
	return true
}
