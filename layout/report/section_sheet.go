package report

import (
	"cmp"
	"fmt"
	"slices"

	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/layout/report/fabricate"
	"stowbay/layout/report/page"
)

// flattened works out what is cut for the boxes of an arrangement.
func flattened(e *check.Evaluation) []fabricate.Box {
	var out []fabricate.Box
	for _, m := range e.Mass.Boxes {
		if b := e.Scene.Box(m.ID); b != nil {
			out = append(out, fabricate.Flatten(b.Box, m.Panels, e.Plan.Settings.Sheet))
		}
	}
	return out
}

// nested lays all blanks of an arrangement on sheets.
func nested(e *check.Evaluation, boxes []fabricate.Box) []fabricate.Nest {
	var all []*fabricate.Blank
	for i := range boxes {
		for k := range boxes[i].Blanks {
			all = append(all, &boxes[i].Blanks[k])
		}
	}
	l, w := fabricate.SheetSize(e.Plan.Settings.Sheet)
	return fabricate.NestAll(all, l, w)
}

// sheetMetal sets what the workshop cuts: cut lists, blanks, drill list, flat patterns and sheets.
func (b *book) sheetMetal() {
	boxes := flattened(b.e)
	b.Para("The cut list has the panels that the mass ledger weighs: the finished box. A blank is the flat piece cut from sheet, with bends; its length has the bend allowance in it, so that its mass differs a little from that of its panels.")
	b.Small("Bend allowance by the K-factor: angle x (r + K s); K from the plan's settings, or from radius and thickness as DIN 6935 has it (from memory, not checked against the text). " +
		"Lid bolts M6 no more than 100 mm apart and clearance holes of ISO 273 medium fit (from memory; the pitch is common practice). Bend a test piece before cutting a box.")
	for i := range boxes {
		b.cutList(&boxes[i])
	}
	for i := range boxes {
		b.blanks(&boxes[i])
		b.drills(&boxes[i])
	}
	b.sheets(nested(b.e, boxes))
	for i := range boxes {
		b.patterns(&boxes[i])
	}
}

func (b *book) cutList(x *fabricate.Box) {
	b.Section(boxTitle(x.Box)+": cut list", "", 2, 30)
	t := page.Table{Pt: 6.8, Total: true, Columns: []page.Column{{Head: "panel"}, {Head: "kind"}, {Head: "material"}, {Head: "thickness, " + b.unit("mm"), Right: true}, {Head: "length", Right: true}, {Head: "width", Right: true}, {Head: b.areaUnit(), Right: true}, {Head: b.unit("kg"), Right: true}}}
	area := 0.0
	for _, p := range x.Panels {
		size := p.Outline.Bounds().Size()
		area += p.AreaMM2
		t.Rows = append(t.Rows, page.Row(p.ID, kindWords(string(p.Kind), p.Part), p.Material, b.thickness(p.ThicknessMM), b.place(max(size.X, size.Y)), b.place(min(size.X, size.Y)), b.area(p.AreaMM2), fixed(b.value(p.Kg, "kg"), 3)))
	}
	t.Rows = append(t.Rows, page.Row("all", "", "", "", "", "", b.area(area), fixed(b.value(x.Kg(), "kg"), 3)))
	b.Table(t)
}

func kindWords(kind, part string) string {
	if part != "" {
		return kind + " " + part
	}
	return kind
}

func (b *book) thickness(mm float64) string {
	if b.imperial {
		return fixed(mm/25.4, 3)
	}
	return trim(mm)
}

func (b *book) areaUnit() string {
	if b.imperial {
		return "area, sq ft"
	}
	return "area, m²"
}

func (b *book) area(mm2 float64) string {
	if b.imperial {
		return fixed(mm2/(304.8*304.8), 3)
	}
	return fixed(mm2/1e6, 4)
}

func (b *book) blanks(x *fabricate.Box) {
	b.Heading(boxTitle(x.Box) + ": blanks")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "blank"}, {Head: "panels in it"}, {Head: "pieces", Right: true}, {Head: "material"}, {Head: "thickness, " + b.unit("mm"), Right: true}, {Head: "length", Right: true}, {Head: "width", Right: true}, {Head: "bends", Right: true}, {Head: "K", Right: true}, {Head: "cut-outs", Right: true}, {Head: b.areaUnit() + " each", Right: true}, {Head: b.unit("kg") + " each", Right: true}}}
	for i := range x.Blanks {
		k := &x.Blanks[i]
		size := k.Size()
		factor := ""
		if len(k.Bends) > 0 {
			factor = fixed(k.Bends[0].K, 3)
		}
		t.Rows = append(t.Rows, page.Row(k.ID, joined(k.Panels), fmt.Sprint(k.Pieces), k.Material, b.thickness(k.ThicknessMM), b.place(max(size.X, size.Y)), b.place(min(size.X, size.Y)), fmt.Sprint(len(k.Bends)), factor, fmt.Sprint(cutOuts(k)), b.area(k.AreaMM2), fixed(b.value(k.Kg, "kg"), 3)))
	}
	b.Table(t)
	if len(x.Remarks) > 0 {
		b.Bullets(x.Remarks)
	}
}

