package ui

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/ui/view"
)

// command is one thing that the user can have done. Menus, keys, context menus, tools and the sheet of shortcuts
// all come from the one table of commands.
type command struct {
	id, menu, name string
	help           string
	short          fyne.Shortcut // with a modifier
	key            fyne.KeyName  // without one, while no field has the keyboard
	r              rune          // likewise
	do             func()
	on             func() bool // ticked in the menu; nil: never
	can            func() bool // nil: always
	line           bool        // a line above it in the menu
	field          bool        // belongs to a text field while one has the keyboard
}

func ctrl(k fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierControl}
}

func ctrlShift(k fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierControl | fyne.KeyModifierShift}
}

// menuNames are the menus in their order.
var menuNames = []string{"Plan", "Edit", "Place", "Arrange", "Build", "View", "Help"}

func (w *Window) commandTable() []command {
	return slices.Concat(w.planCommands(), w.editCommands(), w.placeCommands(), w.arrangeCommands(), w.buildCommands(), w.viewCommands(), w.helpCommands())
}

func (w *Window) planCommands() []command {
	return []command{
		{id: "new", menu: "Plan", name: "New from a donor …", help: "Start a plan for a donor vehicle", short: ctrl(fyne.KeyN), do: w.askNew},
		{id: "open", menu: "Plan", name: "Open …", help: "Open a plan file", short: ctrl(fyne.KeyO), do: w.askOpen},
		{id: "demo", menu: "Plan", name: "Open the demonstration", help: "An invented van with two arrangements, to look at and to try things on", do: w.openDemo},
		{id: "bring", menu: "Plan", name: "Bring in a file …", help: "A record of a donor, module or gear, a picture, a drawing or a table: what dropping it on the window does", short: ctrlShift(fyne.KeyO), do: w.askBringIn},
		{id: "save", menu: "Plan", name: "Save", help: "Write the plan to its file", short: ctrl(fyne.KeyS), do: w.save},
		{id: "saveas", menu: "Plan", name: "Save as …", help: "Write the plan to another file", short: ctrlShift(fyne.KeyS), do: w.askSaveAs},
		{id: "report", menu: "Plan", name: "Report …", help: "Write the fit report and its drawings", short: ctrl(fyne.KeyP), line: true, do: w.askReport},
		{id: "print", menu: "Plan", name: "Print …", help: "Print the fit report", short: ctrlShift(fyne.KeyP), do: w.askPrint},
		{id: "compare", menu: "Plan", name: "Compare arrangements", help: "The arrangements side by side", r: 'c', do: w.showCompare},
		{id: "search", menu: "Plan", name: "Search for the best …", help: "All arrangements that no other one beats, over the boxes and bays of this one", short: ctrl(fyne.KeyF), do: w.askSearch},
		{id: "quit", menu: "Plan", name: "Quit", help: "Close the window", short: ctrl(fyne.KeyQ), line: true, do: func() { w.askBeforeLosing(w.quit) }},
	}
}

func (w *Window) picked() bool { return w.model.Selection.Len() > 0 }

