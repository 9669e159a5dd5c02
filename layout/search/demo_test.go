package search

import (
	"context"
	"testing"
	"time"

	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// What the search finds in the demonstration plan opens as arrangements whose masses the checks compute alike.
func TestDemonstration(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	lib := p.LibraryOver(vehicles.Catalogue())
	start := time.Now()
	r, err := Run(context.Background(), p, p.Arrangements[0], lib, Options{PackLimit: time.Second}, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d found, %v all %v packing; %+v complete %v", len(r.Found), time.Since(start), r.Packing, r.Tally, r.Complete)
	for _, s := range r.Remarks {
		t.Log(s)
	}
	for i, e := range r.Excluded {
		if i < 40 {
			t.Log(e.Limit, e.Text)
		}
	}
	rank := r.Rank(nil)
	for _, i := range rank[:min(8, len(rank))] {
		f := &r.Found[i]
		a := r.Open(i)
		e := check.Evaluate(p, a, lib, nil)
		t.Log(f.Name(), f.Values)
		t.Log(e.Value("energy_kwh"), e.Value("mass_kg"), e.Value("change.front_share_pct"), e.Value("cg_mm.z"), e.Value("side_pct"), e.Value("cable_mm"), e.Counts())
	}
}