func joined(ids []string) string {
	s := ""
	for i, id := range ids {
		if i > 0 {
			s += ", "
		}
		s += id
	}
	return s
}

func cutOuts(k *fabricate.Blank) int {
	n := 0
	for _, h := range k.Holes {
		if !h.Drilled {
			n++
		}
	}
	return n
}

// drill is a size of hole with how many there are.
type drill struct {
	size, what string
	mm         float64
	n          int
}

// drillsOf are a box's holes by size, the smallest first.
func (b *book) drillsOf(x *fabricate.Box) []drill {
	var out []drill
	for i := range x.Blanks {
		for _, h := range x.Blanks[i].Holes {
			size := "dia " + b.text(h.DiameterMM, "mm")
			if h.DiameterMM == 0 {
				size = b.num(h.WidthMM, "mm") + " x " + b.text(h.HeightMM, "mm")
			}
			k := slices.IndexFunc(out, func(d drill) bool { return d.size == size && d.what == h.For })
			if k < 0 {
				out = append(out, drill{size: size, what: h.For, mm: max(h.DiameterMM, h.WidthMM)})
				k = len(out) - 1
			}
			out[k].n += x.Blanks[i].Pieces
		}
	}
	slices.SortStableFunc(out, func(a, c drill) int { return cmp.Compare(a.mm, c.mm) })
	return out
}

func (b *book) drills(x *fabricate.Box) {
	ds := b.drillsOf(x)
	if len(ds) == 0 {
		b.Para("No holes are drawn for this box.")
		return
	}
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "hole"}, {Head: "for"}, {Head: "pieces", Right: true}}}
	for _, d := range ds {
		t.Rows = append(t.Rows, page.Row(d.size, d.what, fmt.Sprint(d.n)))
	}
	b.Heading(boxTitle(x.Box) + ": holes by size")
	b.Table(t)
}

// sheets sets how the blanks lie on the sheets bought.
func (b *book) sheets(ns []fabricate.Nest) {
	b.Section("Sheets to buy", "", 2, 40)
	t := page.Table{Columns: []page.Column{{Head: "material"}, {Head: "thickness, " + b.unit("mm"), Right: true}, {Head: "sheet"}, {Head: "how many"}, {Head: "used, %", Right: true}, {Head: "goes onto no sheet"}}}
	for _, n := range ns {
		var large []string
		for _, k := range n.Large {
			large = append(large, k.ID)
		}
		t.Rows = append(t.Rows, page.Row(n.Material, b.thickness(n.ThicknessMM), b.num(n.Length, "mm")+" x "+b.text(n.Wide, "mm"), n.Words(), fixed(n.UsedPct, 0), or(joined(large), "none")))
	}
	b.Table(t)
	b.Small("Laid by a rule of thumb as the rectangles round the blanks, 6 mm apart and 10 mm from the edges (common practice). The bound is by area alone.")
	for _, n := range ns {
		for i := range n.Sheets {
			b.Figure(fabricate.Layout(n, i), page.Figure{MM: 92})
		}
	}
}

// patterns sets the flat patterns that have bends or holes; plain strips are in the tables and the files.
func (b *book) patterns(x *fabricate.Box) {
	first := true
	for i := range x.Blanks {
		k := &x.Blanks[i]
		if len(k.Bends) == 0 && cutOuts(k) == 0 && k.Kind != "lid" || k.Kind == "foot" || k.Kind == "liner" {
			continue
		}
		if first {
			b.Section(boxTitle(x.Box)+": flat patterns", "", 2, 120)
			first = false
		}
		l := fabricate.Pattern(k, true, b.place)
		b.Figure(l, page.Figure{MM: b.patternHeight(l), Caption: fmt.Sprintf("%d off, %s %s %s, bent up %s, down %s", k.Pieces, k.Material, b.thickness(k.ThicknessMM), b.unit("mm"), b.bendWords(k, true), b.bendWords(k, false))})
	}
}

func (b *book) bendWords(k *fabricate.Blank, up bool) string {
	n := 0
	for _, l := range k.Bends {
		if l.Up == up {
			n++
		}
	}
	return fmt.Sprint(n)
}

// patternHeight is the height on the page of a pattern at the scale that its width asks for, within reason.
func (b *book) patternHeight(l *drawing.List) float64 {
	size := l.Bounds.Size()
	n := drawing.StandardScale(l.Bounds, b.Width(), 170)
	return min(170, size.Y/n+2)
}
