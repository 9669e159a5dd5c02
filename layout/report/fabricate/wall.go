package fabricate

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/mass"
)

// wall is a wall with the flange strips that are bent from its top, laid out in s along it and y up from the place
// where it begins: the bend at the floor, or its own foot.
type wall struct {
	panel   *mass.Panel
	foot    float64 // height of the panel's lower edge
	below   float64 // what is below the foot on the outside: the floor's thickness where it is bent up from it
	taken   float64 // what the bend at the foot takes off the height
	start   float64 // y at which the wall begins: the end of the bend at the foot
	trim    [2]float64
	flanges []flangeStrip
	bend    Bend
}

// flangeStrip is a flange in the coordinates of its wall.
type flangeStrip struct {
	panel  *mass.Panel
	z      float64    // height of its upper face
	base   [2]float64 // its ends at the wall's outer face
	top    [2]float64 // the stretch of the wall's upper edge that it hangs on
	tip    [2]float64 // its ends at its outer edge
	width  float64
	shift  float64 // u of the wall less u of the strip
	bolted []float64
}

// y maps a height on the wall to its place on the flat.
func (w *wall) y(z float64) float64 {
	if z <= w.foot+2*geometry.Lattice {
		return w.start
	}
	return z - w.foot + w.below - w.taken
}

// extent is the wall's u range.
func (w *wall) extent() (lo, hi float64) {
	b := w.panel.Outline.Bounds()
	return b.X.Lo, b.X.Hi
}

// u trims a place along the wall to what is left of it at its ends.
func (w *wall) u(u float64) float64 {
	lo, hi := w.extent()
	return min(max(u, lo+w.trim[0]), hi-w.trim[1])
}

// chain is the outline from the wall's lower left corner over its top to its lower right one, in s and y.
func (w *wall) chain() []r2.Point {
	ring := w.panel.Outline.Normalised().Outer
	from := lowerRight(ring)
	n := len(ring)
	// Anticlockwise from the lower right corner up and over to the lower left one; reversed, from left to right.
	var over []r2.Point
	for i := range n {
		over = append(over, ring[(from+i)%n])
	}
	slices.Reverse(over)
	var out []r2.Point
	for i, q := range over {
		p := r2.Point{X: w.u(q.X), Y: w.y(q.Y)}
		if i == 0 {
			out = append(out, p)
			continue
		}
		out = w.side(out, over[i-1], q)
		out = append(out, p)
	}
	return out
}

// side goes along one side of the wall from p to q. Where that is a top with flanges, they are put in.
func (w *wall) side(out []r2.Point, p, q r2.Point) []r2.Point {
	if math.Abs(p.Y-q.Y) > 2*geometry.Lattice || q.X <= p.X {
		return out
	}
	for _, f := range w.flanges {
		if near(f.z, p.Y) && near(f.top[0], p.X) && near(f.top[1], q.X) {
			out = w.flange(out, f)
		}
	}
	return out
}

// reach is how far a flange's ends may stick out over its wall's: the mitre.
func (w *wall) reach() float64 { return 2*w.panel.ThicknessMM + geometry.Lattice }

// flange adds a strip to the outline of the top.
func (w *wall) flange(out []r2.Point, f flangeStrip) []r2.Point {
	a, b := w.flangeEnds(f)
	y := w.tangent(f)
	far := y + w.bend.Allowance()
	d := w.flat(f)
	f0, f1 := f.base[0]+(f.tip[0]-f.base[0])*d/f.width, f.base[1]+(f.tip[1]-f.base[1])*d/f.width
	tip := far + f.width - d
	return append(out, r2.Point{X: a, Y: y}, r2.Point{X: a, Y: far}, r2.Point{X: f0, Y: far}, r2.Point{X: f.tip[0], Y: tip},
		r2.Point{X: f.tip[1], Y: tip}, r2.Point{X: f1, Y: far}, r2.Point{X: b, Y: far}, r2.Point{X: b, Y: y})
}

// flangeEnds are the ends of the bend between wall and flange.
func (w *wall) flangeEnds(f flangeStrip) (a, b float64) {
	return w.u(max(f.base[0], f.top[0])), w.u(min(f.base[1], f.top[1]))
}

// tangent is where the bend to the flange begins.
func (w *wall) tangent(f flangeStrip) float64 { return w.y(f.z) - w.bend.Setback() }

// flat is how far from the wall's outer face the flange's flat begins.
func (w *wall) flat(f flangeStrip) float64 {
	return min(w.bend.Setback()-w.bend.ThicknessMM, f.width)
}

// lowerRight is the index of a ring's corner of least y and, among those, greatest x.
func lowerRight(r geometry.Ring) int {
	best := 0
	for i, q := range r {
		switch p := r[best]; {
		case q.Y < p.Y-2*geometry.Lattice:
			best = i
		case math.Abs(q.Y-p.Y) <= 2*geometry.Lattice && q.X > p.X:
			best = i
		}
	}
	return best
}

// footed tells whether a wall has one straight lower edge over its whole length.
func footed(p *mass.Panel) bool {
	ring := p.Outline.Normalised().Outer
	b := p.Outline.Bounds()
	i := lowerRight(ring)
	left := ring[(i+len(ring)-1)%len(ring)]
	return near(ring[i].X, b.X.Hi) && near(left.X, b.X.Lo) && near(left.Y, b.Y.Lo)
}

// bends are the wall's bend lines to its flanges, in s and y.
func (w *wall) bends() []BendLine {
	var out []BendLine
	for _, f := range w.flanges {
		a, b := w.flangeEnds(f)
		y := w.tangent(f) + w.bend.Allowance()/2
		out = append(out, BendLine{A: r2.Point{X: a, Y: y}, B: r2.Point{X: b, Y: y}, Bend: w.bend})
	}
	return out
}

// holes are the wall's cut-outs and the lid bolts in its flanges, in s and y.
func (w *wall) holes() []Hole {
	out := holesOf(w.panel)
	for i := range out {
		out[i].At.Y = w.y(out[i].At.Y)
	}
	for _, f := range w.flanges {
		d := w.tangent(f) + w.bend.Allowance() - w.flat(f) + f.width/2
		for _, s := range f.bolted {
			out = append(out, Hole{For: "lid bolt " + lidBolt, At: r2.Point{X: s + f.shift, Y: d}, DiameterMM: clearanceHole(lidBolt), Drilled: true})
		}
	}
	return out
}

// holesOf are a panel's own cut-outs, in its u and v.
func holesOf(p *mass.Panel) []Hole {
	var out []Hole
	for _, h := range p.Holes {
		o := Hole{For: h.ID, At: h.At, DiameterMM: h.DiameterMM, WidthMM: h.WidthMM, HeightMM: h.HeightMM}
		if p.Kind == mass.FootPanel {
			o.For = "foot bolt"
		}
		out = append(out, o)
	}
	return out
}
