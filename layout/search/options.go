package search

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Push is the side towards which modules stand where a box has room to spare.
type Push string

// The pushes: as low, as far forward, as far rearward, and as near to the vehicle's centre plane as the packing allows.
const (
	Low      Push = "low"
	Forward  Push = "forward"
	Rearward Push = "rearward"
	Centre   Push = "centre"
)

// Options say what to search. The zero value searches all that the plan allows.
type Options struct {
	Modules      []string    // module types; empty: the plan's search settings, else those used in the plan
	Pushes       []Push      // empty: all four
	Objectives   []Objective // empty: all; the cost counts only where every module type has a price
	Resolution   Resolution
	MinEnergyKWh float64       // 0: as the plan's search settings have it
	Strict       bool          // also leave out what would warn: front split, side, height and stability factor against the donor
	PackLimit    time.Duration // time for one box and module type; 0 means 2 s
	Packings     *Packings     // packings kept from a search before, which are added to; may be nil
	Workers      int           // 0: one a core
}

// Progress is a report from a running search.
type Progress struct {
	Stage       string // "packing" or "comparing"
	Done, Total int    // boxes packed, or combinations of module, counts and boxes gone through
	Found       int    // arrangements that nothing found so far beats, before the last comparison
	Elapsed     time.Duration
}

// modules are the module types searched.
func (o *Options) modules(p *layout.Plan, lib *vehicles.Library) ([]*vehicles.Module, error) {
	ids := o.Modules
	if len(ids) == 0 {
		ids = p.Settings.Search.Modules
	}
	if len(ids) == 0 {
		ids = usedIn(p)
	}
	if len(ids) == 0 {
		return nil, fmt.Errorf("no module type to search: name some in the plan's search settings")
	}
	var out []*vehicles.Module
	for _, id := range ids {
		m := lib.Module(id)
		if m == nil {
			return nil, fmt.Errorf("there is no module %q", id)
		}
		if !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out, nil
}

func usedIn(p *layout.Plan) []string {
	ids := map[string]bool{}
	for _, a := range p.Arrangements {
		for _, b := range a.Boxes {
			for _, m := range b.Modules {
				ids[m.Module] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(ids))
}

func (o *Options) pushes() ([]Push, error) {
	all := []Push{Low, Forward, Rearward, Centre}
	for _, p := range o.Pushes {
		if !slices.Contains(all, p) {
			return nil, fmt.Errorf("push %q is none of %s, %s, %s, %s", p, Low, Forward, Rearward, Centre)
		}
	}
	if len(o.Pushes) == 0 {
		return all, nil
	}
	return slices.Compact(slices.Clone(o.Pushes)), nil
}

func (o *Options) minEnergy(p *layout.Plan) float64 {
	if o.MinEnergyKWh > 0 {
		return o.MinEnergyKWh
	}
	return p.Settings.Search.EnergyKWh
}
