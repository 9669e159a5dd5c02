package ui

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/layout/journal"
	"stowbay/ui/view"
	"stowbay/vehicles"
)

// catalogue is the records built into the program.
func catalogue() *vehicles.Library { return vehicles.Catalogue() }

// planExt is how a plan file's name ends.
const planExt = ".yaml"

// load shows another plan in the window.
func (w *Window) load(plan *layout.Plan, path string, lock *journal.Lock) {
	w.end()
	w.path = path
	w.cache = &drawing.Cache{}
	w.reported = map[string]bool{}
	w.show(plan)
	w.begin(lock)
	w.remember(path)
}

// show shows a plan in all panes.
func (w *Window) show(plan *layout.Plan) {
	w.use(layout.NewDocument(plan, catalogue()))
	w.start.hide()
	w.changed(^view.What(0))
	w.fitAll()
	w.titled()
}

// bringBack goes on with a recovered plan in the place of the one shown.
func (w *Window) bringBack(plan *layout.Plan) {
	w.session.letGo() // its file stays until the new one's first line is written
	w.show(plan)
	w.begin(w.session.lock)
	w.model.Document().MarkDirty()
	w.titled()
}

// askBeforeLosing does next at once, or after asking what becomes of unsaved changes.
func (w *Window) askBeforeLosing(next func()) {
	if !w.model.Document().Dirty() {
		next()
		return
	}
	w.choose("Unsaved changes", w.planName()+" has changes that are not saved.",
		way{"Do not save", next}, way{"Stay here", nil}, way{"Save", func() { w.saveThen(next) }})
}

// planName is what a plan is called in questions: its file's name, or that of the plan where it has none.
func (w *Window) planName() string {
	if w.path != "" {
		return filepath.Base(w.path)
	}
	return "“" + w.model.Document().Plan().Name + "”"
}

func (w *Window) save() { w.saveThen(func() {}) }

// saveThen writes the plan to its file, asking where if it has none, and goes on if that went well.
func (w *Window) saveThen(next func()) {
	if w.path == "" {
		w.askPath(next)
		return
	}
	w.saveTo(w.path, next)
}

func (w *Window) askSaveAs() { w.askPath(func() {}) }

// askPath asks for a folder and a name; the file dialogs of the toolkit empty the file chosen before the plan is
// written, so they are not used for saving.
func (w *Window) askPath(next func()) {
	dir, name := w.folder(), "plan"+planExt
	if w.path != "" {
		name = filepath.Base(w.path)
	}
	file, folder := newField(), newField()
	file.SetText(name)
	folder.SetText(dir)
	choose := newPush("Choose …", func() {
		dialog.ShowFolderOpen(func(u fyne.ListableURI, err error) {
			if err == nil && u != nil {
				folder.SetText(u.Path())
			}
		}, w.win)
	})
	items := []*widget.FormItem{widget.NewFormItem("File name", file), widget.NewFormItem("Folder", container.NewBorder(nil, nil, nil, choose, folder))}
	d := dialog.NewForm("Save the plan", "Save", "Cancel", items, func(ok bool) {
		if ok {
			w.confirmOver(planPath(folder.Text, file.Text), next)
		}
	}, w.win)
	d.Resize(fyne.NewSize(560, 200))
	w.ask(d)
	w.win.Canvas().Focus(file)
	file.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// planPath is the file that a folder and a name typed stand for; a whole path may be typed as the name.
func planPath(folder, name string) string {
	name = strings.TrimSpace(name)
	if filepath.Ext(name) == "" {
		name += planExt
	}
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(strings.TrimSpace(folder), name)
}

// confirmOver saves to a path, asking first where another file stands there.
func (w *Window) confirmOver(path string, next func()) {
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) || path == w.path {
		w.saveTo(path, next)
		return
	}
	w.choose("Write over it?", filepath.Base(path)+" is there already. Its contents are kept beside it as a backup.",
		way{"Write over it", func() { w.saveTo(path, next) }}, way{"Cancel", nil})
}

// folder is where files are looked for: that of the plan, else the user's own.
func (w *Window) folder() string {
	if w.path != "" {
		if dir, err := filepath.Abs(filepath.Dir(w.path)); err == nil {
			return dir
		}
	}
	if home, err := os.UserHomeDir(); err == nil {
		return home
	}
	return "."
}

func (w *Window) askOpen() {
	w.askBeforeLosing(func() {
		w.askFile([]string{planExt, ".yml"}, w.open)
	})
}

// askFile asks for a file to read whose name ends in one of the ways given.
func (w *Window) askFile(exts []string, use func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil || r == nil {
			return
		}
		r.Close()
		use(r.URI().Path())
	}, w.win)
	d.SetFilter(storage.NewExtensionFileFilter(exts))
	if l, err := storage.ListerForURI(storage.NewFileURI(w.folder())); err == nil {
		d.SetLocation(l)
	}
	w.ask(d)
	d.Resize(fyne.NewSize(820, 560)) // the toolkit's file dialog has no size before it is shown
}

// open shows the plan in a file; where it cannot be read the window stays as it is and says all that is wrong.
func (w *Window) open(path string) {
	plan, err := layout.LoadOver(path, catalogue())
	switch {
	case errors.Is(err, fs.ErrNotExist) && slices.Contains(w.recents(), path):
		w.askForget(path)
	case err != nil:
		w.showError("The plan cannot be opened", err)
	default:
		w.adopt(plan, path)
	}
}

// showError shows everything that is wrong, one a line.
func (w *Window) showError(title string, err error) {
	text := widget.NewLabel(err.Error())
	text.Wrapping = fyne.TextWrapWord
	text.Selectable = true
	scroll := container.NewVScroll(text)
	d := dialog.NewCustom(title, "Close", scroll, w.win)
	lines := strings.Count(err.Error(), "\n") + 1 + len(err.Error())/80
	d.Resize(fyne.NewSize(620, float32(min(130+24*lines, 520))))
	w.ask(d)
}
