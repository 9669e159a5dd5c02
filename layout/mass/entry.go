package mass

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// Group is the part of the ledger that an entry belongs to.
type Group string

// The groups, in the ledger's order.
const (
	Kerb     Group = "kerb"      // the donor as weighed
	TakenOut Group = "taken_out" // negative masses
	PutIn    Group = "put_in"
	Sheet    Group = "sheet" // walls, floor, lid, flanges, feet
	Liner    Group = "liner" // insulating liner and barriers
	Modules  Group = "modules"
	Links    Group = "links"
	Gear     Group = "gear"
	Cables   Group = "cables"
	Coolant  Group = "coolant" // coolant and hoses
	Load     Group = "load"    // occupants and goods of a load case
)

// How a mass is known, besides the donor file's weighed, datasheet and guess.
const (
	OnScales = "scales"     // the survey
	Computed = "computed"   // from the drawn geometry
	Estimate = "estimate"   // from a rule of thumb that the entry's note states
	Rule     = "regulation" // fixed by the regulation chosen
)

// Entry is one line of the mass ledger.
type Entry struct {
	ID        string // "taken_out/engine", "box-1/modules/m12"; unique
	Group     Group
	Of        string // box id, or empty
	Name      string
	Count     int     // pieces; 0 counts as 1
	Kg        float64 // negative for what was taken out
	PlusMinus float64 // half width of Kg
	Known     string
	Assumed   bool      // true where PlusMinus follows from how the mass is known, by the settings' percentages
	At        r3.Vector // centre of gravity
	PlaceMM   float64   // half width of each coordinate of At
	Note      string    // how it was estimated
	Running   float64   // the ledger's total up to and with this line

	// Own is the second moment about At of a thing that is not a point, kg mm2.
	Own Second
}

// defaults are the half widths taken where a record states none.
type defaults struct{ weighed, datasheet, guess, computed, estimate, placeMM float64 }

// defaultsOf returns the plan's half widths, as shares of the mass. They are assumptions: no source.
func defaultsOf(m layout.Mass) defaults {
	return defaults{
		weighed:   or(m.WeighedPct, 1) / 100,
		datasheet: or(m.DatasheetPct, 3) / 100,
		guess:     or(m.GuessPct, 10) / 100,
		computed:  or(m.SheetPct, 5) / 100,
		estimate:  0.25,
		placeMM:   or(m.PlaceMM, 20),
	}
}

func (d defaults) share(known string) float64 {
	switch known {
	case "weighed":
		return d.weighed
	case "datasheet":
		return d.datasheet
	case Computed:
		return d.computed
	case Estimate:
		return d.estimate
	}
	return d.guess
}

// settle sets an entry's half width: the one stated, or the one that follows from how the mass is known.
func (e Entry) settle(stated float64, d defaults) Entry {
	e.PlusMinus = stated
	if stated == 0 && e.Known != Rule {
		e.PlusMinus, e.Assumed = max(e.Kg, -e.Kg)*d.share(e.Known), true
	}
	return e
}

func (s *sum) addEntry(e *Entry) { s.add(e.Kg, e.PlusMinus, e.At, e.PlaceMM, e.Own) }

func or(v, d float64) float64 {
	if v == 0 {
		return d
	}
	return v
}
