package layout

import (
	"math"

	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// MirrorBox gives the mirror image of a box across the vehicle's centre plane. What is in and on it is mirrored
// with it; id, name, bay and lock are those of like, which may be of itself.
//
// A module cannot be mirrored: it stays the body it is. It is turned so that its footprint is the mirror image of the
// other's and its terminals come as near as they can to where the mirror image has them. lib may lack a module or a
// piece of gear: its size then counts as nothing.
func MirrorBox(of, like *Box, lib *vehicles.Library) *Box {
	m := *of
	m.ID, m.Name, m.Bay, m.Locked = like.ID, like.Name, like.Bay, like.Locked
	m.At[1] = negative(of.At[1])
	m.TurnDeg = negative(of.TurnDeg)
	m.Levels = mirrorLevels(of.Levels)
	m.Modules = mapped(of.Modules, func(p Placement) Placement { return mirrorPlacement(p, lib.Module(p.Module)) })
	m.Gear = mapped(of.Gear, func(g PlacedGear) PlacedGear { return mirrorGear(g, lib.Gear(g.Gear)) })
	m.Feet = mapped(of.Feet, mirrorFoot)
	m.Openings = mapped(of.Openings, mirrorOpening)
	m.Barriers = mapped(of.Barriers, mirrorBarrier)
	return &m
}

// negative is -v, but never a negative zero, which a file would show.
func negative(v float64) float64 { return 0 - v }

func mapped[T any](list []T, f func(T) T) []T {
	var out []T
	for _, v := range list {
		out = append(out, f(v))
	}
	return out
}

func mirrorLevels(ls []vehicles.Level) []vehicles.Level {
	return mapped(ls, func(l vehicles.Level) vehicles.Level {
		l.Outline = mirrorOutline(l.Outline)
		return l
	})
}

// mirrorOutline runs the mirrored corners backwards, so that the outline keeps its sense.
func mirrorOutline(o []vehicles.XY) []vehicles.XY {
	out := make([]vehicles.XY, len(o))
	for i, p := range o {
		out[len(o)-1-i] = vehicles.XY{p[0], negative(p[1])}
	}
	return out
}

func mirrorFoot(f Foot) Foot {
	f.At[1] = negative(f.At[1])
	f.Normal = otherSide(f.Normal)
	return f
}

func mirrorOpening(o Opening) Opening {
	o.At[1] = negative(o.At[1])
	o.Face = otherSide(o.Face)
	return o
}

func mirrorBarrier(b Barrier) Barrier {
	b.Outline = mirrorOutline(b.Outline)
	return b
}

func otherSide(face string) string {
	switch face {
	case "left":
		return "right"
	case "right":
		return "left"
	}
	return face
}

func mirrorPlacement(p Placement, m *vehicles.Module) Placement {
	if m == nil {
		p.Turn, p.At = mirrorTurn(p.Turn), vehicles.XYZ{p.At[0], negative(p.At[1]), p.At[2]}
		return p
	}
	pose := mirrorPose(PoseOf(m, &p), m.Terminals)
	p.Turn, p.At = pose.Turn, xyz(pose.At)
	return p
}

func mirrorGear(p PlacedGear, g *vehicles.Gear) PlacedGear {
	if g == nil {
		p.Turn, p.At = mirrorTurn(p.Turn), vehicles.XYZ{p.At[0], negative(p.At[1]), p.At[2]}
		return p
	}
	pose := mirrorPose(GearPose(g, &p), g.Terminals)
	p.Turn, p.At = pose.Turn, xyz(pose.At)
	return p
}

// mirrorTurn is the turn whose x axis is the mirror image of the other's.
func mirrorTurn(turn int) int { return (360 - turn) % 360 }

// mirrorPose gives the pose, of the two with the mirrored footprint, whose terminals are the nearest to the mirrored ones:
// first by the faces they are on, then by where they are.
func mirrorPose(p Pose, ts []vehicles.Terminal) Pose {
	e := p.Extent()
	a := p
	a.At.Y = snap(negative(p.At.Y + e.Y))
	a.Turn = mirrorTurn(p.Turn)
	b := a
	b.Turn = (a.Turn + 180) % 360
	if mirrorMiss(p, b, ts) < mirrorMiss(p, a, ts)-1e-6 {
		return b
	}
	return a
}

// mirrorMiss says how far the terminals of the pose q are from the mirror image of those of p: in mm, and a very long way for each on another face.
func mirrorMiss(p, q Pose, ts []vehicles.Terminal) float64 {
	const otherFace = 1e6 // more than all the terminals of a module can be out by in mm
	var miss float64
	for i := range ts {
		want, got := flipY(p.Normal(ts[i].Face)), q.Normal(ts[i].Face)
		miss += otherFace * math.Round(want.Sub(got).Norm())
		miss += flipY(p.Point(ts[i].At.Vector())).Sub(q.Point(ts[i].At.Vector())).Norm()
	}
	return miss
}

func flipY(v r3.Vector) r3.Vector { return r3.Vector{X: v.X, Y: -v.Y, Z: v.Z} }

func xyz(v r3.Vector) vehicles.XYZ { return vehicles.XYZ{v.X, v.Y, v.Z} }

// snap rounds to the lattice on which geometry is judged, 0.01 mm, so that sums leave no tails of digits in a file.
func snap(v float64) float64 { return math.Round(v*100)/100 + 0 }
