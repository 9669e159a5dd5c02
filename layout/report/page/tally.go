package page

// Tally is a number with what it counts, in a frame.
type Tally struct {
	Number, Words string
	Link          string
	Tone          Tone
}

// Tallies sets frames side by side.
func (d *Doc) Tallies(ts []Tally) {
	const h, gap = 15.0, 3.0
	d.Need(h + 4)
	w := (d.Width() - gap*float64(len(ts)-1)) / float64(len(ts))
	for i, t := range ts {
		x := leftEdge + float64(i)*(w+gap)
		s := setter{d: d}
		s.ground(t.Tone, x, w, h)
		d.pdf.SetDrawColor(0, 0, 0)
		d.pdf.SetLineWidth(0.3)
		d.pdf.Rect(x, d.y, w, h, "D")
		d.font("B", 17)
		d.pdf.Text(x+3, d.y+8.4, t.Number)
		d.font("", 7.5)
		d.pdf.Text(x+3, d.y+12.8, d.cut(t.Words, w-4))
		d.link(x, d.y, w, h, t.Link)
	}
	d.y += h + 4
}

// Facts sets pairs of a name and a value in columns.
func (d *Doc) Facts(pairs [][2]string, columns int) {
	rows := (len(pairs) + columns - 1) / columns
	t := Table{Pt: 8, Columns: make([]Column, 0, 2*columns)}
	d.begin()
	w := d.Width() / float64(columns)
	for range columns {
		t.Columns = append(t.Columns, Column{MM: 0.4 * w}, Column{MM: 0.6 * w})
	}
	for r := range rows {
		var cells []Cell
		for c := range columns {
			if i := c*rows + r; i < len(pairs) {
				cells = append(cells, Cell{S: pairs[i][0]}, Cell{S: pairs[i][1], Bold: true})
			}
		}
		t.Rows = append(t.Rows, cells)
	}
	s := setter{d: d, t: t, bare: true}
	for _, c := range t.Columns {
		s.w = append(s.w, c.MM)
	}
	for i, r := range t.Rows {
		s.row(r, i)
	}
	d.rule(0.15)
	d.y += 3
}
