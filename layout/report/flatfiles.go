package report

import (
	"bytes"
	"strconv"
	"strings"
	"sync"

	"stowbay/layout/check"
	"stowbay/layout/report/dxf"
	"stowbay/layout/report/fabricate"
)

// flatFiles are the flat patterns and nested sheets of an arrangement as DXF at full size, and the tables that
// go with them.
func flatFiles(folder string, e *check.Evaluation) []file {
	once := sync.OnceValue(func() []fabricate.Box { return flattened(e) })
	var out []file
	for i, box := range once() {
		for k := range box.Blanks {
			b := &once()[i].Blanks[k]
			out = append(out, file{folder + "flat/" + safe(strings.ReplaceAll(b.ID, "/", "-")) + ".dxf", func() ([]byte, error) {
				var w bytes.Buffer
				err := dxf.Write(&w, fabricate.Pattern(b, false, nil), dxf.Sheet{Scale: 10})
				return w.Bytes(), err
			}})
		}
	}
	for _, n := range nested(e, once()) {
		for i := range n.Sheets {
			name := "sheet-" + n.Material + "-" + strings.ReplaceAll(num(n.ThicknessMM), ".", "_") + "-" + strconv.Itoa(i+1)
			out = append(out, file{folder + "flat/" + safe(name) + ".dxf", func() ([]byte, error) {
				var w bytes.Buffer
				err := dxf.Write(&w, fabricate.Layout(n, i), dxf.Sheet{Scale: 10})
				return w.Bytes(), err
			}})
		}
	}
	return append(out,
		file{folder + "tables/cut-list.csv", func() ([]byte, error) { return CSV(cutRows(once())) }},
		file{folder + "tables/blanks.csv", func() ([]byte, error) { return CSV(blankRows(once())) }},
		file{folder + "tables/holes.csv", func() ([]byte, error) { return CSV(holeRows(once())) }})
}

func cutRows(boxes []fabricate.Box) [][]string {
	out := [][]string{{"box", "panel", "kind", "part", "material", "thickness_mm", "length_mm", "width_mm", "area_mm2", "mass_kg"}}
	for _, x := range boxes {
		for _, p := range x.Panels {
			s := p.Outline.Bounds().Size()
			out = append(out, []string{x.Box.ID, p.ID, string(p.Kind), p.Part, p.Material, num(p.ThicknessMM), round3(max(s.X, s.Y)), round3(min(s.X, s.Y)), round3(p.AreaMM2), num(p.Kg)})
		}
	}
	return out
}

func blankRows(boxes []fabricate.Box) [][]string {
	out := [][]string{{"box", "blank", "panels", "pieces", "material", "thickness_mm", "length_mm", "width_mm", "bends", "bend_radius_mm", "k_factor", "area_each_mm2", "mass_each_kg"}}
	for _, x := range boxes {
		for i := range x.Blanks {
			b := &x.Blanks[i]
			s := b.Size()
			radius, k := "", ""
			if len(b.Bends) > 0 {
				radius, k = num(b.Bends[0].RadiusMM), round3(b.Bends[0].K)
			}
			out = append(out, []string{x.Box.ID, b.ID, joined(b.Panels), strconv.Itoa(b.Pieces), b.Material, num(b.ThicknessMM), round3(max(s.X, s.Y)), round3(min(s.X, s.Y)), strconv.Itoa(len(b.Bends)), radius, k, round3(b.AreaMM2), round3(b.Kg)})
		}
	}
	return out
}

func holeRows(boxes []fabricate.Box) [][]string {
	out := [][]string{{"box", "blank", "for", "diameter_mm", "width_mm", "height_mm", "x_on_blank_mm", "y_on_blank_mm", "turn_deg", "drilled"}}
	for _, x := range boxes {
		for i := range x.Blanks {
			for _, h := range x.Blanks[i].Holes {
				out = append(out, []string{x.Box.ID, x.Blanks[i].ID, h.For, num(h.DiameterMM), num(h.WidthMM), num(h.HeightMM), round3(h.At.X), round3(h.At.Y), round3(h.TurnDeg), strconv.FormatBool(h.Drilled)})
			}
		}
	}
	return out
}
