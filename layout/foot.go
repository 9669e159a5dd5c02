package layout

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// Count returns the number of bolts, with the default put in.
func (f *Foot) Count() int { return max(1, f.Bolts) }

// Plate returns the plate's thickness in mm, with the default put in.
func (f *Foot) Plate() float64 { return orDefault(f.PlateMM, 5) }

// Edge returns the distance from the bolts' centre to the plate's edge in mm, with the default put in.
func (f *Foot) Edge() float64 { return orDefault(f.EdgeMM, 2*f.BoltMM()) }

// Arm returns the distance from the bolts' centre to the box's wall in mm, with the default put in.
func (f *Foot) Arm() float64 { return orDefault(f.ArmMM, 25) }

// Width returns the foot's width in mm, with the default put in.
func (f *Foot) Width() float64 { return orDefault(f.WidthMM, 50) }

// Weld returns the length of the weld in mm, with the default put in.
func (f *Foot) Weld() float64 { return orDefault(f.WeldMM, 2*f.Width()) }

// Throat returns the weld's throat in mm, with the default put in.
func (f *Foot) Throat() float64 { return orDefault(f.ThroatMM, 3) }

// Strength returns the tensile strength of the plate in MPa, with the default (an assumption) put in.
func (f *Foot) Strength() float64 { return orDefault(f.StrengthMPa, 360) }

// BoltMM returns the bolts' nominal diameter in mm: M8 is 8 mm.
func (f *Foot) BoltMM() float64 {
	d, err := strconv.ParseFloat(strings.TrimPrefix(f.Bolt, "M"), 64)
	if err != nil || d <= 0 {
		return 8
	}
	return d
}

// Bolting returns the direction in which the bolts point, from the box into the vehicle, in the box's frame.
func (f *Foot) Bolting() r3.Vector {
	switch f.Normal {
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

// FootInward returns the unit vector in a foot's plane from its bolts to the box's nearest wall, in the box's frame.
// Where the bolts stand over the box or point at it, the plate is taken to run along x, or along y.
func (b *Box) FootInward(f *Foot) r3.Vector {
	p := r2.Point{X: f.At[0], Y: f.At[1]}
	to, best := r2.Point{}, math.Inf(1)
	for i := range b.Levels {
		_, near := geometry.DistancePointPrism(r3.Vector{X: p.X, Y: p.Y}, geometry.Prism{Base: PolygonOf(b.Levels[i].Outline)})
		if d := (r2.Point{X: near.X - p.X, Y: near.Y - p.Y}); d.Norm() < best {
			to, best = d, d.Norm()
		}
	}
	n := f.Bolting()
	v := r3.Vector{X: to.X, Y: to.Y}
	v = v.Sub(n.Mul(v.Dot(n)))
	if v.Norm() > geometry.Lattice {
		return v.Normalize()
	}
	if math.Abs(n.X) > 0.5 {
		return r3.Vector{Y: 1}
	}
	return r3.Vector{X: 1}
}
