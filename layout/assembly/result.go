package assembly

import (
	"fmt"

	"stowbay/layout"
)

// Result is what is known of an arrangement's assembly while it is being drawn. Sequences are worked out on demand: see
// [Plan], [TakeBoxOut] and [Replace].
type Result struct {
	Model    *Model
	Bridges  []BoxBridges
	Crash    Crash
	Touch    []Breaks // service segments against the hazardous voltage
	Segments []Breaks // and against the maintenance segment
	Buried   []Buried

	stacks map[*layout.BoxScene]layers
}

// Evaluate works out bridges, live segments and break links of an arrangement. prev, the result before an edit, saves
// work for boxes that are the same; it may be nil and never changes the answer.
func Evaluate(s *layout.Scene, c Circuit, prev *Result) *Result {
	m := New(s, c)
	r := &Result{Model: m, Bridges: m.bridges(prev), Crash: m.Crash(), stacks: make(map[*layout.BoxScene]layers, len(s.Boxes))}
	for _, x := range m.ServiceSegments() {
		r.Touch, r.Segments = append(r.Touch, suggest(x, m.Limits.TouchRule())), append(r.Segments, suggest(x, m.Limits.SegmentRule()))
	}
	for _, b := range s.Boxes {
		r.stacks[b] = prev.stackOf(b)
		r.Buried = append(r.Buried, buriedIn(m, b, r.stacks[b])...)
	}
	return r
}

// stackOf takes over the layers of a box that is the same.
func (r *Result) stackOf(b *layout.BoxScene) layers {
	if r != nil {
		if ls, ok := r.stacks[b]; ok {
			return ls
		}
	}
	return layersOf(b)
}

const (
	kirchhoff = "Kirchhoff's laws; a first fault at the worst place"
	matching  = "minimum vertex cover by branch and bound"
)

// Readings lists the subject's figures.
func (r *Result) Readings() []layout.Reading {
	if len(r.Model.tracks) == 0 {
		return nil
	}
	pairs, hazards, covers, least, worst := 0, 0, 0, 0, 0.0
	for i := range r.Bridges {
		b := &r.Bridges[i]
		pairs, hazards, covers, least = pairs+len(b.Pairs), hazards+b.Hazards, covers+b.Covers, least+b.LeastCovers
		if len(b.Pairs) > 0 {
			worst = max(worst, b.Pairs[0].V)
		}
	}
	segment := 0.0
	for i := range r.Segments {
		segment = max(segment, r.Segments[i].Segment.V)
	}
	l := r.Model.Limits
	return []layout.Reading{
		{Key: "bridges", Label: fmt.Sprintf("Pairs that a part of %g mm can bridge, boxes open and uncovered", l.ToolMM), Value: float64(pairs), Basis: layout.Computed, Why: r.bridgeWhy},
		{Key: "bridges_hazardous", Label: fmt.Sprintf("Of them above %g V", l.TouchV), Value: float64(hazards), Basis: layout.Computed, Why: r.bridgeWhy},
		{Key: "bridge_v", Label: "Highest voltage that such a part can bridge", Value: worst, Unit: "V", Basis: layout.Computed, Why: r.bridgeWhy},
		{Key: "covers", Label: "Covers that leave nothing to bridge", Value: float64(covers), Basis: layout.Computed, Why: func() layout.Why {
			return layout.Why{Formula: "fewest terminals or joints so that every bridge has one of them under a cover", Source: matching,
				Inputs: []layout.Input{{Name: "no fewer than", Value: float64(least)}}}
		}},
		{Key: "segment_v", Label: "Highest voltage of a service segment", Value: segment, Unit: "V", Basis: layout.Computed, Why: func() layout.Why {
			return layout.Why{Formula: "sum of the modules between open contactors, service links and box connectors", Source: "the plan itself; every cell at its highest voltage"}
		}},
	}
}

func (r *Result) bridgeWhy() layout.Why {
	return layout.Why{Formula: "straight distance between bare metal at most the part's length, and a voltage between", Source: kirchhoff,
		Inputs: []layout.Input{{Name: "length of the part", Value: r.Model.Limits.ToolMM, Unit: "mm", Note: "common practice where the plan does not say"}},
		Remark: "Lid off, nothing covered, contactors open, service links closed. Bodies and barriers in between do not count as a hindrance."}
}
