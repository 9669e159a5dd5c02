package drawing

import (
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Cache keeps the items of boxes that did not change between two drawings of a view: scenes share a box's
// pointer while it stays the same. One cache serves all views; it is for one goroutine at a time.
type Cache struct {
	views   [3]map[layerKey]*chunk
	lengths [3]int // of the lists drawn last, in items
}

type layerKey struct {
	part     string
	donor    *vehicles.Donor
	box      *layout.BoxScene
	off      Layer
	grid     float64
	imperial bool
	hollow   bool
	coarse   bool
}

type chunk struct {
	items  []Item
	bounds r2.Rect
}

// drawn adds what f draws, from the cache where it was drawn before.
func (p *pen) drawn(k layerKey, f func(*pen)) {
	c := p.o.Cache
	if c == nil {
		f(p)
		return
	}
	k.off, k.grid, k.imperial, k.hollow, k.coarse = p.o.Off, p.o.GridMM, p.o.Imperial, p.o.Hollow, p.o.Coarse
	got := c.views[p.v][k]
	if got == nil {
		q := newPen(p.v, p.o)
		f(q)
		got = &chunk{q.items, q.bounds}
	}
	if p.used == nil {
		p.used = map[layerKey]*chunk{}
	}
	p.used[k] = got
	p.items = append(p.items, got.items...)
	p.bounds = p.bounds.Union(got.bounds)
}

// markedBoxes are the boxes that a mark concerns, themselves or something in them.
func (o *Options) markedBoxes() map[string]bool {
	out := make(map[string]bool, len(o.Marks))
	for ref, m := range o.Marks {
		if m != 0 {
			box, _, _ := strings.Cut(ref, "/")
			out[box] = true
		}
	}
	return out
}
