package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout/check"
	"stowbay/ui/view"
)

// helpPage is one page of the help.
type helpPage struct {
	title string
	text  func(w *Window) string
}

func fixed(s string) func(*Window) string { return func(*Window) string { return s } }

// helpPages are the pages in their order.
var helpPages = []helpPage{
	{"From donor to report", fixed(fiveSteps)},
	{"Panes", fixed(helpText)},
	{"Mouse", fixed(mouseText)},
	{"Keys", (*Window).keysText},
	{"Numbers and units", fixed(numbersText)},
	{"The frame", fixed(frameText)},
	{"Words of the trade", fixed(wordsText)},
	{"Rules", fixed(rulesText())},
	{"Files", fixed(filesText)},
	{"Cautions", fixed(cautionText)},
}

func (w *Window) showHelp() { w.helpAt("Panes") }

func (w *Window) showCautions() { w.helpAt("Cautions") }

// showKeys shows the sheet of shortcuts.
func (w *Window) showKeys() { w.helpAt("Keys") }

// showSteps shows the guide, or without a plan what it will lead through.
func (w *Window) showSteps() {
	if w.idle() {
		w.helpAt("From donor to report")
		return
	}
	w.showLeft(guidePane)
}

// helpAt opens the help on a page. Up and Down go through the pages.
func (w *Window) helpAt(title string) {
	text := widget.NewRichTextFromMarkdown("")
	text.Wrapping = fyne.TextWrapWord
	scroll := container.NewVScroll(text)
	var names []string
	for _, p := range helpPages {
		names = append(names, p.title)
	}
	at := 0
	list := newRowList(names, func(i int) {
		at = i
		text.ParseMarkdown(helpPages[i].text(w))
		text.Segments = spaced(text.Segments)
		text.Refresh()
		scroll.ScrollToTop()
		w.letGo()
	})
	d := dialog.NewCustom("Help", "Close", container.NewBorder(nil, nil, container.New(&fixedWidth{180}, list), nil, scroll), w.win)
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(900, size.Width-30), min(720, size.Height-40)))
	for i := range helpPages {
		if helpPages[i].title == title {
			list.Select(i)
		}
	}
	w.ask(d)
	w.hear(d, func(k fyne.KeyName) bool {
		switch k {
		case fyne.KeyUp:
			list.Select(max(at-1, 0))
		case fyne.KeyDown:
			list.Select(min(at+1, len(helpPages)-1))
		case fyne.KeyPageDown, fyne.KeySpace:
			scroll.Offset.Y += scroll.Size().Height * 0.9
			scroll.Refresh()
		case fyne.KeyPageUp:
			scroll.Offset.Y = max(scroll.Offset.Y-scroll.Size().Height*0.9, 0)
			scroll.Refresh()
		default:
			return false
		}
		return true
	})
}

// spaced sets headings off from what stands above them.
func spaced(text []widget.RichTextSegment) (out []widget.RichTextSegment) {
	for i, s := range text {
		if t, ok := s.(*widget.TextSegment); ok && i > 0 && t.Style == widget.RichTextStyleSubHeading {
			out = append(out, &widget.TextSegment{Style: widget.RichTextStyleParagraph})
		}
		out = append(out, s)
	}
	return out
}

// keysText is the sheet of shortcuts, made from the table of commands.
func (w *Window) keysText() string {
	var b strings.Builder
	for _, menu := range menuNames {
		var lines []string
		for i := range w.commands {
			if c := &w.commands[i]; c.menu == menu && c.keyText() != "" {
				lines = append(lines, fmt.Sprintf("- **%s**: %s", c.keyText(), strings.TrimSuffix(c.name, " …")))
			}
		}
		if len(lines) > 0 {
			fmt.Fprintf(&b, "## %s\n\n%s\n\n", menu, strings.Join(lines, "\n"))
		}
	}
	return b.String() + keysMore
}

