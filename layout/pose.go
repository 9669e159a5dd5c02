package layout

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// Frame is a box's frame in the vehicle: an origin and a turn about the vertical.
type Frame struct {
	Origin   r3.Vector
	Turn     s1.Angle
	cos, sin float64
}

// NewFrame returns the frame of a box that stands at the place given, turned by degrees from x towards y.
func NewFrame(at vehicles.XYZ, turnDeg float64) Frame {
	turn := s1.Angle(turnDeg) * s1.Degree
	return Frame{Origin: at.Vector(), Turn: turn, cos: exactCos(turnDeg), sin: exactCos(turnDeg - 90)}
}

// exactCos is the cosine of an angle in degrees, exact at the quarter turns.
func exactCos(deg float64) float64 {
	switch math.Mod(math.Mod(deg, 360)+360, 360) {
	case 0:
		return 1
	case 90, 270:
		return 0
	case 180:
		return -1
	}
	return math.Cos(deg * math.Pi / 180)
}

// ToVehicle maps a point of the box's frame into the vehicle's.
func (f Frame) ToVehicle(p r3.Vector) r3.Vector {
	return f.Origin.Add(f.Direction(p))
}

// Direction maps a direction of the box's frame into the vehicle's.
func (f Frame) Direction(d r3.Vector) r3.Vector {
	return r3.Vector{X: d.X*f.cos - d.Y*f.sin, Y: d.X*f.sin + d.Y*f.cos, Z: d.Z}
}

// DirectionFrom maps a direction of the vehicle's frame into the box's.
func (f Frame) DirectionFrom(d r3.Vector) r3.Vector {
	return r3.Vector{X: d.X*f.cos + d.Y*f.sin, Y: -d.X*f.sin + d.Y*f.cos, Z: d.Z}
}

// FromVehicle maps a point of the vehicle's frame into the box's.
func (f Frame) FromVehicle(p r3.Vector) r3.Vector {
	return f.DirectionFrom(p.Sub(f.Origin))
}

// Polygon maps a polygon of the box's plan into the vehicle's plan.
func (f Frame) Polygon(p geometry.Polygon) geometry.Polygon {
	out := geometry.Polygon{Outer: f.ring(p.Outer)}
	for _, h := range p.Holes {
		out.Holes = append(out.Holes, f.ring(h))
	}
	return out
}

func (f Frame) ring(r geometry.Ring) geometry.Ring {
	out := make(geometry.Ring, len(r))
	for i, p := range r {
		v := f.ToVehicle(r3.Vector{X: p.X, Y: p.Y})
		out[i] = r2.Point{X: v.X, Y: v.Y}
	}
	return out
}

// Prism maps a prism of the box's frame into the vehicle's.
func (f Frame) Prism(p geometry.Prism) geometry.Prism {
	return geometry.Prism{Base: f.Polygon(p.Base), Bottom: p.Bottom + f.Origin.Z, Top: p.Top + f.Origin.Z}
}

// Pose is how a block stands: its size as it lies flat, a posture, a turn and the least corner of the body so
// posed and turned.
//
// Flat leaves the block as it lies. Side stands it on its left long side, so that its right side is up. End
// stands it on its back, so that its front face is up.
type Pose struct {
	Size    r3.Vector
	Posture vehicles.Posture
	Turn    int
	At      r3.Vector
}

// Extent returns the posed and turned body's size along x, y and z of the box's frame.
func (p Pose) Extent() r3.Vector {
	e := p.posed()
	if p.Turn == 90 || p.Turn == 270 {
		e.X, e.Y = e.Y, e.X
	}
	return e
}

func (p Pose) posed() r3.Vector {
	s := p.Size
	switch p.Posture {
	case vehicles.Side:
		return r3.Vector{X: s.X, Y: s.Z, Z: s.Y}
	case vehicles.End:
		return r3.Vector{X: s.Z, Y: s.Y, Z: s.X}
	}
	return s
}

// Point maps a point of the block's own frame into the box's frame.
func (p Pose) Point(q r3.Vector) r3.Vector {
	return p.At.Add(p.turnPoint(p.posePoint(q)))
}

func (p Pose) posePoint(q r3.Vector) r3.Vector {
	switch p.Posture {
	case vehicles.Side:
		return r3.Vector{X: q.X, Y: p.Size.Z - q.Z, Z: q.Y}
	case vehicles.End:
		return r3.Vector{X: q.Z, Y: q.Y, Z: p.Size.X - q.X}
	}
	return q
}

func (p Pose) turnPoint(q r3.Vector) r3.Vector {
	e := p.posed()
	switch p.Turn {
	case 90:
		return r3.Vector{X: e.Y - q.Y, Y: q.X, Z: q.Z}
	case 180:
		return r3.Vector{X: e.X - q.X, Y: e.Y - q.Y, Z: q.Z}
	case 270:
		return r3.Vector{X: q.Y, Y: e.X - q.X, Z: q.Z}
	}
	return q
}

// Direction maps a direction of the block's own frame into the box's frame.
func (p Pose) Direction(d r3.Vector) r3.Vector {
	return p.Point(d).Sub(p.Point(r3.Vector{}))
}

// Normal returns the outward normal of one of the block's faces in the box's frame.
func (p Pose) Normal(f vehicles.Face) r3.Vector { return p.Direction(faceNormal(f)) }

func faceNormal(f vehicles.Face) r3.Vector {
	switch f {
	case vehicles.Front:
		return r3.Vector{X: -1}
	case vehicles.Back:
		return r3.Vector{X: 1}
	case vehicles.Left:
		return r3.Vector{Y: -1}
	case vehicles.Right:
		return r3.Vector{Y: 1}
	case vehicles.Bottom:
		return r3.Vector{Z: -1}
	}
	return r3.Vector{Z: 1}
}

// Prism returns the body in the box's frame.
func (p Pose) Prism() geometry.Prism { return block(p.At, p.Extent()) }

// block is the upright block with the least corner and extent given.
func block(at, extent r3.Vector) geometry.Prism {
	return geometry.Prism{
		Base:   geometry.NewRect(at.X, at.Y, at.X+extent.X, at.Y+extent.Y),
		Bottom: at.Z,
		Top:    at.Z + extent.Z,
	}
}

// strip returns the least corner and the extent of the free strip of the depth given in front of a face, in the box's frame.
func (p Pose) strip(face vehicles.Face, depth float64) (at, extent r3.Vector) {
	n, e := p.Normal(face), p.Extent()
	at = p.At
	at.X, e.X = along(at.X, e.X, n.X, depth)
	at.Y, e.Y = along(at.Y, e.Y, n.Y, depth)
	at.Z, e.Z = along(at.Z, e.Z, n.Z, depth)
	return at, e
}

func along(at, extent, n, depth float64) (float64, float64) {
	switch {
	case n > 0.5:
		return at + extent, depth
	case n < -0.5:
		return at - depth, depth
	}
	return at, extent
}

// GearPose returns the pose of a piece of gear at a place.
func GearPose(g *vehicles.Gear, p *PlacedGear) Pose {
	return Pose{Size: r3.Vector{X: g.LengthMM, Y: g.WidthMM, Z: g.HeightMM}, Posture: p.Posture, Turn: p.Turn, At: p.At.Vector()}
}
