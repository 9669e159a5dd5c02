package view

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Side is where things picked are lined up.
type Side uint8

// The sides to align to, as seen in plan: front is the low x side, left the low y side.
const (
	FrontSide Side = iota
	RearSide
	LeftSide
	RightSide
	MiddleX // middles on one line across the vehicle
	MiddleY // middles on one line along the vehicle
)

// plans gives the plan bounds of the things picked, by reference; things that are not there are left out.
func plans(s *layout.Scene, refs []string) map[string]r2.Rect {
	out := map[string]r2.Rect{}
	for _, ref := range refs {
		if r := PlanBounds(s, ref); !r.IsEmpty() {
			out[ref] = r
		}
	}
	return out
}

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
		if k.KeepOut.ID == ref {
			out = out.Union(k.Prism.Base.Bounds())
		}
	}
	return out
}

// Align lines the things picked up with the outermost of them on a side, or on their common middle.
func (e *Editor) Align(s *layout.Scene, refs []string, side Side) {
	rects := plans(s, refs)
	all := r2.EmptyRect()
	for _, r := range rects {
		all = all.Union(r)
	}
	for _, ref := range refs {
		if r, ok := rects[ref]; ok {
			e.Move([]string{ref}, alignBy(r, all, side))
		}
	}
}

func alignBy(r, all r2.Rect, side Side) r3.Vector {
	switch side {
	case FrontSide:
		return r3.Vector{X: all.X.Lo - r.X.Lo}
	case RearSide:
		return r3.Vector{X: all.X.Hi - r.X.Hi}
	case LeftSide:
		return r3.Vector{Y: all.Y.Lo - r.Y.Lo}
	case RightSide:
		return r3.Vector{Y: all.Y.Hi - r.Y.Hi}
	case MiddleX:
		return r3.Vector{X: all.Center().X - r.Center().X}
	}
	return r3.Vector{Y: all.Center().Y - r.Center().Y}
}

// Distribute spaces the things picked so that the gaps between neighbours are the same; the outermost two stay.
func (e *Editor) Distribute(s *layout.Scene, refs []string, alongX bool) {
	rects := plans(s, refs)
	span := func(ref string) (lo, hi float64) {
		if alongX {
			return rects[ref].X.Lo, rects[ref].X.Hi
		}
		return rects[ref].Y.Lo, rects[ref].Y.Hi
	}
	row := slices.DeleteFunc(slices.Clone(refs), func(r string) bool { _, ok := rects[r]; return !ok })
	if len(row) < 3 {
		return
	}
	slices.SortFunc(row, func(a, b string) int {
		la, _ := span(a)
		lb, _ := span(b)
		return cmp.Compare(la, lb)
	})
	at, _ := span(row[0])
	_, end := span(row[len(row)-1])
	free := end - at
	for _, ref := range row {
		lo, hi := span(ref)
		free -= hi - lo
	}
	gap := free / float64(len(row)-1)
	for _, ref := range row {
		lo, hi := span(ref)
		by := r3.Vector{X: at - lo}
		if !alongX {
			by = r3.Vector{Y: at - lo}
		}
		e.Move([]string{ref}, by)
		at += hi - lo + gap
	}
}

// FreeID returns the first of prefix1, prefix2 ... that is not taken.
func FreeID(prefix string, taken func(string) bool) string {
	for n := 1; ; n++ {
		if id := fmt.Sprintf("%s%d", prefix, n); !taken(id) {
			return id
		}
	}
}

// stem is an id without the digits at its end.
func stem(id string) string {
	s := strings.TrimRight(id, "0123456789")
	if s == "" {
		return "n"
	}
	return s
}

// TakenInBox reports whether an id is in use inside a box.
func TakenInBox(b *layout.Box) func(string) bool {
	return func(id string) bool { return b.Placement(id) >= 0 || b.GearIndex(id) >= 0 }
}

// TakenIn reports whether an id is in use at the top of an arrangement.
func TakenIn(a *layout.Arrangement) func(string) bool {
	return func(id string) bool {
		return a.Box(id) != nil || a.Bay(id) != nil ||
			slices.ContainsFunc(a.Gear, func(g layout.PlacedGear) bool { return g.ID == id }) ||
			slices.ContainsFunc(a.KeepOuts, func(k vehicles.KeepOut) bool { return k.ID == id })
	}
}

