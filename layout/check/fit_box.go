package check

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// tolerance is the slack in mm given to distances, one step of the lattice that coordinates are held on.
const tolerance = geometry.Lattice

// fitKey names everything that the fit inside a box depends on. A box that was moved as a whole keeps its key.
type fitKey struct {
	levels  *vehicles.Level
	nLevels int
	shell   layout.Shell
	modules *layout.Placement
	nMods   int
	gear    *layout.PlacedGear
	nGear   int
}

func keyOf(b *layout.Box) fitKey {
	return fitKey{first(b.Levels), len(b.Levels), b.Shell, first(b.Modules), len(b.Modules), first(b.Gear), len(b.Gear)}
}

func first[T any](s []T) *T {
	if len(s) == 0 {
		return nil
	}
	return &s[0]
}

// fitCache holds what was worked out for the boxes of one evaluation.
type fitCache struct {
	lib      *vehicles.Library
	boxes    map[fitKey]*boxFit
	interior map[interiorKey]*geometry.Prepared
	byBox    []*boxFit
}

type interiorKey struct {
	levels  *vehicles.Level
	nLevels int
	shell   layout.Shell
}

func (e *Evaluation) fitted(lib *vehicles.Library) fitCache {
	if e == nil || e.fits.lib != lib {
		return fitCache{}
	}
	return e.fits
}

func fitAll(s *layout.Scene, old fitCache) fitCache {
	c := fitCache{lib: s.Library, boxes: map[fitKey]*boxFit{}, interior: map[interiorKey]*geometry.Prepared{}}
	for _, b := range s.Boxes {
		k := keyOf(b.Box)
		ik := interiorKey{k.levels, k.nLevels, k.shell}
		f := old.boxes[k]
		inside := old.interior[ik]
		if f == nil {
			if inside == nil {
				inside = interiorOf(b.Box)
			}
			f = fitBox(b, inside)
		}
		c.boxes[k], c.interior[ik] = f, inside
		c.byBox = append(c.byBox, f)
	}
	return c
}

func interiorOf(b *layout.Box) *geometry.Prepared {
	sp, err := layout.BoxInterior(b)
	if err != nil {
		return nil
	}
	p, err := sp.Prepare()
	if err != nil {
		return nil
	}
	return &p
}

// breach is something that does not hold inside a box, with places in the box's frame and ids without the box's.
type breach struct {
	rule             string
	subject          string
	refs             []string
	required, actual float64
	compare          string
	text             string
	place, to        r3.Vector
	numbers          bool
}

// boxFit is the fit inside one box: what does not hold, and the tightest distance among what does.
type boxFit struct {
	breaches []breach
	pairs    int
	tightest tight
}

// tight is a distance with its two ends in the box's frame.
type tight struct {
	margin   float64 // above what is required
	actual   float64
	required float64
	refs     []string
	from, to r3.Vector
	found    bool
}

func (f *boxFit) note(t tight) {
	if !f.tightest.found || t.margin < f.tightest.margin {
		t.found = true
		f.tightest = t
	}
}

// solid is a body in a box in the box's frame.
type solid struct {
	id       string
	module   *vehicles.Module // nil for gear
	pose     layout.Pose
	gaps     layout.BodyGaps
	lo, hi   r3.Vector
	strips   []layout.BoxStrip
	posture  vehicles.Posture
	gear     bool
	postures []vehicles.Posture
}

func fitBox(b *layout.BoxScene, inside *geometry.Prepared) *boxFit {
	f := &boxFit{}
	solids := solidsOf(b)
	for i := range solids {
		for j := range i {
			f.pair(&solids[j], &solids[i])
		}
	}
	for i := range solids {
		f.posture(&solids[i])
		f.support(b, &solids[i], solids, inside)
		f.walls(&solids[i], inside)
	}
	f.strips(solids, inside)
	return f
}

func solidsOf(b *layout.BoxScene) []solid {
	out := make([]solid, 0, len(b.Modules)+len(b.Gear))
	for _, m := range b.Modules {
		s := solid{id: m.Placement.ID, module: m.Module, pose: m.Pose, posture: m.Placement.Posture, postures: m.Module.Postures}
		s.strips = layout.ModuleStrips(m.Module, m.Pose)
		out = append(out, s.placed())
	}
	for _, g := range b.Gear {
		s := solid{id: g.Placed.ID, pose: g.Pose, gear: true, strips: layout.GearStrips(g.Gear, g.Pose)}
		out = append(out, s.placed())
	}
	return out
}

func (s solid) placed() solid {
	s.gaps = layout.GapsOf(s.module, s.pose)
	s.lo = s.pose.At
	s.hi = s.lo.Add(s.pose.Extent())
	return s
}

