package search

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// bruteForce enumerates every arrangement of a small vehicle one by one, each weighed by layout/mass, and keeps those that
// no other one beats. It shares with the search only which modules stay for a push and what is added for cables.
type bruteForce struct {
	y      *yard
	steps  Resolution
	target float64
	seen   [][objectives]int32
	all    int
	barred int // by the limits of a box
}

func (w *bruteForce) run(t *testing.T, tasks []*task) [][objectives]int32 {
	for _, k := range tasks {
		ways := w.ways(k)
		w.every(k, ways, make([][]layout.Placement, len(ways)), 0)
	}
	return nonDominated(w.seen)
}

// ways are all different ways to fill each box: every posture, push and count. Ways that weigh the same in the same
// place are one.
func (w *bruteForce) ways(k *task) [][][]layout.Placement {
	out := make([][][]layout.Placement, len(k.ground.boxes))
	seen := map[string]bool{}
	for n := range k.stances {
		for i, b := range k.ground.sceneWith(k.full[n], nil).Boxes {
			for _, push := range k.pushes {
				for _, l := range loadsOf(b, rowsOf(b), push) {
					var ps []layout.Placement
					var sum r3.Vector
					tops := 0.0
					for _, m := range l.kept {
						ps, sum, tops = append(ps, k.full[n][i].Modules[m]), sum.Add(b.Modules[m].CG), tops+b.Modules[m].Prism.Top
					}
					key := fmt.Sprintf("%d %d %.3f %.3f %.3f %.3f", i, len(ps), sum.X+1e5, sum.Y+1e5, sum.Z, tops)
					if !seen[key] {
						seen[key] = true
						out[i] = append(out[i], ps)
					}
				}
			}
		}
	}
	return out
}

func (w *bruteForce) every(k *task, ways [][][]layout.Placement, in [][]layout.Placement, box int) {
	if box < len(in) {
		for _, in[box] = range ways[box] {
			w.every(k, ways, in, box+1)
		}
		return
	}
	n := 0
	for _, c := range in {
		n += len(c)
	}
	m := k.module
	for s := 1; s <= n; s++ {
		if n%s == 0 && float64(s)*m.MinV() >= 70 && float64(s)*m.MaxV() <= 160 && 200/float64(n/s) <= m.Current.PeakA && 100/float64(n/s) <= m.Current.ContinuousA {
			w.one(k, in, s, n/s)
		}
	}
}

// one weighs an arrangement and keeps its figures if the limits hold.
func (w *bruteForce) one(k *task, in [][]layout.Placement, series, parallel int) {
	a := *w.y.a
	a.Boxes = nil
	var used []int
	for b, ps := range in {
		if len(ps) == 0 && !k.ground.always[b] {
			continue
		}
		used = append(used, b)
		box := *w.y.a.Boxes[b]
		box.Modules = ps
		a.Boxes = append(a.Boxes, &box)
	}
	scene := layout.Resolve(w.y.plan, &a, w.y.lib, nil)
	if clash(scene, func(i int) bool { return k.ground.always[used[i]] }) || !boxesHold(scene, float64(series)*k.module.MaxV()) {
		w.barred++
		return
	}
	w.all++
	extras, cableM := conductors(scene, parallel)
	r := mass.Evaluate(scene, extras, nil)
	if !holds(r) {
		return
	}
	m := k.module
	v := Values{
		Energy: float64(series*parallel) * m.EnergyKWh(), Mass: r.Now.Kg.Value, FrontOff: math.Abs(r.Cases[0].Now.FrontSharePct.Value - w.target),
		Height: r.Now.Z.Value, Side: math.Abs(r.Cases[0].Now.SidePct.Value), Cable: cableM, Boxes: float64(len(used)),
		LiveSteps: float64(liveByHand(m, series, parallel)), Cost: float64(series*parallel) * m.Price,
	}
	for _, b := range a.Boxes {
		for _, g := range b.Gear {
			v[Cost] += w.y.lib.Gear(g.Gear).Price
		}
	}
	var key [objectives]int32
	for o := range key {
		key[o] = w.steps.rounded(Objective(o), v[o])
	}
	w.seen = append(w.seen, key)
}

