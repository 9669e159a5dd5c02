package packing

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"time"
)

// defaultLimit is the time a problem without a limit may take.
const defaultLimit = 10 * time.Second

// Solve finds the most modules that fit and an upper bound on any packing. It
// stops at the target, at the proof, at the limit, or within some milliseconds of
// the context's end, and then returns the best so far with Stopped set. progress
// may be nil; it is called from Solve's own goroutines, one call at a time, and
// must return quickly. The result is the same for the same problem unless the
// limit cuts the search short. The error is [Errors] when the problem is faulty.
func Solve(ctx context.Context, p Problem, progress func(Progress)) (Result, error) {
	start := time.Now()
	if err := p.Validate(); err != nil {
		return Result{}, err
	}
	limit := p.Limit
	if limit == 0 {
		limit = defaultLimit
	}
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	return newSession(ctx, &p, progress, start, limit).solve(), nil
}

// solve fills one bay after the other.
func (s *session) solve() Result {
	var res Result
	p := s.p
	for i := range p.Bays {
		s.bay(&p.Bays[i], &res)
	}
	s.finish(&res)
	res.Elapsed = time.Since(s.start)
	return res
}

// session is one call of Solve.
type session struct {
	ctx      context.Context
	p        *Problem
	lat      lattice
	progress func(Progress)
	start    time.Time
	limit    time.Duration
	workers  int
	count    int         // modules placed in bays already done
	sole     bool        // the plane being solved is the only one
	settled  []Placement // the placements of what is solved already
	reported int         // the greatest count reported
	// improved, when set, hears of better packings of the plane being solved.
	improved func(spots []spot, bound int)
}

func newSession(ctx context.Context, p *Problem, progress func(Progress), start time.Time, limit time.Duration) *session {
	s := &session{ctx: &budget{Context: ctx}, limit: limit, p: p, lat: p.lattice(), progress: progress, start: start,
		workers: p.Workers}
	if s.workers == 0 {
		s.workers = runtime.GOMAXPROCS(0)
	}
	return s
}

// lattice is the lattice that the lengths need, and the slants where they may have one.
func (p *Problem) lattice() lattice {
	l := newLattice(p.lengths())
	if p.Hundredths {
		return l
	}
	var rings [][]Point
	for _, b := range p.Bays {
		for _, v := range b.Levels {
			rings = append(append(rings, v.Region.Outline), v.Region.KeepOuts...)
		}
	}
	return l.onSlants(rings)
}

// lengths collects every length of a problem.
func (p *Problem) lengths() []float64 {
	var out []float64
	ring := func(ps []Point) {
		for _, q := range ps {
			out = append(out, q.X, q.Y)
		}
	}
	region := func(r Region) {
		ring(r.Outline)
		for _, k := range r.KeepOuts {
			ring(k)
		}
	}
	for _, b := range p.Bays {
		for _, l := range b.Levels {
			region(l.Region)
			out = append(out, l.FloorMM, l.CeilingMM)
		}
		for _, f := range b.Forbidden {
			region(f.Region)
			out = append(out, f.FromMM, f.ToMM)
		}
	}
	for _, q := range p.Postures {
		out = append(out, q.LengthMM, q.WidthMM, q.HeightMM, q.Gaps.SideMM, q.Gaps.EndMM, q.Gaps.TopMM, q.Gaps.WallMM)
		for _, t := range q.Strips {
			out = append(out, t.DepthMM, t.FromMM, t.ToMM)
		}
	}
	for _, f := range p.Fixed {
		out = append(out, f.X, f.Y, f.Z)
	}
	return out
}

// want is how many more modules may be placed, or -1 for the most.
func (s *session) want() int {
	if s.p.Target == 0 {
		return -1
	}
	return max(0, s.p.Target-s.count)
}