func (w *Window) editCommands() []command {
	return []command{
		{id: "undo", menu: "Edit", name: "Undo", help: "Take back the last step", short: &fyne.ShortcutUndo{}, field: true, do: func() { w.say(w.model.Undo()) }, can: func() bool { return w.model.Document().CanUndo() }},
		{id: "redo", menu: "Edit", name: "Redo", help: "Make the step again", short: &fyne.ShortcutRedo{}, field: true, do: func() { w.say(w.model.Redo()) }, can: func() bool { return w.model.Document().CanRedo() }},
		{id: "cut", menu: "Edit", name: "Cut", help: "Copy what is picked and take it out", short: &fyne.ShortcutCut{}, field: true, line: true, do: w.cut, can: w.picked},
		{id: "copy", menu: "Edit", name: "Copy", help: "Copy what is picked, for this arrangement, another one or another plan", short: &fyne.ShortcutCopy{}, field: true, do: func() { w.copy() }, can: w.picked},
		{id: "paste", menu: "Edit", name: "Paste", help: "Put in what was copied; modules go into the box picked", short: &fyne.ShortcutPaste{}, field: true, do: w.paste},
		{id: "double", menu: "Edit", name: "Repeat beside", help: "Put in another of what is picked", short: ctrl(fyne.KeyD), do: w.repeat, can: w.picked},
		{id: "delete", menu: "Edit", name: "Take out", help: "Take out what is picked", key: fyne.KeyDelete, do: w.remove, can: w.picked},
		{id: "all", menu: "Edit", name: "Pick all modules", help: "Pick every module", short: &fyne.ShortcutSelectAll{}, field: true, line: true, do: w.pickAll},
		{id: "next", menu: "Edit", name: "Pick the next", help: "Pick the next module, gear or box", r: ']', do: func() { w.step(1) }},
		{id: "before", menu: "Edit", name: "Pick the one before", help: "Pick the module, gear or box before", r: '[', do: func() { w.step(-1) }},
		{id: "box", menu: "Edit", name: "Pick its box", help: "Pick the box that holds what is picked", r: 'u', do: w.pickBox, can: w.picked},
		{id: "lock", menu: "Edit", name: "Lock or free", help: "Keep what is picked from being moved or packed", r: 'l', line: true, do: w.lock, can: w.picked},
		{id: "snap", menu: "Edit", name: "Snap", help: "Snap to gaps, walls, edges and the grid", r: 's', on: func() bool { return w.model.Display.Snap },
			do: func() { w.model.Display.Snap = !w.model.Display.Snap; w.menuTicks(); w.rail.repaint() }},
		{id: "settings", menu: "Edit", name: "Plan settings …", help: "Units, inverter, charger, limits and load cases", line: true, do: w.editSettings},
		{id: "heading", menu: "Edit", name: "Title block …", help: "Name, revision, author and notes of the plan", do: w.editHeading},
		{id: "donor", menu: "Edit", name: "Donor …", help: "The survey of the donor vehicle", do: func() { w.editDonor(w.model.Plan().Donor) }},
		{id: "newmodule", menu: "Edit", name: "New module …", help: "A module of your own, kept in the plan", line: true, do: w.newModule},
		{id: "newgear", menu: "Edit", name: "New gear …", help: "A piece of gear of your own, kept in the plan", do: w.newGear},
		{id: "newdonor", menu: "Edit", name: "New donor …", help: "A donor of your own, kept in the plan", do: w.newDonor},
	}
}

func (w *Window) tool(f func() view.Tool) func() {
	return func() { w.model.SetTool(f()) }
}

func (w *Window) placeCommands() []command {
	return []command{
		{id: "pick", menu: "Place", name: "Pick and move", help: "Pick things and move them", r: 'v', do: w.tool(func() view.Tool { return view.NewSelect(w.model) })},
		{id: "bay", menu: "Place", name: "Draw a bay", help: "Draw where a box may go, corner by corner", r: 'b', do: w.tool(w.bayTool)},
		{id: "keepout", menu: "Place", name: "Draw a keep-out", help: "Draw where nothing may stand", r: 'k', do: w.tool(w.keepOutTool)},
		{id: "drawbox", menu: "Place", name: "Draw a box", help: "Draw a battery box", r: 'x', do: w.tool(w.boxTool)},
		{id: "step", menu: "Place", name: "Draw a step of what is picked", help: "Draw one more level of the bay or box picked, with its own floor and ceiling", do: w.drawStep},
		{id: "boxbay", menu: "Place", name: "Box for the bay picked", help: "Fill the bay picked with a box at its clearance", line: true, do: w.boxForBay},
		{id: "pack", menu: "Place", name: "Pack …", help: "Pack the most modules into the box or bay picked, or into all", r: 'p', do: w.askPack},
		{id: "measure", menu: "Place", name: "Measure", help: "Measure between two places", r: 'm', line: true, do: w.tool(func() view.Tool { return view.NewMeasure(w.model) })},
		{id: "underlay", menu: "Place", name: "Lay a picture under a view …", help: "A photograph or drawing to draw over", r: 'i', do: w.askUnderlay},
		{id: "pictures", menu: "Place", name: "Pictures under the views …", help: "Fade, hide, turn or take out pictures", do: w.editPictures},
		{id: "scale", menu: "Place", name: "Set the picture's scale and place", help: "Click two places on a picture that you know, or the ends of a distance that you know", do: w.calibrate},
		{id: "movepic", menu: "Place", name: "Move the picture", help: "Click a place on a picture and where in the vehicle it belongs", do: w.movePicture},
		{id: "import", menu: "Place", name: "Import an outline …", help: "A closed outline from a DXF or SVG file as a bay", do: w.askImport},
	}
}

