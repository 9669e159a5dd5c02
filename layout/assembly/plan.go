package assembly

import (
	"context"
	"fmt"

	"stowbay/layout"
)

// Plan finds the order in which the pack is best put together, box by box: fuses and contactors go in and are joined
// before anything else, then the links in the order that [joinWithin] proves best, what lies
// under a module before that module goes in; boxes are closed and connected; the
// service link comes last. Everything not being worked on is covered. It ends early with the context's error.
func Plan(ctx context.Context, m *Model) (*Sequence, error) {
	w := newWriter(ctx, m, "Putting the pack together")
	for _, b := range m.Scene.Boxes {
		if len(b.Modules)+len(b.Gear) == 0 {
			continue
		}
		if w.fill(b); ctx.Err() != nil {
			return nil, ctx.Err()
		}
	}
	w.cables()
	w.connect()
	return w.end()
}

// fill builds one box up to its lid.
func (w *writer) fill(b *layout.BoxScene) {
	w.placeGear(b)
	ls := layersOf(b)
	rows := w.rows(b, ls)
	for k := range ls.order {
		w.placeLayer(b, ls.order[k], k)
		w.make(rows, 2*k)
		w.make(rows, 2*k+1)
	}
	if !w.cabled(b) {
		w.close(b)
	}
}

func (w *writer) close(b *layout.BoxScene) {
	w.job("Close box "+b.Box.ID, b.Box.ID)
	w.step(CloseBox, b, w.boxVolts(b), fmt.Sprintf("Look through box %s for tools and loose parts, then put on the lid of box %s with its seal.", b.Box.ID, b.Box.ID), b.Box.ID)
}

// boxVolts is the highest voltage of the circuits that reach into a box.
func (w *writer) boxVolts(b *layout.BoxScene) float64 {
	v := 0.0
	for t := range w.b.m.tracks {
		for i, p := range w.b.m.tracks[t].pieces {
			if p.box == b && w.b.placed[t][i] {
				v = max(v, w.b.volts(w.b.around(t, i)))
			}
		}
	}
	return v
}

func (w *writer) placeGear(b *layout.BoxScene) {
	if len(b.Gear) == 0 {
		return
	}
	w.job("Gear into box "+b.Box.ID, b.Box.ID)
	for _, g := range b.Gear {
		k, verb := Place, "Place"
		if g.Gear.Kind == "fuse" {
			k, verb = FitFuse, "Fit fuse"
		}
		w.put(true, func(p *piece) bool { return p.gear == g })
		w.step(k, b, 0, fmt.Sprintf("%s %s (%s), its terminals covered.", verb, g.ID, g.Gear.Name), g.ID)
	}
}

func (w *writer) placeLayer(b *layout.BoxScene, layer []*layout.Body, k int) {
	if len(layer) == 0 {
		return
	}
	title := "Modules into box " + b.Box.ID
	if k > 0 {
		title = fmt.Sprintf("Modules of layer %d into box %s", k+1, b.Box.ID)
	}
	w.job(title, b.Box.ID)
	for _, x := range layer {
		w.put(true, func(p *piece) bool { return p.body == x })
		w.step(Place, b, x.Module.MaxV(), fmt.Sprintf("Place %s (%s), both terminals covered.", x.ID, x.Module.Name), x.ID)
	}
}

// put marks pieces as in place or not.
func (w *writer) put(in bool, is func(*piece) bool) {
	for t := range w.b.m.tracks {
		for i := range w.b.m.tracks[t].pieces {
			if is(&w.b.m.tracks[t].pieces[i]) {
				w.b.placed[t][i] = in
			}
		}
	}
}

// seamAt is a seam of a string.
type seamAt struct{ str, at int }

func (w *writer) seam(s seamAt) *seam { return &w.b.m.tracks[s.str].seams[s.at] }

func (w *writer) isGear(s seamAt) bool { return w.b.m.Joints[w.seam(s).joint].Kind == GearJoint }

// round makes joints, each row of circuits next to each other in its best order.
func (w *writer) round(list []seamAt) {
	for from := 0; from < len(list); {
		to := from + 1
		for to < len(list) && list[to].str == list[from].str && w.b.around(list[to].str, list[to].at).from == w.b.around(list[to-1].str, list[to-1].at+1).from {
			to++
		}
		w.row(list[from:to])
		from = to
	}
}

// row joins circuits next to each other.
func (w *writer) row(list []seamAt) {
	volts := []float64{w.b.volts(w.b.around(list[0].str, list[0].at))}
	for _, s := range list {
		volts = append(volts, w.b.volts(w.b.around(s.str, s.at+1)))
	}
	w.exact = w.exact && len(volts) <= exactPieces
	order, c := joinOrder(volts, w.b.m.Limits.TouchV)
	if len(volts) > exactPieces {
		c.steps = leastSteps(volts, w.b.m.Limits.TouchV)
	}
	w.q.LeastSteps += c.steps
	for _, k := range order {
		if w.ctx.Err() != nil {
			return
		}
		w.join(list[k].str, list[k].at)
	}
}

// cabled tells whether a cable is bolted on in a box that goes to another one.
func (w *writer) cabled(b *layout.BoxScene) bool {
	for i := range w.b.m.Joints {
		j := &w.b.m.Joints[i]
		if j.Kind == CableJoint && (w.b.m.Conductors[j.A].Box == b || w.b.m.Conductors[j.B].Box == b) {
			return true
		}
	}
	return false
}

// cables bolts cables from box to box on, in the best order, and closes the boxes.
func (w *writer) cables() {
	var list []seamAt
	for t := range w.b.m.tracks {
		for i, s := range w.b.m.tracks[t].seams {
			if s.kind == bolted && w.b.m.Joints[s.joint].Kind == CableJoint {
				list = append(list, seamAt{t, i})
			}
		}
	}
	w.round(list)
	for _, b := range w.b.m.Scene.Boxes {
		if w.cabled(b) {
			w.close(b)
		}
	}
}

// connect plugs the boxes together and closes the service links.
func (w *writer) connect() {
	w.eachSeam(plug, w.plugIn)
	w.eachSeam(disconnect, w.closeService)
}

func (w *writer) plugIn(t, i int) {
	a, b := w.b.m.tracks[t].pieces[i].box, w.b.m.tracks[t].pieces[i+1].box
	w.job(fmt.Sprintf("Connect box %s to box %s", a.Box.ID, b.Box.ID), a.Box.ID)
	w.b.made[t][i] = true
	w.step(ConnectBox, a, w.b.volts(w.b.around(t, i)), fmt.Sprintf("Plug in the cable from box %s to box %s. The connectors have to be touch-proof on both sides; nothing is bare.", a.Box.ID, b.Box.ID), a.Box.ID, b.Box.ID)
}

func (w *writer) closeService(t, i int) {
	p := &w.b.m.tracks[t].pieces[i]
	w.job("Close service link "+p.gear.ID, p.box.Box.ID)
	w.b.made[t][i] = true
	w.step(CloseService, p.box, w.b.volts(w.b.around(t, i)), fmt.Sprintf("Close service link %s: string %s has its whole voltage from now on. Nothing is bare; contactors stay open.", p.gear.ID, w.b.m.Circuit.Strings[t].ID), p.gear.ID)
}

func (w *writer) eachSeam(k seamKind, do func(t, i int)) {
	for t := range w.b.m.tracks {
		for i, s := range w.b.m.tracks[t].seams {
			if s.kind == k {
				do(t, i)
			}
		}
	}
}