// separation returns the free distance between two bodies along each axis; negative where they overlap along it.
func separation(a, b *solid) r3.Vector {
	return r3.Vector{
		X: max(b.lo.X-a.hi.X, a.lo.X-b.hi.X),
		Y: max(b.lo.Y-a.hi.Y, a.lo.Y-b.hi.Y),
		Z: max(b.lo.Z-a.hi.Z, a.lo.Z-b.hi.Z),
	}
}

// far is a distance in mm, along any axis, beyond which two bodies neither break a gap nor are the tightest pair:
// more than the largest gap that a module's record can ask for, 300, and the 100 up to which a pair is noted.
const far = 400

// pair checks overlap and gap of two bodies. They are far enough apart when along at least one axis the gap
// between the facing faces is kept: the larger of the two bodies' own gaps, and half the swelling of each.
func (f *boxFit) pair(a, b *solid) {
	f.pairs++
	sep := separation(a, b)
	if sep.X <= -tolerance && sep.Y <= -tolerance && sep.Z <= -tolerance {
		f.overlap(a, b, sep)
		return
	}
	if max(sep.X, sep.Y, sep.Z) >= far {
		return
	}
	need := neededGap(a, b)
	short, axis := shortfall(sep, need)
	req, act := component(need, axis), component(sep, axis)
	from, to := facing(a, b, axis)
	if short > tolerance {
		f.breaches = append(f.breaches, breach{
			rule: "fit.gap", subject: b.id, refs: []string{a.id, b.id}, required: req, actual: max(act, 0), compare: "at least", numbers: true,
			text:  fmt.Sprintf("Only %.1f mm between %s and %s; %.1f mm are needed there. Move them %.1f mm farther apart.", max(act, 0), a.id, b.id, req, short),
			place: from, to: to,
		})
		return
	}
	if req > 0 && act < 100 {
		f.note(tight{margin: -short, actual: act, required: req, refs: []string{a.id, b.id}, from: from, to: to})
	}
}

func (f *boxFit) overlap(a, b *solid, sep r3.Vector) {
	depth := min(-sep.X, -sep.Y, -sep.Z)
	mid := r3.Vector{
		X: (max(a.lo.X, b.lo.X) + min(a.hi.X, b.hi.X)) / 2,
		Y: (max(a.lo.Y, b.lo.Y) + min(a.hi.Y, b.hi.Y)) / 2,
		Z: (max(a.lo.Z, b.lo.Z) + min(a.hi.Z, b.hi.Z)) / 2,
	}
	f.breaches = append(f.breaches, breach{
		rule: "fit.overlap", subject: b.id, refs: []string{a.id, b.id}, required: 0, actual: depth, compare: "at most", numbers: true,
		text:  fmt.Sprintf("%s and %s overlap by %.1f mm: move one of them.", a.id, b.id, depth),
		place: mid, to: mid,
	})
}

// shortfall returns by how much the gap falls short along the axis on which it is best kept; negative where kept.
func shortfall(sep, need r3.Vector) (float64, int) {
	short, axis := math.Inf(1), 0
	for i := range 3 {
		if s := component(need, i) - component(sep, i); s < short {
			short, axis = s, i
		}
	}
	return short, axis
}

func component(v r3.Vector, axis int) float64 {
	switch axis {
	case 0:
		return v.X
	case 1:
		return v.Y
	}
	return v.Z
}

// facing returns two points on the facing faces, in the middle of what the bodies share across the axis.
func facing(a, b *solid, axis int) (from, to r3.Vector) {
	mid := func(alo, ahi, blo, bhi float64) float64 { return (max(alo, blo) + min(ahi, bhi)) / 2 }
	c := r3.Vector{X: mid(a.lo.X, a.hi.X, b.lo.X, b.hi.X), Y: mid(a.lo.Y, a.hi.Y, b.lo.Y, b.hi.Y), Z: mid(a.lo.Z, a.hi.Z, b.lo.Z, b.hi.Z)}
	p, q := component(a.hi, axis), component(b.lo, axis)
	if component(b.lo, axis)-component(a.hi, axis) < component(a.lo, axis)-component(b.hi, axis) {
		p, q = component(a.lo, axis), component(b.hi, axis)
	}
	return withComponent(c, axis, p), withComponent(c, axis, q)
}

func withComponent(v r3.Vector, axis int, x float64) r3.Vector {
	switch axis {
	case 0:
		v.X = x
	case 1:
		v.Y = x
	default:
		v.Z = x
	}
	return v
}

func neededGap(a, b *solid) r3.Vector {
	ga, gb := &a.gaps, &b.gaps
	return r3.Vector{
		X: max(ga.Between.X, gb.Between.X, ga.Swell.X/2+gb.Swell.X/2),
		Y: max(ga.Between.Y, gb.Between.Y, ga.Swell.Y/2+gb.Swell.Y/2),
		Z: max(lower(a, b, ga, gb), ga.Swell.Z/2+gb.Swell.Z/2),
	}
}

