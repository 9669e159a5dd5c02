package layout

import (
	"strconv"
	"strings"

	"stowbay/vehicles"
)

// NewPlan returns a plan for a donor with one arrangement, "a", that has the bays surveyed in the donor.
func NewPlan(donor *vehicles.Donor, name string) *Plan {
	a := &Arrangement{ID: "a", Name: "Arrangement A", Bays: append([]vehicles.Bay(nil), donor.Bays...)}
	return &Plan{Format: Format, Name: name, Donor: donor.ID, Arrangements: []*Arrangement{a}}
}

// FreshID returns the prefix with the least number behind it, from 1, that is not taken. What an id cannot hold is
// left out of the prefix.
func FreshID(prefix string, taken func(id string) bool) string {
	prefix = idPrefix(prefix)
	for n := 1; ; n++ {
		if id := prefix + strconv.Itoa(n); !taken(id) {
			return id
		}
	}
}

// BoxID returns an id for a box that fills a bay of the arrangement: the bay's with "-box" behind it, and a number where that
// is taken. It is never the bay's own, so that a reference says which of the two is meant.
func (a *Arrangement) BoxID(bay string) string {
	id := idPrefix(bay) + "-box"
	if !a.Named(id) {
		return id
	}
	return FreshID(id+"-", a.Named)
}

func idPrefix(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		case r == ' ':
			return '-'
		}
		return -1
	}, strings.ToLower(s))
	return s[:min(len(s), 50)]
}

// Taken tells whether a box or a piece of gear outside the boxes is called by the id.
func (a *Arrangement) Taken(id string) bool { return a.Box(id) != nil || gearIndex(a.Gear, id) >= 0 }

// Named tells whether anything beside the contents of boxes is called by the id: a box, gear, a bay or a keep-out.
func (a *Arrangement) Named(id string) bool {
	return a.Taken(id) || a.Bay(id) != nil || keepOutIndex(a.KeepOuts, id) >= 0
}

// Taken tells whether a module or a piece of gear in the box is called by the id.
func (b *Box) Taken(id string) bool { return b.Placement(id) >= 0 || b.GearIndex(id) >= 0 }