// rulesText lists every rule with what it guards against and its source.
func rulesText() string {
	var b strings.Builder
	b.WriteString("What every arrangement is checked by. *Common practice* has no published source.\n\n")
	subject := ""
	for _, r := range check.Table() {
		if s, _, _ := strings.Cut(r.Name, "."); s != subject {
			subject = s
			fmt.Fprintf(&b, "## %s\n\n", strings.ToUpper(s[:1])+strings.ReplaceAll(s[1:], "_", " "))
		}
		fmt.Fprintf(&b, "- **%s** guards against %s. Source: %s.\n", r.Name, r.Guards, r.Source)
	}
	return b.String()
}

const fiveSteps = `1. **Survey.** *Plan, New from a donor*: choose a donor of the catalogue or enter your own. Its bays and keep-outs come along. Lay a photograph or a drawing under a view, set its scale, and draw what is missing: **B** draws a bay, **K** a keep-out.

2. **Boxes.** Pick a bay and choose *Box for the bay picked*, or draw a box with **X**.

3. **Modules.** **P** packs the most that fit and says whether one more is proved impossible. Or drag modules from the stores.

4. **Readings and findings.** Every figure at the right is live. Click one to see how it was worked out; click a finding to go to its place, and again for the rule. Duplicate the arrangement (**Ctrl+Shift+D**) to try another idea beside it.

5. **Report.** *Plan, Report* writes it for the fabricator, the assembler, the inspector and the owner.

` + view.Caution

const mouseText = `- **Wheel**: nearer and farther, to the pointer
- **Secondary or middle button, pulled** (or space held): push the view
- **Secondary button**: what can be done here
- **Click**: pick; with **Ctrl** one more; **double click** picks the box
- **Pull on nothing**: pick what lies inside
- While moving: **Shift** keeps to one direction, **Alt** leaves snapping off, **Esc** goes back
- While drawing: type and **Return**: *450* a length, *450<90* with its direction in degrees, *450<<90* turned from the side before, *<90* the direction alone, *=800,-350* a place; **Backspace** goes one corner back
- With a bay, box or keep-out picked: drag its corners and edges in the plan, its floor and ceiling in the side and rear views; or click one and type its length, direction, place or height, **O** for the other side; the arrow keys move it
`

const helpText = `Stowbay plans where battery modules go in a road vehicle that is converted to electric drive.

A **plan** holds a donor vehicle and one or several **arrangements**, the tabs above the views. An arrangement has **bays** (where there is room), **boxes** that stand in them, and **modules** and **gear** inside the boxes.

The **views** show it from above, from the left, from behind and from a corner. They are linked: what is picked or pointed at in one shows in all.

The **stores** at the left hold the modules and gear to choose from; **details** shows what is picked in numbers, and each field takes sums and units, such as 2*151+8 or 6in; **history** lists everything done so far, and goes back to any of it; the **guide** says what comes next on the way to the report.

The **readings** at the right are worked out while you drag. A wavy mark (~) says that a figure rests on an estimate or an assumption. The grey figure at the right is the change since the arrangement was opened, or since *Count from now*.

The **findings** list what the rules say, gravest first: × fails, ! warns, i notes, + passes.

Everything can be done by the keyboard: **Ctrl+K** finds any command by a word of it. The secondary button of the mouse shows what can be done with what lies under the pointer.`

const keysMore = `## In dialogs

- **Tab**, **Shift+Tab**: next field, field before
- **Return**: go ahead; **Escape**: close
- **Up**, **Down**, **Page Up**, **Page Down**: scroll, or go through a list

## While moving and drawing

- **Arrow keys**: move what is picked by 1 mm, with **Shift** by 10 mm; by 1/16 in and 1/2 in where inches are shown
- **In a dialog**: **Tab** goes on; the arrows choose among a few ways, go up and down the rows of a page and left and right through tabs; **Return** goes ahead, **Esc** leaves
- **Escape**: give up the drag or the drawing; **Backspace**: one corner back
- **Alt** and **Tab**: to the menus and to fields, as the system has it
`