// lower is the vertical gap of whichever body stands lower: its top gap is what has to stay free above it.
func lower(a, b *solid, ga, gb *layout.BodyGaps) float64 {
	if a.lo.Z <= b.lo.Z {
		return ga.Between.Z
	}
	return gb.Between.Z
}

// stripAbove is the depth of the free strip over a body's top, or 0.
func (s *solid) stripAbove() float64 {
	depth := 0.0
	for _, st := range s.strips {
		if st.Prism.Bottom >= s.hi.Z-tolerance {
			depth = max(depth, st.Prism.Height())
		}
	}
	return depth
}

func (f *boxFit) posture(s *solid) {
	if s.gear {
		return
	}
	for _, p := range s.postures {
		if p == s.posture {
			return
		}
	}
	f.breaches = append(f.breaches, breach{
		rule: "fit.posture", subject: s.id, refs: []string{s.id},
		text:  fmt.Sprintf("%s stands %s, which its maker's data does not allow. Choose another posture.", s.id, postureWords(s.posture)),
		place: s.lo.Add(s.hi).Mul(0.5),
	})
}

func postureWords(p vehicles.Posture) string {
	if p == vehicles.Side || p == vehicles.End {
		return "on its " + string(p)
	}
	return string(p)
}

// walls checks that a body is inside and keeps its gap to walls and lid.
func (f *boxFit) walls(s *solid, inside *geometry.Prepared) {
	body := s.pose.Prism()
	mid := body.Centroid()
	if inside == nil || !inside.ContainsPrism(body) {
		f.breaches = append(f.breaches, breach{
			rule: "fit.outside", subject: s.id, refs: []string{s.id},
			text:  fmt.Sprintf("%s sticks out through the box's walls, liner, floor or lid: move it in, or make the box larger.", s.id),
			place: mid,
		})
		return
	}
	g := s.gaps
	f.wallGap(s, inside, body, g)
	_, above := inside.VerticalClearance(body)
	need := max(g.Between.Z, g.Swell.Z/2)
	top := r3.Vector{X: mid.X, Y: mid.Y, Z: body.Top}
	f.against(s, "the lid or roof", need, above, top, top.Add(r3.Vector{Z: above}))
}

func (f *boxFit) wallGap(s *solid, inside *geometry.Prepared, body geometry.Prism, g layout.BodyGaps) {
	d, from, to := inside.WallDistance(body)
	need := g.Wall
	if math.Abs(to.X-from.X) > math.Abs(to.Y-from.Y) {
		need = max(need, g.Swell.X/2)
	} else {
		need = max(need, g.Swell.Y/2)
	}
	f.against(s, "the wall or liner", need, d, from, to)
}

func (f *boxFit) against(s *solid, what string, need, actual float64, from, to r3.Vector) {
	if need <= 0 {
		return
	}
	if actual < need-tolerance {
		f.breaches = append(f.breaches, breach{
			rule: "fit.gap", subject: s.id, refs: []string{s.id}, required: need, actual: actual, compare: "at least", numbers: true,
			text:  fmt.Sprintf("Only %.1f mm from %s to %s; %.1f mm are needed there. Move it %.1f mm away, or make the box larger.", actual, s.id, what, need, need-actual),
			place: from, to: to,
		})
		return
	}
	f.note(tight{margin: actual - need, actual: actual, required: need, refs: []string{s.id}, from: from, to: to})
}

// support checks that a body rests on the floor or on other bodies: its lower face may stand above them by no
// more than what has to stay free over the lower one, its top gap or the strip at terminals on its top.
func (f *boxFit) support(b *layout.BoxScene, s *solid, all []solid, inside *geometry.Prepared) {
	if s.gear || inside == nil || !inside.ContainsPrism(s.pose.Prism()) {
		return
	}
	below, _ := inside.VerticalClearance(s.pose.Prism())
	if below <= tolerance {
		return
	}
	for i := range all {
		o := &all[i]
		sep := separation(s, o)
		if sep.X >= 0 || sep.Y >= 0 || o.id == s.id {
			continue
		}
		rise := s.lo.Z - o.hi.Z
		gap := max(o.gaps.Between.Z, o.gaps.Swell.Z, o.stripAbove())
		if rise >= -tolerance && rise <= gap+tolerance {
			return
		}
	}
	f.breaches = append(f.breaches, breach{
		rule: "fit.support", subject: s.id, refs: []string{s.id}, required: 0, actual: below, compare: "at most", numbers: true,
		text:  fmt.Sprintf("%s hangs %.1f mm above the floor with nothing under it: set it down.", s.id, below),
		place: r3.Vector{X: (s.lo.X + s.hi.X) / 2, Y: (s.lo.Y + s.hi.Y) / 2, Z: s.lo.Z},
	})
}
