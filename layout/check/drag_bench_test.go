package check_test

import (
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// largePlan is the demonstration's donor with boxes of modules in rows, as many as asked for.
func largePlan(tb testing.TB, boxes, each int) (*layout.Plan, *layout.Arrangement, *vehicles.Library) {
	p, err := demo.Plan()
	if err != nil {
		tb.Fatal(err)
	}
	lib := p.LibraryOver(vehicles.Catalogue())
	m := lib.Module("nmc-355")
	a := &layout.Arrangement{ID: "large", Name: "large", Series: 16, Parallel: boxes * each / 16}
	const rows = 10
	cols := (each + rows - 1) / rows
	for i := range boxes {
		w, h := float64(cols)*(m.LengthMM+60)+20, rows*(m.WidthMM+8)+20.0
		b := &layout.Box{ID: fmt.Sprintf("b%d", i+1), At: vehicles.XYZ{float64(i%6) * (w + 50), float64(i/6) * (h + 50), 300}, Shell: layout.Shell{WallMM: 1.5, LinerMM: 2},
			Levels: []vehicles.Level{{Outline: outline(0, 0, w, 0, w, h, 0, h), FloorMM: 0, CeilingMM: 140}}}
		for k := range each {
			b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", k+1), Module: "nmc-355", Posture: vehicles.Flat,
				At: vehicles.XYZ{55 + float64(k/rows)*(m.LengthMM+60), 12 + float64(k%rows)*(m.WidthMM+6), 3.5}})
		}
		b.Feet = layout.SuggestFeet(b)
		a.Boxes = append(a.Boxes, b)
	}
	return p, a, lib
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
