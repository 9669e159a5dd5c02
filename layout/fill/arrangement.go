package fill

import (
	"context"
	"maps"
	"slices"

	"stowbay/layout"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// Done is an arrangement with every bay boxed and every box packed.
type Done struct {
	Arrangement *layout.Arrangement
	Outcomes    []Outcome
}

// Arrangement packs every box that is not locked and puts a packed box into every bay that has none; a bay in which nothing
// fits gets none, and its outcome says why. Where the arrangement states its modules in series and strings in parallel and
// more modules fit, some are taken out again: so that every string is whole in one box where the boxes have room for that,
// else those whose absence leaves the least trouble; the outcomes still say how many fit. The arrangement given stays as it
// is. On cancel the best so far is returned without an error.
func Arrangement(ctx context.Context, a *layout.Arrangement, lib *vehicles.Library, w Wish, progress func(packing.Progress)) (Done, error) {
	out := *a
	out.Boxes = slices.Clone(a.Boxes)
	done := Done{Arrangement: &out}
	for i, b := range out.Boxes {
		if b.Locked {
			continue
		}
		o, err := Box(ctx, b, lib, w, progress)
		if err != nil {
			return Done{}, err
		}
		out.Boxes[i] = o.Box
		done.Outcomes = append(done.Outcomes, o)
	}
	for i := range a.Bays {
		if hasBox(a, &a.Bays[i]) {
			continue
		}
		o, err := inBay(ctx, &out, &a.Bays[i], lib, w, progress)
		if err != nil {
			return Done{}, err
		}
		if o.Box != nil {
			out.Boxes = append(out.Boxes, o.Box)
		}
		done.Outcomes = append(done.Outcomes, o)
	}
	if out.Series > 0 {
		takeOut(&out, lib, w.Trouble)
	}
	return done, nil
}

func hasBox(a *layout.Arrangement, bay *vehicles.Bay) bool {
	return slices.ContainsFunc(a.Boxes, func(b *layout.Box) bool { return b.Bay == bay.ID })
}

// UsualModule returns the id of the module that an arrangement uses most; failing that, the one its plan uses most,
// the first that the search settings allow, or the first of the plan's own library; or "".
func UsualModule(p *layout.Plan, a *layout.Arrangement) string {
	if id := mostUsed(a); id != "" {
		return id
	}
	if id := mostUsed(p.Arrangements...); id != "" {
		return id
	}
	if len(p.Settings.Search.Modules) > 0 {
		return p.Settings.Search.Modules[0]
	}
	if len(p.Library.Modules) > 0 {
		return p.Library.Modules[0].ID
	}
	return ""
}

func mostUsed(as ...*layout.Arrangement) string {
	n := map[string]int{}
	for _, a := range as {
		for _, b := range a.Boxes {
			for _, m := range b.Modules {
				n[m.Module]++
			}
		}
	}
	best := ""
	for _, id := range slices.Sorted(maps.Keys(n)) {
		if best == "" || n[id] > n[best] {
			best = id
		}
	}
	return best
}
