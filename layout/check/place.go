package check

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// placeRules ask whether a box is where a crash, the ground or heat reaches it, and whether it comes out again.
var placeRules = []Rule{
	{"place.crush", "a box that a crash reaches first", "UN R100 6.4.2 for component-approved packs: 420 mm behind the front edge, 300 mm ahead of the rear edge; the side is common practice", crushMargins},
	{"place.crush_zone", "a box in a part of the body that a collision crushes", "donor survey", crushZones},
	{"place.ground", "a box that strikes the ground", "donor survey: lowest height between the axles", groundClearance},
	{"place.angles", "a vehicle that grounds on ramps", "ISO 612 angles, tangent to the tyres at rest", rampAngles},
	{"place.cabin", "gas from a box in the passenger space", "common practice: sealed, vented outside the vehicle; local codes decide", inCabin},
	{"place.hot", "a box cooked or rubbed by what is beside it", commonPractice, besideHot},
	{"place.removal", "a box that cannot be taken out again", "geometry: the box moved in a straight line", removal},
	{"place.lid", "a lid that nobody can open", commonPractice, lidAccess},
	{"place.connector", "connectors that nobody can reach", commonPractice, connectorAccess},
}

// outline is the donor's body seen from above, or nothing.
func outline(d *vehicles.Donor) (geometry.Polygon, bool) {
	if d == nil || len(d.PlanOutline) < 3 {
		return geometry.Polygon{}, false
	}
	return layout.PolygonOf(d.PlanOutline), true
}

// crushMargins measures every box's distance to the vehicle's front, rear and sides.
func crushMargins(e *Evaluation) []Finding {
	body, ok := outline(e.Scene.Donor)
	if !ok {
		return nil
	}
	set := e.Plan.Settings.Restraint
	b := body.Bounds()
	var out []Finding
	for _, box := range e.Scene.Boxes {
		lo, hi := box.Outer.Bounds()
		if len(box.Outer.Solids) == 0 {
			continue
		}
		mid := lo.Add(hi).Mul(0.5)
		side, at, wall := sideMargin(body, box.Outer.Solids)
		out = append(out, notPassing([]Finding{
			margin(box, "front", lo.X-b.X.Lo, settingOr(set.FrontMM, 420), r3.Vector{X: lo.X, Y: mid.Y, Z: mid.Z}, r3.Vector{X: b.X.Lo, Y: mid.Y, Z: mid.Z}),
			margin(box, "rear", b.X.Hi-hi.X, settingOr(set.RearMM, 300), r3.Vector{X: hi.X, Y: mid.Y, Z: mid.Z}, r3.Vector{X: b.X.Hi, Y: mid.Y, Z: mid.Z}),
			margin(box, "side", side, settingOr(set.SideMM, 100), at, wall),
		})...)
	}
	return out
}

func margin(b *layout.BoxScene, end string, actual, required float64, from, to r3.Vector) Finding {
	id := b.Box.ID
	f := Finding{Severity: Warns, Subject: id, Refs: []string{id}, Required: required, Actual: actual, Unit: "mm", Compare: "at least", Place: &from, To: &to}
	text := fmt.Sprintf("Box %s lies %.0f mm from the vehicle's %s; %.0f mm are wanted as crush space.", id, actual, end, required)
	if actual < 0 {
		text = fmt.Sprintf("Box %s reaches %.0f mm past the vehicle's %s; it should end %.0f mm inside it, for crush space.", id, -actual, end, required)
	}
	return f.judge(text).mending("Move it in, or make it smaller.")
}

// sideMargin is the least distance across, along y, from a box to the body's outline, with its ends.
func sideMargin(body geometry.Polygon, solids []geometry.Prism) (least float64, at, wall r3.Vector) {
	least = math.Inf(1)
	for _, p := range solids {
		z := (p.Bottom + p.Top) / 2
		for _, x := range stations(body, p.Base) {
			blo, bhi, ok1 := across(p.Base, x)
			vlo, vhi, ok2 := across(body, x)
			if !ok1 || !ok2 {
				continue
			}
			if d := blo - vlo; d < least {
				least, at, wall = d, r3.Vector{X: x, Y: blo, Z: z}, r3.Vector{X: x, Y: vlo, Z: z}
			}
			if d := vhi - bhi; d < least {
				least, at, wall = d, r3.Vector{X: x, Y: bhi, Z: z}, r3.Vector{X: x, Y: vhi, Z: z}
			}
		}
	}
	return least, at, wall
}

// stations are the places along x where the distance across can be least: corners of either outline within the box.
func stations(body, base geometry.Polygon) []float64 {
	b := base.Bounds()
	var out []float64
	for _, p := range base.Outer {
		out = append(out, p.X)
	}
	for _, p := range body.Outer {
		if p.X > b.X.Lo && p.X < b.X.Hi {
			out = append(out, p.X)
		}
	}
	return out
}

// across is the extent of a polygon along y at a place along x.
func across(p geometry.Polygon, x float64) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i, a := range p.Outer {
		b := p.Outer[(i+1)%len(p.Outer)]
		if x < min(a.X, b.X) || x > max(a.X, b.X) {
			continue
		}
		y0, y1 := a.Y, b.Y
		if a.X != b.X {
			y0 = a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
			y1 = y0
		}
		lo, hi = min(lo, y0, y1), max(hi, y0, y1)
	}
	return lo, hi, lo <= hi
}

