package assembly

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// layers are the modules of a box from the lowest up: a module stands a layer above the highest one under it.
type layers struct {
	order [][]*layout.Body
	of    map[*layout.Body]int
}

func layersOf(b *layout.BoxScene) layers {
	ls := layers{of: make(map[*layout.Body]int, len(b.Modules))}
	volumes := make([]volume, len(b.Modules))
	for i, m := range b.Modules {
		volumes[i] = volumeOf(m)
	}
	for range b.Modules { // as many rounds as the tallest stack can need
		if !ls.lift(b, volumes) {
			break
		}
	}
	ls.order = [][]*layout.Body{nil}
	for _, m := range b.Modules {
		for len(ls.order) <= ls.of[m] {
			ls.order = append(ls.order, nil)
		}
		ls.order[ls.of[m]] = append(ls.order[ls.of[m]], m)
	}
	return ls
}

// lift raises modules that stand on others of their own layer or above; false where all is settled.
func (ls layers) lift(b *layout.BoxScene, volumes []volume) bool {
	moved := false
	for i, m := range b.Modules {
		for k, u := range b.Modules {
			if i != k && volumes[i].over(&volumes[k]) && ls.of[m] <= ls.of[u] {
				ls.of[m] = ls.of[u] + 1
				moved = true
			}
		}
	}
	return moved
}

// volume is the block about a module in its box's frame.
type volume struct{ lo, hi r3.Vector }

func volumeOf(m *layout.Body) volume {
	return volume{m.Pose.At, m.Pose.At.Add(m.Pose.Extent())}
}

// over tells whether a block is above another: bottom at or over its top, and over some of it in plan.
func (s *volume) over(u *volume) bool {
	const slack = 1 // mm, for layers that are not quite level
	return s.lo.Z >= u.hi.Z-slack && s.lo.X < u.hi.X && u.lo.X < s.hi.X && s.lo.Y < u.hi.Y && u.lo.Y < s.hi.Y
}

// standsOn tells whether a module is above another.
func standsOn(m, u *layout.Body) bool {
	a, b := volumeOf(m), volumeOf(u)
	return m != u && a.over(&b)
}

// above lists the modules that stand over a module, the topmost first.
func above(b *layout.BoxScene, m *layout.Body) []*layout.Body {
	ls := layersOf(b)
	over := map[*layout.Body]bool{m: true}
	var out []*layout.Body
	for k := ls.of[m] + 1; k < len(ls.order); k++ {
		for _, x := range ls.order[k] {
			for _, u := range b.Modules {
				if over[u] && standsOn(x, u) {
					over[x] = true
				}
			}
			if over[x] {
				out = append([]*layout.Body{x}, out...)
			}
		}
	}
	return out
}

// underModule returns the first module that stands straight over a conductor of another module, or nil.
func underModule(c *Conductor, ls layers) *layout.Body {
	for _, m := range c.Box.Modules {
		if covers(m, c, ls) {
			return m
		}
	}
	return nil
}

func covers(m *layout.Body, c *Conductor, ls layers) bool {
	if m.ID == c.Of || ls.of[m] == 0 {
		return false
	}
	p := c.Box.Frame.FromVehicle(c.At)
	a, e := m.Pose.At, m.Pose.Extent()
	return a.Z >= p.Z-1 && p.X >= a.X && p.X <= a.X+e.X && p.Y >= a.Y && p.Y <= a.Y+e.Y
}

// lowestOver is the lowest layer of which a module stands over a conductor; 0: none.
func lowestOver(c *Conductor, ls layers) int {
	low := 0
	for _, m := range c.Box.Modules {
		if covers(m, c, ls) && (low == 0 || ls.of[m] < low) {
			low = ls.of[m]
		}
	}
	return low
}

// Buried is a joint end that is out of reach once a module stands over it.
type Buried struct {
	Conductor *Conductor
	Under     *layout.Body
}

// Buried lists the joints of a box that have to be made before a module goes in over them.
func (m *Model) Buried(b *layout.BoxScene) []Buried { return buriedIn(m, b, layersOf(b)) }

func buriedIn(m *Model, b *layout.BoxScene, ls layers) []Buried {
	if len(ls.order) < 2 {
		return nil
	}
	var out []Buried
	for i := range m.Joints {
		j := &m.Joints[i]
		if j.Kind != LinkJoint || j.Box != b {
			continue
		}
		for _, e := range [2]int{j.A, j.B} {
			if u := underModule(&m.Conductors[e], ls); u != nil {
				out = append(out, Buried{&m.Conductors[e], u})
			}
		}
	}
	return out
}
