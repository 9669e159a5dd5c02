package paint

import (
	"image"
	"sync"

	"stowbay/layout/drawing"
)

// Layer is a part of what a picture shows: items in their order under one camera. Items of a layer that was painted must
// not be changed any more.
type Layer struct {
	Look    Look
	Cam     Camera
	PxPerPt float64
	Items   []drawing.Item
}

// Under is what lies under all layers, on the paper of the first: Paint paints it, and Key tells whether it is the same as
// before. The zero Under is nothing.
type Under struct {
	Paint func(*Painter)
	Key   string
}

// Repainter paints one picture again and again. It keeps what it painted last and paints anew only where something
// differs; a picture that was only pushed by whole pixels is pushed. What it leaves in the picture is what painting the
// whole would.
type Repainter struct {
	halves *Halves
	first  *byte // of the picture painted last
	size   image.Point
	under  Under
	shown  []shownLayer
	spare  [][]image.Rectangle // bounds of the layers shown before those, to be used again
}

// shownLayer is a layer with the pixels that each of its items can touch; empty for items that cannot be painted.
type shownLayer struct {
	Layer
	bounds []image.Rectangle
}

// NewRepainter returns a repainter that paints with the painters given, which others may use too.
func NewRepainter(h *Halves) *Repainter { return &Repainter{halves: h} }

// Paint brings the picture up to date. The picture is the one of the last call, untouched since, or another.
func (r *Repainter) Paint(dst *image.RGBA, under Under, layers ...Layer) {
	if dst.Rect.Empty() {
		return
	}
	g := region{within: image.Rectangle{Max: dst.Rect.Size()}}
	shift, ok := r.shift(dst, under, layers)
	if ok {
		r.push(dst, shift, &g)
	} else {
		g.all()
		r.shown = nil
	}
	next := make([]shownLayer, len(layers))
	for i, l := range layers {
		var was *shownLayer
		if ok {
			was = &r.shown[i]
		}
		next[i] = r.follow(was, shownLayer{l, r.room(i, len(l.Items))}, shift, &g)
	}
	r.spare = r.spare[:0]
	for _, s := range r.shown {
		r.spare = append(r.spare, s.bounds)
	}
	r.first, r.size, r.under, r.shown = &dst.Pix[0], dst.Rect.Size(), under, next
	r.paint(dst, g.settled())
}

// room is where the bounds of a layer's items go: what held those of the layer before the one shown, if it is large enough.
func (r *Repainter) room(layer, n int) []image.Rectangle {
	if layer < len(r.spare) && cap(r.spare[layer]) >= n {
		return r.spare[layer][:n]
	}
	return make([]image.Rectangle, n, n+n/8)
}

// shift is by how many pixels the picture painted last has to be pushed; false: it is of no use.
func (r *Repainter) shift(dst *image.RGBA, under Under, layers []Layer) (image.Point, bool) {
	if r.first != &dst.Pix[0] || r.size != dst.Rect.Size() || len(layers) != len(r.shown) || len(layers) == 0 || under.Key != r.under.Key {
		return image.Point{}, false
	}
	for i, l := range layers {
		was := r.shown[i].Layer
		if _, ok := was.Cam.pushed(l.Cam); !ok || was.Look != l.Look || was.PxPerPt != l.PxPerPt {
			return image.Point{}, false
		}
	}
	by, _ := r.shown[0].Cam.pushed(layers[0].Cam)
	return by, by.X > -r.size.X && by.X < r.size.X && by.Y > -r.size.Y && by.Y < r.size.Y
}

// push pushes the pixels and notes the strips that come into sight.
func (r *Repainter) push(dst *image.RGBA, by image.Point, g *region) {
	if by == (image.Point{}) {
		return
	}
	w, h := r.size.X, r.size.Y
	from, to, n := max(-by.X, 0), max(by.X, 0), w-max(by.X, -by.X)
	row := func(y int) []byte { return dst.Pix[y*dst.Stride:][:4*w] }
	for k := range h {
		y := k
		if by.Y > 0 {
			y = h - 1 - k
		}
		if src := y - by.Y; src >= 0 && src < h {
			copy(row(y)[4*to:4*(to+n)], row(src)[4*from:4*(from+n)])
		}
	}
	g.add(image.Rect(0, 0, w, by.Y))
	g.add(image.Rect(0, h+by.Y, w, h))
	g.add(image.Rect(0, 0, by.X, h))
	g.add(image.Rect(w+by.X, 0, w, h))
}

// follow notes where a layer differs from the one shown before, and returns it with its bounds.
func (r *Repainter) follow(was *shownLayer, out shownLayer, shift image.Point, g *region) shownLayer {
	p, l := r.halves.lower, out.Layer
	p.SetLook(l.Look)
	p.On(&image.RGBA{}, l.Cam, l.PxPerPt)
	if was == nil {
		for i, it := range l.Items {
			out.bounds[i] = p.reach(it)
		}
		return out
	}
	if by, _ := was.Cam.pushed(l.Cam); by != shift { // it stays while the picture is pushed, or the other way round
		for _, b := range was.bounds {
			g.add(b.Add(shift))
		}
		for i, it := range l.Items {
			out.bounds[i] = p.reach(it)
			g.add(out.bounds[i])
		}
		return out
	}
	align(was.Items, l.Items, func(i, k int) {
		switch {
		case i >= 0 && k >= 0:
			out.bounds[k] = was.bounds[i].Add(shift)
		case i >= 0:
			g.add(was.bounds[i].Add(shift))
		default:
			out.bounds[k] = p.reach(l.Items[k])
			g.add(out.bounds[k])
		}
	})
	return out
}

// paint paints parts of the picture anew: what lies above a row and what lies below it at once.
func (r *Repainter) paint(dst *image.RGBA, parts []image.Rectangle) {
	if len(parts) == 0 {
		return
	}
	row := middle(parts)
	var wg sync.WaitGroup
	wg.Go(func() {
		for _, a := range parts {
			a.Max.Y = min(a.Max.Y, row)
			r.part(r.halves.upper, dst, a)
		}
	})
	for _, a := range parts {
		a.Min.Y = max(a.Min.Y, row)
		r.part(r.halves.lower, dst, a)
	}
	wg.Wait()
}

func (r *Repainter) part(p *Painter, dst *image.RGBA, a image.Rectangle) {
	if a.Empty() {
		return
	}
	for i, l := range r.shown {
		p.SetLook(l.Look)
		p.onPart(dst, a, l.Cam, l.PxPerPt)
		if i == 0 {
			p.dst.clear(inkOf(l.Look.Paper()))
			if r.under.Paint != nil {
				r.under.Paint(p)
			}
		}
		for k, b := range l.bounds {
			if b.Overlaps(a) {
				p.put(l.Items[k])
			}
		}
	}
}
