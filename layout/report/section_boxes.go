package report

import (
	"fmt"
	"strings"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/layout/report/page"
)

// boxes sets a list of the boxes and, for each, a dimensioned drawing and the tables that go with it.
func (b *book) boxes() {
	b.boxList()
	for _, box := range b.e.Scene.Boxes {
		b.box(box)
	}
}

// boxList sets all boxes with their sizes and masses.
func (b *book) boxList() {
	mm := ", " + b.unit("mm")
	t := page.Table{Columns: []page.Column{{Head: "box"}, {Head: "name"}, {Head: "bay"}, {Head: "modules", Right: true}, {Head: "pieces of gear", Right: true}, {Head: "length" + mm, Right: true}, {Head: "width" + mm, Right: true}, {Head: "height" + mm, Right: true}, {Head: "with contents, " + b.unit("kg"), Right: true}}}
	for _, box := range b.e.Scene.Boxes {
		lo, hi := box.Outer.Bounds()
		size := hi.Sub(lo)
		row := page.Row(box.Box.ID, box.Box.Name, or(box.Box.Bay, "none"), fmt.Sprint(len(box.Modules)), fmt.Sprint(len(box.Gear)), b.place0(size.X), b.place0(size.Y), b.place0(size.Z), b.boxKg(box.Box.ID))
		row[0].Link = b.to("boxes", box.Box.ID)
		t.Rows = append(t.Rows, row)
	}
	b.Table(t)
	b.Small("Lengths run along the vehicle, widths across it. Masses are with modules, gear, links and coolant in the box.")
}

func (b *book) boxKg(id string) string {
	for _, m := range b.e.Mass.Boxes {
		if m.ID == id {
			return fixed(b.value(m.Body.Kg.Value, "kg"), 1)
		}
	}
	return "not computed"
}

func (b *book) box(box *layout.BoxScene) {
	sheet := b.boxSheet(box)
	b.Best(sheet)
	b.Mark(boxTitle(box.Box), b.anchor("boxes/"+box.Box.ID), 2)
	b.Figure(sheet, page.Figure{})
	b.Upright()
	b.Heading(boxTitle(box.Box) + ": what is in it")
	b.Facts(b.boxFacts(box), 2)
	b.boxModules(box)
	b.boxGear(box)
	b.boxFixings(box)
	b.boxInsulation(box)
	b.boxFindings(box)
}

func boxTitle(b *layout.Box) string {
	if b.Name == "" || b.Name == b.ID {
		return "Box " + b.ID
	}
	return b.Name + " (" + b.ID + ")"
}

func (b *book) boxFacts(box *layout.BoxScene) [][2]string {
	x := box.Box
	lo, hi := box.Outer.Bounds()
	size := hi.Sub(lo)
	out := [][2]string{
		{"Bay", or(x.Bay, "none")},
		{"Outside, along x / y / z", b.place(size.X) + " / " + b.place(size.Y) + " / " + b.place(size.Z) + " " + b.unit("mm")},
		{"Origin in the vehicle", b.places(x.At[0], x.At[1], x.At[2]) + fmt.Sprintf(", turned %g°", x.TurnDeg)},
		{"Sheet", or(x.Shell.Material, "steel") + ", wall " + b.sheet(x.Shell.Wall()) + ", floor " + b.sheet(x.Shell.Floor()) + ", lid " + b.sheet(x.Shell.Lid())},
		{"Liner", b.linerWords(x.Shell)},
		{"Edges", or(x.Shell.Join, "fold") + ", inner bend radius " + b.text(x.Shell.Bend(), "mm")},
		{"Modules", fmt.Sprint(len(box.Modules))},
		{"Mass with contents", b.boxMass(x.ID)},
		{"String runs through it", b.passWords(x.ID)},
		{"Touch protection needed", b.touchWords(x.ID)},
	}
	return out
}

func (b *book) places(x, y, z float64) string {
	return b.place(x) + ", " + b.place(y) + ", " + b.place(z) + " " + b.unit("mm")
}

// sheet is a sheet's thickness.
func (b *book) sheet(mm float64) string {
	if b.imperial {
		return fixed(mm/25.4, 3) + " in"
	}
	return trim(mm) + " mm"
}

func (b *book) linerWords(s layout.Shell) string {
	if s.LinerMM <= 0 {
		return "none"
	}
	return "laminate, " + b.sheet(s.LinerMM)
}

func (b *book) boxMass(id string) string {
	for _, m := range b.e.Mass.Boxes {
		if m.ID == id {
			return b.text(m.Body.Kg.Value, "kg") + " ± " + b.num(m.Body.Kg.PlusMinus, "kg") + ", of which sheet " + b.text(m.SheetKg, "kg")
		}
	}
	return "not computed"
}

