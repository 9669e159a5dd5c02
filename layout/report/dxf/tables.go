package dxf

import (
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
)

// hatchSuffix names the layer that a role's hatch lines are on, so that they can be switched off for cutting.
const hatchSuffix = "_HATCH"

// LayerName is the layer of a role: its words in capitals, as release 12 writes them.
func LayerName(r drawing.Role) string {
	s := strings.ToUpper(string(r))
	s = strings.NewReplacer(" ", "_", "'", "").Replace(s)
	if s == "" {
		return "0"
	}
	return s
}

type layer struct {
	name, lineType string
	colour         int
}

// layersOf lists the layers that a list needs, sorted by name.
func layersOf(l *drawing.List) []layer {
	seen := map[string]layer{"0": {"0", "CONTINUOUS", white}}
	for _, it := range l.Items {
		role := it.Tag().Role
		y := layer{LayerName(role), lineTypeOf(role), colourOf(role)}
		if _, ok := it.(drawing.Hatch); ok {
			y.name, y.lineType = y.name+hatchSuffix, "CONTINUOUS"
		}
		seen[y.name] = y
	}
	out := make([]layer, 0, len(seen))
	for _, y := range seen {
		out = append(out, y)
	}
	slices.SortFunc(out, func(a, b layer) int { return strings.Compare(a.name, b.name) })
	return out
}

// The first seven numbers of DXF's colour index.
const (
	red = iota + 1
	yellow
	green
	cyan
	blue
	magenta
	white
	grey
)

var colours = map[drawing.Role]int{
	drawing.RoleBay: green, drawing.RoleClearance: green, drawing.RoleKeepOut: magenta, drawing.RoleModule: blue,
	drawing.RoleNegative: blue, drawing.RolePositive: red, drawing.RoleBreach: red, drawing.RoleWarning: yellow,
	drawing.RoleCable: 30, drawing.RoleHose: cyan, drawing.RolePort: cyan, drawing.RoleGear: yellow,
	drawing.RoleGrid: 9, drawing.RoleZone: grey, drawing.RoleRail: grey, drawing.RoleWheel: grey,
	drawing.RoleBendUp: blue, drawing.RoleBendDown: red, drawing.RoleStrip: 9, drawing.RoleAxle: grey, drawing.RoleCentre: grey, drawing.RoleDimension: grey,
}

func colourOf(r drawing.Role) int {
	if c, ok := colours[r]; ok {
		return c
	}
	return white
}

func lineTypeOf(r drawing.Role) string {
	switch r {
	case drawing.RoleAxle, drawing.RoleCentre, drawing.RoleBendUp:
		return "CHAIN"
	case drawing.RoleBay, drawing.RoleClearance, drawing.RoleHose, drawing.RoleCGDonor, drawing.RoleWarning, drawing.RoleZone, drawing.RoleBendDown:
		return "DASHED"
	}
	return "CONTINUOUS"
}

func (p *painter) header(bounds r2.Rect) {
	o := p.out
	if bounds.IsEmpty() {
		bounds = r2.RectFromPoints(r2.Point{}, r2.Point{X: 1, Y: 1})
	}
	o.section("HEADER")
	o.pair(9, "$ACADVER")
	o.pair(1, "AC1009")
	o.pair(9, "$DWGCODEPAGE")
	o.pair(3, "ANSI_1252")
	o.pair(9, "$EXTMIN")
	o.point(10, bounds.Lo())
	o.pair(9, "$EXTMAX")
	o.point(10, bounds.Hi())
	o.pair(0, "ENDSEC")
}

func (p *painter) tables(layers []layer) {
	o := p.out
	o.section("TABLES")
	p.lineTypes()
	o.pair(0, "TABLE")
	o.pair(2, "LAYER")
	o.count(70, len(layers))
	for _, y := range layers {
		o.pair(0, "LAYER")
		o.pair(2, y.name)
		o.count(70, 0)
		o.count(62, y.colour)
		o.pair(6, y.lineType)
	}
	o.pair(0, "ENDTAB")
	p.textStyle()
	o.pair(0, "ENDSEC")
}

// lineTypes writes the dashes, in millimetres of the view for the plotting scale.
func (p *painter) lineTypes() {
	types := []struct {
		name, looks string
		dashes      []float64 // points on paper; negative: a gap
	}{
		{"CONTINUOUS", "Solid", nil},
		{"CHAIN", "__ . __ . __", []float64{12, -2.5, 2, -2.5}},
		{"DASHED", "__ __ __", []float64{5, -3}},
	}
	o := p.out
	o.pair(0, "TABLE")
	o.pair(2, "LTYPE")
	o.count(70, len(types))
	for _, t := range types {
		o.pair(0, "LTYPE")
		o.pair(2, t.name)
		o.count(70, 0)
		o.pair(3, t.looks)
		o.count(72, 'A')
		o.count(73, len(t.dashes))
		p.dashes(t.dashes)
	}
	o.pair(0, "ENDTAB")
}

func (p *painter) dashes(pts []float64) {
	whole := 0.0
	for _, d := range pts {
		whole += max(d, -d)
	}
	p.out.number(40, drawing.PaperMM(whole, p.scale))
	for _, d := range pts {
		p.out.number(49, drawing.PaperMM(d, p.scale))
	}
}

func (p *painter) textStyle() {
	o := p.out
	o.pair(0, "TABLE")
	o.pair(2, "STYLE")
	o.count(70, 1)
	o.pair(0, "STYLE")
	o.pair(2, "STANDARD")
	o.count(70, 0)
	o.number(40, 0)
	o.number(41, 1)
	o.number(50, 0)
	o.count(71, 0)
	o.number(42, 2.5)
	o.pair(3, "txt")
	o.pair(4, "")
	o.pair(0, "ENDTAB")
}