func (w *Window) arrangeCommands() []command {
	line := func(l layout.Line) func() { return func() { w.align(l) } }
	return []command{
		{id: "turn", menu: "Arrange", name: "Turn a quarter", help: "Turn what is picked by 90°", r: 'r', do: func() { w.turnPicked(1) }, can: w.picked},
		{id: "turnback", menu: "Arrange", name: "Turn a quarter back", help: "Turn what is picked by −90°", r: 'R', do: func() { w.turnPicked(-1) }, can: w.picked},
		{id: "posture", menu: "Arrange", name: "Next posture", help: "Stand modules flat, on their side or on their end, as their maker allows", r: 't', do: w.posture, can: w.picked},
		{id: "up", menu: "Arrange", name: "Raise", help: "Move what is picked up by 10 mm, in inches by ½ in", key: fyne.KeyPageUp, do: func() { _ = w.model.Nudge(r3.Vector{Z: w.bigStep()}) }, can: w.picked},
		{id: "down", menu: "Arrange", name: "Lower", help: "Move what is picked down by 10 mm, in inches by ½ in", key: fyne.KeyPageDown, do: func() { _ = w.model.Nudge(r3.Vector{Z: -w.bigStep()}) }, can: w.picked},
		{id: "alignfront", menu: "Arrange", name: "Line up front sides", help: "Front sides on one line", line: true, do: line(layout.FrontLine), can: w.picked},
		{id: "alignrear", menu: "Arrange", name: "Line up rear sides", help: "Rear sides on one line", do: line(layout.RearLine), can: w.picked},
		{id: "alignleft", menu: "Arrange", name: "Line up left sides", help: "Left sides on one line", do: line(layout.LeftLine), can: w.picked},
		{id: "alignright", menu: "Arrange", name: "Line up right sides", help: "Right sides on one line", do: line(layout.RightLine), can: w.picked},
		{id: "alignx", menu: "Arrange", name: "Line up middles across", help: "Middles at one distance behind the front axle", do: line(layout.LengthLine), can: w.picked},
		{id: "aligny", menu: "Arrange", name: "Line up middles along", help: "Middles at one distance from the centre plane", do: line(layout.WidthLine), can: w.picked},
		{id: "centre", menu: "Arrange", name: "Put on the centre plane", help: "Middles on the vehicle's centre plane", do: line(layout.CentreLine), can: w.picked},
		{id: "spreadx", menu: "Arrange", name: "Space evenly along", help: "Equal gaps from front to rear", do: func() { w.spread(layout.AlongX) }, can: w.picked},
		{id: "spready", menu: "Arrange", name: "Space evenly across", help: "Equal gaps from side to side", do: func() { w.spread(layout.AlongY) }, can: w.picked},
		{id: "array", menu: "Arrange", name: "Rows and columns …", help: "Repeat what is picked in rows and columns; the views show what fits while you type", line: true, do: func() { w.left.array.begin() }, can: w.picked},
		{id: "mirror", menu: "Arrange", name: "Mirror the box to the other side", help: "A box that follows this one as its mirror image", do: w.mirror, can: w.picked},
		{id: "unmirror", menu: "Arrange", name: "End the mirror link", help: "The box no longer follows its mirror image", do: w.unmirror, can: w.picked},
		{id: "gallery", menu: "Arrange", name: "Arrangements side by side …", help: "The plan views of all arrangements with their figures and notes", r: 'a', line: true, do: w.showGallery},
		{id: "nextarr", menu: "Arrange", name: "Next arrangement", help: "Show the next arrangement", short: ctrl(fyne.KeyPageDown), do: func() { w.nextArrangement(1) }},
		{id: "prevarr", menu: "Arrange", name: "Arrangement before", help: "Show the arrangement before", short: ctrl(fyne.KeyPageUp), do: func() { w.nextArrangement(-1) }},
		{id: "duparr", menu: "Arrange", name: "Duplicate the arrangement", help: "Try another idea from this one", short: ctrlShift(fyne.KeyD), do: w.duplicate},
		{id: "renarr", menu: "Arrange", name: "Name and notes of the arrangement …", help: "Rename the arrangement, write notes about it", key: fyne.KeyF10, do: w.askRename},
		{id: "arrleft", menu: "Arrange", name: "Move the arrangement to the left", help: "Change the order of the tabs", do: func() { w.moveArrangement(-1) }},
		{id: "arrright", menu: "Arrange", name: "Move the arrangement to the right", help: "Change the order of the tabs", do: func() { w.moveArrangement(1) }},
		{id: "delarr", menu: "Arrange", name: "Take out the arrangement", help: "Take the arrangement out of the plan", do: w.removeArrangement},
		{id: "strings", menu: "Arrange", name: "Series and parallel …", help: "How many modules are in series, how many strings in parallel", do: w.askStrings},
	}
}

