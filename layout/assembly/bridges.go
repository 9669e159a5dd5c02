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

	state []state
}

// state is what a box's bridges depend on besides the box itself.
type state struct {
	mate, str    int
	v, worst     float64
	below, above float64 // resistance to the string's ends
}

// Bridge is a pair that a part of the tool's length can lie across.
type Bridge struct {
	A, B  *Conductor // B nil: metal
	Metal string     // "wall", "rim", "floor", "case"
	MM    float64    // between bare metal, straight
	V     float64
	end   r3.Vector
	amps  float64
}

// Ends are the two places that the part touches.
func (b *Bridge) Ends() (from, to r3.Vector) { return b.A.At, b.end }

// CurrentA is the current through it with only the modules' resistance in the way; 0 where not known.
func (b *Bridge) CurrentA() float64 { return b.amps }

// Bridges lists for each box what a dropped part of the limits' length can bridge in the finished box, lid off and
// nothing covered, contactors open and service links closed. Ways are straight; bodies and barriers in between are not
// taken as a hindrance, so that no pair is missed.
func (m *Model) Bridges() []BoxBridges { return m.bridges(nil) }

// bridges takes over from before what is the same.
func (m *Model) bridges(before *Result) []BoxBridges {
	b := finished(m)
	var out []BoxBridges
	for i, ends := range b.live() {
		box := m.Scene.Boxes[i]
		if len(ends) == 0 {
			continue
		}
		now := b.stateOf(ends)
		if old := before.bridgesOf(box, now, m.Limits); old != nil {
			out = append(out, *old)
			continue
		}
		f := b.bridgesIn(box, ends)
		f.state = now
		out = append(out, f)
	}
	return out
}

func (b *bench) stateOf(ends []int) []state {
	out := make([]state, len(ends))
	for n, i := range ends {
		c := &b.m.Conductors[i]
		w, _ := b.worst(i)
		below, above := b.toEnds(i)
		out[n] = state{mateOffset(c), c.String, c.V, w, below, above}
	}
	return out
}

// mateOffset tells a conductor's joint apart from others in a way that the rest of the plan does not move.
func mateOffset(c *Conductor) int {
	if c.mate < 0 {
		return 0
	}
	return c.mate - c.index
}

func (r *Result) bridgesOf(box *layout.BoxScene, now []state, l Limits) *BoxBridges {
	if r == nil || r.Model.Limits != l {
		return nil
	}
	for i := range r.Bridges {
		if f := &r.Bridges[i]; f.Box == box && slices.Equal(f.state, now) {
			return f
		}
	}
	return nil
}

func (b *bench) bridgesIn(box *layout.BoxScene, ends []int) BoxBridges {
	out := BoxBridges{Box: box, Pairs: make([]Bridge, 0, min(len(ends)*(len(ends)+1)/2, 1000))}
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
	out.Pairs = byVoltage(out.Pairs)
	for i := range out.Pairs {
		if over(out.Pairs[i].V, b.m.Limits.TouchV) {
			out.Hazards++
		}
	}
	b.covers(&out, ends)
	return out
}

// byVoltage sorts pairs from the highest voltage down, equals as they stand. It sorts small keys and moves each pair
// once: there are tens of thousands of them.
func byVoltage(pairs []Bridge) []Bridge {
	type key struct {
		v float64
		i int
	}
	keys := make([]key, len(pairs))
	for i := range pairs {
		keys[i] = key{pairs[i].V, i}
	}
	slices.SortFunc(keys, func(p, q key) int { return cmp.Or(cmp.Compare(q.v, p.v), cmp.Compare(p.i, q.i)) })
	out := make([]Bridge, len(pairs))
	for n, k := range keys {
		out[n] = pairs[k.i]
	}
	return out
}

// maxRadius is the largest bare metal that a terminal may state, mm.
const maxRadius = 50

// live lists the conductors of each box that are in a string, from front to rear.
func (b *bench) live() [][]int {
	number := make(map[*layout.BoxScene]int, len(b.m.Scene.Boxes))
	for i, box := range b.m.Scene.Boxes {
		number[box] = i
	}
	out := make([][]int, len(b.m.Scene.Boxes))
	for i := range b.m.Conductors {
		if c := &b.m.Conductors[i]; c.piece >= 0 {
			n := number[c.Box]
			out[n] = append(out[n], i)
		}
	}
	for _, list := range out {
		slices.SortStableFunc(list, func(i, k int) int { return cmp.Compare(b.m.Conductors[i].At.X, b.m.Conductors[k].At.X) })
	}
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
	return append(to, Bridge{A: x, Metal: n.what, MM: n.mm, V: v, end: n.at, amps: current(v, ohm)})
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
	return append(to, Bridge{A: x, B: y, MM: d, V: v, end: y.At, amps: current(v, ohm)})
}

// across is the voltage between two conductors of the finished pack. Strings in parallel count as joined at both
// ends, as they are once the contactors close: the way over the negative ends and the way over the positive ends are
// then in parallel. For the resistance the strings count as alike in voltage, which is what lets them be in parallel.
func (b *bench) across(i, k int) (v, ohm float64) {
	x, y := &b.m.Conductors[i], &b.m.Conductors[k]
	if x.String != y.String {
		return math.Abs(x.V - y.V), b.overEnds(i, k)
	}
	v, ohm, joined := b.between(i, k)
	if !joined {
		return 0, 0
	}
	return v, ohm
}

// overEnds is the resistance from a conductor of one string to one of another, over both ends of the strings.
func (b *bench) overEnds(i, k int) float64 {
	below, above := 0.0, 0.0
	for _, c := range [2]int{i, k} {
		lo, hi := b.toEnds(c)
		below, above = below+lo, above+hi
	}
	if below+above <= 0 {
		return 0
	}
	return below * above / (below + above)
}

// toEnds is the resistance from a conductor to the negative and to the positive end of its string.
func (b *bench) toEnds(i int) (below, above float64) {
	ohms := b.m.tracks[b.m.Conductors[i].String].ohms
	at := ohms[b.level(i)]
	return at, ohms[len(ohms)-1] - at
}

func current(v, ohm float64) float64 {
	if ohm <= 0 {
		return 0
	}
	return v / ohm
}

// covers counts the covers that leave nothing to bridge. Terminals joined by a link share one cover. A bridge to metal
// forces the cover of its terminal; of a pair one of the two must be covered: the fewest is a minimum vertex cover.
func (b *bench) covers(f *BoxBridges, ends []int) {
	net, n := b.nets(ends)
	var forced []int
	var edges [][2]int
	for i := range f.Pairs {
		p := &f.Pairs[i]
		if p.B == nil {
			forced = append(forced, net[p.A.index])
			continue
		}
		edges = append(edges, [2]int{net[p.A.index], net[p.B.index]})
	}
	chosen, least, proved := vertexCover(n, edges, forced)
	f.Covers, f.LeastCovers, f.Proved = len(chosen), least, proved
	for _, c := range ends {
		if slices.Contains(chosen, net[c]) {
			f.Caps++
		}
	}
}

// nets numbers the live conductors of a box; the two that a link joins inside it have the same number.
func (b *bench) nets(ends []int) (net []int, n int) {
	net = make([]int, len(b.m.Conductors))
	for i := range net {
		net[i] = -1
	}
	for _, i := range ends {
		if mate := b.m.Conductors[i].mate; mate >= 0 && net[mate] >= 0 {
			net[i] = net[mate]
			continue
		}
		net[i] = n
		n++
	}
	return net, n
}
