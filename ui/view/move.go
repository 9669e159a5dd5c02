package view

import (
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// MoveThings gives the edit that moves whatever is picked by mm in the vehicle's frame: boxes, modules and gear,
// and bays and keep-outs of the arrangement.
func MoveThings(p *layout.Plan, arrangement string, refs []string, by r3.Vector) (layout.Edit, error) {
	a := p.Arrangement(arrangement)
	var bodies, survey []string
	for _, ref := range refs {
		switch {
		case isSurvey(a, ref) && slices.Contains(refs, a.KeepOutBay(ref)): // goes along with its bay
		case isSurvey(a, ref):
			survey = append(survey, ref)
		default:
			bodies = append(bodies, ref)
		}
	}
	if len(survey) == 0 {
		return layout.Move(p, arrangement, bodies, by)
	}
	moved, err := layout.Change(p, arrangement, "Move the survey", func(a *layout.Arrangement) error {
		for _, ref := range survey {
			moveSurvey(a, ref, by)
		}
		return nil
	})
	if err != nil || len(bodies) == 0 {
		return moved, err
	}
	others, err := layout.Move(p, arrangement, bodies, by)
	if err != nil {
		return nil, err
	}
	return layout.Together("Move what is picked", moved, others), nil
}

func isSurvey(a *layout.Arrangement, ref string) bool {
	return a.Box(ref) == nil && (a.Bay(ref) != nil || a.KeepOut(ref) != nil)
}

// moveSurvey moves a bay with all it holds, or a keep-out of the arrangement or of a bay.
func moveSurvey(a *layout.Arrangement, ref string, by r3.Vector) {
	if i := slices.IndexFunc(a.Bays, func(b vehicles.Bay) bool { return b.ID == ref }); i >= 0 {
		a.Bays = slices.Clone(a.Bays)
		a.Bays[i] = shiftedBay(a.Bays[i], by)
		return
	}
	ChangeKeepOut(a, ref, func(k *vehicles.KeepOut) { *k = shiftedKeepOut(*k, by) })
}

func shiftedBay(bay vehicles.Bay, by r3.Vector) vehicles.Bay {
	bay.Levels = slices.Clone(bay.Levels)
	for i := range bay.Levels {
		l := &bay.Levels[i]
		l.Outline, l.FloorMM, l.CeilingMM = shiftedRing(l.Outline, by), tidy(l.FloorMM+by.Z), tidy(l.CeilingMM+by.Z)
	}
	bay.KeepOuts = slices.Clone(bay.KeepOuts)
	for i := range bay.KeepOuts {
		bay.KeepOuts[i] = shiftedKeepOut(bay.KeepOuts[i], by)
	}
	return bay
}

func shiftedKeepOut(k vehicles.KeepOut, by r3.Vector) vehicles.KeepOut {
	k.Outline = shiftedRing(k.Outline, by)
	k.FloorMM, k.CeilingMM = tidy(k.FloorMM+by.Z), tidy(k.CeilingMM+by.Z)
	return k
}

func shiftedRing(ps []vehicles.XY, by r3.Vector) []vehicles.XY {
	out := make([]vehicles.XY, len(ps))
	for i, p := range ps {
		out[i] = vehicles.XY{tidy(p[0] + by.X), tidy(p[1] + by.Y)}
	}
	return out
}
