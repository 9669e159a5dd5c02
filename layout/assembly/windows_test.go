package assembly

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"stowbay/layout"
)

// everyOrder goes through all orders of joints that keep to their windows and returns the least cost. It joins circuits
// one by one and knows nothing of trees.
func everyOrder(volts []float64, limit float64, when []window) cost {
	e := &enumeration{volts: volts, limit: limit, when: when, made: make([]bool, len(when))}
	e.next(0, 0, cost{})
	return e.best
}

type enumeration struct {
	volts []float64
	limit float64
	when  []window
	made  []bool
	best  cost
	found bool
}

func (e *enumeration) next(done, phase int, so cost) {
	if done == len(e.when) {
		if !e.found || so.less(e.best) {
			e.best, e.found = so, true
		}
		return
	}
	for j, x := range e.when {
		if now := max(phase, x.first); !e.made[j] && now <= x.last {
			v, w := e.side(j, -1), e.side(j+1, 1)
			e.made[j] = true
			e.next(done+1, now, so.plus(jointCost(v, w, e.limit)))
			e.made[j] = false
		}
	}
}

// side sums the circuit that reaches from a piece on.
func (e *enumeration) side(i, step int) float64 {
	sum := e.volts[i]
	for {
		joint := i
		if step < 0 {
			joint = i - 1
		}
		if joint < 0 || joint >= len(e.made) || !e.made[joint] {
			return sum
		}
		i += step
		sum += e.volts[i]
	}
}

// The order within windows is the best of all that keep to them, and keeps to them itself.
func TestWindowsAgainstEveryOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	dearer := 0
	for range 400 {
		volts, when := make([]float64, 2+r.IntN(6)), []window(nil)
		for i := range volts {
			volts[i] = []float64{0, 14.6, 29.2, 29.2, 50, 70}[r.IntN(6)]
		}
		for range len(volts) - 1 {
			first := r.IntN(4)
			when = append(when, window{first, first + r.IntN(5-first)})
		}
		order, least, proved := joinWithin(volts, 60, when)
		want := everyOrder(volts, 60, when)
		got := replay(t, volts, when, order)
		if !proved || least != want.steps || got.less(want) || want.less(got) {
			t.Fatalf("%v %v: %v, bound %d, every order %v", volts, when, got, least, want)
		}
		if _, free := joinOrder(volts, 60); free.less(want) {
			dearer++
		}
	}
	if dearer == 0 {
		t.Error("the windows never cost anything: the test shows nothing")
	}
}

func replay(t *testing.T, volts []float64, when []window, order []timed) cost {
	t.Helper()
	e := &enumeration{volts: volts, made: make([]bool, len(when))}
	so, phase := cost{}, 0
	for _, x := range order {
		if e.made[x.joint] || x.phase < phase || x.phase < when[x.joint].first || x.phase > when[x.joint].last {
			t.Fatalf("%v is out of its window: %v of %v", x, order, when)
		}
		so = so.plus(jointCost(e.side(x.joint, -1), e.side(x.joint+1, 1), 60))
		e.made[x.joint], phase = true, x.phase
	}
	if len(order) != len(when) {
		t.Fatalf("%d joints of %d", len(order), len(when))
	}
	return so
}

// stackedBox has a second layer of modules straight over the first.
func stackedBox(n int) *layout.Box {
	b := boxWith("b", "eight", n, "fuse", "contactor")
	b.Levels[0].CeilingMM = 400
	for i := range n {
		up := b.Modules[i]
		up.ID, up.At[2] = fmt.Sprintf("u%d", i+1), up.At[2]+110
		b.Modules = append(b.Modules, up)
	}
	return b
}

// What is counted while the steps are carried out equals the bound, with and without layers.
func TestPlanReachesItsBound(t *testing.T) {
	for _, n := range []int{2, 4, 8, 12, 16} {
		for _, b := range []*layout.Box{boxWith("b", "eight", n, "fuse", "contactor"), stackedBox(n)} {
			m := modelOf(b)
			q, err := Plan(context.Background(), m)
			if err != nil || q.HazardSteps != q.LeastSteps || !q.Proved {
				t.Fatalf("%d modules: %v, %+v", len(b.Modules), err, q)
			}
			if stacked := len(b.Modules) > n; stacked != (len(m.Buried(m.Scene.Boxes[0])) > 0) {
				t.Errorf("%d modules: buried joints %v", len(b.Modules), !stacked)
			}
		}
	}
}
