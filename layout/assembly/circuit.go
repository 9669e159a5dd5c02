package assembly

import "stowbay/layout"

// Circuit is how the strings of an arrangement run.
type Circuit struct {
	Strings []Chain
	Inertia *layout.GearBody // nil: none placed
}

// Chain is one series string from its negative to its positive end.
type Chain struct {
	ID         string
	Members    []Member
	Passages   []Passage        // runs of members in one box, in order, without gaps
	Disconnect *layout.GearBody // the service link; nil: none
	After      int              // it splits the string after so many members
}

// Member is a module with the terminals that are used.
type Member struct {
	Body     *layout.Body
	Neg, Pos *layout.TerminalAt
}

// Passage is one run of a string through a box: Members[From:To].
type Passage struct {
	Box      *layout.BoxScene
	From, To int
	Negative []*layout.GearBody // fuse, contactor, connector at the negative end, the one next to the modules first
	Positive []*layout.GearBody // the same at the positive end
}

// gearOf finds a piece of gear's box.
func (p *Passage) holds(g *layout.GearBody) bool {
	for _, x := range p.Box.Gear {
		if x == g {
			return true
		}
	}
	return false
}
