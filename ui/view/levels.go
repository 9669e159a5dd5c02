package view

import (
	"errors"
	"fmt"
	"slices"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// Levels returns the levels of a bay or box with their heights above the ground, their outlines in the vehicle's plan;
// none where there is no such thing or it is locked.
func Levels(a *layout.Arrangement, ref string) []vehicles.Level {
	if a.Box(ref) == nil && a.Bay(ref) == nil {
		return nil
	}
	heights := spans(a, ref)
	var out []vehicles.Level
	for i, s := range shapes(a, ref) {
		out = append(out, vehicles.Level{Outline: outlineIn(layout.NewFrame(vehicles.XYZ{}, 0), s.ring), FloorMM: heights[i].floor, CeilingMM: heights[i].ceiling})
	}
	return out
}

// AddLevel gives the edit that adds a level, given as [Levels] has them, to a bay or box.
func AddLevel(p *layout.Plan, arrangement, ref string, l vehicles.Level) (layout.Edit, error) {
	ring := vehicles.Points(l.Outline)
	return layout.Change(p, arrangement, "Add a step to "+ref, func(a *layout.Arrangement) error {
		if problems := geometry.Ring(ring).Polygon().Validate(); len(problems) > 0 {
			return fmt.Errorf("not an outline: %w", problems[0])
		}
		n := len(shapes(a, ref))
		switch b, i := a.Box(ref), bayAt(a, ref); {
		case n == 0:
			return errors.New("a step belongs to a bay or a box that is not locked")
		case b != nil:
			c := *b
			c.Levels = append(slices.Clone(b.Levels), vehicles.Level{})
			*a = *a.WithBox(&c)
		case i >= 0:
			a.Bays = slices.Clone(a.Bays)
			a.Bays[i].Levels = append(slices.Clone(a.Bays[i].Levels), vehicles.Level{})
		default:
			return fmt.Errorf("%s is neither a bay nor a box", ref)
		}
		s := Shape{ref, n}
		putShape(a, s, ring)
		putHeights(a, s, span{l.FloorMM, l.CeilingMM})
		return nil
	})
}