// clash tells whether two boxes stand in each other, unless both stay in any case. The boxes lie along the axes.
func clash(s *layout.Scene, stays func(i int) bool) bool {
	for i, a := range s.Boxes {
		for k, b := range s.Boxes[:i] {
			al, ah := a.Outer.Bounds()
			bl, bh := b.Outer.Bounds()
			apart := al.X >= bh.X || bl.X >= ah.X || al.Y >= bh.Y || bl.Y >= ah.Y || al.Z >= bh.Z || bl.Z >= ah.Z
			if !apart && !(stays(i) && stays(k)) {
				return true
			}
		}
	}
	return false
}

// boxesHold tells whether the modules of an arrangement keep their distances from each other and from metal. What
// concerns the contactors alone is none of the search's choices.
func boxesHold(s *layout.Scene, volts float64) bool {
	module := func(refs ...string) bool {
		return slices.ContainsFunc(refs, func(r string) bool { return strings.Contains(r, "/m") && !strings.HasSuffix(r, "/main") })
	}
	for _, f := range check.InsideBoxes(s) {
		if module(f.Refs...) {
			return false
		}
	}
	for _, b := range s.Boxes {
		for _, p := range electric.GapsIn(s, b).ShortAnyway(volts) {
			if module(p.RefA, p.RefB) {
				return false
			}
		}
	}
	return true
}

// liveByHand counts joints one by one: modules are joined in groups while the group stays within 60 V.
func liveByHand(m *vehicles.Module, series, parallel int) int {
	if float64(series)*m.MaxV() <= 60 {
		return 0
	}
	n := parallel - 1
	for range parallel {
		group := 1
		for i := 1; i < series; i++ {
			if float64(group+1)*m.MaxV() <= 60 {
				group++
			} else {
				n, group = n+1, 1
			}
		}
	}
	return n
}

// conductors are a link on top of each module and the cable of the shortest round, found by trying all orders.
func conductors(s *layout.Scene, parallel int) ([]mass.Entry, float64) {
	entry := func(kg float64, g mass.Group, at r3.Vector) mass.Entry {
		return mass.Entry{Group: g, Kg: kg, At: at, Known: mass.Estimate}
	}
	var out []mass.Entry
	s.Bodies(func(_ *layout.BoxScene, m *layout.Body) {
		kg := electric.CopperKg(min(m.Module.LengthMM, m.Module.WidthMM), 50)
		out = append(out, entry(kg, mass.Links, r3.Vector{X: m.CG.X, Y: m.CG.Y, Z: m.Prism.Top}))
	})
	var at []r3.Vector
	for _, b := range s.Boxes {
		lo, hi := b.Outer.Bounds()
		at = append(at, lo.Add(hi).Mul(0.5))
	}
	hub := s.Gear[0].CG
	best, centre, lead := math.Inf(1), r3.Vector{}, 0.0
	var orders func(left []r3.Vector, from r3.Vector, sum float64, moment r3.Vector)
	leg := func(a, b r3.Vector) float64 { d := a.Sub(b).Abs(); return d.X + d.Y + d.Z }
	orders = func(left []r3.Vector, from r3.Vector, sum float64, moment r3.Vector) {
		if len(left) == 0 {
			l := leg(from, hub)
			if sum+l < best-1e-9 {
				best, centre = sum+l, moment.Add(from.Add(hub).Mul(l/2)).Mul(1/(sum+l))
			}
			return
		}
		for i, p := range left {
			rest := slices.Delete(slices.Clone(left), i, i+1)
			l := leg(from, p)
			orders(rest, p, sum+l, moment.Add(from.Add(p).Mul(l/2)))
		}
	}
	orders(at, hub, 0, r3.Vector{})
	for _, p := range at {
		lead += leg(hub, p) / float64(len(at))
	}
	mm := best + float64(parallel-1)*2*lead
	return append(out, entry(electric.CopperKg(mm, 50)*1.3, mass.Cables, centre)), mm / 1000
}

