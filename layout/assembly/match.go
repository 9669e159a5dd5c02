package assembly

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stowbay/layout"
)

// Matching says which received module goes into which slot.
type Matching struct {
	Slots  []layout.Slot // in the order of the strings
	Spare  []string      // shop numbers left over
	Groups []Group
	Cost   float64 // squared deviations from the groups' targets, in units of the spread of all modules
	Bound  float64 // no assignment to the same targets costs less
	Blind  int     // modules placed without a measured capacity and resistance
}

// Proved tells whether no other assignment to the targets costs less.
func (m *Matching) Proved() bool { return m.Cost <= m.Bound*(1+1e-9)+1e-9 }

// Group is what one string gets.
type Group struct {
	String                      string
	LeastAh, MostAh             float64 // 0: not measured
	LeastMilliOhm, MostMilliOhm float64
	SumMilliOhm                 float64
}

// mostMatched is how many modules are matched at once; the work grows with the third power.
const mostMatched = 1000

// Match brings like modules together: each string gets modules of like capacity, as its weakest one limits it, and in
// it of like resistance, so that they warm alike. Which module goes to which string is an assignment problem, solved
// exactly; the targets are the means of the strings, found by turns with the assignment, which need not be the best
// targets there are. Only modules of the type that the slot asks for are used, none that was refused or fails the
// inspection, each once; what the register says already is not looked at. A value that is not measured counts as the mean.
func Match(m *Model) (*Matching, error) {
	build := m.Scene.Plan.Build
	if build == nil {
		return nil, fmt.Errorf("no received modules are entered in the build record; import their table first")
	}
	out := &Matching{}
	for _, kind := range m.kinds() {
		if err := m.matchKind(out, build, kind); err != nil {
			return nil, fmt.Errorf("module %s: %w", kind, err)
		}
	}
	m.groups(out, build)
	return out, nil
}

// kinds are the module types in the strings, in the order of their first use.
func (m *Model) kinds() []string {
	var out []string
	m.eachMember(func(_ int, x Member) {
		if id := x.Body.Placement.Module; !slices.Contains(out, id) {
			out = append(out, id)
		}
	})
	return out
}

func (m *Model) eachMember(do func(str int, x Member)) {
	for i := range m.Circuit.Strings {
		for _, x := range m.Circuit.Strings[i].Members {
			do(i, x)
		}
	}
}

// pool is the matching of one type of module.
type pool struct {
	places  []string // slots
	group   []int    // string of each place
	modules []layout.Received
	ah, mo  []float64 // deviations from the mean in units of the spread; 0 where not measured
}

func (m *Model) matchKind(out *Matching, build *layout.Build, kind string) error {
	p, bad := pool{}, beyondLimits(m.Scene)
	m.eachMember(func(str int, x Member) {
		if x.Body.Placement.Module == kind {
			p.places, p.group = append(p.places, x.Body.ID), append(p.group, str)
		}
	})
	for _, r := range build.Received {
		if r.Module == kind && !r.Refused && !bad[r.Shop] {
			p.modules = append(p.modules, r)
		}
	}
	if len(p.modules) < len(p.places) {
		return fmt.Errorf("%d slots and only %d modules received that are neither refused nor beyond their data sheet's limits", len(p.places), len(p.modules))
	}
	if len(p.modules) > mostMatched {
		return fmt.Errorf("%d modules are too many to match at once; up to %d", len(p.modules), mostMatched)
	}
	p.measure(out)
	column, sum, bound := p.solve()
	out.Cost, out.Bound = out.Cost+sum, out.Bound+bound
	p.enter(out, m.Scene.Arrangement.ID, column)
	return nil
}

// measure puts capacities and resistances on scales of their own.
func (p *pool) measure(out *Matching) {
	p.ah = scaled(p.modules, func(r *layout.Received) float64 { return r.CapacityAh })
	p.mo = scaled(p.modules, func(r *layout.Received) float64 { return r.MilliOhm })
	for i := range p.modules {
		if p.modules[i].CapacityAh == 0 && p.modules[i].MilliOhm == 0 {
			out.Blind++
		}
	}
}

func scaled(rs []layout.Received, get func(*layout.Received) float64) []float64 {
	n, sum, sq := 0.0, 0.0, 0.0
	for i := range rs {
		if v := get(&rs[i]); v > 0 {
			n, sum = n+1, sum+v
		}
	}
	mean := sum / max(n, 1)
	for i := range rs {
		if v := get(&rs[i]); v > 0 {
			sq += (v - mean) * (v - mean)
		}
	}
	out := make([]float64, len(rs))
	spread := math.Sqrt(sq / max(n, 1))
	for i := range rs {
		if v := get(&rs[i]); v > 0 && spread > 0 {
			out[i] = (v - mean) / spread
		}
	}
	return out
}

