package assembly

import (
	"context"
	"fmt"

	"stowbay/layout"
)

// TakeBoxOut is the way to take a finished box out of the vehicle: service links out, measured dead where it can be,
// connectors unplugged, or the cables unbolted in the best order, then the feet. Putting it back is the same in reverse.
// Only a box of the model can be taken out.
func TakeBoxOut(ctx context.Context, m *Model, box string) (*Sequence, error) {
	b := m.Scene.Box(box)
	if b == nil {
		return nil, fmt.Errorf("there is no box %q", box)
	}
	w := newWriter(ctx, m, "Taking out box "+box)
	w.b = finished(m)
	w.b.whole, w.b.known, w.q.Whole = false, nil, true
	w.isolate()
	w.detach(b)
	w.job("Lift box "+box+" out", box)
	for i := range b.Box.Feet {
		f := &b.Box.Feet[i]
		w.step(Loosen, b, w.boxVolts(b), fmt.Sprintf("Undo foot %s/%s (%d x %s).", box, f.ID, max(f.Bolts, 1), f.Bolt), box)
	}
	w.step(TakeOut, b, w.boxVolts(b), fmt.Sprintf("Lift box %s out. It holds up to %.0f V inside, whatever is disconnected.", box, w.boxVolts(b)), box)
	return w.end()
}

// isolate opens all service links.
func (w *writer) isolate() {
	w.eachSeam(disconnect, func(t, i int) {
		p := &w.b.m.tracks[t].pieces[i]
		w.job("Open service link "+p.gear.ID, p.box.Box.ID)
		w.step(OpenService, p.box, w.b.volts(w.b.around(t, i)), fmt.Sprintf("Vehicle off and locked against switching on; pull service link %s and keep it with you.", p.gear.ID), p.gear.ID)
		w.b.made[t][i] = false
	})
	w.job("Measure", "")
	w.step(Measure, nil, w.highest(), "Wait as long as the maker of the inverter says, then measure at the vehicle's leads that no voltage is left, with a meter tried before and after.")
}

// highest is the voltage of the largest circuit.
func (w *writer) highest() float64 {
	v := 0.0
	for t := range w.b.m.tracks {
		for i := range w.b.m.tracks[t].pieces {
			v = max(v, w.b.volts(w.b.around(t, i)))
		}
	}
	return v
}

// detach frees a box from its neighbours: plugs first, then bolted cables, the one in the lower voltage first.
func (w *writer) detach(b *layout.BoxScene) {
	w.eachSeam(plug, func(t, i int) {
		if tr := &w.b.m.tracks[t]; tr.pieces[i].box == b || tr.pieces[i+1].box == b {
			w.unplug(t, i)
		}
	})
	var list []seamAt
	w.eachSeam(bolted, func(t, i int) {
		if tr := &w.b.m.tracks[t]; tr.pieces[i].box != tr.pieces[i+1].box && (tr.pieces[i].box == b || tr.pieces[i+1].box == b) {
			list = append(list, seamAt{t, i})
		}
	})
	if len(list) > 0 {
		w.open(b)
		w.unboltAll(list)
	}
}

func (w *writer) unplug(t, i int) {
	a, b := w.b.m.tracks[t].pieces[i].box, w.b.m.tracks[t].pieces[i+1].box
	w.job(fmt.Sprintf("Unplug box %s from box %s", a.Box.ID, b.Box.ID), a.Box.ID)
	w.step(Disconnect, a, w.b.volts(w.b.around(t, i)), fmt.Sprintf("Unplug the cable between box %s and box %s and cap both connectors. They have to be touch-proof; nothing is bare.", a.Box.ID, b.Box.ID), a.Box.ID, b.Box.ID)
	w.b.made[t][i] = false
}

func (w *writer) open(b *layout.BoxScene) {
	w.job("Open box "+b.Box.ID, b.Box.ID)
	w.step(OpenBox, b, w.boxVolts(b), fmt.Sprintf("Take the lid off box %s; all covers inside stay on.", b.Box.ID), b.Box.ID)
}

// unboltAll opens joints that all have to be opened, in the best order: that of joining them, backwards.
func (w *writer) unboltAll(list []seamAt) {
	for from := 0; from < len(list); {
		to := from + 1
		for to < len(list) && list[to].str == list[from].str {
			to++
		}
		w.unboltRow(list[from:to])
		from = to
	}
}

