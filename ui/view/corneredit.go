package view

import (
	"github.com/golang/geo/r2"

	"stowbay/layout"
)

// AddCornerHere puts a corner on the edge of the thing picked that is within reach of a place.
func (m *Model) AddCornerHere(at r2.Point, reach float64) error {
	edge, on, ok := m.EdgeAt(at, reach)
	if !ok {
		return nil
	}
	return m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return AddCorner(p, a, edge, on) })
}

// RemoveCornerHere takes out the corner of the thing picked that is within reach of a place.
func (m *Model) RemoveCornerHere(at r2.Point, reach float64) error {
	c, ok := m.CornerAt(at, reach)
	if !ok {
		return nil
	}
	return m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return RemoveCorner(p, a, c) })
}