// rounds is how often targets and assignment take turns at most; starts is from how many choices of modules.
const (
	rounds = 20
	starts = 5
)

// solve takes turns: the best assignment to the strings' targets, then the strings' means as targets, until nothing
// gets better. The first targets come from modules that follow each other in capacity, cut into strings: from those of
// most capacity, of least, and some in between. Of equal results the one of most capacity counts.
func (p *pool) solve() (column []int, sum, bound float64) {
	order, spare := p.byCapacity(), len(p.modules)-len(p.places)
	last := -1
	for k := range starts {
		from := spare * k / (starts - 1)
		if from == last {
			continue
		}
		last = from
		if c, s, b := p.turns(p.means(order[from : from+len(p.places)])); column == nil || s < sum-1e-9 {
			column, sum, bound = c, s, b
		}
	}
	return column, sum, bound
}

func (p *pool) turns(at map[int]target) (column []int, sum, bound float64) {
	for range rounds {
		c, s, b, err := assign(p.costs(at))
		if err != nil || column != nil && s >= sum-1e-12 {
			break
		}
		column, sum, bound = c, s, b
		at = p.means(column)
	}
	return column, sum, bound
}

// target is what a string aims at.
type target struct{ ah, mo float64 }

// byCapacity numbers the modules from most capacity to least.
func (p *pool) byCapacity() []int {
	order := make([]int, len(p.modules))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int {
		return cmp.Or(cmp.Compare(p.ah[k], p.ah[i]), cmp.Compare(p.mo[i], p.mo[k]))
	})
	return order
}

// means are the strings' means where place i holds module column[i].
func (p *pool) means(column []int) map[int]target {
	n, sum := map[int]float64{}, map[int]target{}
	for i, c := range column {
		g := p.group[i]
		n[g]++
		sum[g] = target{sum[g].ah + p.ah[c], sum[g].mo + p.mo[c]}
	}
	for g, t := range sum {
		sum[g] = target{t.ah / n[g], t.mo / n[g]}
	}
	return sum
}

func (p *pool) costs(at map[int]target) [][]float64 {
	out := make([][]float64, len(p.places))
	for i := range out {
		t := at[p.group[i]]
		out[i] = make([]float64, len(p.modules))
		for k := range out[i] {
			a, r := p.ah[k]-t.ah, p.mo[k]-t.mo
			out[i][k] = a*a + r*r
		}
	}
	return out
}

// enter writes the slots; inside a string the modules follow each other by shop number, as all its slots are alike.
func (p *pool) enter(out *Matching, arrangement string, column []int) {
	of := map[int][]string{}
	used := make([]bool, len(p.modules))
	for i, c := range column {
		of[p.group[i]] = append(of[p.group[i]], p.modules[c].Shop)
		used[c] = true
	}
	for _, list := range of {
		slices.Sort(list)
	}
	for i, s := range p.places {
		g := p.group[i]
		out.Slots = append(out.Slots, layout.Slot{Arrangement: arrangement, Slot: s, Shop: of[g][0]})
		of[g] = of[g][1:]
	}
	for i := range p.modules {
		if !used[i] {
			out.Spare = append(out.Spare, p.modules[i].Shop)
		}
	}
}

// groups sums up what each string got.
func (m *Model) groups(out *Matching, build *layout.Build) {
	byShop := map[string]*layout.Received{}
	for i := range build.Received {
		byShop[build.Received[i].Shop] = &build.Received[i]
	}
	in := map[string]string{}
	for _, s := range out.Slots {
		in[s.Slot] = s.Shop
	}
	for i := range m.Circuit.Strings {
		g := Group{String: m.Circuit.Strings[i].ID}
		for _, x := range m.Circuit.Strings[i].Members {
			if r := byShop[in[x.Body.ID]]; r != nil {
				g.LeastAh, g.MostAh = span(g.LeastAh, g.MostAh, r.CapacityAh)
				g.LeastMilliOhm, g.MostMilliOhm = span(g.LeastMilliOhm, g.MostMilliOhm, r.MilliOhm)
				g.SumMilliOhm += r.MilliOhm
			}
		}
		out.Groups = append(out.Groups, g)
	}
}

func span(lo, hi, v float64) (float64, float64) {
	if v <= 0 {
		return lo, hi
	}
	if lo == 0 || v < lo {
		lo = v
	}
	return lo, max(hi, v)
}
