package assembly

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// BoxBridges is what a dropped part can bridge in one finished box that stands open and uncovered.
type BoxBridges struct {
	Box     *layout.BoxScene
	Pairs   []Bridge // the highest voltage first
	Hazards int      // of them, above the limit

	Covers      int  // covers that remove all of them; one covers a terminal or a joint with both its terminals
	LeastCovers int  // a bound: no fewer suffice
	Proved      bool // Covers is the least
	Caps        int  // bolt heads under those covers, each to be capped while it is worked beside
}

// Bridge is a pair that a part of the tool's length can lie across.
type Bridge struct {
	A, B   *Conductor // B nil: metal
	Metal  string     // "wall", "rim", "floor", "case"
	MM     float64    // between bare metal, straight
	V      float64
	A0, A1 r3.Vector // where it lies
	amps   float64
}

// CurrentA is the current through it with only the modules' resistance in the way; 0 where not known.
func (b *Bridge) CurrentA() float64 { return b.amps }

// Bridges lists for each box what a dropped part of the limits' length can bridge in the finished box, lid off and
// nothing covered, contactors open and service links closed. Ways are straight; bodies and barriers in between are not
// taken as a hindrance, so that no pair is missed.
func (m *Model) Bridges() []BoxBridges {
	b := finished(m)
	var out []BoxBridges
	for _, box := range m.Scene.Boxes {
		if f := b.bridgesIn(box); f != nil {
			out = append(out, *f)
		}
	}
	return out
}

func (b *bench) bridgesIn(box *layout.BoxScene) *BoxBridges {
	ends := b.liveIn(box)
	if len(ends) == 0 {
		return nil
	}
	out := &BoxBridges{Box: box}
	for n, i := range ends {
		out.Pairs = b.toMetal(out.Pairs, i)
		x := &b.m.Conductors[i]
		for _, k := range ends[n+1:] {
			y := &b.m.Conductors[k]
			if y.At.X-x.At.X > b.m.Limits.ToolMM+x.RadiusMM+maxRadius {
				break
			}
			out.Pairs = b.toConductor(out.Pairs, i, k)
		}
	}
	slices.SortStableFunc(out.Pairs, func(p, q Bridge) int { return cmp.Compare(q.V, p.V) })
	for i := range out.Pairs {
		if over(out.Pairs[i].V, b.m.Limits.TouchV) {
			out.Hazards++
		}
	}
	b.covers(out)
	return out
}

// maxRadius is the largest bare metal that a terminal may state, mm.
const maxRadius = 50

// liveIn lists the conductors of a box that are in a string, from front to rear.
func (b *bench) liveIn(box *layout.BoxScene) []int {
	var out []int
	for i := range b.m.Conductors {
		if c := &b.m.Conductors[i]; c.Box == box && c.piece >= 0 {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(i, k int) int { return cmp.Compare(b.m.Conductors[i].At.X, b.m.Conductors[k].At.X) })
	return out
}

func (b *bench) toMetal(to []Bridge, i int) []Bridge {
	x := &b.m.Conductors[i]
	v, ohm := b.worst(i)
	if v <= 0 {
		return to
	}
	n := metalNear(x)
	if n.mm > b.m.Limits.ToolMM {
		return to
	}
	return append(to, Bridge{A: x, Metal: n.what, MM: n.mm, V: v, A0: x.At, A1: n.at, amps: current(v, ohm)})
}

func (b *bench) toConductor(to []Bridge, i, k int) []Bridge {
	x, y := &b.m.Conductors[i], &b.m.Conductors[k]
	d := apart(x, y)
	if d > b.m.Limits.ToolMM {
		return to
	}
	v, ohm := b.across(i, k)
	if v < 1e-9 {
		return to
	}
	return append(to, Bridge{A: x, B: y, MM: d, V: v, A0: x.At, A1: y.At, amps: current(v, ohm)})
}

// across is the voltage between two conductors of the finished pack. Strings in parallel count as joined at their
// negative ends, as they are once the contactors close; the resistance between them is not followed.
func (b *bench) across(i, k int) (v, ohm float64) {
	x, y := &b.m.Conductors[i], &b.m.Conductors[k]
	if x.String != y.String {
		return math.Abs(x.V - y.V), 0
	}
	v, ohm, joined := b.between(i, k)
	if !joined {
		return 0, 0
	}
	return v, ohm
}

func current(v, ohm float64) float64 {
	if ohm <= 0 {
		return 0
	}
	return v / ohm
}

// covers counts the covers that leave nothing to bridge. Terminals joined by a link share one cover. A bridge to metal
// forces the cover of its terminal; of a pair one of the two must be covered: the fewest is a minimum vertex cover.
func (b *bench) covers(f *BoxBridges) {
	net := b.nets(f.Box)
	number := map[int]int{}
	index := func(c *Conductor) int {
		n := net[b.m.byID[c.ID]]
		if _, ok := number[n]; !ok {
			number[n] = len(number)
		}
		return number[n]
	}
	var forced []int
	var edges [][2]int
	for i := range f.Pairs {
		p := &f.Pairs[i]
		if p.B == nil {
			forced = append(forced, index(p.A))
			continue
		}
		edges = append(edges, [2]int{index(p.A), index(p.B)})
	}
	chosen, least, proved := vertexCover(len(number), edges, forced)
	f.Covers, f.LeastCovers, f.Proved = len(chosen), least, proved
	for c, n := range net {
		if k, ok := number[n]; ok && slices.Contains(chosen, k) && b.m.Conductors[c].Box == f.Box {
			f.Caps++
		}
	}
}

// nets gives conductors that a link joins inside a box the same number.
func (b *bench) nets(box *layout.BoxScene) map[int]int {
	net := map[int]int{}
	for i := range b.m.Conductors {
		if b.m.Conductors[i].Box == box && b.m.Conductors[i].piece >= 0 {
			net[i] = i
		}
	}
	for i := range b.m.Joints {
		j := &b.m.Joints[i]
		if j.Box != box {
			continue
		}
		from, to := net[j.B], net[j.A]
		for c, n := range net {
			if n == from {
				net[c] = to
			}
		}
	}
	return net
}
