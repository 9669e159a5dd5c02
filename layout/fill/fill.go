package fill

import (
	"context"
	"fmt"

	"stowbay/layout"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// Outcome is a packed box and what the solver says of it.
type Outcome struct {
	Box    *layout.Box   // nil where nothing fits in a bay that has no box: it gets none
	Bay    *vehicles.Bay // the bay that the box was made for, or would have been; nil for a box that stood before
	Result packing.Result
}

// ID is the id of the box, or of the bay that gets none.
func (o Outcome) ID() string {
	if o.Box != nil {
		return o.Box.ID
	}
	return o.Bay.ID
}

// Name is what the box, or the bay that gets none, is called.
func (o Outcome) Name() string {
	name := ""
	if o.Box != nil {
		name = o.Box.Name
	} else {
		name = o.Bay.Name
	}
	if name == "" {
		return o.ID()
	}
	return name
}

// Words says the outcome as a designer wants to hear it, see [Words].
func (o Outcome) Words() string {
	s := Words(o.Result)
	if o.Box == nil {
		s += "; the bay gets no box"
	}
	return s
}

// Box packs a box: the most modules, or the target. Modules that are not kept are replaced. The box given stays
// as it is; the outcome holds a new one. Where none fits because the box is too small for one, the result's reason is its
// size. On cancel the best so far is returned without an error.
func Box(ctx context.Context, b *layout.Box, lib *vehicles.Library, w Wish, progress func(packing.Progress)) (Outcome, error) {
	p, err := Problem(b, lib, w)
	if err != nil {
		return Outcome{}, err
	}
	r, err := packing.Solve(ctx, p, progress)
	if err != nil {
		return Outcome{}, fmt.Errorf("box %s: %w", b.ID, err)
	}
	if why := tooSmall(p); r.Count == 0 && why != "" {
		r.Reason = why
	}
	out := *b
	out.Modules = Placements(b, w, r.Placements)
	return Outcome{Box: &out, Result: r}, nil
}

// Placements turns the solver's placements into a box's modules: the kept ones with their ids, then new ones
// numbered from m1 on, by-passing ids in use.
func Placements(b *layout.Box, w Wish, ps []packing.Placement) []layout.Placement {
	out := kept(b, w)
	taken := map[string]bool{}
	for _, m := range out {
		taken[m.ID] = true
	}
	n := 0
	for _, p := range ps {
		if p.Fixed {
			continue
		}
		m := layout.Placement{Module: w.Module.ID, At: vehicles.XYZ{p.X, p.Y, p.Z}, Posture: vehicles.Posture(p.Posture), Turn: p.Turn}
		for m.ID == "" || taken[m.ID] {
			n++
			m.ID = fmt.Sprintf("m%d", n)
		}
		taken[m.ID] = true
		out = append(out, m)
	}
	return out
}

func kept(b *layout.Box, w Wish) []layout.Placement {
	var out []layout.Placement
	for _, m := range b.Modules {
		if m.Locked || w.KeepAll {
			out = append(out, m)
		}
	}
	return out
}

// Words says a result as a designer wants to hear it: "14 fit; 15 is proved impossible", "none fits, which is proved".
func Words(r packing.Result) string {
	n := r.Count
	switch {
	case n == 0:
		return noneWords(r)
	case r.Proved:
		return fmt.Sprintf("%d fit; %d is proved impossible", n, n+1)
	case r.GridProved:
		return fmt.Sprintf("%d fit; %d is proved impossible on a %g mm grid, and no more than %d at any position", n, n+1, r.GridMM, r.Bound)
	case r.Layered && n == r.LayeredBound:
		return fmt.Sprintf("%d fit; %d in whole layers is proved impossible, and more than %d at any heights", n, n+1, r.Bound)
	case r.Layered:
		return fmt.Sprintf("%d fit in layers; no more than %d in whole layers, nor than %d at any heights", n, r.LayeredBound, r.Bound)
	case r.Stopped:
		return fmt.Sprintf("%d found when stopped; no more than %d", n, r.Bound)
	}
	return fmt.Sprintf("best found %d; no more than %d", n, r.Bound)
}
