package ui

import (
	"fmt"
	"strings"

	"stowbay/ui/view"
)

func (w *Window) showHelp() { w.showPage("Help", helpText) }

func (w *Window) showCautions() { w.showPage("Cautions", cautionText) }

func (w *Window) showSteps() { w.showPage("From donor to report in five steps", fiveSteps) }

// showKeys shows the sheet of shortcuts, made from the table of commands.
func (w *Window) showKeys() {
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
	b.WriteString(mouseText)
	w.showPage("Keys and mouse", b.String())
}

const fiveSteps = `1. **Survey.** *Plan, New from a donor*: choose a donor of the catalogue or enter your own. Its bays and keep-outs come along. Lay a photograph or a drawing under a view, set its scale, and draw what is missing: **B** draws a bay, **K** a keep-out.

2. **Boxes.** Pick a bay and choose *Box for the bay picked*, or draw a box with **X**.

3. **Modules.** **P** packs the most that fit and says whether one more is proved impossible. Or drag modules from the stores.

4. **Readings and findings.** Every figure at the right is live. Click one to see how it was worked out; click a finding to go to its place. Duplicate the arrangement (**Ctrl+Shift+D**) to try another idea beside it.

5. **Report.** *Plan, Report* writes it for the fabricator, the assembler, the inspector and the owner.

` + view.Caution

const mouseText = `## Mouse

- **Wheel**: nearer and farther, to the pointer
- **Secondary or middle button, pulled** (or space held): push the view
- **Secondary button**: what can be done here
- **Click**: pick; with **Ctrl** one more; **double click** picks the box
- **Pull on nothing**: pick what lies inside
- While moving: **Shift** keeps to one direction, **Alt** leaves snapping off, **Esc** goes back
- **Arrow keys**: move what is picked by 1 mm, with **Shift** by 10 mm
- While drawing: type a length and **Return**; *length<angle* sets the direction; **Backspace** goes one corner back
`

const helpText = `Stowbay plans where battery modules go in a road vehicle that is converted to electric drive.

A **plan** holds a donor vehicle and one or several **arrangements**, the tabs above the views. An arrangement has **bays** (where there is room), **boxes** that stand in them, and **modules** and **gear** inside the boxes.

The **views** show it from above, from the left, from behind and from a corner. They are linked: what is picked or pointed at in one shows in all.

The **stores** at the left hold the modules and gear to choose from; **details** shows what is picked in numbers, and each field takes sums and units, such as 2*151+8 or 6in; **steps** lists everything done so far, and goes back to any of it.

The **readings** at the right are worked out while you drag. A wavy mark (~) says that a figure rests on an estimate or an assumption. The grey figure at the right is the change since the arrangement was opened, or since *Count from now*.

The **findings** list what the rules say, gravest first: × fails, ! warns, i notes, + passes.

Files are plain text. Saving keeps the version before as a backup.`

const cautionText = `A wrong layout can burn, electrocute or crush.

Stowbay computes and compares. It certifies nothing, and calls no layout safe or approved. Its figures are as good as the survey, the data sheets and the estimates that go in.

Local vehicle codes, the makers' data and a licensed engineer or electrician decide. Work above 60 V DC is for people trained for it.`
