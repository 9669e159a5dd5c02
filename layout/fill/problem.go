package fill

import (
	"fmt"
	"math"
	"time"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/packing"
	"stowbay/vehicles"
)

// Wish says what is wanted of a packing.
type Wish struct {
	Module   *vehicles.Module
	Postures []vehicles.Posture // of those the maker allows; empty: all of them
	Target   int                // 0: the most
	Goal     packing.Goal       // in the vehicle's frame
	KeepAll  bool               // leave every module that stands in the box, not only the locked ones
	Limit    time.Duration
	Donor    *vehicles.Donor // new boxes stay out of its keep-outs; may be nil

	// Trouble says how much is wrong with an arrangement, 0 at best. Where more modules fit than the strings need, it
	// decides from which boxes they are taken out again; nil: the highest go.
	Trouble func(*layout.Arrangement) float64
}

// Problem states the packing of one box: its interior with steps, its gear, barriers and kept modules, and the
// module's postures with gaps, swelling and free strips. Coordinates are the box's own.
//
// Gaps are stated so that what the solver accepts passes the fit rules: the swelling is part of the gap between
// two modules, half of it part of the wall's. Where half the swelling exceeds the wall gap the larger is kept on
// all walls, on the safe side.
func Problem(b *layout.Box, lib *vehicles.Library, w Wish) (packing.Problem, error) {
	p := packing.Problem{Target: w.Target, Limit: w.Limit, Goal: goalInBox(w.Goal, b.TurnDeg), Hundredths: true}
	p.Postures = postures(w)
	if len(p.Postures) == 0 {
		return p, fmt.Errorf("module %s: none of its postures leaves its terminals and ports reachable", w.Module.ID)
	}
	levels, err := Levels(b)
	if err != nil {
		return p, fmt.Errorf("box %s: %w", b.ID, err)
	}
	bay := packing.Bay{ID: b.ID, Levels: levels}
	gap := widestGap(p.Postures)
	for _, o := range obstacles(b, lib, w) {
		add(&bay, o, gap)
	}
	p.Bays = []packing.Bay{bay}
	p.Fixed = fixed(b, w)
	return p, nil
}

func goalInBox(g packing.Goal, turnDeg float64) packing.Goal {
	if t := math.Mod(math.Mod(turnDeg, 360)+360, 360); t > 90 && t < 270 {
		g.Forward, g.Rearward = g.Rearward, g.Forward
	}
	return g
}

// Levels returns a box's interior as levels: parts of the plan with one floor and one ceiling.
func Levels(b *layout.Box) ([]packing.Level, error) {
	inner, err := layout.BoxInterior(b)
	if err != nil {
		return nil, err
	}
	columns, err := columnsOf(inner)
	if err != nil {
		return nil, err
	}
	if len(columns) == 0 {
		return nil, &layout.NoRoom{Why: "nothing is left for modules inside walls, liner, floor and lid; make the box larger or its sheet thinner"}
	}
	out := make([]packing.Level, len(columns))
	for i, c := range columns {
		out[i] = packing.Level{Region: region(c.base), FloorMM: c.floor, CeilingMM: c.ceiling}
	}
	return out, nil
}

func region(p geometry.Polygon) packing.Region {
	r := packing.Region{Outline: points(p.Outer)}
	for _, h := range p.Holes {
		r.KeepOuts = append(r.KeepOuts, points(h))
	}
	return r
}

func points(ring geometry.Ring) []packing.Point {
	out := make([]packing.Point, len(ring))
	for i, q := range ring {
		out[i] = packing.Point{X: q.X, Y: q.Y}
	}
	return out
}

func postures(w Wish) []packing.Posture {
	var out []packing.Posture
	for _, ps := range w.Module.Postures {
		if len(w.Postures) > 0 && !contains(w.Postures, ps) {
			continue
		}
		if p, ok := posture(w.Module, ps); ok {
			out = append(out, p)
		}
	}
	return out
}

func contains(ps []vehicles.Posture, p vehicles.Posture) bool {
	for _, q := range ps {
		if q == p {
			return true
		}
	}
	return false
}

// posture states one posture at turn 0; not ok where a terminal or port would face the floor.
func posture(m *vehicles.Module, ps vehicles.Posture) (packing.Posture, bool) {
	pose := layout.PoseOf(m, &layout.Placement{Posture: ps})
	e, g := pose.Extent(), layout.GapsOf(m, pose)
	out := packing.Posture{Name: string(ps), LengthMM: e.X, WidthMM: e.Y, HeightMM: e.Z}
	out.Gaps = packing.Gaps{
		EndMM:  max(g.Between.X, g.Swell.X),
		SideMM: max(g.Between.Y, g.Swell.Y),
		TopMM:  max(g.Between.Z, g.Swell.Z),
		WallMM: max(g.Wall, g.Swell.X/2, g.Swell.Y/2),
	}
	for _, t := range m.Terminals {
		n := pose.Normal(t.Face)
		if !addStrip(&out, n, t.StripMM) {
			return out, false
		}
		if n.Z == 0 {
			out.Terminals = append(out.Terminals, faceOf(n))
		}
	}
	for _, port := range m.Ports {
		if !addStrip(&out, pose.Normal(port.Face), port.StripMM) {
			return out, false
		}
	}
	out.EndsDiffer = !symmetric(out)
	return out, true
}

// along tells a normal along an axis, which has a part of 1 in it, from one across it, which has none.
const along = 0.5

func addStrip(p *packing.Posture, n r3.Vector, depth float64) bool {
	if depth <= 0 {
		return true
	}
	if n.Z < -along {
		return false
	}
	f := faceOf(n)
	for i := range p.Strips {
		if p.Strips[i].Face == f {
			p.Strips[i].DepthMM = max(p.Strips[i].DepthMM, depth)
			return true
		}
	}
	p.Strips = append(p.Strips, packing.Strip{Face: f, DepthMM: depth})
	return true
}

func faceOf(n r3.Vector) packing.Face {
	switch {
	case n.Z > along:
		return packing.Top
	case n.X > along:
		return packing.PlusX
	case n.X < -along:
		return packing.MinusX
	case n.Y > along:
		return packing.PlusY
	}
	return packing.MinusY
}

// symmetric tells whether a half turn leaves strips and terminals as they are, so that two turns are enough.
func symmetric(p packing.Posture) bool {
	depth := map[packing.Face]float64{}
	for _, s := range p.Strips {
		depth[s.Face] = s.DepthMM
	}
	terminals := map[packing.Face]int{}
	for _, t := range p.Terminals {
		terminals[t]++
	}
	return depth[packing.PlusX] == depth[packing.MinusX] && depth[packing.PlusY] == depth[packing.MinusY] &&
		terminals[packing.PlusX] == terminals[packing.MinusX] && terminals[packing.PlusY] == terminals[packing.MinusY]
}
