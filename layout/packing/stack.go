package packing

import (
	"slices"
	"sort"
)

// solid is a placed module in lattice steps.
type solid struct {
	posture, turn, layer int
	x, y, z              int64
}

// floor is what stands on one height: all levels of a bay with that floor.
type floor struct {
	z       int64
	levels  []*Level
	ceiling int64 // the highest
}

// floors groups the levels of a bay, lowest first.
func (s *session) floors(b *Bay) []floor {
	var out []floor
	for i := range b.Levels {
		l := &b.Levels[i]
		z, c := s.lat.steps(l.FloorMM), s.lat.steps(l.CeilingMM)
		k := sort.Search(len(out), func(k int) bool { return out[k].z >= z })
		if k == len(out) || out[k].z != z {
			out = append(out[:k], append([]floor{{z: z}}, out[k:]...)...)
		}
		out[k].levels = append(out[k].levels, l)
		out[k].ceiling = max(out[k].ceiling, c)
		if len(out[k].levels) == 1 {
			out[k].ceiling = c
		}
	}
	return out
}

// stackResult is the best found on one floor.
type stackResult struct {
	solids []solid
	bound  int
	// layeredBound is for packings in whole layers.
	layeredBound int
	layered      bool
	gridProved   bool
	gridMM       float64
	arguments    []string
}

// rise is the height a posture takes up, its top gap and top strips included.
func (s *session) rise(p *Posture) int64 {
	clear := s.lat.steps(p.Gaps.TopMM)
	for _, t := range p.Strips {
		if t.Face == Top {
			clear = max(clear, s.lat.steps(t.DepthMM))
		}
	}
	return s.lat.steps(p.HeightMM) + clear
}

// maxLayers bounds the height of a stack.
const maxLayers = 64

// stacker finds the best sequence of layers over one floor: a layer that carries
// another is of postures of one rise, the last may mix all that fit.
type stacker struct {
	s        *session
	bay      *Bay
	f        *floor
	beside   []solid // modules of other floors
	memo     map[int64]stacked
	layers   map[string]*layerPlane // by signature
	planes   []*layerPlane          // those with room, in the order in which they were met
	cuts     map[string]int         // bounds of level cuts, by signature
	weighers map[string]*weigher
	// exact stays true while every plane solved is proved.
	grid, exact bool
	gridMM      float64
	slanted     bool
	args        []string
}

type stacked struct {
	solids []solid
	bound  int // of layered packings
	count  int
}

// stack fills one floor.
func (s *session) stack(b *Bay, f *floor, beside []solid) stackResult {
	k := &stacker{s: s, bay: b, f: f, beside: beside, memo: map[int64]stacked{}, layers: map[string]*layerPlane{}, cuts: map[string]int{}, weighers: map[string]*weigher{}, grid: true, exact: true}
	s.sole = len(s.p.Bays) == 1 && !k.canStack()
	lift := s.portion(layersShare, k.canStack() || len(beside) > 0)
	best := k.stacked()
	lift()
	r := stackResult{solids: best.solids, bound: best.bound, layeredBound: best.bound, gridProved: k.grid && k.slanted, gridMM: k.gridMM}
	switch {
	case len(k.memo) > 1 || k.canStack():
		k.boundInSpace(&r)
	case len(beside) > 0 && k.touchesOthers():
		// The modules beside were an obstacle; the bound must not rest on them.
		k.boundAlone(&r)
	}
	if r.layeredBound = max(len(r.solids), min(r.layeredBound, r.bound)); k.touchesOthers() {
		// The layers were searched beside those of other floors.
		r.layeredBound = r.bound
	}
	if len(k.memo) == 0 {
		k.args = []string{byNoPlace}
	}
	if want := s.want(); want >= 0 && len(r.solids) > want {
		slices.SortFunc(r.solids, s.preferred)
		r.solids = r.solids[:want]
	}
	r.arguments = unique(k.args)
	return r
}

// canStack reports whether two modules can stand one over the other.
func (k *stacker) canStack() bool {
	low := k.lowestRise()
	return low > 0 && k.f.z+2*low <= k.f.ceiling
}

func (k *stacker) lowestRise() int64 {
	var low int64
	for i := range k.s.p.Postures {
		if r := k.s.rise(&k.s.p.Postures[i]); low == 0 || r < low {
			low = r
		}
	}
	return low
}

// from is the best stack with its first layer at height z.
func (k *stacker) from(z int64, layer int) stacked {
	if r, ok := k.memo[z]; ok {
		return r
	}
	fit := k.fitting(z)
	if len(fit) == 0 || layer >= maxLayers {
		return stacked{}
	}
	best := k.layer(z, layer, fit)
	for _, group := range k.byRise(fit) {
		up := k.s.rise(&k.s.p.Postures[group[0]])
		above := k.from(z+up, layer+1)
		if above.bound == 0 {
			continue
		}
		here := k.layer(z, layer, group)
		bound := max(best.bound, here.bound+above.bound)
		// An empty layer carries nothing.
		if here.count > 0 && here.count+above.count > best.count {
			solids := k.propped(append(append([]solid(nil), here.solids...), above.solids...))
			if len(solids) > best.count {
				best.count, best.solids = len(solids), solids
			}
		}
		best.bound = bound
	}
	k.memo[z] = best
	return best
}

// fitting lists the postures that fit under some ceiling from height z.
func (k *stacker) fitting(z int64) []int {
	var out []int
	for i := range k.s.p.Postures {
		if z+k.s.rise(&k.s.p.Postures[i]) <= k.f.ceiling {
			out = append(out, i)
		}
	}
	return out
}