// passWords says where the strings run through a box, and between which potentials.
func (b *book) passWords(id string) string {
	var out []string
	for _, s := range b.e.Electric.Strings {
		for _, p := range s.Passes {
			if p.Box.Box.ID == id {
				out = append(out, fmt.Sprintf("%s, modules %d to %d, %.0f to %.0f V", s.ID, p.From+1, p.To, p.NegV, p.PosV))
			}
		}
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, "; ")
}

func (b *book) touchWords(id string) string {
	for _, t := range b.e.Electric.Touch {
		if t.Box.Box.ID == id {
			return t.Code + ", for " + or(t.Where, "outside the passenger and luggage space")
		}
	}
	return "not computed"
}

// stringPlace says where each module stands in the strings: "s1 no. 4, 88.2 to 117.6 V".
func stringPlaces(r *electric.Result) map[string]string {
	out := map[string]string{}
	for _, s := range r.Strings {
		for i, m := range s.Modules {
			out[m.ID] = fmt.Sprintf("%s no. %d, %.1f to %.1f V", s.ID, i+1, m.NegV, m.PosV)
		}
	}
	return out
}

func (b *book) boxModules(box *layout.BoxScene) {
	if len(box.Modules) == 0 {
		b.Para("No modules stand in this box.")
		return
	}
	b.Heading("Modules")
	at := stringPlaces(b.e.Electric)
	u := " " + b.unit("mm")
	t := page.Table{Columns: []page.Column{{Head: "slot"}, {Head: "module"}, {Head: "posture"}, {Head: "turn°", Right: true},
		{Head: "x" + u, Right: true}, {Head: "y" + u, Right: true}, {Head: "z" + u, Right: true}, {Head: "− faces"}, {Head: "+ faces"}, {Head: "in the string"}}}
	for _, m := range box.Modules {
		p := m.Placement
		t.Rows = append(t.Rows, page.Row(p.ID, p.Module, string(p.Posture), fmt.Sprint(p.Turn),
			b.place(p.At[0]), b.place(p.At[1]), b.place(p.At[2]), terminalFaces(box, m, "negative"), terminalFaces(box, m, "positive"), or(at[m.ID], "in no string")))
	}
	b.Table(t)
	b.Small("x, y, z: least corner of the module in the box's frame (x rearward, y to the right, z up where the box is not turned). Potentials are against pack negative with every cell at its highest voltage.")
}

// terminalFaces says which way a module's terminals of a polarity look, in the box's own frame.
func terminalFaces(box *layout.BoxScene, m *layout.Body, polarity string) string {
	var out []string
	for _, t := range m.Terminals {
		if t.Polarity == polarity {
			out = append(out, t.ID+" "+direction(box.Frame.DirectionFrom(t.Out)))
		}
	}
	return strings.Join(out, ", ")
}

func (b *book) boxGear(box *layout.BoxScene) {
	if len(box.Gear) == 0 {
		b.Para("No gear stands in this box.")
		return
	}
	b.Heading("Gear")
	u := " " + b.unit("mm")
	t := page.Table{Columns: []page.Column{{Head: "id"}, {Head: "gear"}, {Head: "kind"}, {Head: "serves"}, {Head: "x" + u, Right: true}, {Head: "y" + u, Right: true}, {Head: "z" + u, Right: true}, {Head: b.unit("kg"), Right: true}}}
	for _, g := range box.Gear {
		p := g.Placed
		t.Rows = append(t.Rows, page.Row(p.ID, g.Gear.Name, words(g.Gear.Kind), or(p.Role, "not stated"), b.place(p.At[0]), b.place(p.At[1]), b.place(p.At[2]), b.num(g.Gear.MassKg, "kg")))
	}
	b.Table(t)
}

func words(s string) string { return strings.ReplaceAll(s, "_", " ") }