// holds judges loads as the mass rules of the checks do, by what layout/mass computed.
func holds(r *mass.Result) bool {
	d := r.Scene.Donor
	for i := range r.Cases {
		c := &r.Cases[i]
		if c.ID != mass.CaseGross && c.Now.Body.Kg.Value > d.Ratings.GrossKg {
			return false
		}
		if c.Now.Front.Value > d.Ratings.FrontAxleKg && !(c.ID == mass.CaseGross && c.Donor.Front.Value > d.Ratings.FrontAxleKg) {
			return false
		}
		if c.Now.Rear.Value > d.Ratings.RearAxleKg && !(c.ID == mass.CaseGross && c.Donor.Rear.Value > d.Ratings.RearAxleKg) {
			return false
		}
		front, _ := vehicles.LoadIndexKg(d.Tyres.FrontLoadIndex)
		rear, _ := vehicles.LoadIndexKg(d.Tyres.RearLoadIndex)
		for w, f := range c.Now.Wheels() {
			if f.Value < 0 || w < 2 && f.Value > front || w >= 2 && f.Value > rear {
				return false
			}
		}
	}
	return true
}

// nonDominated compares every pair.
func nonDominated(in [][objectives]int32) [][objectives]int32 {
	out := map[[objectives]int32]bool{}
next:
	for _, a := range in {
		for _, b := range in {
			if b != a && noWorse(b, a) {
				continue next
			}
		}
		out[a] = true
	}
	return sorted(out)
}

func noWorse(b, a [objectives]int32) bool {
	for o := range a {
		if b[o] > a[o] {
			return false
		}
	}
	return true
}

func sorted(set map[[objectives]int32]bool) [][objectives]int32 {
	var out [][objectives]int32
	for k := range set {
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b [objectives]int32) int { return slices.Compare(a[:], b[:]) })
	return out
}

func foundKeys(r *Result) [][objectives]int32 {
	out := map[[objectives]int32]bool{}
	for i := range r.Found {
		var k [objectives]int32
		for o := range k {
			k[o] = r.Resolution.rounded(Objective(o), r.Found[i].Values[o])
		}
		out[k] = true
	}
	return sorted(out)
}

// The search finds exactly what the enumeration of every arrangement leaves, on vehicles small enough for that.
func TestAgainstEveryArrangement(t *testing.T) {
	small := block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat, vehicles.Side)
	big := block("big", 300, 300, 100, 27, 100, 750, vehicles.Flat)
	for _, c := range []struct {
		name  string
		sites []site
		ms    []*vehicles.Module
		tune  func(*yard)
	}{
		{"two boxes", []site{{-250, -300, 500, 1, 2, 2, false}, {1500, -300, 250, 2, 2, 1, false}}, []*vehicles.Module{small, big}, nil},
		{"three boxes, one of them stays", []site{{-250, -300, 500, 1, 2, 1, true}, {1200, -200, 250, 1, 2, 2, false}, {2500, -400, 450, 1, 3, 1, false}}, []*vehicles.Module{small}, nil},
		{"the largest stays, empty or not", []site{{-250, -300, 500, 1, 2, 2, false}, {1500, -300, 250, 2, 3, 1, true}}, []*vehicles.Module{small}, nil},
		{"light axles", []site{{-250, -300, 500, 1, 2, 2, false}, {1200, -600, 250, 2, 2, 1, false}, {2700, -300, 400, 1, 2, 1, false}}, []*vehicles.Module{small}, func(y *yard) {
			d := *y.lib.Donor("yard-cart")
			d.Ratings.RearAxleKg, d.Ratings.FrontAxleKg = 815, 745
			y.lib = y.lib.With(vehicles.Records{Donors: []*vehicles.Donor{&d}})
		}},
		{"roll shares given, weak tyres", []site{{-250, 100, 500, 1, 2, 2, false}, {1500, 100, 250, 2, 2, 1, false}}, []*vehicles.Module{small}, func(y *yard) {
			d := *y.lib.Donor("yard-cart")
			d.RollShareFront, d.Tyres.RearLoadIndex = 0.6, 93
			y.lib = y.lib.With(vehicles.Records{Donors: []*vehicles.Donor{&d}})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			y := newYard(t, c.sites, c.ms...)
			if c.tune != nil {
				c.tune(y)
			}
			r, w, want, got := both(t, y)
			if len(want) < 2 || len(w.seen) == w.all && c.tune != nil {
				for _, e := range r.Excluded {
					t.Log(e.Text)
				}
				t.Fatalf("the example decides nothing: %d of %d hold, %d are left", len(w.seen), w.all, len(want))
			}
			t.Logf("%d of %d arrangements, %d within the limits, tally %+v", len(got), w.all, len(w.seen), r.Tally)
		})
	}
}

