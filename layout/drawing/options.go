package drawing

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// Options says what a view shows besides the scene itself. The zero value shows everything the scene holds,
// without grid, marks or readings. Places are in the vehicle's frame.
type Options struct {
	Off        Layer           // layers that are hidden
	Marks      map[string]Mark // states by reference: box, box/module, bay, keep-out
	GridMM     float64         // pitch of the grid; 0: no grid
	Dimensions bool            // dimension what is marked Selected
	Imperial   bool            // inches and pounds in texts
	Scale      float64         // n of the scale 1:n a box's sheet is laid out for; 0: chosen for a page 180 mm wide
	OnScreen   bool            // scale bar, arrow to the front and the sides' names are left to the screen, which always shows them
	Hollow     bool            // vehicle and wheels as outlines only, so that a picture under the view is seen
	Coarse     bool            // seen from so far that signs cannot be read: terminals as dots, no ports
	Within     r2.Rect         // where names have to stay; the zero value and an empty one: anywhere
	NameScale  float64         // names, loads and symbols larger by this factor; 0 means 1, which suits 1:20 on paper

	Cuts       []float64    // sections shown as lines in plan and side view: distances behind the front axle
	CGDonor    *r3.Vector   // the donor's centre of gravity
	CG         *r3.Vector   // the centre of gravity now
	WheelKg    *[4]float64  // loads of front left, front right, rear left and rear right wheel
	WheelMarks [4]Mark      // Breached or Warned where a load is over its limit or near it
	Places     []Place      // what findings point at
	Clear      []r2.Rect    // of the view's plane, where nothing is said of Places
	MorePlaces int          // further findings, places without text among them, of which only the number is said
	Lines      []Line       // links, cables, hoses
	Ghosts     []GhostPrism // where things were before the drag

	Cache *Cache // keeps what did not change from one view to the next; may be nil
}

// Place is a distance that a finding is about. A and B may be the same point.
type Place struct {
	A, B r3.Vector
	Text string // "12 mm, needs 15"; keeps off what is selected; may be empty
	Mark Mark   // Breached or Warned
	Ref  string // the finding it belongs to
}

// Line is a run of a link, cable or hose.
type Line struct {
	Role   Role // RoleLink, RoleCable, RoleHose, RoleBare or RoleCovered
	Ref    string
	Points []r3.Vector
	Text   string // shown at its middle; may be empty
}

// GhostPrism is a body where it was before a drag.
type GhostPrism struct {
	Ref   string
	Prism geometry.Prism
}

func (o *Options) mark(ref string) Mark {
	if len(o.Marks) == 0 {
		return 0
	}
	return o.Marks[ref]
}

// names returns the factor on the sizes of names and symbols.
func (o *Options) names() float64 {
	if o.NameScale > 0 {
		return o.NameScale
	}
	return 1
}

// holds tells whether a name may cover a rectangle.
func (o *Options) holds(r r2.Rect) bool {
	return o.Within == r2.Rect{} || o.Within.IsEmpty() || o.Within.Contains(r)
}

func (o *Options) on(l Layer) bool { return o.Off&l == 0 }