func (w *Window) buildCommands() []command {
	return []command{
		{id: "play", menu: "Build", name: "Step by step …", help: "The steps of assembly and service, what is bare in each and at what voltage", short: ctrl(fyne.KeyB), do: w.askSteps},
		{id: "record", menu: "Build", name: "Build record …", help: "Modules received and inspected, matched to slots, and the register of what sits where", short: ctrl(fyne.KeyR), do: func() { w.showRecord() }},
	}
}

func (w *Window) viewCommands() []command {
	one := func(i int) func() {
		return func() {
			if w.grid.one == i {
				i = -1
			}
			w.showViews(i)
		}
	}
	out := []command{
		{id: "fit", menu: "View", name: "Show all", help: "Show the whole vehicle", r: 'f', do: w.fitAll},
		{id: "fitpick", menu: "View", name: "Show what is picked", help: "Zoom to what is picked", r: 'g', do: w.showPicked, can: w.picked},
		{id: "zoomin", menu: "View", name: "Nearer", help: "Zoom in about the middle", r: '+', do: func() { w.under.zoomMiddle(zoomStep) }},
		{id: "zoomout", menu: "View", name: "Farther", help: "Zoom out about the middle", r: '-', do: func() { w.under.zoomMiddle(1 / zoomStep) }},
		{id: "four", menu: "View", name: "Four views", help: "All four views", r: '0', line: true, do: func() { w.showViews(-1) }, on: func() bool { return w.grid.one < 0 }},
		{id: "plan", menu: "View", name: "Plan alone", help: "The view from above alone", r: '1', do: one(planAt), on: func() bool { return w.grid.one == planAt }},
		{id: "side", menu: "View", name: "Side alone", help: "The view from the left alone", r: '2', do: one(sideAt), on: func() bool { return w.grid.one == sideAt }},
		{id: "rear", menu: "View", name: "Rear alone", help: "The view from behind alone", r: '3', do: one(rearAt), on: func() bool { return w.grid.one == rearAt }},
		{id: "solid", menu: "View", name: "From a corner alone", help: "The view that turns alone", r: '4', do: one(solidAt), on: func() bool { return w.grid.one == solidAt }},
		{id: "stores", menu: "View", name: "Stores", help: "Modules and gear to place", key: fyne.KeyF2, line: true, do: func() { w.showLeft(storesPane) }},
		{id: "details", menu: "View", name: "Details", help: "What is picked, in numbers", key: fyne.KeyF3, do: func() { w.showLeft(detailsPane) }},
		{id: "history", menu: "View", name: "History", help: "Everything done so far, to go back to", key: fyne.KeyF4, do: func() { w.showLeft(historyPane) }},
		{id: "guide", menu: "View", name: "Guide", help: "From donor to report in five steps", key: fyne.KeyF5, do: func() { w.showLeft(guidePane) }},
		{id: "gravest", menu: "View", name: "Go to the gravest finding", help: "Show the place of the first finding in the list", r: 'n', do: w.goToGravest},
		{id: "readings", menu: "View", name: "All readings …", help: "Every reading of the arrangement, found by its name", key: fyne.KeyF6, do: w.showReadings},
		{id: "mark", menu: "View", name: "Count changes from now", help: "Changes beside the readings count from how the arrangement stands now", do: func() { w.model.MarkStart() }},
		{id: "leftdock", menu: "View", name: "Hide or show the left panes", help: "More room for the views", key: fyne.KeyF7, do: func() { w.shell.leftOff = !w.shell.leftOff; w.win.Content().Refresh() }},
		{id: "rightdock", menu: "View", name: "Hide or show the readings", help: "More room for the views", key: fyne.KeyF8, do: func() { w.shell.rightOff = !w.shell.rightOff; w.win.Content().Refresh() }},
		{id: "dark", menu: "View", name: "Dark", help: "Dark or light colours", key: fyne.KeyF9, line: true, do: w.toggleDark, on: func() bool { return w.skin.dark }},
		{id: "units", menu: "View", name: "Inches and pounds", help: "Lengths in inches, masses in pounds, or in mm and kg", do: w.toggleUnits, on: func() bool { return w.model.Units() == view.Imperial }},
	}
	for i, l := range drawing.Layers() {
		out = append(out, command{id: "layer" + l.String(), menu: "View", name: "Show: " + strings.ToLower(l.String()[:1]) + l.String()[1:], line: i == 0,
			on: func() bool { return w.model.Display.Off&l == 0 }, do: func() { w.toggleLayer(l) }})
	}
	return out
}

