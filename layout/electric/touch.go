package electric

import (
	"stowbay/geometry"
	"stowbay/layout"
)

// Touch is the protection against touching live parts that a box needs where it stands: IPXXD in passenger and
// luggage compartments, IPXXB elsewhere (49 CFR 571.305 S5.4.1; ISO 20653 defines the probes).
type Touch struct {
	Box   *layout.BoxScene
	Code  string // IPXXD or IPXXB
	Where string // the zone or bay that asks for it; empty outside the passenger and luggage space
}

func (r *Result) touch() {
	for _, b := range r.Scene.Boxes {
		t := Touch{Box: b, Code: "IPXXB"}
		if where := r.cabinPart(b); where != "" {
			t.Code, t.Where = "IPXXD", where
		}
		r.Touch = append(r.Touch, t)
	}
}

// cabinPart names the passenger or luggage space that a box stands in, or the bay that opens to it.
func (r *Result) cabinPart(b *layout.BoxScene) string {
	if bay := r.Scene.Bay(b.Box.Bay); bay != nil && bay.Bay.InCabin {
		return "bay " + bay.Bay.ID + ", which opens to the passenger space"
	}
	if r.Scene.Donor == nil {
		return ""
	}
	for i := range r.Scene.Donor.Zones {
		z := &r.Scene.Donor.Zones[i]
		if z.Kind != "passenger" && z.Kind != "luggage" {
			continue
		}
		p := geometry.Prism{Base: layout.PolygonOf(z.Outline), Bottom: z.FloorMM, Top: z.CeilingMM}
		for _, s := range b.Outer.Solids {
			if s.Overlaps(p) {
				return z.Kind + " space " + z.ID
			}
		}
	}
	return ""
}
