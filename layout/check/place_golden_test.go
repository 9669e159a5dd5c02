package check

import (
	"testing"

	"stowbay/layout"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// Where a box stands, moved about and turned, its bay open to each side, so that no figure and no place that a finding points at
// changes unnoticed. What they ought to be, other tests check by hand.
func TestNoPlaceChangesUnnoticed(t *testing.T) {
	type change = func(*vehicles.Donor, *layout.Arrangement)
	var lines []string
	base := stand(nil).Findings
	add := func(name string, c change) {
		lines = append(append(lines, name), FiguresBeside(base, stand(c).Findings)...)
	}
	lines = append(lines, Figures(base)...)
	keepOut := vehicles.KeepOut{ID: "k", Name: "thing", Outline: rect(1000, -50, 1100, 50), FloorMM: 100, CeilingMM: 140}
	for _, side := range []string{"below", "above", "left", "right", "front", "rear"} {
		add("open to "+side, func(_ *vehicles.Donor, a *layout.Arrangement) { a.Bays[0].Access = side })
		add("open to "+side+", turned", func(_ *vehicles.Donor, a *layout.Arrangement) {
			a.Bays[0].Access, a.Boxes[0].TurnDeg = side, 90
			a.Boxes[0].At = vehicles.XYZ{1700, -400, 200}
			a.Boxes[0].Shell.LidSide = "bottom"
		})
		add("in the way "+side, func(d *vehicles.Donor, a *layout.Arrangement) {
			a.Bays[0].Access = side
			a.Boxes = append(a.Boxes, &layout.Box{ID: "other", Bay: "bay", At: vehicles.XYZ{900, 380, 460}, Levels: []vehicles.Level{{Outline: rect(0, 0, 200, 300), CeilingMM: 100}}})
			k := keepOut
			k.Kind = "structure"
			d.KeepOuts = []vehicles.KeepOut{k}
			d.Rails = append(d.Rails, vehicles.Rail{ID: "r", Name: "rail", Outline: rect(0, -530, 2500, -470), FloorMM: 300, CeilingMM: 400})
		})
	}
	for _, face := range []string{"front", "rear", "left", "right", "top", "bottom"} {
		add("connector at "+face, func(_ *vehicles.Donor, a *layout.Arrangement) {
			a.Boxes[0].Openings = []layout.Opening{{ID: "c", Kind: "connector", Face: face, At: vehicles.XYZ{450, 400, 125}, DiameterMM: 40}}
			a.Boxes = append(a.Boxes, &layout.Box{ID: "other", At: vehicles.XYZ{1740, -400, 200}, Levels: []vehicles.Level{{Outline: rect(0, 0, 200, 800), CeilingMM: 200}}},
				&layout.Box{ID: "beside", At: vehicles.XYZ{800, 450, 200}, Levels: []vehicles.Level{{Outline: rect(0, 0, 900, 100), CeilingMM: 200}}})
		})
	}
	for _, kind := range []string{"hot", "moving", "structure", "path"} {
		add(kind, func(d *vehicles.Donor, a *layout.Arrangement) {
			k := keepOut
			k.Kind, k.MarginMM = kind, 20
			far := k
			far.ID, far.Outline = "far", rect(1705, -50, 1800, 50)
			far.FloorMM, far.CeilingMM = 250, 300
			d.KeepOuts = []vehicles.KeepOut{k, far}
		})
	}
	for _, at := range []vehicles.XYZ{{-600, -400, 200}, {-900, -400, 200}, {2100, -400, 120}, {2400, -400, 90}, {800, -830, 140}, {1200, 80, 60}} {
		add("moved", func(d *vehicles.Donor, a *layout.Arrangement) {
			a.Boxes[0].At = at
			d.Zones = []vehicles.Zone{{ID: "cabin", Kind: "passenger", Outline: rect(0, -700, 2000, 700), FloorMM: 300, CeilingMM: 1400}, {ID: "crush", Kind: "crush", Outline: rect(-800, -800, -300, 800), FloorMM: 0, CeilingMM: 900},
				{ID: "boot", Kind: "luggage", Outline: rect(2000, -700, 3000, 700), FloorMM: 300, CeilingMM: 1400}}
		})
	}
	goldentest.Compare(t, "place", nil, lines)
}
