package view

import (
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// PlanBounds returns what a box, module or piece of gear covers in plan; empty where there is no such thing.
func PlanBounds(s *layout.Scene, ref string) r2.Rect {
	if m := s.Body(ref); m != nil {
		return m.Prism.Base.Bounds()
	}
	for _, g := range s.Gear {
		if g.ID == ref {
			return g.Prism.Base.Bounds()
		}
	}
	for _, b := range s.Boxes {
		if b.Box.ID == ref {
			return spaceBounds(b)
		}
		for _, g := range b.Gear {
			if g.ID == ref {
				return g.Prism.Base.Bounds()
			}
		}
		if box, inner := Split(ref); box == b.Box.ID {
			if i := b.Box.FootIndex(inner); i >= 0 {
				return b.FootPlate(&b.Box.Feet[i]).Base.Bounds()
			}
		}
	}
	return surveyBounds(s, ref)
}

func spaceBounds(b *layout.BoxScene) r2.Rect {
	out := r2.EmptyRect()
	for _, p := range b.Outer.Solids {
		out = out.Union(p.Base.Bounds())
	}
	return out
}

func surveyBounds(s *layout.Scene, ref string) r2.Rect {
	out := r2.EmptyRect()
	if b := s.Bay(ref); b != nil {
		for _, p := range b.Space.Solids {
			out = out.Union(p.Base.Bounds())
		}
	}
	for _, k := range s.KeepOuts {
		if k.Ref == ref {
			out = out.Union(k.Prism.Base.Bounds())
		}
	}
	return out
}

// stem is an id without the digits at its end.
func stem(id string) string {
	s := strings.TrimRight(id, "0123456789")
	if s == "" {
		return "n"
	}
	return s
}

// Copy is a thing to repeat, and how far from it the new one stands, mm in the vehicle's frame.
type Copy struct {
	Ref string
	By  r3.Vector
}

// CopiesOf are the copies of things at each shift; what is in a box that is among them goes with the box.
func CopiesOf(refs []string, by []r3.Vector) []Copy {
	var out []Copy
	for _, d := range by {
		for _, ref := range refs {
			if box, inner := Split(ref); inner == "" || !slices.Contains(refs, box) {
				out = append(out, Copy{ref, d})
			}
		}
	}
	return out
}

// Copies gives the edit that puts in copies, and the references of the new things once it is made. Copies are not locked.
func Copies(p *layout.Plan, lib *vehicles.Library, arrangement, label string, copies []Copy) (layout.Edit, []string, error) {
	var made []string
	edit, err := layout.Change(p, arrangement, label, func(a *layout.Arrangement) error {
		e := newEditor(a, lib)
		for _, c := range copies {
			if id := e.copyOne(c.Ref, c.By); id != "" {
				made = append(made, id)
			}
		}
		return nil
	})
	return edit, made, err
}

// Rows are the shifts of rows and columns besides the original: nx along x, ny along y and nz up, at a pitch in mm.
func Rows(nx, ny, nz int, pitch r3.Vector) []r3.Vector {
	var out []r3.Vector
	for k := range max(nz, 1) {
		for i := range max(nx, 1) {
			for j := range max(ny, 1) {
				if i+j+k > 0 {
					out = append(out, r3.Vector{X: float64(i) * pitch.X, Y: float64(j) * pitch.Y, Z: float64(k) * pitch.Z})
				}
			}
		}
	}
	return out
}

func (e *editor) copyOne(ref string, by r3.Vector) string {
	if b, m := e.module(ref); m != nil {
		c := *m
		c.At, c.Locked = shifted(c.At, intoBox(b, by)), false
		c.ID = e.namesIn(b).after(c.ID)
		b.Modules = append(b.Modules, c)
		return b.ID + "/" + c.ID
	}
	if b, g := e.gearIn(ref); g != nil {
		c := *g
		c.At, c.Locked = shifted(c.At, intoBox(b, by)), false
		c.ID = e.namesIn(b).after(c.ID)
		b.Gear = append(b.Gear, c)
		return b.ID + "/" + c.ID
	}
	if g := e.looseGear(ref); g != nil {
		c := *g
		c.At, c.Locked = shifted(c.At, by), false
		c.ID = e.namesIn(nil).after(c.ID)
		e.out.Gear = append(e.out.Gear, c)
		return c.ID
	}
	if b := e.out.Box(ref); b != nil {
		c := *b
		c.At, c.Locked = shifted(c.At, by), false
		c.ID = e.namesIn(nil).after(c.ID)
		if c.Name != "" {
			c.Name += " (copy)"
		}
		e.out.Boxes = append(e.out.Boxes, &c)
		return c.ID
	}
	return ""
}

// addModule puts a module into a box with its middle at a place in the vehicle's plan, standing on the box's
// floor, and returns its reference; "" where there is no such box or module.
func (e *editor) addModule(box, module string, at r2.Point) string {
	b, m := e.box(box), e.library.Module(module)
	if b == nil || m == nil || len(m.Postures) == 0 {
		return ""
	}
	p := layout.Placement{ID: layout.FreshID("m", b.Taken), Module: module, Posture: m.Postures[0]}
	ext := layout.PoseOf(m, &p).Extent()
	c := boxFrame(b).FromVehicle(r3.Vector{X: at.X, Y: at.Y, Z: 0})
	p.At = vehicles.XYZ{tidy(c.X - ext.X/2), tidy(c.Y - ext.Y/2), tidy(innerFloor(b))}
	b.Modules = append(b.Modules, p)
	return b.ID + "/" + p.ID
}

// innerFloor is the lowest height inside a box, in its frame.
func innerFloor(b *layout.Box) float64 {
	if in, err := layout.BoxInterior(b); err == nil && len(in.Solids) > 0 {
		low := in.Solids[0].Bottom
		for _, s := range in.Solids {
			low = min(low, s.Bottom)
		}
		return low
	}
	return b.Levels[0].FloorMM + b.Shell.Floor()
}

// addGear puts a piece of gear into a box, or outside all boxes where box is "", with its middle at a place in the
// vehicle's plan, and returns its reference; "" where there is no such gear. Outside it stands at the height given.
func (e *editor) addGear(box, gear string, at r2.Point, z float64) string {
	g := e.library.Gear(gear)
	if g == nil {
		return ""
	}
	placed := layout.PlacedGear{Gear: gear}
	half := r3.Vector{X: g.LengthMM / 2, Y: g.WidthMM / 2}
	if b := e.box(box); b != nil {
		c := boxFrame(b).FromVehicle(r3.Vector{X: at.X, Y: at.Y})
		placed.ID = layout.FreshID(stem(gear)+"-", b.Taken)
		placed.At = shifted(vehicles.XYZ{c.X, c.Y, innerFloor(b)}, half.Mul(-1))
		b.Gear = append(b.Gear, placed)
		return b.ID + "/" + placed.ID
	}
	placed.ID = layout.FreshID(stem(gear)+"-", e.out.Named)
	placed.At = shifted(vehicles.XYZ{at.X, at.Y, z}, half.Mul(-1))
	e.out.Gear = append(e.out.Gear, placed)
	return placed.ID
}