// byRise groups postures of equal rise, lowest first.
func (k *stacker) byRise(postures []int) [][]int {
	groups := map[int64][]int{}
	var rises []int64
	for _, i := range postures {
		r := k.s.rise(&k.s.p.Postures[i])
		if groups[r] == nil {
			rises = append(rises, r)
		}
		groups[r] = append(groups[r], i)
	}
	var out [][]int
	for _, r := range sortedUnique(rises) {
		out = append(out, groups[r])
	}
	return out
}

// layer packs the postures on one plane at height z.
func (k *stacker) layer(z int64, layer int, postures []int) stacked {
	return k.planeAt(z, layer, postures).at(z, layer)
}

// planeAt is the plane of the postures at height z, packed when it is met first.
func (k *stacker) planeAt(z int64, layer int, postures []int) *layerPlane {
	build := planeBuilder{s: k.s, bay: k.bay, f: k.f}
	sign := build.signature(z, postures, k.beside)
	l, known := k.layers[sign]
	if !known {
		l = &layerPlane{postures: postures, z: z, level: layer}
		l.p, l.slant = build.layer(z, postures, k.beside)
		k.layers[sign] = l
		if l.p != nil {
			k.planes = append(k.planes, l)
			k.first(l)
		}
	}
	return l
}

// layerPlane is the planar problem of layers that are alike, and its best packing.
type layerPlane struct {
	p        *plane // nil where no posture has any floor
	slant    bool
	postures []int
	z        int64 // of the first such layer
	level    int
	spots    []spot
	turns    []turned
	bound    int
}

// at is the layer at a height.
func (l *layerPlane) at(z int64, layer int) stacked {
	out := stacked{bound: l.bound, count: len(l.spots)}
	for i, t := range l.spots {
		out.solids = append(out.solids, solid{l.turns[i].posture, l.turns[i].turn, layer, t.x, t.y, z})
	}
	return out
}

// first packs a plane: at once where it may be the only one, else greedily, so that
// every layer has something before any is searched.
func (k *stacker) first(l *layerPlane) {
	if !k.canStack() {
		k.solve(l)
		return
	}
	l.bound = l.p.areaBound()
	l.spots = k.s.byContacts(l.p, l.bound)
	defer k.s.portion(0.1, true)()
	l.spots = k.s.rebuild(l.p, l.spots, rebuilds/4, l.bound)
	l.turns = k.s.facing(l.p, l.spots)
}

// solve packs a plane as well as its share of the work allows.
func (k *stacker) solve(l *layerPlane) {
	k.s.improved = func(spots []spot, bound int) { k.report(l.p, spots, l.z, l.level, bound) }
	r := k.s.plane(l.p)
	k.s.improved = nil
	if len(l.spots) > len(r.spots) {
		r.spots = l.spots
	}
	l.spots, l.bound = k.s.arrange(l.p, r.spots), r.bound
	l.turns = k.s.facing(l.p, l.spots)
	k.slanted = k.slanted || l.slant
	k.grid = k.grid && (r.gridBound <= len(r.spots) || r.bound == len(r.spots))
	k.gridMM = max(k.gridMM, k.s.lat.mm(r.gridStep))
	k.args = append(k.args, r.argument)
}

// stacked is the best stack: greedy layers first, then each plane searched with an
// even share of the work, and the layers chosen anew.
func (k *stacker) stacked() stacked {
	best := k.from(k.f.z, 0)
	if !k.canStack() {
		return best
	}
	k.reportAll(best)
	for i, l := range k.planes {
		lift := k.s.portion(1/float64(len(k.planes)-i), true)
		k.solve(l)
		lift()
	}
	clear(k.memo)
	best = k.from(k.f.z, 0)
	k.reportAll(best)
	return best
}

// reportAll passes on a whole stack.
func (k *stacker) reportAll(t stacked) {
	if k.s.progress == nil {
		return
	}
	var out []Placement
	for _, q := range t.solids {
		out = append(out, k.s.placement(k.bay, q))
	}
	k.s.report(k.bay.ID, out, t.bound)
}

// report passes on the best so far of one layer.
func (k *stacker) report(p *plane, spots []spot, z int64, layer, bound int) {
	if k.s.progress == nil {
		return
	}
	var out []Placement
	for _, t := range spots {
		o := &p.options[t.opt]
		out = append(out, k.s.placement(k.bay, solid{o.posture, o.turn, layer, t.x, t.y, z}))
	}
	k.s.report(k.bay.ID, out, bound)
}

// boundInSpace replaces the bound for layers by one for modules at any height.
func (k *stacker) boundInSpace(r *stackResult) {
	total, why := k.spaceBound()
	k.args = []string{why}
	r.bound = max(len(r.solids), total)
	if r.bound == len(r.solids) {
		return
	}
	r.layered = r.layered || len(k.memo) > 1
	r.gridProved = false
}

// boundAlone bounds a floor without layers as if no other floor held a module.
func (k *stacker) boundAlone(r *stackResult) {
	build := planeBuilder{s: k.s, bay: k.bay, f: k.f}
	r.bound, r.gridProved = len(r.solids), false
	if p, _ := build.layer(k.f.z, k.fitting(k.f.z), nil); p != nil {
		r.bound = max(r.bound, k.s.planeBound(p))
	}
}

// touchesOthers reports whether modules of other floors could have been in the way.
func (k *stacker) touchesOthers() bool {
	build := planeBuilder{s: k.s, bay: k.bay, f: k.f}
	for i := range k.s.p.Postures {
		if len(build.besideAt(k.f.z, k.f.z+k.s.rise(&k.s.p.Postures[i]), k.beside)) > 0 {
			return true
		}
	}
	return false
}
