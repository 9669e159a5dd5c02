package mass

import "github.com/golang/geo/r3"

// Second is a second-moment matrix of mass, the sum of m r r^T, in kg mm2. It is symmetric; XY is the sum of
// m x y and so on. From it follow the inertia about any axis.
type Second struct{ XX, YY, ZZ, XY, XZ, YZ float64 }

// pointSecond is the matrix of a point mass at r.
func pointSecond(kg float64, r r3.Vector) Second {
	return Second{
		XX: kg * r.X * r.X, YY: kg * r.Y * r.Y, ZZ: kg * r.Z * r.Z,
		XY: kg * r.X * r.Y, XZ: kg * r.X * r.Z, YZ: kg * r.Y * r.Z,
	}
}

// blockSecond is the matrix of a uniform block about its middle, its edges along the axes.
func blockSecond(kg float64, size r3.Vector) Second {
	return Second{XX: kg * size.X * size.X / 12, YY: kg * size.Y * size.Y / 12, ZZ: kg * size.Z * size.Z / 12}
}

func (s Second) plus(t Second) Second {
	return Second{s.XX + t.XX, s.YY + t.YY, s.ZZ + t.ZZ, s.XY + t.XY, s.XZ + t.XZ, s.YZ + t.YZ}
}

func (s Second) times(k float64) Second {
	return Second{s.XX * k, s.YY * k, s.ZZ * k, s.XY * k, s.XZ * k, s.YZ * k}
}

// along returns n^T S n, the second moment along the direction n.
func (s Second) along(n, m r3.Vector) float64 {
	return n.X*(s.XX*m.X+s.XY*m.Y+s.XZ*m.Z) + n.Y*(s.XY*m.X+s.YY*m.Y+s.YZ*m.Z) + n.Z*(s.XZ*m.X+s.YZ*m.Y+s.ZZ*m.Z)
}

// turned is the matrix after a rotation that takes the axes to the unit vectors x, y and z.
func (s Second) turned(x, y, z r3.Vector) Second {
	rx, ry, rz := r3.Vector{X: x.X, Y: y.X, Z: z.X}, r3.Vector{X: x.Y, Y: y.Y, Z: z.Y}, r3.Vector{X: x.Z, Y: y.Z, Z: z.Z}
	return Second{s.along(rx, rx), s.along(ry, ry), s.along(rz, rz), s.along(rx, ry), s.along(rx, rz), s.along(ry, rz)}
}

// moved takes the matrix about the origin to the one about p, for a set with the mass and first moments given
// (Steiner's parallel-axis theorem).
func (s Second) moved(kg float64, first, p r3.Vector) Second {
	cross := Second{
		XX: 2 * p.X * first.X, YY: 2 * p.Y * first.Y, ZZ: 2 * p.Z * first.Z,
		XY: p.X*first.Y + p.Y*first.X, XZ: p.X*first.Z + p.Z*first.X, YZ: p.Y*first.Z + p.Z*first.Y,
	}
	return s.plus(cross.times(-1)).plus(pointSecond(kg, p))
}

// Inertia is an inertia tensor in kg m2 about axes along the vehicle's. The products are the matrix's own
// elements: XY is minus the sum of m x y.
type Inertia struct{ XX, YY, ZZ, XY, XZ, YZ float64 }

// Inertia returns the tensor of the same masses about the same point.
func (s Second) Inertia() Inertia {
	const m2 = 1e-6 // mm2 in m2
	return Inertia{
		XX: (s.YY + s.ZZ) * m2, YY: (s.XX + s.ZZ) * m2, ZZ: (s.XX + s.YY) * m2,
		XY: -s.XY * m2, XZ: -s.XZ * m2, YZ: -s.YZ * m2,
	}
}
