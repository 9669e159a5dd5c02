package assembly

import (
	"context"
	"fmt"
	"testing"

	"stowbay/layout"
)

// sixteen are 16 boxes of 12 modules with gear.
func sixteen() []*layout.Box {
	var out []*layout.Box
	for i := range 16 {
		gear := []string{"fuse", "connector"}
		if i == 0 || i == 15 {
			gear = append(gear, "contactor")
		}
		if i == 7 {
			gear = append(gear, "link")
		}
		out = append(out, boxWith(fmt.Sprintf("b%d", i+1), "eight", 12, gear...))
	}
	return out
}

func BenchmarkPlan16x12(b *testing.B) {
	s := sceneOf(sixteen()...)
	c := inOrder(s)
	for b.Loop() {
		if _, err := Plan(context.Background(), New(s, c)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEvaluate16x12(b *testing.B) {
	s := sceneOf(sixteen()...)
	c := inOrder(s)
	for b.Loop() {
		Evaluate(s, c, nil)
	}
}

// BenchmarkEvaluateDrag16x12 is the work after an edit that leaves all boxes but one alone.
func BenchmarkEvaluateDrag16x12(b *testing.B) {
	s := sceneOf(sixteen()...)
	c := inOrder(s)
	r := Evaluate(s, c, nil)
	for b.Loop() {
		r.Bridges[3].Box = nil
		r = Evaluate(s, c, r)
	}
}