func (w *Window) helpCommands() []command {
	return []command{
		{id: "help", menu: "Help", name: "Help", help: "Panes, mouse, numbers, the frame, words of the trade, rules, files", key: fyne.KeyF1, do: w.showHelp},
		{id: "find", menu: "Help", name: "Find a command …", help: "Everything that can be done, by a word of it", short: ctrl(fyne.KeyK), do: w.showFinder},
		{id: "keys", menu: "Help", name: "Sheet of shortcuts", help: "Every key, by menu", r: '?', do: w.showKeys},
		{id: "rules", menu: "Help", name: "Rules and their sources", help: "What every arrangement is checked by", do: func() { w.helpAt("Rules") }},
		{id: "five", menu: "Help", name: "From donor to report in five steps", help: "What is done and what comes next", do: w.showSteps},
		{id: "cautions", menu: "Help", name: "Cautions", help: "What the figures are worth, and who decides", line: true, do: w.showCautions},
	}
}

// run does a command unless a dialog is open or it cannot be done now. While a text field has the keyboard, what
// belongs to text fields goes to it.
func (w *Window) run(c *command) {
	if f, ok := w.win.Canvas().Focused().(fyne.Shortcutable); ok && c.field {
		f.TypedShortcut(w.forField(c.short))
		return
	}
	if w.blocked() {
		return
	}
	if w.idle() && !c.always() {
		w.model.Say("Begin or open a plan first.")
		return
	}
	if c.can == nil || c.can() {
		c.do()
	}
}

// always reports whether a command makes sense without a plan.
func (c *command) always() bool {
	return c.menu == "Help" || slices.Contains([]string{"new", "open", "demo", "bring", "quit", "dark"}, c.id)
}

// forField gives shortcuts that use the clipboard one to use.
func (w *Window) forField(s fyne.Shortcut) fyne.Shortcut {
	switch s.(type) {
	case *fyne.ShortcutCopy:
		return &fyne.ShortcutCopy{Clipboard: w.app.Clipboard()}
	case *fyne.ShortcutCut:
		return &fyne.ShortcutCut{Clipboard: w.app.Clipboard()}
	case *fyne.ShortcutPaste:
		return &fyne.ShortcutPaste{Clipboard: w.app.Clipboard()}
	}
	return s
}

// Do does the command with that id; for menus of its own and for tests.
func (w *Window) Do(id string) {
	for i := range w.commands {
		if w.commands[i].id == id {
			w.run(&w.commands[i])
		}
	}
}

