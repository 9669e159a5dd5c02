package layout

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// feetOf begins the part of a foot's reference after its box: "box/feet/foot".
const feetOf = "feet/"

// FootRef is the reference of a foot, for picking, moving and marking.
func FootRef(box, foot string) string { return box + "/" + feetOf + foot }

// FootIndex returns the index of the foot that the part of a reference after the box names, or -1.
func (b *Box) FootIndex(inside string) int {
	id, ok := strings.CutPrefix(inside, feetOf)
	return slices.IndexFunc(b.Feet, func(f Foot) bool { return ok && f.ID == id })
}

// FootPlate returns the upright block around a foot's plate, in the vehicle's frame.
func (b *BoxScene) FootPlate(f *Foot) geometry.Prism {
	in, n := b.Box.FootInward(f), f.Bolting()
	side := n.Cross(in).Mul(f.Width() / 2)
	least, most := math.Inf(1), math.Inf(-1)
	var ring geometry.Ring
	for _, c := range [4]r3.Vector{in.Mul(-f.Edge()).Sub(side), in.Mul(f.Arm()).Sub(side), in.Mul(f.Arm()).Add(side), in.Mul(-f.Edge()).Add(side)} {
		for _, depth := range [2]float64{0, -f.Plate()} {
			p := f.At.Vector().Add(c).Add(n.Mul(depth))
			least, most = min(least, p.Z), max(most, p.Z)
			v := b.Frame.ToVehicle(p)
			ring = append(ring, r2.Point{X: v.X, Y: v.Y})
		}
	}
	base := geometry.Ring{ring[0], ring[2], ring[4], ring[6]}.Polygon()
	if n.Z == 0 { // seen on its edge
		lo, hi := ring.Bounds().Lo(), ring.Bounds().Hi()
		base = geometry.NewRect(lo.X, lo.Y, hi.X, hi.Y)
	}
	return geometry.Prism{Base: base, Bottom: least + b.Frame.Origin.Z, Top: most + b.Frame.Origin.Z}
}

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