const numbersText = `Every field for a number takes sums with brackets and units: 2*151+8, (3 ft - 20) / 2, 3.5in, 12 lb. A number without a unit counts in the units shown.

- **Lengths**: mm, cm, m, in or ", ft or '
- **Masses**: kg, g, t, lb, oz
- **Other fields** take their own unit behind the number: 350 V, 95 A

*View, Inches and pounds* shows lengths in inches and masses in pounds everywhere, in sentences too. Files always hold millimetres and kilograms. The inch is 25.4 mm and the pound 0.45359237 kg, exactly.

A wavy mark (~) beside a figure says that it rests on an estimate or an assumption; click the figure to see on which. ± is half the width of what is uncertain.`

const frameText = `All places are given in one frame, fixed to the vehicle as it stands on level ground at kerb mass.

- **x** runs rearward from the centre line of the front axle
- **y** runs to the vehicle's right from its centre plane
- **z** runs up from the ground

The sense is that of SAE J1100. A box has a frame of its own: its modules, gear and feet are placed in it, and move and turn with it.

The plan is seen from above with the front to the left, so that the vehicle's right is above; the side view is seen from the left, the rear view from behind. The status line shows where the pointer is.`

const wordsText = `- **Donor**: the vehicle before its conversion, as surveyed
- **Kerb mass**: the vehicle ready to drive with fluids, without people and goods; **gross mass**: the most that its plate allows
- **Bay**: a space where a box may go: where the tank, the engine or the exhaust was
- **Keep-out**: a space where nothing may stand: a shaft and its swing, suspension travel, brake pipes, jacking points
- **Box**: the enclosure that holds modules, with shell, liner, lid, feet and openings
- **Module**: a block of cells as its maker delivers it; **posture**: flat, on its side or on its end, as the maker allows
- **Gear**: fuses, contactors, disconnects, boards, converters and what else goes in or beside the boxes
- **String**: modules one behind the other, from the pack's negative to its positive; strings stand in parallel
- **Strip**: room at terminals and ports that must stay free for links, hoses and a spanner
- **Swelling**: how much a module grows over its life; it is added to the gap that its maker asks for
- **Clearance** and **creepage**: the shortest way through air and along a surface between live parts, or to metal
- **Bridge**: two bare parts of different voltage that a dropped tool can touch at once
- **Service segment**: what stays joined when every disconnect and service link is open
- **Static stability factor**: mean track over twice the height of the centre of gravity; higher tips less easily
- **Ledger**: the list of all that is taken out and put in, with masses and places
- **Slot**: a module's place in a string; the **register** says which module received sits in it`

const filesText = `Plans, donors, modules and gear are plain text (YAML). *testdata/FIELDS.md* of the source lists every field; *stowfit fields* prints it.

- **Saving** writes a new file and renames it over the old one, which is kept as a backup.
- **While you work** every change is written to a journal beside the plan within a second. If the program ends before you save, it offers to bring the changes back.
- **One plan in two windows**: the second one says who has it open.
- **Changed by something else**: you are asked whether to load the file or to keep the plan as it is here.
- **Drop a file on the window**: a plan opens; a donor, module or gear goes into the plan's library; a picture goes under the view; a DXF or SVG drawing offers its outlines as bays; a CSV table goes to the build record.
- **Copy and paste** go by the system's clipboard, to other arrangements, plans and windows. Records that the other plan does not know come along.`

const cautionText = `A wrong layout can burn, electrocute or crush.

Stowbay computes and compares. It certifies nothing, and calls no layout safe or approved. Its figures are as good as the survey, the data sheets and the estimates that go in.

Local vehicle codes, the makers' data and a licensed engineer or electrician decide. Work above 60 V DC is for people trained for it.`
