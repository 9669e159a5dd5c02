package fill

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"stowbay/layout"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// Only packs one box of an arrangement, or a new box for one of its bays, as [Box] does. Where nothing fits, the bay gets no
// box and the arrangement stays as it is. The arrangement given is left alone.
func Only(ctx context.Context, a *layout.Arrangement, id string, lib *vehicles.Library, w Wish, progress func(packing.Progress)) (Done, error) {
	out := *a
	out.Boxes = slices.Clone(a.Boxes)
	var o Outcome
	var err error
	switch i := slices.IndexFunc(a.Boxes, func(b *layout.Box) bool { return b.ID == id }); {
	case i >= 0:
		if o, err = Box(ctx, a.Boxes[i], lib, w, progress); err == nil {
			out.Boxes[i] = o.Box
		}
	case a.Bay(id) != nil:
		if o, err = inBay(ctx, &out, a.Bay(id), lib, w, progress); o.Box != nil {
			out.Boxes = append(out.Boxes, o.Box)
		}
	default:
		err = fmt.Errorf("there is no box or bay %q", id)
	}
	if err != nil {
		return Done{}, err
	}
	return Done{Arrangement: &out, Outcomes: []Outcome{o}}, nil
}

// inBay packs a new box for a bay. Where nothing fits, the outcome has no box.
func inBay(ctx context.Context, a *layout.Arrangement, bay *vehicles.Bay, lib *vehicles.Library, w Wish, progress func(packing.Progress)) (Outcome, error) {
	o := Outcome{}
	b, _, err := a.BoxFor(bay, w.Donor, layout.Shell{LinerMM: 2})
	if err == nil {
		o, err = Box(ctx, b, lib, w, progress)
	}
	if no := (*layout.NoRoom)(nil); errors.As(err, &no) {
		o, err = Outcome{Result: packing.Result{Proved: true, Reason: no.Why}}, nil
	}
	if err != nil {
		return Outcome{}, fmt.Errorf("bay %s: %w", bay.ID, err)
	}
	o.Bay = bay
	if o.Result.Count == 0 {
		o.Box = nil
	}
	return o, nil
}
