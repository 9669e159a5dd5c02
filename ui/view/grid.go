package view

import "stowbay/layout/drawing"

// gridColumn is a column of a table on a page.
type gridColumn struct {
	head  string
	share float64 // of the page's width
	right bool    // figures stand at the right edge
}

// gridRow is the height of a table's row.
const gridRow = 20

// gridHeads sets the heads of a table's columns with a rule under them.
func (w *writer) gridHeads(cols []gridColumn) {
	w.gridCells(cols, func(i int) (string, drawing.Role) { return cols[i].head, RoleHead }, 11)
	w.fill(w.pad, w.y-2, w.w-w.pad, w.y-1, RoleRule)
	w.y += 2
}

// grid sets a table's row; a role of "" is that of plain text.
func (w *writer) grid(cols []gridColumn, role drawing.Role, cells ...string) {
	if role == "" {
		role = RoleBody
	}
	w.gridCells(cols, func(i int) (string, drawing.Role) { return cells[i], role }, 12)
}

// gridCells sets a row of cells, each cut to its column.
func (w *writer) gridCells(cols []gridColumn, cell func(i int) (string, drawing.Role), size float64) {
	x, all := w.pad, 0.0
	for _, c := range cols {
		all += c.share
	}
	for i, c := range cols {
		wide := (w.w - 2*w.pad) * c.share / all
		s, role := cell(i)
		s = w.fonts.Cut(s, size, wide-10, w.bold(role))
		if c.right {
			w.text(x+wide-10, w.y+gridRow/2, role, size, drawing.East, s)
		} else {
			w.text(x, w.y+gridRow/2, role, size, drawing.West, s)
		}
		x += wide
	}
	w.y += gridRow
}
