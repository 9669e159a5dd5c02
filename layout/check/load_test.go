package check_test

import (
	"runtime"
	"testing"

	"stowbay/layout/check"
)

// Two thousand modules in thirty boxes: what a drag leaves behind does not grow with its steps.
func TestLongDragOfALargePlanKeepsItsMemory(t *testing.T) {
	p, a, lib := largePlan(t, 30, 67)
	e := check.Evaluate(p, a, lib, nil)
	if n := e.Scene.Count(); n < 2000 {
		t.Fatalf("only %d modules", n)
	}
	drag := func(steps int) uint64 {
		for i := range steps {
			e = check.Evaluate(p, nudged(a, float64(i%7)/10), lib, e)
		}
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	few := drag(5)
	many := drag(60)
	t.Logf("%d MB after 5 steps, %d MB after 60 more", few>>20, many>>20)
	if many > few+few/4+8<<20 {
		t.Errorf("%d bytes are held after 5 steps, %d after 60 more", few, many)
	}
	if d := differ(check.Evaluate(p, e.Arrangement, lib, nil), e); d != "" {
		t.Error(d)
	}
}
