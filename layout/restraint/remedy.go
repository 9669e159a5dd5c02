package restraint

import (
	"fmt"
	"math"
)

// Remedy says in words what size would do where a mode is used up, with the loads as they are.
func (b *Box) Remedy(p Peak) string {
	f := p.Load.Foot
	switch p.Mode {
	case Bolt:
		return b.boltThatDoes(f)
	case BearingPlate, TearOut:
		return fmt.Sprintf("A foot of %.0f mm would do.", math.Ceil(f.Plate()*p.Use.Ratio))
	case BearingFrame:
		return fmt.Sprintf("The vehicle's metal would have to be %.1f mm at the bolts: weld on a doubler, or use more bolts.", f.FrameMM*p.Use.Ratio)
	case Bending:
		return fmt.Sprintf("A foot of %.0f mm would do, or a gusset.", math.Ceil(f.Plate()*math.Sqrt(p.Use.Ratio)))
	}
	return fmt.Sprintf("%.0f mm of weld would do.", math.Ceil(f.Weld()*p.Use.Ratio))
}

// boltThatDoes finds the smallest thread, first in the foot's own class, then in 10.9, with which every bolt like
// this foot's holds in every direction.
func (b *Box) boltThatDoes(f *Foot) string {
	for _, c := range []Class{f.Class, ClassOf("10.9")} {
		for _, t := range threads {
			if b.holdsWith(f, t, c) {
				return fmt.Sprintf("%s %s would do.", t.Name, c.Name)
			}
		}
	}
	return "No single bolt up to M20 would do: use more bolts or more feet."
}

func (b *Box) holdsWith(f *Foot, t Thread, c Class) bool {
	for i := range b.Cases {
		for k := range b.Cases[i].Feet {
			l := &b.Cases[i].Feet[k]
			if l.Foot.ID == f.ID && Combined(l.BoltShearN, l.BoltPullN, t, c) > 1 {
				return false
			}
		}
	}
	return true
}
