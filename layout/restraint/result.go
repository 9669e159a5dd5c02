package restraint

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

var directions = []Direction{Forward, Rearward, Left, Right, Up, Down}

// Weight is a box's mass with all that is in it, and its centre of gravity in the vehicle's frame.
type Weight struct {
	Box string
	Kg  float64
	CG  r3.Vector
}

// Result says how every box is held. It is never changed once made.
type Result struct {
	Scene  *layout.Scene
	Set    Set
	Chosen bool // a set is chosen; without one nothing is computed but what does not need it
	Boxes  []*Box
}

// Box is how one box is held.
type Box struct {
	Scene *layout.BoxScene
	Kg    float64
	CG    r3.Vector
	Feet  []Foot
	// Held is false where the feet leave the box a way to move: none, fewer than three bolts, all bolts on a line.
	Held  bool
	Cases []Case // one for each direction that the set states; empty without a set or where the box is not held

	set Set
}

// Foot is a mounting foot with what it is bolted to.
type Foot struct {
	*layout.Foot
	At       r3.Vector // in the vehicle
	Axis     r3.Vector // the bolts' direction, in the vehicle
	Thread   Thread
	Class    Class
	Rail     *vehicles.Rail // the surveyed frame member at the bolts; nil: none
	FrameMM  float64        // thickness of the vehicle's metal there; 0: unknown
	FrameMPa float64        // its tensile strength; 0: unknown
	PreloadN float64        // of a bolt at TorqueNm
	TorqueNm float64        // as stated, else for 75 % of the proof load with plain dry threads
	Stated   bool           // the torque is the plan's

	bolts []r3.Vector // in the vehicle
}

// Case is the loads in one direction.
type Case struct {
	Direction Direction
	G         float64
	Force     r3.Vector // inertia load at the centre of gravity, N
	Feet      []FootLoad
}

// FootLoad is what one foot carries in one case.
type FootLoad struct {
	Foot  *Foot
	Force r3.Vector // of the foot on the box under the inertia load alone, N
	// PullN is the force along the bolts, positive where it pulls the foot off; ShearN across them.
	PullN, ShearN float64
	// BoltPullN and BoltShearN are those of the bolt that is used most; BoltPullN is 0 where it is pressed.
	BoltPullN, BoltShearN float64
	// WithWeight tells that the box's weight is added to what follows Force, as it makes it worse.
	WithWeight bool
	Uses       [modes]Use
}

// Mode is a way in which a foot gives.
type Mode int

// The modes.
const (
	Bolt         Mode = iota // shear and tension of the bolt together
	BearingPlate             // the bolt against the hole in the foot
	BearingFrame             // the bolt against the hole in the vehicle's metal
	TearOut                  // the metal between hole and edge of the foot
	Bending                  // the foot between bolt and box
	Weld                     // the weld between foot and box
	modes
)

func (m Mode) String() string {
	return [...]string{"bolt", "bearing in the foot", "bearing in the frame", "tear-out of the foot", "bending of the foot", "weld of the foot"}[m]
}

// Use is how much of a resistance is used up.
type Use struct {
	Demand, Resist float64
	Unit           string
	Ratio          float64 // 1 is all of it
	Known          bool    // false where the resistance is not known
}

// Worst returns the mode of a foot's load that is used up most.
func (l *FootLoad) Worst() (Mode, Use) {
	best := Bolt
	for m, u := range l.Uses {
		if u.Ratio > l.Uses[best].Ratio {
			best = Mode(m)
		}
	}
	return best, l.Uses[best]
}

// Peak is the case and foot in which a mode is used up most.
type Peak struct {
	Case *Case
	Load *FootLoad
	Mode Mode
	Use  Use
}

// Peak returns where a mode is used up most, and whether it is known anywhere.
func (b *Box) Peak(m Mode) (Peak, bool) {
	best := Peak{Mode: m}
	for i := range b.Cases {
		c := &b.Cases[i]
		for k := range c.Feet {
			if u := c.Feet[k].Uses[m]; u.Known && (best.Load == nil || u.Ratio > best.Use.Ratio) {
				best.Case, best.Load, best.Use = c, &c.Feet[k], u
			}
		}
	}
	return best, best.Load != nil
}

// Governing returns where anything is used up most.
func (b *Box) Governing() (Peak, bool) {
	var best Peak
	for m := range modes {
		if p, ok := b.Peak(m); ok && (best.Load == nil || p.Use.Ratio > best.Use.Ratio) {
			best = p
		}
	}
	return best, best.Load != nil
}

// Bolts is the number of bolts in all feet.
func (b *Box) Bolts() int {
	n := 0
	for i := range b.Feet {
		n += b.Feet[i].Count()
	}
	return n
}

// Of returns the box with that id, or nil.
func (r *Result) Of(id string) *Box {
	for _, b := range r.Boxes {
		if b.Scene.Box.ID == id {
			return b
		}
	}
	return nil
}