// both runs the search and the enumeration and compares them.
func both(t *testing.T, y *yard) (r Result, w *bruteForce, want, got [][objectives]int32) {
	t.Helper()
	r, err := Run(context.Background(), y.plan, y.a, y.lib, y.options(), nil)
	if err != nil {
		t.Fatal(err)
	}
	w = &bruteForce{y: y, steps: r.Resolution, target: r.TargetPct}
	want, got = w.run(t, tasksOf(t, y)), foundKeys(&r)
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Fatalf("found %d, every arrangement leaves %d\n%v\n%v", len(got), len(want), got, want)
	}
	if len(got) != len(r.Found) {
		t.Errorf("%d found, %d of them different", len(r.Found), len(got))
	}
	if !r.Complete || r.Tally.All != r.Tally.Looked+r.Tally.Limited+r.Tally.Beaten || r.Tally.All != float64(w.all) {
		t.Errorf("complete %v, tally %+v, %d enumerated", r.Complete, r.Tally, w.all)
	}
	return r, w, want, got
}

// Boxes anywhere, of any size: the seeds are fixed.
func TestAgainstEveryArrangementAnywhere(t *testing.T) {
	cut := 0.0
	for seed := range uint64(12) {
		rnd := rand.New(rand.NewPCG(seed, 8))
		var sites []site
		for range 2 + rnd.IntN(2) {
			sites = append(sites, site{x: -300 + 3000*rnd.Float64(), y: -500 + 700*rnd.Float64(), z: 200 + 400*rnd.Float64(),
				along: 1 + rnd.IntN(2), across: 1 + rnd.IntN(2), up: 1 + rnd.IntN(2), holdsContactorAlso: rnd.IntN(3) == 0})
		}
		y := newYard(t, sites, block("small", 300, 150, 100, 14, 50, 400, vehicles.Flat))
		d := *y.lib.Donor("yard-cart")
		d.Ratings.RearAxleKg, d.Ratings.FrontAxleKg = 780+100*rnd.Float64(), 720+100*rnd.Float64()
		y.lib = y.lib.With(vehicles.Records{Donors: []*vehicles.Donor{&d}})
		r, _, _, _ := both(t, y)
		cut += r.Tally.Beaten + r.Tally.Limited
	}
	if cut == 0 {
		t.Error("nothing was ever cut off")
	}
}

// tasksOf makes the tasks of a yard, with all pushes.
func tasksOf(t testing.TB, y *yard) []*task {
	t.Helper()
	g, err := groundOf(y.plan, y.a, y.lib, y.a.Boxes, false)
	if err != nil {
		t.Fatal(err)
	}
	pushes, _ := (&Options{}).pushes()
	var out []*task
	for _, m := range y.modules {
		out = append(out, newTask(context.Background(), g, stances(m), y.packings, &Options{}, pushes, active(nil, true)))
	}
	return out
}
