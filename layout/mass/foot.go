package mass

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// footPanel is a foot's plate: its width by the length from the box's wall over the bolts to its edge. It lies
// against the mounting face on the box's side, and reaches from the bolts towards the nearest wall.
func footPanel(b *layout.Box, f *layout.Foot) Panel {
	n := bolting(f.Normal)
	u := towards(b, f, n)
	arm, edge := or(f.ArmMM, 25), or(f.EdgeMM, 2*boltDiameter(f.Bolt))
	w, t := or(f.WidthMM, 50), or(f.PlateMM, 5)
	return Panel{
		Kind: FootPanel, Part: f.ID, Material: material(b.Shell), DensityKgM3: b.Shell.DensityKgM3(), ThicknessMM: t,
		Origin: f.At.Vector().Sub(n.Mul(t / 2)), U: u, V: n.Cross(u), Normal: n,
		Outline: geometry.NewRect(-edge, -w/2, arm, w/2),
		Holes:   boltHoles(f, w),
	}
}

// boltHoles are the foot's bolt holes, in a row across its width; a clearance hole is a tenth wider than the bolt.
func boltHoles(f *layout.Foot, width float64) []Hole {
	n := max(1, f.Bolts)
	out := make([]Hole, n)
	for i := range out {
		v := width * ((float64(i)+0.5)/float64(n) - 0.5)
		out[i] = Hole{ID: f.ID, At: r2.Point{Y: v}, DiameterMM: 1.1 * boltDiameter(f.Bolt)}
	}
	return out
}

func boltDiameter(bolt string) float64 {
	switch bolt {
	case "M6":
		return 6
	case "M8":
		return 8
	case "M12":
		return 12
	case "M14":
		return 14
	case "M16":
		return 16
	case "M20":
		return 20
	}
	return 10
}

// bolting is the direction in which a foot's bolts point.
func bolting(normal string) r3.Vector {
	switch normal {
	case "up":
		return r3.Vector{Z: 1}
	case "left":
		return r3.Vector{Y: -1}
	case "right":
		return r3.Vector{Y: 1}
	case "front":
		return r3.Vector{X: -1}
	case "rear":
		return r3.Vector{X: 1}
	}
	return r3.Vector{Z: -1}
}

// towards is the unit vector in the foot's plane from its bolts to the nearest wall of the box. Where the bolts
// are over the box or their normal points at it, the plate is taken to run along x, or along y.
func towards(b *layout.Box, f *layout.Foot, n r3.Vector) r3.Vector {
	p := r2.Point{X: f.At[0], Y: f.At[1]}
	to, best := r2.Point{}, math.Inf(1)
	for i := range b.Levels {
		q := layout.PolygonOf(b.Levels[i].Outline)
		_, near := geometry.DistancePointPrism(r3.Vector{X: p.X, Y: p.Y}, geometry.Prism{Base: q})
		if d := r2.Point(r2.Point{X: near.X, Y: near.Y}).Sub(p); d.Norm() < best {
			to, best = d, d.Norm()
		}
	}
	v := r3.Vector{X: to.X, Y: to.Y}
	v = v.Sub(n.Mul(v.Dot(n)))
	if v.Norm() > geometry.Lattice {
		return v.Normalize()
	}
	if n.X != 0 {
		return r3.Vector{Y: 1}
	}
	return r3.Vector{X: 1}
}

// barrierPanel is a barrier unrolled: as long as its plan is, as high as it stands. Its plan is taken as a strip
// of one thickness, whose length l and thickness t follow from its area l t and half its perimeter l + t.
func barrierPanel(b *layout.Barrier) Panel {
	plan := layout.PolygonOf(b.Outline)
	area, half := plan.Area(), plan.Perimeter()/2
	length := (half + math.Sqrt(max(0, half*half-4*area))) / 2
	u, c, h := lengthwise(plan), plan.Centroid(), b.CeilingMM-b.FloorMM
	return Panel{
		Kind: BarrierPane, Part: b.ID, Material: "laminate", DensityKgM3: LinerDensity, ThicknessMM: area / length,
		Origin: r3.Vector{X: c.X, Y: c.Y, Z: b.FloorMM}, U: u, V: r3.Vector{Z: 1}, Normal: u.Cross(r3.Vector{Z: 1}),
		Outline: geometry.NewRect(-length/2, 0, length/2, h),
	}
}

// lengthwise is the direction of a plan's longest edge.
func lengthwise(p geometry.Polygon) r3.Vector {
	best := r3.Vector{X: 1}
	long := 0.0
	for i, a := range p.Outer {
		d := p.Outer[(i+1)%len(p.Outer)].Sub(a)
		if d.Norm() > long {
			long, best = d.Norm(), r3.Vector{X: d.X, Y: d.Y}.Normalize()
		}
	}
	return best
}
