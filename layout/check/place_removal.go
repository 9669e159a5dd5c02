package check

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// obstacle is something that can be in a box's way, and how its removal would be called.
type obstacle struct {
	id, name string
	part     geometry.Prism
	loose    looseness
}

// looseness is how an obstacle gets out of the way.
type looseness int

const (
	stays    looseness = iota // structure and fixed parts
	unbolts                   // hot and moving parts: pipes, hinges, shafts
	comesOut                  // other boxes and gear: they come out first
)

// obstacles are what stands around a box: keep-outs but those that keep a path free, other boxes, gear, frame members.
func (e *Evaluation) obstacles(b *layout.BoxScene) []obstacle {
	var out []obstacle
	for i := range e.Scene.KeepOuts {
		k := &e.Scene.KeepOuts[i]
		if k.KeepOut.Kind == "path" {
			continue
		}
		name := k.KeepOut.Name
		if name == "" {
			name = k.KeepOut.ID
		}
		bare := geometry.Prism{Base: layout.PolygonOf(k.KeepOut.Outline), Bottom: k.KeepOut.FloorMM, Top: k.KeepOut.CeilingMM}
		out = append(out, obstacle{k.Ref, fmt.Sprintf("%q", name), bare, loosenessOf(k.KeepOut.Kind)})
	}
	for _, o := range e.Scene.Boxes {
		if o == b {
			continue
		}
		for _, p := range o.Outer.Solids {
			out = append(out, obstacle{o.Box.ID, "box " + o.Box.ID, p, comesOut})
		}
	}
	for _, g := range e.Scene.Gear {
		out = append(out, obstacle{g.ID, g.ID, g.Prism, comesOut})
	}
	if d := e.Scene.Donor; d != nil {
		for i := range d.Rails {
			r := &d.Rails[i]
			p := geometry.Prism{Base: layout.PolygonOf(r.Outline), Bottom: r.FloorMM, Top: r.CeilingMM}
			out = append(out, obstacle{r.ID, fmt.Sprintf("the frame member %q", r.Name), p, stays})
		}
	}
	return out
}

func loosenessOf(kind string) looseness {
	if kind == "hot" || kind == "moving" {
		return unbolts
	}
	return stays
}

// towards is the way to a side, in words.
func towards(side string) string {
	return map[string]string{"below": "downwards", "above": "upwards", "left": "to the left", "right": "to the right", "front": "forwards", "rear": "rearwards"}[side]
}

// wayFrom is the direction in which a bay's boxes come out, and how far a box has to go to have left the bay.
func wayFrom(bay *layout.BayScene, b *layout.BoxScene) (dir r3.Vector, by float64) {
	lo, hi := b.Outer.Bounds()
	blo, bhi := bay.Space.Bounds()
	switch bay.Bay.Access {
	case "below":
		return r3.Vector{Z: -1}, hi.Z - blo.Z
	case "above":
		return r3.Vector{Z: 1}, bhi.Z - lo.Z
	case "left":
		return r3.Vector{Y: -1}, hi.Y - blo.Y
	case "right":
		return r3.Vector{Y: 1}, bhi.Y - lo.Y
	case "front":
		return r3.Vector{X: -1}, hi.X - blo.X
	case "rear":
		return r3.Vector{X: 1}, bhi.X - lo.X
	}
	return r3.Vector{}, 0
}

// sweep is what a prism passes through on a straight way, without where it starts: the way's length added to its
// height, or the band that each edge of its base draws. Every point that it newly reaches lies in these.
func sweep(p geometry.Prism, dir r3.Vector, by float64) []geometry.Prism {
	switch {
	case dir.Z < 0:
		return []geometry.Prism{{Base: p.Base, Bottom: p.Bottom - by, Top: p.Bottom}}
	case dir.Z > 0:
		return []geometry.Prism{{Base: p.Base, Bottom: p.Top, Top: p.Top + by}}
	}
	d := r2.Point{X: dir.X * by, Y: dir.Y * by}
	var out []geometry.Prism
	for i, a := range p.Base.Outer {
		c := p.Base.Outer[(i+1)%len(p.Base.Outer)]
		if c.Sub(a).Dot(d.Ortho()) < 1 { // a trailing edge, or one along the way
			continue
		}
		band := geometry.Ring{a, a.Add(d), c.Add(d), c}.Polygon()
		out = append(out, geometry.Prism{Base: band, Bottom: p.Bottom, Top: p.Top})
	}
	return out
}

// removal moves every box out of its bay in a straight line and says what is in the way.
func removal(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Scene.Boxes {
		bay := e.Scene.Bay(b.Box.Bay)
		if bay == nil || len(b.Outer.Solids) == 0 {
			continue
		}
		if bay.Bay.Access == "" {
			out = append(out, Finding{Severity: Notes, Subject: b.Box.ID, Refs: []string{b.Box.ID}, Text: fmt.Sprintf("Bay %s does not say from which side box %s comes in and out, so its way out is not checked.", bay.Bay.ID, b.Box.ID)})
			continue
		}
		out = append(out, e.wayOut(b, bay))
	}
	return out
}

