package drawing

import (
	"math"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/search"
)

// Overlay draws an arrangement with another one of the same vehicle over it: of the other one boxes and modules, as
// what is moved is drawn where it was before.
func Overlay(v View, s, other *layout.Scene, o Options) *List {
	for _, b := range other.Boxes {
		for _, p := range b.Outer.Solids {
			o.Ghosts = append(o.Ghosts, GhostPrism{Ref: b.Box.ID, Prism: p})
		}
		for _, m := range b.Modules {
			o.Ghosts = append(o.Ghosts, GhostPrism{Ref: m.ID, Prism: m.Prism})
		}
	}
	l := v.Draw(s, o)
	l.Title = s.Arrangement.Name + ", dashed: " + other.Arrangement.Name
	return l
}

// ComparedScatter sets the energy of the arrangements of a comparison against one of their readings, in a field of w by
// h millimetres; with fewer than two that have both it is nil. Those that no other one beats in both are joined.
// Where a reading is better neither way, less of it counts as better.
func ComparedScatter(t *search.Table, key string, w, h float64) *List {
	x, y := t.Row(key, ""), t.Row("energy_kwh", "")
	if x == nil || y == nil {
		return nil
	}
	var spots []Spot
	for i, c := range t.Columns {
		if !x.Cells[i].Has || !y.Cells[i].Has {
			continue
		}
		s := Spot{X: distance(x, x.Cells[i].Value), Y: y.Cells[i].Value, Name: c.Name, Ref: c.ID}
		if c.Counts[check.Fails] > 0 {
			s.Mark = Breached
		}
		spots = append(spots, s)
	}
	if len(spots) < 2 {
		return nil
	}
	label := x.Label
	if x.Better == search.NearZero {
		label += ", either way"
	}
	markBest(spots, x.Better)
	return Scatter("Energy against "+label, Axis{Title: titled(label, x.Unit), Less: x.Better != search.More}, Axis{Title: titled(y.Label, y.Unit)}, spots, w, h)
}

// distance is a reading as it is plotted: where nearer to zero is better, how far it is from it.
func distance(r *search.Row, v float64) float64 {
	if r.Better == search.NearZero {
		return math.Abs(v)
	}
	return v
}

// FoundScatter sets the energy of all arrangements that a search found against one of its objectives. A spot's Ref is
// the arrangement's name.
func FoundScatter(r *search.Result, x search.Objective, chosen map[int]bool, w, h float64) *List {
	spots := make([]Spot, len(r.Found))
	for i := range r.Found {
		f := &r.Found[i]
		spots[i] = Spot{X: f.Values[x], Y: f.Values[search.Energy], Ref: f.Name()}
		if chosen[i] {
			spots[i].Mark = Selected
		}
	}
	markBest(spots, search.Less)
	return Scatter("Energy against "+x.Label(), Axis{Title: titled(x.Label(), x.Unit()), Less: true}, Axis{Title: "energy, kWh"}, spots, w, h)
}

func titled(label, unit string) string {
	if unit == "" {
		return label
	}
	return label + ", " + unit
}

// markBest marks the spots that no other one beats in both figures.
func markBest(spots []Spot, better search.Better) {
	worth := func(s Spot) float64 {
		switch better {
		case search.More:
			return s.X
		case search.NearZero:
			return -math.Abs(s.X)
		}
		return -s.X
	}
	for i := range spots {
		spots[i].Best = true
		for _, o := range spots {
			a, b := worth(spots[i]), worth(o)
			if b >= a && o.Y >= spots[i].Y && (b > a || o.Y > spots[i].Y) {
				spots[i].Best = false
				break
			}
		}
	}
}
