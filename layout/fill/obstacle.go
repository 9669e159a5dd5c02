package fill

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// obstacle is a body in the box that the modules to be packed have to respect, in the box's frame. A strip is no
// body: no module may stand in it, but nothing has to be kept from it and free strips may share it.
type obstacle struct {
	lo, hi r3.Vector
	strip  bool
}

// obstacles returns the gear, the barriers and the kept modules of other kinds in a box.
func obstacles(b *layout.Box, lib *vehicles.Library, w Wish) []obstacle {
	var out []obstacle
	for i := range b.Gear {
		if g := lib.Gear(b.Gear[i].Gear); g != nil {
			pose := layout.GearPose(g, &b.Gear[i])
			out = append(append(out, obstacleOf(pose)), strips(layout.GearStrips(g, pose))...)
		}
	}
	for i := range b.Modules {
		p := &b.Modules[i]
		if m := lib.Module(p.Module); m != nil && (w.KeepAll || p.Locked) && p.Module != w.Module.ID {
			pose := layout.PoseOf(m, p)
			out = append(append(out, obstacleOf(pose)), strips(layout.ModuleStrips(m, pose))...)
		}
	}
	for _, s := range b.Barriers {
		r := layout.PolygonOf(s.Outline).Bounds()
		out = append(out, obstacle{lo: r3.Vector{X: r.X.Lo, Y: r.Y.Lo, Z: s.FloorMM}, hi: r3.Vector{X: r.X.Hi, Y: r.Y.Hi, Z: s.CeilingMM}})
	}
	return out
}

func obstacleOf(p layout.Pose) obstacle { return obstacle{lo: p.At, hi: p.At.Add(p.Extent())} }

func strips(ss []layout.BoxStrip) []obstacle {
	out := make([]obstacle, len(ss))
	for i, s := range ss {
		r := s.Prism.Base.Bounds()
		out[i] = obstacle{lo: r3.Vector{X: r.X.Lo, Y: r.Y.Lo, Z: s.Prism.Bottom}, hi: r3.Vector{X: r.X.Hi, Y: r.Y.Hi, Z: s.Prism.Top}, strip: true}
	}
	return out
}

// fixed returns the kept modules of the kind that is packed.
func fixed(b *layout.Box, w Wish) []packing.Placement {
	var out []packing.Placement
	for _, p := range b.Modules {
		if p.Module == w.Module.ID && (w.KeepAll || p.Locked) {
			out = append(out, packing.Placement{Bay: b.ID, X: p.At[0], Y: p.At[1], Z: p.At[2], Posture: string(p.Posture), Turn: p.Turn, Fixed: true})
		}
	}
	return out
}

func widestGap(ps []packing.Posture) (gap packing.Gaps) {
	for _, p := range ps {
		gap.SideMM = max(gap.SideMM, p.Gaps.SideMM, p.Gaps.EndMM)
		gap.TopMM = max(gap.TopMM, p.Gaps.TopMM)
		gap.WallMM = max(gap.WallMM, p.Gaps.WallMM)
	}
	return gap
}

// add puts an obstacle into a bay. One that stands on a floor takes the whole height away there, since nothing
// could rest above it; one that hangs takes only the heights that it fills and the gap above a module under it.
// The widest gap of the module is kept from it all round, on the safe side.
func add(b *packing.Bay, o obstacle, gap packing.Gaps) {
	if o.strip {
		b.Forbidden = append(b.Forbidden, packing.Forbidden{Region: packing.Region{Outline: o.outline(0)}, FromMM: o.lo.Z, ToMM: o.hi.Z})
		return
	}
	hangs := false
	for i := range b.Levels {
		l := &b.Levels[i]
		if o.hi.Z <= l.FloorMM || o.lo.Z >= l.CeilingMM || !overlapsRegion(l.Region, o) {
			continue
		}
		if o.lo.Z <= l.FloorMM+1 {
			l.Region.KeepOuts = append(l.Region.KeepOuts, o.outline(max(0, gap.SideMM-gap.WallMM)))
		} else {
			hangs = true
		}
	}
	if hangs {
		b.Forbidden = append(b.Forbidden, packing.Forbidden{
			Region: packing.Region{Outline: o.outline(gap.SideMM)}, FromMM: o.lo.Z - gap.TopMM, ToMM: o.hi.Z,
		})
	}
}

func (o obstacle) outline(grow float64) []packing.Point {
	x0, y0, x1, y1 := o.lo.X-grow, o.lo.Y-grow, o.hi.X+grow, o.hi.Y+grow
	return []packing.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// overlapsRegion tells whether the obstacle's plan meets the bounds of a region.
func overlapsRegion(r packing.Region, o obstacle) bool {
	lo, hi := r.Outline[0], r.Outline[0]
	for _, p := range r.Outline {
		lo = packing.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
		hi = packing.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	return o.lo.X < hi.X && lo.X < o.hi.X && o.lo.Y < hi.Y && lo.Y < o.hi.Y
}
