package view

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/ui/paint"
	"stowbay/vehicles"
)

// Keys of rows in the stores.
const (
	ModuleKey = "module:"
	GearKey   = "gear:"
)

// Stores sets the stores pane: the modules and gear that can be placed. filter keeps those whose name, id or kind
// holds the words typed. chosen is the key of the row to set off.
func (m *Model) Stores(width float64, fonts *paint.Fonts, filter, chosen string) *Page {
	s := &stores{writer: newWriter(width, fonts), m: m, words: strings.Fields(strings.ToLower(filter)), chosen: chosen}
	s.y = 8
	s.used = usedIn(m.scene)
	s.modules()
	s.gear()
	if len(s.page.Rows) == 0 {
		s.wrapped(s.pad, s.w-s.pad, RoleFaint, 12, "Nothing in the stores fits what you typed.", 0)
	}
	s.y += 8
	return s.done()
}

type stores struct {
	*writer
	m      *Model
	words  []string
	chosen string
	used   map[string]int
}

func usedIn(s *layout.Scene) map[string]int {
	out := map[string]int{}
	for _, b := range s.Boxes {
		for _, body := range b.Modules {
			out[ModuleKey+body.Module.ID]++
		}
		for _, g := range b.Gear {
			out[GearKey+g.Gear.ID]++
		}
	}
	for _, g := range s.Gear {
		out[GearKey+g.Gear.ID]++
	}
	return out
}

func (s *stores) modules() {
	headed := false
	for _, m := range s.m.Library().Modules() {
		if !holds(s.words, m.ID, m.Name, m.Cell.Chemistry, "module") {
			continue
		}
		if !headed {
			s.head("Modules")
			headed = true
		}
		s.entry(ModuleKey+m.ID, m.Name, s.size(m.LengthMM, m.WidthMM, m.HeightMM)+" · "+s.mass(m.MassKg),
			fmt.Sprintf("%s · %s · %s", m.Cell.Chemistry, s.m.Units().Text(m.NominalV(), "V"), s.m.Units().Text(m.EnergyKWh(), "kWh")),
			m.LengthMM, m.WidthMM, drawing.RoleModule)
	}
}

func (s *stores) gear() {
	kind := ""
	for _, k := range gearOrder {
		for _, g := range s.m.Library().AllGear() {
			if g.Kind != k || !holds(s.words, g.ID, g.Name, g.Kind, gearName(g.Kind), "gear") {
				continue
			}
			if kind != k {
				s.head(gearName(k))
				kind = k
			}
			s.entry(GearKey+g.ID, g.Name, s.size(g.LengthMM, g.WidthMM, g.HeightMM)+" · "+s.mass(g.MassKg),
				gearFacts(g), g.LengthMM, g.WidthMM, drawing.RoleGear)
		}
	}
}

var gearOrder = []string{"contactor", "precharge", "fuse", "service_disconnect", "connector", "junction", "monitoring_board", "monitoring_master",
	"current_sensor", "isolation_monitor", "inertia_switch", "inverter", "motor", "charger", "dc_dc", "heater", "pump", "radiator"}

// gearName is a kind of gear in words.
func gearName(kind string) string {
	if kind == "dc_dc" {
		return "DC-DC converter"
	}
	return firstUpper(strings.ReplaceAll(kind, "_", " "))
}

func gearFacts(g *vehicles.Gear) string {
	var out []string
	if g.VoltageMaxV > 0 {
		v := fmt.Sprintf("to %.0f V", g.VoltageMaxV)
		if g.VoltageMinV > 0 {
			v = fmt.Sprintf("%.0f to %.0f V", g.VoltageMinV, g.VoltageMaxV)
		}
		out = append(out, v)
	}
	if g.ContinuousA > 0 {
		out = append(out, fmt.Sprintf("%.0f A", g.ContinuousA))
	}
	if g.PowerKW > 0 {
		out = append(out, fmt.Sprintf("%.4g kW", g.PowerKW))
	}
	if g.Channels > 0 {
		out = append(out, fmt.Sprintf("%d cells", g.Channels))
	}
	return strings.Join(out, " · ")
}

func (s *stores) size(l, w, h float64) string {
	if s.m.Units() == Imperial {
		return fmt.Sprintf("%.1f × %.1f × %.1f in", l/mmPerInch, w/mmPerInch, h/mmPerInch)
	}
	return fmt.Sprintf("%.0f × %.0f × %.0f mm", l, w, h)
}

// mass writes a mass; one below 10 with two figures, for small gear weighs less than half a kilogram.
func (s *stores) mass(kg float64) string {
	if v, unit := s.m.Units().Show(kg, "kg"); v < 10 {
		return fmt.Sprintf("%.2g %s", v, unit)
	}
	return s.m.Units().Text(kg, "kg")
}

// entry sets one record with its footprint drawn to a common scale.
func (s *stores) entry(key, name, size, facts string, l, w float64, role drawing.Role) {
	top, at := s.y, len(s.page.Items)
	left := s.pad + 46
	s.y += 5
	lines := s.fonts.Wrap(name, 12.5, s.w-s.pad-left, true)
	for _, line := range lines {
		s.text(left, s.y+7, RoleName, 12.5, drawing.West, s.fonts.Cut(line, 12.5, s.w-s.pad-left, true))
		s.y += 15
	}
	s.text(left, s.y+7, RoleFaint, 11, drawing.West, s.fonts.Cut(size, 11, s.w-s.pad-left, false))
	s.y += 16
	if n := s.used[key]; n > 0 {
		facts = strings.TrimPrefix(fmt.Sprintf("%s · %d placed", facts, n), " · ")
	}
	if facts != "" {
		s.text(left, s.y+5, RoleFaint, 11, drawing.West, s.fonts.Cut(facts, 11, s.w-s.pad-left, false))
		s.y += 15
	}
	s.footprint(s.pad, top, l, w, role)
	s.y += 4
	if key == s.chosen {
		s.under(at, top, RoleChosen)
	}
	s.row(top, key, "Drag into a view, or click and then click the place")
}

// footprintScale is how many units of the screen a metre measures in the stores.
const footprintScale = 60

func (s *stores) footprint(x, top, l, w float64, role drawing.Role) {
	k := footprintScale / 1000.0
	if m := max(l, w) * k; m > 36 {
		k *= 36 / m
	}
	cx, cy := x+18, (top+s.y)/2
	hx, hy := max(l*k, 5)/2, max(w*k, 4)/2
	s.fill(cx-hx, cy-hy, cx+hx, cy+hy, role)
	s.add(drawing.Stroke{Of: tag(role), Closed: true, Pt: 1, Points: []r2.Point{spot(cx-hx, cy-hy), spot(cx+hx, cy-hy), spot(cx+hx, cy+hy), spot(cx-hx, cy+hy)}})
}
