package fabricate

import (
	"math"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/mass"
)

// Blank is one flat piece as it is cut, in its own plane with its least corner at the origin.
type Blank struct {
	ID          string   // "box-1/tray", unique in the arrangement's boxes
	Kind        string   // tray, wall, floor, lid, flange, foot, liner, barrier
	Panels      []string // of all the pieces
	Pieces      int      // alike
	Material    string
	ThicknessMM float64
	Outline     geometry.Polygon
	Bends       []BendLine
	Holes       []Hole
	AreaMM2     float64 // of one: the outline less the holes that are cut, not those drilled
	Kg          float64 // of one
}

// BendLine is where a blank is bent: the middle of the bend.
type BendLine struct {
	A, B r2.Point
	Up   bool
	Bend
}

// Hole is a hole in a blank: round where DiameterMM is given, else a rectangle turned by TurnDeg.
type Hole struct {
	For                           string // the opening, the foot's bolt, the lid's bolt
	At                            r2.Point
	DiameterMM, WidthMM, HeightMM float64
	TurnDeg                       float64
	Drilled                       bool // drilled after bending: not taken off the mass
}

// Outline returns the hole's outline; a circle is given by corners on it.
func (h Hole) Outline() geometry.Ring {
	if h.DiameterMM > 0 {
		const n = 48
		out := make(geometry.Ring, n)
		for i := range out {
			s, c := math.Sincos(2 * math.Pi * float64(i) / n)
			out[i] = h.At.Add(r2.Point{X: c, Y: s}.Mul(h.DiameterMM / 2))
		}
		return out
	}
	s, c := math.Sincos(h.TurnDeg * math.Pi / 180)
	u, v := r2.Point{X: c, Y: s}.Mul(h.WidthMM/2), r2.Point{X: -s, Y: c}.Mul(h.HeightMM/2)
	return geometry.Ring{h.At.Sub(u).Sub(v), h.At.Add(u).Sub(v), h.At.Add(u).Add(v), h.At.Sub(u).Add(v)}
}

// AreaMM2 is the hole's area.
func (h Hole) AreaMM2() float64 {
	if h.DiameterMM > 0 {
		return math.Pi * h.DiameterMM * h.DiameterMM / 4
	}
	return h.WidthMM * h.HeightMM
}

// Size is the blank's extent along its own axes, mm.
func (b *Blank) Size() r2.Point { return b.Outline.Bounds().Size() }

// finish moves the blank's least corner to the origin and works out area and mass.
func (b *Blank) finish(density float64) {
	lo := b.Outline.Bounds().Lo()
	b.Outline = b.Outline.Translate(r2.Point{X: -lo.X, Y: -lo.Y})
	for i := range b.Bends {
		b.Bends[i].A, b.Bends[i].B = b.Bends[i].A.Sub(lo), b.Bends[i].B.Sub(lo)
	}
	b.AreaMM2 = b.Outline.Area()
	for i := range b.Holes {
		b.Holes[i].At = b.Holes[i].At.Sub(lo)
		if !b.Holes[i].Drilled {
			b.AreaMM2 -= b.Holes[i].AreaMM2()
		}
	}
	b.Kg = b.AreaMM2 * b.ThicknessMM * density * 1e-9
}

// alike tells whether two blanks can be cut from one pattern.
func (b *Blank) alike(o *Blank) bool {
	if b.Kind != o.Kind || b.Material != o.Material || !near(b.ThicknessMM, o.ThicknessMM) || len(b.Outline.Holes)+len(o.Outline.Holes) > 0 ||
		len(b.Outline.Outer) != len(o.Outline.Outer) || len(b.Bends) != len(o.Bends) || len(b.Holes) != len(o.Holes) {
		return false
	}
	for i, q := range b.Outline.Outer {
		if !closeTo(q, o.Outline.Outer[i]) {
			return false
		}
	}
	for i, l := range b.Bends {
		if m := o.Bends[i]; l.Up != m.Up || l.Bend != m.Bend || !closeTo(l.A, m.A) || !closeTo(l.B, m.B) {
			return false
		}
	}
	for i, h := range b.Holes {
		m := o.Holes[i]
		if !closeTo(h.At, m.At) || !near(h.DiameterMM, m.DiameterMM) || !near(h.WidthMM, m.WidthMM) || !near(h.HeightMM, m.HeightMM) || h.TurnDeg != m.TurnDeg || h.For != m.For {
			return false
		}
	}
	return true
}

func closeTo(a, b r2.Point) bool { return near(a.X, b.X) && near(a.Y, b.Y) }

// Box is what is cut for one box.
type Box struct {
	Box     *layout.Box
	Panels  []mass.Panel // the mass ledger's
	Blanks  []Blank
	Remarks []string
}

// Kg is the mass of the finished panels: what the ledger has.
func (b *Box) Kg() float64 {
	sum := 0.0
	for i := range b.Panels {
		sum += b.Panels[i].Kg
	}
	return sum
}
