package mass

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// PanelKind is what a panel is in its box.
type PanelKind string

// The kinds. A roof is the fixed sheet opposite the floor where the lid is below.
const (
	WallPanel   PanelKind = "wall"
	FloorPanel  PanelKind = "floor"
	LidPanel    PanelKind = "lid"
	FlangePanel PanelKind = "flange"
	FootPanel   PanelKind = "foot"
	LinerPanel  PanelKind = "liner"
	BarrierPane PanelKind = "barrier"
)

// LinerDensity is the density of liners and barriers in kg/m3: glass-mat polyester laminate. From memory, not
// checked against a standard's text.
const LinerDensity = 1850

// Panel is one flat piece of a box. The ledger weighs boxes by these, and the cut list is made of them, so that
// both agree.
//
// A panel lies in the plane of Origin, U and V, in the middle of its thickness: its point (u, v), mm, is at
// Origin + u U + v V in the box's frame. U is horizontal. Where two sheets meet at an upright edge each ends on
// the mitre between them; a wall stands on the floor and under the lid. Areas times thickness therefore add up
// to the shell's own volume, and an outside length is the panel's plus, at each upright edge, half the wall's
// thickness times the tangent of half the turn there.
type Panel struct {
	ID          string // "wall-1", "floor-1": unique in the box
	Kind        PanelKind
	Part        string // the foot or barrier it is
	Material    string // steel, stainless, aluminium or laminate
	ThicknessMM float64
	DensityKgM3 float64
	Origin      r3.Vector
	U, V        r3.Vector // unit vectors
	Normal      r3.Vector // unit vector out of the box
	Outline     geometry.Polygon
	Holes       []Hole
	AreaMM2     float64   // of the outline less the holes
	Kg          float64   // area x thickness x density
	Centroid    r3.Vector // box's frame, holes taken off

	own Second // about Centroid
}

// Hole is a cut-out in a panel, in the panel's own u and v: round where DiameterMM is given, else a rectangle
// with WidthMM along u and HeightMM along v.
type Hole struct {
	ID                            string // the opening's id
	At                            r2.Point
	DiameterMM, WidthMM, HeightMM float64
}

// AreaMM2 is the hole's area.
func (h Hole) AreaMM2() float64 {
	if h.DiameterMM > 0 {
		return math.Pi * h.DiameterMM * h.DiameterMM / 4
	}
	return h.WidthMM * h.HeightMM
}

// Panels returns the panels of a box: floor, walls and lid of its outer shape, stepped or not, the lid's flange,
// the mounting feet's plates, the insulating liner and the barriers, with openings cut out. The order is fixed.
//
// The lid overlaps the flange; both have its width. Levels that touch or overlap have no wall between them. A
// box without levels has no shell. Weld metal, bolts, bend radii and sealant are not in here.
func Panels(b *layout.Box) []Panel {
	out := sheetPanels(make([]Panel, 0, 32), b)
	out = linerPanels(out, b)
	cut(out, b.Openings)
	for i := range b.Feet {
		out = append(out, footPanel(b, &b.Feet[i]))
	}
	for i := range b.Barriers {
		out = append(out, barrierPanel(&b.Barriers[i]))
	}
	number(out)
	for i := range out {
		out[i].weigh()
	}
	return out
}

// number names the panels by kind and order.
func number(ps []Panel) {
	n := make(map[PanelKind]int, 8)
	for i := range ps {
		n[ps[i].Kind]++
		ps[i].ID = string(ps[i].Kind) + "-" + strconv.Itoa(n[ps[i].Kind])
	}
}

// point maps a point of the panel into the box's frame.
func (p *Panel) point(q r2.Point) r3.Vector {
	return p.Origin.Add(p.U.Mul(q.X)).Add(p.V.Mul(q.Y))
}

// weigh works out area, mass, centroid and second moments.
func (p *Panel) weigh() {
	a := planeOf(p.Outline)
	for _, h := range p.Holes {
		a = a.plus(h.plane(), -1)
	}
	p.AreaMM2 = a.area
	perMM2 := p.ThicknessMM * p.DensityKgM3 * 1e-9
	p.Kg = a.area * perMM2
	p.Centroid = p.point(a.centroid())
	p.own = a.central().lifted(p.U, p.V).times(perMM2)
}