func (w *Window) runKey(k fyne.KeyName) {
	for i := range w.commands {
		if w.commands[i].key == k {
			w.run(&w.commands[i])
			return
		}
	}
}

func (w *Window) runRune(r rune) {
	for i := range w.commands {
		if w.commands[i].r == r && r != 0 {
			w.run(&w.commands[i])
			return
		}
	}
}

// mainMenu builds the menus from the table.
func (w *Window) mainMenu() *fyne.MainMenu {
	var menus []*fyne.Menu
	for _, name := range menuNames {
		menus = append(menus, fyne.NewMenu(name, w.menuItems(name)...))
	}
	return fyne.NewMainMenu(menus...)
}

func (w *Window) menuItems(menu string) []*fyne.MenuItem {
	var out []*fyne.MenuItem
	var layers []*fyne.MenuItem
	for i := range w.commands {
		c := &w.commands[i]
		if c.menu != menu {
			continue
		}
		if strings.HasPrefix(c.id, "layer") {
			layers = append(layers, w.menuItem(c))
			continue
		}
		if c.line {
			out = append(out, fyne.NewMenuItemSeparator())
		}
		out = append(out, w.menuItem(c))
		if c.id == "open" {
			out = append(out, w.recentItem())
		}
	}
	if len(layers) > 0 {
		item := fyne.NewMenuItem("Layers", nil)
		item.ChildMenu = fyne.NewMenu("", layers...)
		out = append(out, fyne.NewMenuItemSeparator(), item)
	}
	return out
}

// menuItem is the item of a command, with its key in brackets.
func (w *Window) menuItem(c *command) *fyne.MenuItem {
	name := c.name
	if k := c.keyText(); k != "" {
		name += "   (" + k + ")"
	}
	item := fyne.NewMenuItem(name, func() { w.run(c) })
	if c.short != nil {
		item.Shortcut = heard{c.short}
	}
	item.Checked = c.on != nil && c.on()
	item.IsQuit = c.id == "quit"
	return item
}

// heard is a shortcut that the toolkit hears in the main menu but does not write into it: it would set it at the right so faint
// that it can hardly be read.
type heard struct{ fyne.Shortcut }

// plainKey is the key without a modifier, as shown.
func (c *command) plainKey() string {
	switch {
	case c.r != 0 && c.r >= 'A' && c.r <= 'Z':
		return "Shift+" + string(c.r)
	case c.r != 0:
		return strings.ToUpper(string(c.r))
	case c.key != "":
		return keyName(c.key)
	}
	return ""
}

// keyName is what is printed on a key.
func keyName(k fyne.KeyName) string {
	switch k {
	case fyne.KeyPageUp:
		return "Page Up"
	case fyne.KeyPageDown:
		return "Page Down"
	}
	return string(k)
}

// menuTicks brings the ticks in the menus up to date.
func (w *Window) menuTicks() { w.win.SetMainMenu(w.mainMenu()) }

// contextItems are menu items of the commands named; "" is a line.
func (w *Window) contextItems(ids ...string) []*fyne.MenuItem {
	var out []*fyne.MenuItem
	for _, id := range ids {
		if id == "" {
			out = append(out, fyne.NewMenuItemSeparator())
			continue
		}
		if i := slices.IndexFunc(w.commands, func(c command) bool { return c.id == id }); i >= 0 {
			out = append(out, w.menuItem(&w.commands[i]))
		}
	}
	return out
}

// keyText is the command's key or shortcut in words, or "".
func (c *command) keyText() string {
	switch s := c.short.(type) {
	case *desktop.CustomShortcut:
		text := "Ctrl+"
		if s.Modifier&fyne.KeyModifierShift != 0 {
			text += "Shift+"
		}
		return text + keyName(s.KeyName)
	case *fyne.ShortcutUndo:
		return "Ctrl+Z"
	case *fyne.ShortcutRedo:
		return "Ctrl+Y"
	case *fyne.ShortcutCut:
		return "Ctrl+X"
	case *fyne.ShortcutCopy:
		return "Ctrl+C"
	case *fyne.ShortcutPaste:
		return "Ctrl+V"
	case *fyne.ShortcutSelectAll:
		return "Ctrl+A"
	}
	return c.plainKey()
}