// zones calls f for every box that reaches into a zone of the donor.
func (e *Evaluation) zones(f func(*vehicles.Zone, *layout.BoxScene, r3.Vector)) {
	if e.Scene.Donor == nil {
		return
	}
	for i := range e.Scene.Donor.Zones {
		z := &e.Scene.Donor.Zones[i]
		p := geometry.Prism{Base: layout.PolygonOf(z.Outline), Bottom: z.FloorMM, Top: z.CeilingMM}
		for _, b := range e.Scene.Boxes {
			if at, hit := meet([]geometry.Prism{p}, b.Outer.Solids); hit {
				f(z, b, at)
			}
		}
	}
}

func zoneName(z *vehicles.Zone) string {
	if z.Name != "" {
		return z.Name
	}
	return z.ID
}

func crushZones(e *Evaluation) []Finding {
	var out []Finding
	zones := 0
	if d := e.Scene.Donor; d != nil {
		for i := range d.Zones {
			if crushes(&d.Zones[i]) {
				zones++
			}
		}
	}
	e.zones(func(z *vehicles.Zone, b *layout.BoxScene, at r3.Vector) {
		if crushes(z) {
			out = append(out, Finding{Severity: Warns, Subject: b.Box.ID, Refs: []string{b.Box.ID, z.ID}, Place: &at,
				Text: fmt.Sprintf("Box %s reaches into %q, which a collision crushes first: move it out.", b.Box.ID, zoneName(z))})
		}
	})
	if len(out) == 0 && zones > 0 && len(e.Scene.Boxes) > 0 {
		out = append(out, Finding{Severity: Passes, Subject: "vehicle", Text: fmt.Sprintf("No box reaches into any crush zone (%d looked at).", zones)})
	}
	return out
}

func crushes(z *vehicles.Zone) bool { return z.Kind != "passenger" && z.Kind != "luggage" }

// inCabin checks the boxes in the passenger or luggage space and in bays that open to it.
func inCabin(e *Evaluation) []Finding {
	where := map[string]string{}
	places := map[string]r3.Vector{}
	for _, b := range e.Scene.Boxes {
		if bay := e.Scene.Bay(b.Box.Bay); bay != nil && bay.Bay.InCabin {
			where[b.Box.ID] = fmt.Sprintf("bay %s opens to the passenger space", bay.Bay.ID)
			places[b.Box.ID] = middle(b)
		}
	}
	e.zones(func(z *vehicles.Zone, b *layout.BoxScene, at r3.Vector) {
		if !crushes(z) {
			where[b.Box.ID] = fmt.Sprintf("it stands in %q", zoneName(z))
			places[b.Box.ID] = at
		}
	})
	var out []Finding
	for _, b := range e.Scene.Boxes {
		if why := where[b.Box.ID]; why != "" {
			at := places[b.Box.ID]
			f := Finding{Subject: b.Box.ID, Refs: []string{b.Box.ID}, Place: &at}
			f.Severity, f.Text = sealing(b.Box, why)
			out = append(out, f)
		}
	}
	return out
}

func sealing(b *layout.Box, why string) (Severity, string) {
	vent := false
	for i := range b.Openings {
		vent = vent || b.Openings[i].Kind == "vent"
	}
	switch {
	case !b.Sealed:
		return Fails, fmt.Sprintf("Box %s has to be sealed and vented outside, as %s; it is not marked as sealed. Seal it and lead a vent outside.", b.ID, why)
	case !vent:
		return Warns, fmt.Sprintf("Box %s is marked as sealed, as %s; no vent is drawn yet. Gas from a failing cell must leave outside the vehicle.", b.ID, why)
	}
	return Passes, fmt.Sprintf("Box %s is sealed and has a vent, as %s; the vent's hose must end outside.", b.ID, why)
}

func middle(b *layout.BoxScene) r3.Vector {
	lo, hi := b.Outer.Bounds()
	return lo.Add(hi).Mul(0.5)
}

// besideHot measures boxes to hot and moving parts, beyond the margin that the survey asks for.
func besideHot(e *Evaluation) []Finding {
	var out []Finding
	for _, k := range e.Scene.KeepOuts {
		wanted, ok := map[string]float64{"hot": 50, "moving": 25}[k.KeepOut.Kind]
		if !ok {
			continue
		}
		for _, b := range e.Scene.Boxes {
			if f, near := beside(k, b, wanted); near {
				out = append(out, f)
			}
		}
	}
	return notPassing(out)
}

// beside is about a box and a keep-out, where they are less than half a metre apart.
func beside(k layout.KeepOutScene, b *layout.BoxScene, wanted float64) (Finding, bool) {
	f := Finding{Severity: Warns, Subject: b.Box.ID, Refs: []string{b.Box.ID, k.Ref}, Unit: "mm", Compare: "at least", Required: wanted, Actual: 500}
	bare := geometry.Prism{Base: layout.PolygonOf(k.KeepOut.Outline), Bottom: k.KeepOut.FloorMM, Top: k.KeepOut.CeilingMM}
	for _, p := range b.Outer.Solids {
		if reach := p.Base.Bounds().Expanded(r2.Point{X: f.Actual, Y: f.Actual}); !reach.Intersects(bare.Base.Bounds()) {
			continue
		}
		if from, to, d := p.Nearest(bare); d < f.Actual {
			f.Actual, f.Place, f.To = d, &from, &to
		}
	}
	if f.Place == nil {
		return f, false
	}
	name := k.KeepOut.Name
	if name == "" {
		name = k.KeepOut.ID
	}
	return f.judge(fmt.Sprintf("Box %s is %.0f mm from the %s part %q; %.0f mm are wanted, or a shield.", b.Box.ID, f.Actual, k.KeepOut.Kind, name, wanted)), true
}