func (b *book) boxFixings(box *layout.BoxScene) {
	x := box.Box
	u := " " + b.unit("mm")
	if len(x.Feet) == 0 {
		b.Para("No mounting feet are drawn for this box: what holds it is not shown.")
	} else {
		b.Heading("Feet")
		t := page.Table{Columns: []page.Column{{Head: "foot"}, {Head: "bolts"}, {Head: "bolts point"}, {Head: "x" + u, Right: true}, {Head: "y" + u, Right: true}, {Head: "z" + u, Right: true}}}
		for i := range x.Feet {
			f := &x.Feet[i]
			t.Rows = append(t.Rows, page.Row(f.ID, boltWords(f), or(f.Normal, "down"), b.place(f.At[0]), b.place(f.At[1]), b.place(f.At[2])))
		}
		b.Table(t)
	}
	if len(x.Openings) == 0 {
		b.Para("No openings are drawn for this box: connector, vent and drain are not shown.")
		return
	}
	b.Heading("Openings")
	t := page.Table{Columns: []page.Column{{Head: "opening"}, {Head: "for"}, {Head: "face"}, {Head: "size"}, {Head: "x" + u, Right: true}, {Head: "y" + u, Right: true}, {Head: "z" + u, Right: true}, {Head: "gear in it"}}}
	for _, o := range x.Openings {
		t.Rows = append(t.Rows, page.Row(o.ID, o.Kind, o.Face, b.openingSize(o), b.place(o.At[0]), b.place(o.At[1]), b.place(o.At[2]), or(o.Gear, "none")))
	}
	b.Table(t)
}

func boltWords(f *layout.Foot) string {
	return fmt.Sprintf("%d x %s %s", max(f.Bolts, 1), f.Bolt, f.Class)
}

func (b *book) openingSize(o layout.Opening) string {
	if o.DiameterMM > 0 {
		return "dia " + b.text(o.DiameterMM, "mm")
	}
	return b.num(o.WidthMM, "mm") + " x " + b.text(o.HeightMM, "mm")
}

// boxInsulation lists clearances and creepage distances: every pair that is too close, and the tightest of each
// kind.
func (b *book) boxInsulation(box *layout.BoxScene) {
	t := page.Table{Columns: []page.Column{{Head: "between"}, {Head: "and"}, {Head: "insulation"}, {Head: "working V", Right: true},
		{Head: "clearance needed", Right: true}, {Head: "creepage needed", Right: true}, {Head: "actual", Right: true}, {Head: "compares"}}}
	for i := range b.e.Electric.Insulation.Pairs {
		p := &b.e.Electric.Insulation.Pairs[i]
		if p.Box == nil || p.Box.Box.ID != box.Box.ID {
			continue
		}
		t.Rows = append(t.Rows, b.pairRow(p))
	}
	if len(t.Rows) == 0 {
		return
	}
	b.Heading("Clearance and creepage")
	b.Table(t)
	a := b.e.Electric.Insulation.Around
	b.Small(fmt.Sprintf("Distances in %s, for pollution degree %d, material group %s, overvoltage category %d, %g m of altitude (IEC 60664-1). The tightest pair of each kind in the box and every pair that is too close. "+
		"The way through air stands for both distances: a creepage path is never shorter.", b.unit("mm"), a.Pollution, a.Group, a.Category, a.AltitudeM))
}

func (b *book) pairRow(p *electric.Pair) []page.Cell {
	verdict := page.Cell{S: "enough"}
	if !p.Enough() {
		verdict = page.Cell{S: "TOO CLOSE", Bold: true, Tone: page.Bad}
	}
	volts := fixed(p.WorkingV, 0)
	if !p.Known {
		volts += " (whole pack)"
	}
	row := page.Row(p.A, p.B, p.Insulation, volts, b.num(p.Required.ClearanceMM, "mm"), b.num(p.Required.CreepageMM, "mm"), b.place(p.ActualMM))
	return append(row, verdict)
}

// boxFindings lists what fails or warns in a box.
func (b *book) boxFindings(box *layout.BoxScene) {
	var rows [][]page.Cell
	for i, f := range b.e.Findings {
		if (f.Severity == check.Fails || f.Severity == check.Warns) && concerns(f, box.Box.ID) {
			rows = append(rows, []page.Cell{severityCell(f), {S: findingNumber(i), Link: b.findingLink(i)}, {S: f.Text}})
		}
	}
	if len(rows) == 0 {
		return
	}
	b.Heading("Findings that fail or warn here")
	b.Table(page.Table{Columns: []page.Column{{Head: "verdict", MM: 15}, {Head: "no.", MM: 10}, {Head: "what does not hold"}}, Rows: rows})
}

func (b *book) findingLink(i int) string { return b.to("findings", findingNumber(i)) }

// concerns tells whether a finding is about a box: its subject is in it, or all that it refers to. What is about
// several boxes stands in the list of findings only.
func concerns(f check.Finding, box string) bool {
	in := func(ref string) bool { id, _, _ := strings.Cut(ref, "/"); return id == box }
	if in(f.Subject) {
		return true
	}
	for _, ref := range f.Refs {
		if !in(ref) {
			return false
		}
	}
	return len(f.Refs) > 0
}
