package ui

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"stowbay/ui/view"
)

// finder finds a command by words and does it, so that everything can be done by the keyboard.
type finder struct {
	w      *Window
	dialog *dialog.CustomDialog
	words  *field
	page   *pagePane
	found  []*command
	at     int
}

// showFinder opens the finder.
func (w *Window) showFinder() {
	f := &finder{w: w, words: newField()}
	f.words.SetPlaceHolder("What do you want to do?")
	f.page = newPagePane(w, fyne.NewSize(300, 200), func(width float64) *view.Page {
		return view.Commands(width, w.pages.fonts, f.lines(), f.at)
	}, f.click)
	f.words.OnChanged = func(string) { f.find() }
	f.words.OnSubmitted = func(string) { f.run(f.at) }
	f.words.keys = f.key
	f.dialog = dialog.NewCustom("Find a command", "Close", container.NewBorder(f.words, nil, nil, nil, f.page), w.win)
	f.dialog.Resize(fyne.NewSize(560, min(520, w.win.Canvas().Size().Height-40)))
	f.find()
	w.ask(f.dialog)
	w.win.Canvas().Focus(f.words)
}

// find lists the commands that hold all the words: those whose name begins with them, then those with all of them in the
// name, then those that only say them.
func (f *finder) find() {
	f.found, f.at = f.w.matching(f.words.Text), 0
	f.page.scroll = 0
	f.page.update()
}

func (w *Window) matching(text string) []*command {
	words := strings.Fields(strings.ToLower(text))
	var first, named, rest []*command
	for i := range w.commands {
		c := &w.commands[i]
		name := strings.ToLower(c.name)
		switch {
		case c.id == "find" || !holds(strings.ToLower(c.menu+" "+c.name+" "+c.help), words):
		case strings.HasPrefix(name, strings.ToLower(strings.TrimSpace(text))):
			first = append(first, c)
		case holds(name, words):
			named = append(named, c)
		default:
			rest = append(rest, c)
		}
	}
	return slices.Concat(first, named, rest)
}

// holds tells whether a text holds all of the words.
func holds(text string, words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
}

func (f *finder) lines() []view.CommandLine {
	var out []view.CommandLine
	for _, c := range f.found {
		out = append(out, view.CommandLine{Menu: c.menu, Name: c.name, Help: c.help, Keys: c.keyText(), Off: c.can != nil && !c.can()})
	}
	return out
}

func (f *finder) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyDown:
		f.move(1)
	case fyne.KeyUp:
		f.move(-1)
	case fyne.KeyPageDown:
		f.move(8)
	case fyne.KeyPageUp:
		f.move(-8)
	default:
		return false
	}
	return true
}

func (f *finder) move(by int) {
	f.at = max(min(f.at+by, len(f.found)-1), 0)
	f.page.update()
	f.page.reveal(fmt.Sprint(f.at))
}

func (f *finder) click(key string) {
	i := 0
	fmt.Sscan(key, &i)
	f.run(i)
}

func (f *finder) run(i int) {
	if i < 0 || i >= len(f.found) {
		return
	}
	c := f.found[i]
	f.dialog.Hide()
	f.w.win.Canvas().Unfocus()
	if c.can != nil && !c.can() {
		f.w.model.Say(c.name + ": not possible now; something has to be picked or done first.")
		return
	}
	f.w.run(c)
}
