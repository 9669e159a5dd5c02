package check_test

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// largePlan is the demonstration's large plan with its one arrangement and its library.
func largePlan(tb testing.TB, boxes, each int) (*layout.Plan, *layout.Arrangement, *vehicles.Library) {
	p, err := demo.Large(boxes, each)
	if err != nil {
		tb.Fatal(err)
	}
	return p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue())
}

// nudged returns the arrangement with one module of its first box moved.
func nudged(a *layout.Arrangement, by float64) *layout.Arrangement {
	out, b := *a, *a.Boxes[0]
	out.Boxes = append([]*layout.Box(nil), a.Boxes...)
	b.Modules = append([]layout.Placement(nil), b.Modules...)
	b.Modules[0].At[0] += by
	out.Boxes[0] = &b
	return &out
}

// What one step of a drag costs: everything, with one module moved.
func BenchmarkDrag(b *testing.B) {
	for _, size := range []struct{ boxes, each int }{{4, 100}, {1, 400}, {30, 67}} {
		b.Run(fmt.Sprintf("%dx%d", size.boxes, size.each), func(b *testing.B) {
			p, a, lib := largePlan(b, size.boxes, size.each)
			prev := check.Evaluate(p, a, lib, nil)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				prev = check.Evaluate(p, nudged(a, float64(i%7)/10), lib, prev)
			}
		})
	}
}

func BenchmarkFresh(b *testing.B) {
	p, a, lib := largePlan(b, 30, 67)
	for b.Loop() {
		check.Evaluate(p, a, lib, nil)
	}
}
