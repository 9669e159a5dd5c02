package restraint

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// Evaluate works out how the boxes of a scene are held. Boxes without a weight are taken to have none. prev, the
// result before an edit, may be nil; boxes that both scenes share are taken over from it.
func Evaluate(s *layout.Scene, weights []Weight, prev *Result) *Result {
	r := &Result{Scene: s}
	r.Set, r.Chosen = Chosen(s.Plan.Settings.Restraint)
	if !r.Chosen {
		r.Set = Set{}
	}
	of := make(map[string]Weight, len(weights))
	for _, w := range weights {
		of[w.Box] = w
	}
	for _, b := range s.Boxes {
		w := of[b.Box.ID]
		if old := prev.same(s, b, w, r.Set); old != nil {
			r.Boxes = append(r.Boxes, old)
			continue
		}
		r.Boxes = append(r.Boxes, newBox(s, b, w, r.Set))
	}
	return r
}

// same returns the previous result of a box if nothing it depends on changed.
func (r *Result) same(s *layout.Scene, b *layout.BoxScene, w Weight, set Set) *Box {
	if r == nil || r.Scene.Donor != s.Donor {
		return nil
	}
	old := r.Of(b.Box.ID)
	if old == nil || old.Scene != b || old.Kg != w.Kg || old.CG != w.CG || !old.set.equal(set) {
		return nil
	}
	return old
}

func (s Set) equal(o Set) bool {
	return s.ID == o.ID && s.ForwardG == o.ForwardG && s.RearwardG == o.RearwardG && s.SideG == o.SideG && s.UpG == o.UpG && s.DownG == o.DownG
}

func newBox(s *layout.Scene, b *layout.BoxScene, w Weight, set Set) *Box {
	out := &Box{Scene: b, Kg: w.Kg, CG: w.CG, set: set}
	for i := range b.Box.Feet {
		out.Feet = append(out.Feet, newFoot(s.Donor, b, &b.Box.Feet[i]))
	}
	frame, ok := NewFrame(out.springs())
	if out.Held = ok; !ok {
		return out
	}
	weight := frame.Reactions(r3.Vector{Z: -w.Kg * Gravity}, w.CG)
	for _, d := range directions {
		if g := set.G(d); g > 0 {
			out.Cases = append(out.Cases, out.inCase(frame, d, g, weight))
		}
	}
	return out
}

// thrown is the unit vector of a direction.
func (d Direction) thrown() r3.Vector {
	switch d {
	case Forward:
		return r3.Vector{X: -1}
	case Rearward:
		return r3.Vector{X: 1}
	case Left:
		return r3.Vector{Y: -1}
	case Right:
		return r3.Vector{Y: 1}
	case Up:
		return r3.Vector{Z: 1}
	}
	return r3.Vector{Z: -1}
}

// inCase works out a case. The reactions to the load alone and with the box's weight are both looked at, and for
// each foot the worse is kept.
func (b *Box) inCase(frame *Frame, d Direction, g float64, weight []r3.Vector) Case {
	c := Case{Direction: d, G: g, Force: d.thrown().Mul(b.Kg * g * Gravity)}
	alone := frame.Reactions(c.Force, b.CG)
	first := 0
	for i := range b.Feet {
		f := &b.Feet[i]
		n := len(f.bolts)
		l := f.load(alone[first : first+n])
		force := l.Force
		both := make([]r3.Vector, n)
		for k := range both {
			both[k] = alone[first+k].Add(weight[first+k])
		}
		if w := f.load(both); w.worse(l) {
			l = w
			l.Force, l.WithWeight = force, true
		}
		c.Feet = append(c.Feet, l)
		first += n
	}
	return c
}

func (l *FootLoad) worse(o FootLoad) bool {
	_, a := l.Worst()
	_, b := o.Worst()
	return a.Ratio > b.Ratio
}
