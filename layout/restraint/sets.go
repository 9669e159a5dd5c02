package restraint

import (
	"slices"

	"stowbay/layout"
)

// Direction is the way in which a box is thrown.
type Direction string

// The directions, in the order of results.
const (
	Forward  Direction = "forward"
	Rearward Direction = "rearward"
	Left     Direction = "left"
	Right    Direction = "right"
	Up       Direction = "up"
	Down     Direction = "down"
)

// Known says how well a set's numbers are known.
type Known string

// How well numbers are known.
const (
	Verified   Known = "verified"    // read in the source or in a text that restates its table
	Restated   Known = "restated"    // read in a secondary text only
	FromMemory Known = "from memory" // not checked against the text
	OwnNumbers Known = "as entered"  // the user's own
)

// Own is the id of the set whose numbers the settings state.
const Own = "own"

// Set is a set of accelerations that boxes are held against, in multiples of g. A direction with 0 is not stated by it.
type Set struct {
	ID      string
	Name    string
	Applies string // vehicles or parts it is written for
	// Categories are the vehicle categories it is written for; empty: no matter.
	Categories                             []string
	ForwardG, RearwardG, SideG, UpG, DownG float64
	Points                                 int // least number of bolts a box; 0: not stated
	Known                                  Known
	Source                                 string
	Note                                   string
}

// sets are the standing sets. The numbers are those of testdata/reference/restraint_accelerations.csv.
var sets = []Set{
	{ID: "iso12991-m1n1", Name: "ISO 12991, cars and light vans", Applies: "tanks for liquefied gas in M1 and N1", Categories: []string{"M1", "N1"},
		ForwardG: 20, SideG: 8, Known: Verified, Source: "ISO 12991 table 1", Note: "Written for gas tanks; nothing is stated for rearward, up and down."},
	{ID: "iso12991-m2n2", Name: "ISO 12991, medium vehicles", Applies: "tanks for liquefied gas in M2 and N2", Categories: []string{"M2", "N2"},
		ForwardG: 10, SideG: 5, Known: Verified, Source: "ISO 12991 table 1", Note: "Written for gas tanks; nothing is stated for rearward, up and down."},
	{ID: "iso12991-m3n3", Name: "ISO 12991, heavy vehicles", Applies: "tanks for liquefied gas in M3 and N3", Categories: []string{"M3", "N3"},
		ForwardG: 6.6, SideG: 5, Known: Verified, Source: "ISO 12991 table 1", Note: "Written for gas tanks; nothing is stated for rearward, up and down."},
	{ID: "r100-m1n1", Name: "UN R100 shock, cars and light vans", Applies: "energy storage tested as a component for M1 and N1", Categories: []string{"M1", "N1"},
		ForwardG: 20, RearwardG: 20, SideG: 8, Known: FromMemory, Source: "UN R100 part II annex 8C, from memory, not checked against the text", Note: "Lower edge of the test's corridor; its upper edge is 28 g and 15 g. Nothing is stated for up and down."},
	{ID: "r100-m2n2", Name: "UN R100 shock, medium vehicles", Applies: "energy storage tested as a component for M2 and N2", Categories: []string{"M2", "N2"},
		ForwardG: 10, RearwardG: 10, SideG: 5, Known: FromMemory, Source: "UN R100 part II annex 8C, from memory, not checked against the text", Note: "Lower edge of the test's corridor. Nothing is stated for up and down."},
	{ID: "r100-m3n3", Name: "UN R100 shock, heavy vehicles", Applies: "energy storage tested as a component for M3 and N3", Categories: []string{"M3", "N3"},
		ForwardG: 6.6, RearwardG: 6.6, SideG: 5, Known: FromMemory, Source: "UN R100 part II annex 8C, from memory, not checked against the text", Note: "Lower edge of the test's corridor. Nothing is stated for up and down."},
	{ID: "racing-40g", Name: "Student racing, 40 g", Applies: "student race cars",
		ForwardG: 40, RearwardG: 40, SideG: 40, Points: 8, Known: Verified, Source: "student racing rules F.10.5.6", Note: "The rule also wants at least eight points, each able to hold a quarter of the mass at 40 g alone; nothing is stated for up and down."},
	{ID: "gb38031-vertical", Name: "GB 38031 vertical shock", Applies: "pack or system tested as a component",
		UpG: 7, DownG: 7, Known: Restated, Source: "GB 38031-2025 8.2.2, restated", Note: "Vertical only: choose it besides another set by entering own numbers."},
	{ID: "fr-lpg-1979", Name: "French order on gas tanks", Applies: "tanks for liquefied petroleum gas",
		ForwardG: 30.6, Known: Verified, Source: "France, order of 18 May 1979, annex I 2.5", Note: "300 m/s² forward; nothing is stated for the other directions."},
}

// Sets returns the standing sets of accelerations, in a fixed order. None of them is ever assumed.
func Sets() []Set { return slices.Clone(sets) }

// Chosen returns the set that the settings choose, and whether they choose one at all: a standing one by its id, or
// their own numbers.
func Chosen(r layout.Restraint) (Set, bool) {
	for _, s := range sets {
		if s.ID == r.Set {
			return s, true
		}
	}
	own := Set{ID: Own, Name: "the plan's own set", Applies: "this plan", Known: OwnNumbers, Source: "accelerations as entered in the plan",
		ForwardG: r.ForwardG, RearwardG: r.RearG, SideG: r.SideG, UpG: r.UpG, DownG: r.DownG}
	stated := r.ForwardG+r.RearG+r.SideG+r.UpG+r.DownG > 0
	return own, stated && (r.Set == "" || r.Set == Own)
}

// G returns the acceleration in a direction; 0 where the set states none.
func (s Set) G(d Direction) float64 {
	switch d {
	case Forward:
		return s.ForwardG
	case Rearward:
		return s.RearwardG
	case Left, Right:
		return s.SideG
	case Up:
		return s.UpG
	}
	return s.DownG
}

// Silent returns the directions for which the set states nothing.
func (s Set) Silent() []Direction {
	var out []Direction
	for _, d := range directions {
		if s.G(d) == 0 {
			out = append(out, d)
		}
	}
	return out
}
