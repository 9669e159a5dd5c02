package view

import (
	"context"
	"testing"

	"stowbay/layout/assembly"
	"stowbay/layout/demo"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/vehicles"

	"stowbay/layout"
)

// demoPlayer goes through the demonstration plan being put together.
func demoPlayer(t *testing.T) *Player {
	t.Helper()
	plan, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	m := NewModel(layout.NewDocument(plan, vehicles.Catalogue()))
	model := m.Eval().Assembly.Model
	q, err := assembly.Plan(context.Background(), model)
	if err != nil {
		t.Fatal(err)
	}
	return &Player{Model: model, Order: q}
}

// Every step has a picture, its hazards add up to the sequence's own count, and the bare conductors in the picture of
// a box are those that the step lists for it.
func TestPlayerGoesThroughAllSteps(t *testing.T) {
	p := demoPlayer(t)
	fonts := paint.NewFonts()
	boxes := 0
	for i, s := range p.Order.Steps {
		p.Go(i)
		l := p.Picture()
		if len(l.Items) == 0 {
			t.Fatalf("step %d has no picture", i+1)
		}
		seen := map[string]bool{}
		for _, it := range l.Items {
			if f, ok := it.(drawing.Fill); ok && f.Of.Role == drawing.RoleBare {
				seen[f.Of.Ref] = true
			}
		}
		for _, b := range s.Bare {
			if c := p.Model.Conductor(b.ID); c.Box.Box.ID == s.Box {
				boxes++
				if !seen[b.ID] {
					t.Errorf("step %d: %s is bare and not drawn so", i+1, b.ID)
				}
			}
		}
		if p.StepFacts(316, fonts).Height == 0 {
			t.Errorf("step %d: no facts", i+1)
		}
	}
	if boxes == 0 {
		t.Error("nothing was ever bare")
	}
	if p.Hazards() != p.Order.HazardSteps || p.Order.HazardSteps == 0 {
		t.Errorf("%d hazardous steps counted, the sequence has %d", p.Hazards(), p.Order.HazardSteps)
	}
	if n := len(p.StepList(330, fonts).Rows); n != len(p.Order.Steps) {
		t.Errorf("%d rows for %d steps", n, len(p.Order.Steps))
	}
}

// Jobs are gone through by their first steps; back goes to the beginning of the job in hand first. Nothing goes past
// the ends.
func TestPlayerGoesByJobs(t *testing.T) {
	p := demoPlayer(t)
	js, last := p.Order.Jobs, len(p.Order.Steps)-1
	p.Go(-5)
	p.GoJob(-1)
	if p.At() != 0 {
		t.Errorf("before the first step: %d", p.At())
	}
	p.GoJob(1)
	if p.At() != js[1].From {
		t.Errorf("the next job begins at %d, not %d", js[1].From, p.At())
	}
	p.Go(js[1].From + 1)
	p.GoJob(-1)
	if p.At() != js[1].From {
		t.Errorf("back to the job's beginning at %d, not %d", js[1].From, p.At())
	}
	p.GoJob(-1)
	if p.At() != js[0].From {
		t.Errorf("back to the job before at %d, not %d", js[0].From, p.At())
	}
	p.Go(last + 9)
	p.GoJob(1)
	if p.At() > last || p.Step().Job != len(js)-1 {
		t.Errorf("past the end: %d of %d", p.At(), last)
	}
}
