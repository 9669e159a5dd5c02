package search

import (
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// By hand: modules of 40 mm x 20 mm x 10 mm, lying or turned a quarter. One stands above another where it is over the top of it and some
// of both is in the same place of the plan; side by side, or corner to corner, it does not.
func TestWhatStandsAbove(t *testing.T) {
	body := func(x, y, z float64, turn int) *layout.Body {
		p := layout.Pose{Size: r3.Vector{X: 40, Y: 20, Z: 10}, Posture: vehicles.Flat, Turn: turn, At: r3.Vector{X: x, Y: y, Z: z}}
		e := p.Extent()
		return &layout.Body{Pose: p, Prism: geometry.Prism{Base: geometry.NewRect(x, y, x+e.X, y+e.Y), Bottom: z, Top: z + 10}}
	}
	low := body(100, 50, 0, 0) // to 140, 70
	for name, c := range map[string]struct {
		other *layout.Body
		above bool
	}{
		"on it":                 {body(100, 50, 10, 0), true},
		"far above it":          {body(100, 50, 90, 0), true},
		"in it":                 {body(100, 50, 9, 0), false},
		"over its left end":     {body(61, 50, 10, 0), true},
		"left of it":            {body(60, 50, 10, 0), false},
		"over its right end":    {body(139, 50, 10, 0), true},
		"right of it":           {body(140, 50, 10, 0), false},
		"over its lower side":   {body(100, 31, 10, 0), true},
		"below it in plan":      {body(100, 30, 10, 0), false},
		"over its upper side":   {body(100, 69, 10, 0), true},
		"above it in plan":      {body(100, 70, 10, 0), false},
		"corner to corner":      {body(140, 70, 10, 0), false},
		"turned, over it":       {body(110, 11, 10, 90), true},
		"turned, beside it":     {body(110, 10, 10, 90), false},
		"turned, over its left": {body(81, 50, 10, 90), true},
		"turned, left of it":    {body(80, 50, 10, 90), false},
	} {
		got := above(&layout.BoxScene{Modules: []*layout.Body{low, c.other}})
		if len(got[0]) != map[bool]int{true: 1}[c.above] || len(got[1]) != 0 {
			t.Errorf("%s: %v, want above it %v", name, got, c.above)
		}
	}
}
