package view

import (
	"fmt"

	"stowbay/layout/drawing"
	"stowbay/ui/paint"
)

// CommandLine is a command as it is listed.
type CommandLine struct {
	Menu, Name, Help, Keys string
	Off                    bool // cannot be done now
}

// Commands lists commands with their keys; at is the index of the one set off. A row's key is its index.
func Commands(width float64, fonts *paint.Fonts, lines []CommandLine, at int) *Page {
	w := newWriter(width, fonts)
	w.y = 4
	for i, c := range lines {
		top, begin := w.y, len(w.page.Items)
		role := RoleName
		if c.Off {
			role = RoleFaint
		}
		w.y += 4
		w.text(w.pad, w.y+8, role, 12.5, drawing.West, c.Name)
		w.text(w.w-w.pad, w.y+8, RoleFaint, 11.5, drawing.East, c.Keys)
		w.y += 18
		help := c.Menu
		if c.Help != "" {
			help += ": " + c.Help
		}
		w.text(w.pad, w.y+6, RoleFaint, 11, drawing.West, fonts.Cut(help, 11, w.w-2*w.pad, false))
		w.y += 17
		if i == at {
			w.under(begin, top, RoleChosen)
		}
		w.row(top, fmt.Sprint(i), c.Help)
	}
	if len(lines) == 0 {
		w.wrapped(w.pad, w.w-w.pad, RoleFaint, 12, "No command is called that.", 0)
	}
	return w.done()
}