// bay solves one bay and adds it to the result.
func (s *session) bay(b *Bay, res *Result) {
	br := BayResult{ID: b.ID, Proved: true}
	var args []string
	for _, f := range s.p.Fixed {
		if f.Bay == b.ID {
			f.Fixed = true
			res.Placements = append(res.Placements, f)
			br.Count++
			br.Bound++
			br.LayeredBound++
			s.count++
		}
	}
	s.settled = slices.Clone(res.Placements)
	floors := s.floors(b)
	var placed []solid
	for i := range floors {
		lift := s.portion(s.weight(floors[i:i+1])/s.weight(floors[i:]), i < len(floors)-1)
		r := s.stack(b, &floors[i], placed)
		lift()
		placed = append(placed, r.solids...)
		for _, t := range r.solids {
			res.Placements = append(res.Placements, s.placement(b, t))
		}
		s.settled = slices.Clone(res.Placements)
		br.Count += len(r.solids)
		br.Bound += r.bound
		br.LayeredBound += r.layeredBound
		s.count += len(r.solids)
		res.GridMM = max(res.GridMM, r.gridMM)
		res.Layered = res.Layered || r.layered
		br.Proved = br.Proved && r.bound == len(r.solids)
		res.GridProved = (i == 0 && len(res.Bays) == 0 || res.GridProved) && r.gridProved
		args = append(args, r.arguments...)
	}
	br.arguments = unique(args)
	br.Argument = sentence(br.arguments)
	res.Bays = append(res.Bays, br)
	res.Bound += br.Bound
	res.LayeredBound += br.LayeredBound
}

// weight is what of the time floors deserve: by the room over them, and a little each.
func (s *session) weight(floors []floor) float64 {
	var sum float64
	for _, f := range floors {
		sum++
		for _, l := range f.levels {
			room := math.Abs(float64(twiceArea(s.lat.ring(l.Region.Outline)))) / 2 * float64(s.lat.steps(l.CeilingMM)-f.z)
			sum += room / math.Pow(s.lat.perMM*100, 3)
		}
	}
	return sum
}

// sentence joins arguments into one; of many it names two, those that say most
// about the count rather than about corners where nothing stands.
func sentence(args []string) string {
	if len(args) > 1 {
		args = slices.DeleteFunc(slices.Clone(args), func(a string) bool { return a == byNoPlace })
	}
	if len(args) > 2 {
		return args[0] + "; other parts rest on further arguments of the same kinds"
	}
	return strings.Join(args, "; elsewhere ")
}

func unique(in []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, a := range in {
		if a != "" && !seen[a] {
			seen[a] = true
			out = append(out, a)
		}
	}
	return out
}

func (s *session) placement(b *Bay, t solid) Placement {
	return Placement{Bay: b.ID, X: s.lat.mm(t.x), Y: s.lat.mm(t.y), Z: s.lat.mm(t.z),
		Posture: s.p.Postures[t.posture].Name, Turn: t.turn, Layer: t.layer}
}

// finish totals the bays and says what is proved.
func (s *session) finish(res *Result) {
	res.Count = len(res.Placements)
	met := s.p.Target > 0 && res.Count >= s.p.Target
	res.Proved = res.Count >= res.Bound || met
	res.Stopped = s.ctx.Err() != nil && !res.Proved
	if res.Proved {
		res.GridProved = false
	}
	if !res.GridProved {
		res.GridMM = 0
	}
	var args []string
	for _, b := range res.Bays {
		args = append(args, b.arguments...)
	}
	why := sentence(unique(args))
	res.Reason = why
	switch {
	case met:
		res.Argument = fmt.Sprintf("the target of %d is met", s.p.Target)
		res.Reason = res.Argument
	case res.Proved && res.Count == 0:
		res.Argument = "no module fits, which is proved: " + why
	case res.Proved:
		res.Argument = fmt.Sprintf("%d fit; %d is proved impossible: %s", res.Count, res.Count+1, why)
	case res.Layered && res.Count == res.LayeredBound:
		res.Argument = fmt.Sprintf("%d fit; %d in whole layers is proved impossible, and more than %d at any heights: %s", res.Count, res.Count+1, res.Bound, why)
	case res.Layered:
		res.Argument = fmt.Sprintf("best layered %d, bound %d: %s", res.Count, res.Bound, why)
	case res.GridProved:
		res.Argument = fmt.Sprintf("best found %d, bound %d; no more fit with positions on a grid of %v mm: %s", res.Count, res.Bound, res.GridMM, why)
	default:
		res.Argument = fmt.Sprintf("best found %d, bound %d: %s", res.Count, res.Bound, why)
	}
}

// report passes on a better packing of one layer, with all that is settled before.
func (s *session) report(bay string, layer []Placement, bound int) {
	count := len(s.settled) + len(layer)
	if s.progress == nil || count <= s.reported {
		return
	}
	s.reported = count
	s.progress(Progress{Bay: bay, Count: count, Bound: max(count, s.count+bound), Elapsed: time.Since(s.start),
		Placements: append(slices.Clone(s.settled), layer...)})
}