func (e *Evaluation) wayOut(b *layout.BoxScene, bay *layout.BayScene) Finding {
	id := b.Box.ID
	dir, by := wayFrom(bay, b)
	f := Finding{Severity: Passes, Subject: id, Refs: []string{id}}
	way := towards(bay.Bay.Access)
	f.Text = fmt.Sprintf("Box %s comes out %s in a straight line of %.0f mm with nothing surveyed in its way. Floor, panels and pipes that are not in the survey are not seen.", id, way, by)
	var names [comesOut + 1][]string
	passed := swept(b, dir, by)
	for _, o := range e.obstacles(b) {
		at, hit := inWay(passed, o)
		if !hit || slices.Contains(names[o.loose], o.name) {
			continue
		}
		if f.Place == nil {
			f.Place = &at
		}
		names[o.loose] = append(names[o.loose], o.name)
		f.Refs = append(f.Refs, o.id)
	}
	switch {
	case len(names[stays]) > 0:
		f.Severity = Fails
		f.Text = fmt.Sprintf("Box %s does not come out %s in a straight line: %s in its way. Turn or tilt it if there is room, move it, or give the bay another side.", id, way, are(names[stays]))
	case len(names[unbolts]) > 0:
		f.Severity = Warns
		f.Text = fmt.Sprintf("Box %s comes out %s in a straight line only where %s taken off first.", id, way, are(names[unbolts]))
	case len(names[comesOut]) > 0:
		f.Severity = Notes
		f.Text = fmt.Sprintf("Box %s comes out %s only after %s.", id, way, listed(names[comesOut]))
	}
	return f
}

func are(names []string) string {
	if len(names) == 1 {
		return names[0] + " is"
	}
	return listed(names) + " are"
}

func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// swept is all that a box passes through on a straight way.
func swept(b *layout.BoxScene, dir r3.Vector, by float64) []geometry.Prism {
	var out []geometry.Prism
	for _, p := range b.Outer.Solids {
		out = append(out, sweep(p, dir, by)...)
	}
	return out
}

func inWay(way []geometry.Prism, o obstacle) (r3.Vector, bool) {
	bounds := o.part.Base.Bounds()
	for _, s := range way {
		if s.Top > o.part.Bottom && s.Bottom < o.part.Top && s.Base.Bounds().Intersects(bounds) && s.Overlaps(o.part) {
			return o.part.Centroid(), true
		}
	}
	return r3.Vector{}, false
}

// lidAccess says whether the lid is on the side that the bay is open to.
func lidAccess(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Scene.Boxes {
		bay := e.Scene.Bay(b.Box.Bay)
		if bay == nil || bay.Bay.Access == "" || len(b.Outer.Solids) == 0 {
			continue
		}
		side, open := "above", b.Box.Shell.LidSide
		if open == "bottom" {
			side = "below"
		}
		lo, hi := b.Outer.Bounds()
		at := r3.Vector{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2, Z: hi.Z}
		f := Finding{Severity: Passes, Subject: b.Box.ID, Refs: []string{b.Box.ID}, Place: &at, Text: fmt.Sprintf("The lid of box %s opens %s, where bay %s is open.", b.Box.ID, towards(side), bay.Bay.ID)}
		if bay.Bay.Access != side {
			f.Severity = Notes
			f.Text = fmt.Sprintf("The lid of box %s opens %s and bay %s is open on another side (%s): for any work inside, the box has to come out first.", b.Box.ID, towards(side), bay.Bay.ID, bay.Bay.Access)
		}
		out = append(out, f)
	}
	return out
}

// handMM is the space that a hand with a connector needs in front of an opening.
const handMM = 80

// connectorAccess looks at the space in front of connectors, glands and hoses.
func connectorAccess(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Scene.Boxes {
		around := e.obstacles(b)
		for i := range b.Box.Openings {
			o := &b.Box.Openings[i]
			if o.Kind == "connector" || o.Kind == "gland" || o.Kind == "hose" {
				out = append(out, inFront(b, o, around))
			}
		}
	}
	return notPassing(out)
}

func inFront(b *layout.BoxScene, o *layout.Opening, around []obstacle) Finding {
	at := b.Frame.ToVehicle(o.At.Vector())
	id := b.Box.ID + "/" + o.ID
	f := Finding{Severity: Warns, Subject: id, Refs: []string{b.Box.ID, id}, Place: &at, Required: handMM, Actual: handMM, Unit: "mm", Compare: "at least"}
	space := b.Frame.Prism(handSpace(o))
	name := ""
	for _, k := range around {
		if space.Overlaps(k.part) {
			if d, to := geometry.DistancePointPrism(at, k.part); d < f.Actual {
				f.Actual, name = d, k.name
				f.To = &to
			}
		}
	}
	if name == "" {
		return f.judge(fmt.Sprintf("In front of %s %s %.0f mm are free of other boxes, gear and keep-outs.", o.Kind, id, float64(handMM)))
	}
	return f.judge(fmt.Sprintf("In front of %s %s only %.0f mm are free up to %s; a hand needs about %.0f mm.", o.Kind, id, f.Actual, name, float64(handMM)))
}

// handSpace is the space in front of an opening, as wide as the opening is, in the box's frame.
func handSpace(o *layout.Opening) geometry.Prism {
	half := max(o.DiameterMM, o.WidthMM, o.HeightMM, 30) / 2
	c := o.At.Vector()
	lo, hi := c.Sub(r3.Vector{X: half, Y: half, Z: half}), c.Add(r3.Vector{X: half, Y: half, Z: half})
	const off = 1 // so that the wall itself is not in it
	switch o.Face {
	case "front":
		lo.X, hi.X = c.X-handMM, c.X-off
	case "rear":
		lo.X, hi.X = c.X+off, c.X+handMM
	case "left":
		lo.Y, hi.Y = c.Y-handMM, c.Y-off
	case "right":
		lo.Y, hi.Y = c.Y+off, c.Y+handMM
	case "bottom":
		lo.Z, hi.Z = c.Z-handMM, c.Z-off
	default:
		lo.Z, hi.Z = c.Z+off, c.Z+handMM
	}
	return geometry.NewBox(lo, hi)
}