// sheetPanels adds the shell's panels.
func sheetPanels(out []Panel, b *layout.Box) []Panel {
	sh := b.Shell
	t := thickness{wall: sh.Wall(), floor: sh.Floor(), lid: sh.Lid(), flange: sh.Flange()}
	levels := layout.Levels(b.Levels)
	if sh.LidSide == "bottom" {
		levels = overturned(levels)
	}
	first := len(out)
	out = shell(out, slabsOf(levels), t)
	for i := first; i < len(out); i++ {
		if sh.LidSide == "bottom" {
			out[i].overturn()
		}
		out[i].Material, out[i].DensityKgM3 = material(sh), sh.DensityKgM3()
	}
	return out
}

func material(s layout.Shell) string {
	if s.Material == "" {
		return "steel"
	}
	return s.Material
}

// overturned mirrors prisms in the plane z = 0, which puts a lid below above.
func overturned(ps []geometry.Prism) []geometry.Prism {
	out := make([]geometry.Prism, len(ps))
	for i, p := range ps {
		out[i] = geometry.Prism{Base: p.Base, Bottom: -p.Top, Top: -p.Bottom}
	}
	return out
}

func (p *Panel) overturn() {
	p.Origin.Z, p.V.Z, p.Normal.Z = -p.Origin.Z, -p.V.Z, -p.Normal.Z
}

// linerPanels adds the liner of the walls and of whatever lies below.
func linerPanels(out []Panel, b *layout.Box) []Panel {
	sh := b.Shell
	if sh.LinerMM <= 0 {
		return out
	}
	below, above := sh.Floor(), sh.Lid()
	if sh.LidSide == "bottom" {
		below, above = above, below
	}
	slabs := insetSlabs(layout.Levels(b.Levels), sh.Wall(), below, above)
	first := len(out)
	out = shell(out, slabs, thickness{wall: sh.LinerMM, floor: sh.LinerMM})
	for i := first; i < len(out); i++ {
		out[i].Kind, out[i].Material, out[i].DensityKgM3 = LinerPanel, "laminate", LinerDensity
	}
	return out
}

// cut puts each opening into the panels that it passes: the sheet nearest to it on its face, and the liner
// behind that.
func cut(ps []Panel, openings []layout.Opening) {
	for i := range openings {
		o := &openings[i]
		if p := facing(ps, o, false); p != nil {
			p.Holes = append(p.Holes, hole(p, o))
		}
		if p := facing(ps, o, true); p != nil {
			p.Holes = append(p.Holes, hole(p, o))
		}
	}
}

func hole(p *Panel, o *layout.Opening) Hole {
	return Hole{ID: o.ID, At: p.flat(o.At.Vector()), DiameterMM: o.DiameterMM, WidthMM: o.WidthMM, HeightMM: o.HeightMM}
}

// flat maps a point of the box's frame onto the panel.
func (p *Panel) flat(v r3.Vector) r2.Point {
	d := v.Sub(p.Origin)
	return r2.Point{X: d.Dot(p.U), Y: d.Dot(p.V)}
}

// facing is the liner or sheet panel on the opening's face that lies behind the opening's centre, the nearest.
func facing(ps []Panel, o *layout.Opening, liner bool) *Panel {
	var best *Panel
	near := math.Inf(1)
	for i := range ps {
		p := &ps[i]
		if (p.Kind == LinerPanel) != liner || p.Kind == FlangePanel || p.Normal.Dot(outward[o.Face]) < 0.7 {
			continue
		}
		v := o.At.Vector()
		if p.Outline.Contains(p.flat(v)) != geometry.Inside {
			continue
		}
		if d := math.Abs(v.Sub(p.Origin).Dot(p.Normal)); d < near {
			best, near = p, d
		}
	}
	return best
}

// outward is the outward normal of a face of a box, in its own frame.
var outward = map[string]r3.Vector{
	"front": {X: -1}, "rear": {X: 1}, "left": {Y: -1}, "right": {Y: 1}, "bottom": {Z: -1}, "top": {Z: 1},
}
