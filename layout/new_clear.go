package layout

import (
	"slices"

	"stowbay/geometry"
	"stowbay/vehicles"
)

// mostGivenUp is how much of a box's space may be given up, beyond what a keep-out takes, so that the box needs no step for it.
// Common practice; no source.
const mostGivenUp = 0.05

// BoxFor returns a box that fills a bay of the arrangement, with an id of its own, out of the way of the keep-outs of the donor, of
// the arrangement and of its other bays; see [BoxForBay]. donor may be nil.
func (a *Arrangement) BoxFor(bay *vehicles.Bay, donor *vehicles.Donor, shell Shell) (box *Box, remark string, err error) {
	return BoxForBay(bay, a.keepOutsBeside(bay, donor), a.BoxID(bay.ID), shell)
}

// keepOutsBeside are the keep-outs that a box in a bay has to stay out of besides the bay's own.
func (a *Arrangement) keepOutsBeside(bay *vehicles.Bay, donor *vehicles.Donor) []vehicles.KeepOut {
	var out []vehicles.KeepOut
	if donor != nil {
		out = append(out, donor.KeepOuts...)
	}
	for _, l := range a.keepOutLists() {
		if l.owner != bay.ID {
			out = append(out, l.list...)
		}
	}
	return out
}

// outOf takes a keep-out off free space. Where little more is given up by it, the space ends beside the keep-out in its whole
// height, or above or below it in its whole plan; otherwise it gets a step.
func outOf(free geometry.Space, k geometry.Prism) (geometry.Space, error) {
	if !slices.ContainsFunc(free.Solids, k.Overlaps) {
		return free, nil
	}
	best, err := less(free, k)
	if err != nil {
		return free, err
	}
	enough := (1 - mostGivenUp) * best.Volume()
	lo, hi := free.Bounds()
	for _, plain := range []geometry.Prism{
		{Base: k.Base, Bottom: lo.Z, Top: hi.Z},
		{Base: geometry.NewRect(lo.X, lo.Y, hi.X, hi.Y), Bottom: k.Bottom, Top: k.Top},
	} {
		s, err := less(free, plain)
		if err != nil {
			return free, err
		}
		if v := s.Volume(); v >= enough {
			best, enough = s, v
		}
	}
	return best, nil
}

// less is a space without a volume, as prisms without keep-outs.
func less(s geometry.Space, k geometry.Prism) (geometry.Space, error) {
	return geometry.Space{Solids: s.Solids, KeepOuts: []geometry.Prism{k}}.Inset(0, 0, 0)
}