// Array repeats the modules and gear picked in rows and columns: nx along x and ny along y of the vehicle, the
// originals included, at a pitch in mm. It returns the references of the new ones.
func (e *Editor) Array(refs []string, nx, ny int, pitch r2.Point) []string {
	var made []string
	for i := range nx {
		for j := range ny {
			if i+j > 0 {
				made = append(made, e.Copy(refs, r3.Vector{X: float64(i) * pitch.X, Y: float64(j) * pitch.Y})...)
			}
		}
	}
	return made
}

// Copy repeats the things picked, moved by mm in the vehicle's frame, and returns the references of the new ones.
func (e *Editor) Copy(refs []string, by r3.Vector) []string {
	var made []string
	for _, ref := range refs {
		box, inner := Split(ref)
		if inner == "" || !slices.Contains(refs, box) {
			if id := e.copyOne(ref); id != "" {
				made = append(made, id)
			}
		}
	}
	e.Lock(made, false)
	e.Move(made, by)
	return made
}

func (e *Editor) copyOne(ref string) string {
	if b, m := e.module(ref); m != nil {
		c := *m
		c.ID = FreeID(stem(c.ID), TakenInBox(b))
		b.Modules = append(b.Modules, c)
		return b.ID + "/" + c.ID
	}
	if b, g := e.gearIn(ref); g != nil {
		c := *g
		c.ID = FreeID(stem(c.ID), TakenInBox(b))
		b.Gear = append(b.Gear, c)
		return b.ID + "/" + c.ID
	}
	if g := e.looseGear(ref); g != nil {
		c := *g
		c.ID = FreeID(stem(c.ID), TakenIn(&e.out))
		e.out.Gear = append(e.out.Gear, c)
		return c.ID
	}
	if b := e.out.Box(ref); b != nil {
		c := *b
		c.ID = FreeID(stem(c.ID), TakenIn(&e.out))
		if c.Name != "" {
			c.Name += " (copy)"
		}
		e.out.Boxes = append(e.out.Boxes, &c)
		return c.ID
	}
	return ""
}

// AddModule puts a module into a box with its middle at a place in the vehicle's plan, standing on the box's
// floor, and returns its reference; "" where there is no such box or module.
func (e *Editor) AddModule(box, module string, at r2.Point) string {
	b, m := e.box(box), e.Library.Module(module)
	if b == nil || m == nil || len(m.Postures) == 0 {
		return ""
	}
	p := layout.Placement{ID: FreeID("m", TakenInBox(b)), Module: module, Posture: m.Postures[0]}
	ext := layout.PoseOf(m, &p).Extent()
	f := layout.NewFrame(b.At, b.TurnDeg)
	c := f.FromVehicle(r3.Vector{X: at.X, Y: at.Y, Z: 0})
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

// AddGear puts a piece of gear into a box, or outside all boxes where box is "", with its middle at a place in the
// vehicle's plan, and returns its reference; "" where there is no such gear. Outside it stands at the height given.
func (e *Editor) AddGear(box, gear string, at r2.Point, z float64) string {
	g := e.Library.Gear(gear)
	if g == nil {
		return ""
	}
	placed := layout.PlacedGear{Gear: gear}
	half := r3.Vector{X: g.LengthMM / 2, Y: g.WidthMM / 2}
	if b := e.box(box); b != nil {
		c := layout.NewFrame(b.At, b.TurnDeg).FromVehicle(r3.Vector{X: at.X, Y: at.Y})
		placed.ID = FreeID(stem(gear)+"-", TakenInBox(b))
		placed.At = shifted(vehicles.XYZ{c.X, c.Y, innerFloor(b)}, half.Mul(-1))
		b.Gear = append(b.Gear, placed)
		return b.ID + "/" + placed.ID
	}
	placed.ID = FreeID(stem(gear)+"-", TakenIn(&e.out))
	placed.At = shifted(vehicles.XYZ{at.X, at.Y, z}, half.Mul(-1))
	e.out.Gear = append(slices.Clone(e.out.Gear), placed)
	return placed.ID
}

// AddBox puts a new box into the arrangement.
func (e *Editor) AddBox(b *layout.Box) {
	e.out.Boxes = append(e.out.Boxes, b)
	e.own[b.ID] = b
}

// SetBox replaces the box with the same id.
func (e *Editor) SetBox(b *layout.Box) { e.out = *e.out.WithBox(b) }