func (w *writer) unboltRow(list []seamAt) {
	for _, s := range list {
		w.b.made[s.str][s.at] = false
	}
	// Joints with another seam between them that is open belong to different circuits; a row cut there is ordered in parts.
	var rows [][]seamAt
	for i, s := range list {
		if i == 0 || w.b.around(s.str, s.at).from != w.b.around(s.str, list[i-1].at+1).from {
			rows = append(rows, nil)
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], s)
	}
	var orders [][]int
	for _, r := range rows {
		volts := []float64{w.b.volts(w.b.around(r[0].str, r[0].at))}
		for _, s := range r {
			volts = append(volts, w.b.volts(w.b.around(s.str, s.at+1)))
		}
		o, _ := joinOrder(volts, w.b.m.Limits.TouchV)
		w.exact = w.exact && len(volts) <= exactPieces
		orders = append(orders, o)
	}
	for _, s := range list {
		w.b.made[s.str][s.at] = true
	}
	for i, r := range rows {
		for k := len(orders[i]) - 1; k >= 0; k-- {
			s := r[orders[i][k]]
			w.part(s.str, s.at)
		}
	}
}

// Replace is the way to replace one module of a finished pack: service links out, the box's connectors unplugged, lid
// off, modules above it taken out, then the joints that free it in the best order, which may open another joint on the
// way to lower the voltage; and back again in reverse.
func Replace(ctx context.Context, m *Model, module string) (*Sequence, error) {
	b, body := m.find(module)
	if body == nil {
		return nil, fmt.Errorf("there is no module %q", module)
	}
	w := newWriter(ctx, m, "Replacing "+module)
	w.b = finished(m)
	w.b.whole, w.b.known, w.q.Whole = false, nil, true
	before := w.state()
	w.isolate()
	w.eachSeam(plug, func(t, i int) {
		if tr := &m.tracks[t]; tr.pieces[i].box == b || tr.pieces[i+1].box == b {
			w.unplug(t, i)
		}
	})
	w.open(b)
	out := append(above(b, body), body)
	w.layed = len(out) > 1
	opened := make([][]seamAt, len(out))
	for i, x := range out {
		opened[i] = w.free(b, x)
	}
	for i := len(out) - 1; i >= 0; i-- {
		w.back(b, out[i], out[i] == body)
		for k := len(opened[i]) - 1; k >= 0; k-- {
			w.join(opened[i][k].str, opened[i][k].at)
		}
	}
	w.close(b)
	w.restore(before)
	return w.end()
}

func (m *Model) find(module string) (*layout.BoxScene, *layout.Body) {
	for _, b := range m.Scene.Boxes {
		for _, x := range b.Modules {
			if x.ID == module {
				return b, x
			}
		}
	}
	return nil, nil
}

func (w *writer) state() [][]bool {
	out := make([][]bool, len(w.b.made))
	for i := range out {
		out[i] = append([]bool(nil), w.b.made[i]...)
	}
	return out
}

// restore plugs in and closes what was closed before.
func (w *writer) restore(before [][]bool) {
	for t := range before {
		for i, was := range before[t] {
			if was && !w.b.made[t][i] && w.b.m.tracks[t].seams[i].kind == plug {
				w.plugIn(t, i)
			}
		}
	}
	w.eachSeam(disconnect, func(t, i int) {
		if before[t][i] {
			w.closeService(t, i)
		}
	})
}

// free takes a module out and returns the joints that were opened for it, in order.
func (w *writer) free(b *layout.BoxScene, x *layout.Body) []seamAt {
	var opened []seamAt
	for t := range w.b.m.tracks {
		for i := range w.b.m.tracks[t].pieces {
			if w.b.m.tracks[t].pieces[i].body == x {
				opened = append(opened, w.cutFree(t, i)...)
			}
		}
	}
	w.job("Take out "+x.ID, b.Box.ID)
	w.step(TakeOut, b, x.Module.MaxV(), fmt.Sprintf("Take %s out, both terminals covered.", x.ID), x.ID)
	w.put(false, func(p *piece) bool { return p.body == x })
	return opened
}

func (w *writer) back(b *layout.BoxScene, x *layout.Body, fresh bool) {
	text := fmt.Sprintf("Put %s back, both terminals covered.", x.ID)
	if fresh {
		text = fmt.Sprintf("Put the new module into the place of %s, at the others' voltage and matched to them, both terminals covered. Append it to the register.", x.ID)
	}
	w.job("Put in "+x.ID, b.Box.ID)
	w.put(true, func(p *piece) bool { return p.body == x })
	w.step(Place, b, x.Module.MaxV(), text, x.ID)
}

// cutFree opens joints until a piece stands alone.
func (w *writer) cutFree(t, piece int) []seamAt {
	c := w.b.around(t, piece)
	var volts []float64
	var can []bool
	for i := c.from; i <= c.to; i++ {
		v, _ := w.b.sum(t, i, i)
		volts = append(volts, v)
		if i < c.to {
			can = append(can, w.b.m.tracks[t].seams[i].kind == bolted)
		}
	}
	cuts, _ := freeOrder(volts, can, piece-c.from, w.b.m.Limits.TouchV)
	var out []seamAt
	for _, k := range cuts {
		w.part(t, c.from+k)
		out = append(out, seamAt{t, c.from + k})
	}
	return out
}
