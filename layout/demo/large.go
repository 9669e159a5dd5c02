package demo

import (
	"fmt"
	"math"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Large is the demonstration's donor with one arrangement, "large", of boxes of equal modules in ten rows: far more than any
// vehicle carries, to measure with.
func Large(boxes, each int) (*layout.Plan, error) {
	p, err := Plan()
	if err != nil {
		return nil, err
	}
	m := p.LibraryOver(vehicles.Catalogue()).Module("nmc-355")
	a := &layout.Arrangement{ID: "large", Name: "large", Series: 16, Parallel: boxes * each / 16}
	across := int(math.Ceil(math.Sqrt(float64(boxes))))
	for i := range boxes {
		a.Boxes = append(a.Boxes, largeBox(m, i, across, each))
	}
	p.Arrangements, p.Build = []*layout.Arrangement{a}, nil
	return p, nil
}

func largeBox(m *vehicles.Module, i, across, each int) *layout.Box {
	const rows = 10
	pitchX, pitchY := m.LengthMM+60, m.WidthMM+6
	w, h := math.Ceil(float64(each)/rows)*pitchX+20, rows*(m.WidthMM+8)+20
	b := &layout.Box{ID: fmt.Sprintf("b%d", i+1), At: vehicles.XYZ{float64(i%across) * (w + 50), float64(i/across) * (h + 50), 300},
		Shell:  layout.Shell{WallMM: 1.5, LinerMM: 2},
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {w, 0}, {w, h}, {0, h}}, CeilingMM: 140}}}
	for k := range each {
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", k+1), Module: m.ID, Posture: vehicles.Flat,
			At: vehicles.XYZ{55 + float64(k/rows)*pitchX, 12 + float64(k%rows)*pitchY, 3.5}})
	}
	b.Feet = layout.SuggestFeet(b)
	return b
}
