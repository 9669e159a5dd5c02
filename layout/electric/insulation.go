package electric

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// Insulation compares the distances in the boxes with what IEC 60664-1 asks for.
type Insulation struct {
	Around       Surroundings
	SystemV      float64
	ToMetal      Required // at the whole voltage of the pack
	Pairs        []Pair   // every pair that is too close, and the tightest of each kind in each box
	Looked       int      // pairs looked at
	BadGroupIIIb bool     // group IIIb is not for pollution degree 3 at 630 V and above
}

// Pair is two parts and the way between them. Creepage runs along surfaces, which is never shorter than the way
// through air; the latter stands for both.
type Pair struct {
	A, B       string // module or gear ids with the terminal; B may be wall, lid, floor or a metal case
	RefA, RefB string // ids for highlighting; RefB is the box where B is part of it
	Box        *layout.BoxScene
	Kind       string
	Insulation string
	WorkingV   float64
	Known      bool // false where the potential of gear is not known and the whole voltage is taken
	Required   Required
	ActualMM   float64
	Path       []r3.Vector // in the vehicle
	Barrier    string      // the barrier it goes round, if any
	Tightest   bool        // of its kind in its box
}

// NeedMM is the larger of clearance and creepage.
func (p *Pair) NeedMM() float64 { return math.Max(p.Required.ClearanceMM, p.Required.CreepageMM) }

// Enough tells whether the way is long enough.
func (p *Pair) Enough() bool { return p.ActualMM >= p.NeedMM()-enoughMM }

// insulate measures and compares every box.
func (r *Result) insulate(e use) {
	in := &r.Insulation
	in.Around, in.SystemV = e.surroundings(), r.highestV()
	if in.SystemV == 0 {
		return
	}
	in.ToMetal = RequiredBetween(e.Insulation, in.SystemV, in.SystemV, in.Around)
	in.BadGroupIIIb = e.MaterialGroup == "IIIb" && e.Pollution >= 3 && in.SystemV >= 630
	at := r.potentials()
	for _, b := range r.Scene.Boxes {
		in.box(b, r.facts[b].measure(), at)
	}
}

// highestV is the highest voltage of any string.
func (r *Result) highestV() float64 {
	v := 0.0
	for i := range r.Strings {
		v = max(v, r.Strings[i].MaxV)
	}
	return v
}

// ends are the potentials of a module's poles.
type poles struct{ neg, pos float64 }

func (r *Result) potentials() map[*layout.Body]poles {
	at := make(map[*layout.Body]poles, r.Scene.Count())
	for i := range r.Strings {
		for _, m := range r.Strings[i].Modules {
			at[m.Body] = poles{m.NegV, m.PosV}
		}
	}
	return at
}

// judged is a gap with what it needs, and how much longer it is than that.
type judged struct {
	gap    *gap
	v      float64
	known  bool
	needed Required
	margin float64
}

// box compares the gaps of one box: those too short are kept, and the tightest of each kind.
func (in *Insulation) box(b *layout.BoxScene, m *measured, at map[*layout.Body]poles) {
	var tightest [len(gapKinds)]judged
	for i := range m.gaps {
		j, ok := in.judge(m, &m.gaps[i], at)
		if !ok {
			continue
		}
		in.Looked++
		if j.margin < -enoughMM {
			in.Pairs = append(in.Pairs, in.pair(b, m, j))
		}
		if t := &tightest[slices.Index(gapKinds[:], j.gap.kind)]; t.gap == nil || j.margin < t.margin {
			*t = j
		}
	}
	for _, t := range tightest {
		if t.gap != nil && t.margin >= -enoughMM {
			p := in.pair(b, m, t)
			p.Tightest = true
			in.Pairs = append(in.Pairs, p)
		}
	}
}

// gapKinds are the kinds of gaps in the order they are listed in.
var gapKinds = [...]string{ToTerminal, ToWall, ToFloor, ToLid, ToCase}

// enoughMM is the rounding in mm that a distance may be short by.
const enoughMM = 1e-9

func (in *Insulation) judge(m *measured, g *gap, at map[*layout.Body]poles) (j judged, ok bool) {
	j.gap = g
	j.v, j.known, ok = in.working(m, g, at)
	if ok {
		j.needed = RequiredBetween(in.kindOf(g), j.v, in.SystemV, in.Around)
		j.margin = g.length - max(j.needed.ClearanceMM, j.needed.CreepageMM)
	}
	return j, ok
}

func (in *Insulation) pair(b *layout.BoxScene, m *measured, j judged) Pair {
	p := Pair{Box: b, Kind: j.gap.kind, Insulation: in.kindOf(j.gap), WorkingV: j.v, Known: j.known, Required: j.needed, ActualMM: j.gap.length}
	p.name(m, j.gap)
	return p
}

func (in *Insulation) kindOf(g *gap) string {
	if g.kind == ToTerminal {
		return Functional
	}
	return in.Around.Insulation
}

// working is the voltage across a gap: between live parts the difference of their potentials; to metal the larger
// of the two differences to the pack's poles, as either may be the one that touches the chassis. Gear's
// potentials are not known. ok is false where a part is in no string.
func (in *Insulation) working(m *measured, g *gap, at map[*layout.Body]poles) (v float64, known, ok bool) {
	a, knownA, ok := m.parts[g.a].potential(at)
	if !ok {
		return v, false, false
	}
	if g.b == none {
		if !knownA {
			return in.SystemV, false, true
		}
		return math.Max(a, in.SystemV-a), true, true
	}
	b, knownB, ok := m.parts[g.b].potential(at)
	if !ok {
		return v, false, false
	}
	if !knownA || !knownB {
		return in.SystemV, false, true
	}
	return math.Abs(a - b), true, true
}

func (l *live) potential(at map[*layout.Body]poles) (v float64, known, ok bool) {
	if l.body == nil {
		return v, false, true
	}
	p, ok := at[l.body]
	if l.positive {
		return p.pos, ok, ok
	}
	return p.neg, ok, ok
}

// name fills in what the pair is and where.
func (p *Pair) name(m *measured, g *gap) {
	a := &m.parts[g.a]
	p.A, p.RefA, p.Barrier = a.ref+" "+a.terminal, a.ref, g.barrier
	p.B, p.RefB = g.metal, p.Box.Box.ID
	if g.b != none {
		b := &m.parts[g.b]
		p.B, p.RefB = b.ref+" "+b.terminal, b.ref
	} else if g.kind == ToCase {
		p.B, p.RefB = "the case of "+g.metal, g.metal
	}
	p.Path = g.path(a.p)
	for i, q := range p.Path {
		p.Path[i] = p.Box.Frame.ToVehicle(q)
	}
}
