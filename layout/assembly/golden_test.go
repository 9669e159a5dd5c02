package assembly

import (
	"context"
	"fmt"
	"testing"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// Every figure, step and sheet of two boxes, so that none changes unnoticed. What they ought to be other tests check.
func TestNoFigureChangesUnnoticed(t *testing.T) {
	front, rear := boxWith("front", "eight", 5, "contactor", "fuse", "link"), boxWith("rear", "four", 3, "connector", "contactor")
	front.Feet = []layout.Foot{{ID: "f1", At: vehicles.XYZ{50, -20, 0}, Bolt: "M10", Class: "8.8", TorqueNm: 40}}
	lone := boxWith("lone", "four", 1)
	s := sceneOf(front, rear, lone)
	s.Plan.Build = &layout.Build{
		Tests: []layout.Test{
			{Box: "front", Kind: "insulation", Value: 7.5, Unit: "Mohm", Passed: true, By: "me", Date: "2026-01-02"}, {Box: "rear", Kind: "insulation", Value: 0, Unit: "Mohm"},
			{Box: "front", Kind: "seal", Passed: true}, {Box: "rear", Kind: "seal", Value: 3},
		},
		Photos: []layout.Photo{{Box: "rear", File: "r.png"}},
	}
	c := inOrder(s)
	r := Evaluate(s, c, nil)
	m := New(s, c)
	q, err := Plan(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	values := []any{r.Readings(), q.Steps, CheckSheets(s, nil)}
	for i := range q.Steps {
		st := q.At(m, i)
		values = append(values, fmt.Sprintf("%d placed, %v joined, %d bare", len(st.Placed), st.Joined, len(st.Bare)))
	}
	for _, box := range []string{"front", "rear", "lone"} {
		out, err := TakeBoxOut(context.Background(), m, box)
		if err != nil {
			t.Fatal(err)
		}
		values = append(values, out.Steps)
	}
	one, err := Replace(context.Background(), m, "front/m2")
	if err != nil {
		t.Fatal(err)
	}
	goldentest.Compare(t, "three-boxes", []string{"stowbay/layout", "stowbay/vehicles", "stowbay/geometry"}, append(values, one.Steps)...)
}
