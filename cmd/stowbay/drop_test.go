package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowbay/layout"
)

// Files dropped on the real window, as a file manager does it: a plan opens, a picture goes under the view that it was dropped
// on, the outline of a drawing becomes a bay.
func TestDropInTheRealWindow(t *testing.T) {
	d := newDesk(t, 1280, 800)
	path := filepath.Join(d.dir, "über den Hof 50 %.yaml")
	before := testPlan(t, path)
	picture := filepath.Join(d.dir, "photo.png")
	writePicture(t, picture)
	drawing := filepath.Join(d.dir, "bay.dxf")
	copyFile(t, filepath.Join("..", "..", "geometry", "outline", "testdata", "bay-2000.dxf"), drawing)
	d.start()
	d.dropFiles(640, 400, path)
	d.until("the plan dropped to be open", func() bool { return strings.Contains(d.title(), filepath.Base(path)) })
	d.step("drop-plan")

	d.dropFiles(520, 600, picture) // on the side view
	d.opened()
	d.step("drop-picture")
	d.accept()
	d.closed()
	d.key("Escape")
	p := d.saved(path, "the picture dropped", func(p *layout.Plan) bool { return len(p.Underlays) == 1 })
	if u := p.Underlays[0]; u.View != "side" || u.File != "photo.png" {
		t.Errorf("the picture dropped on the side view is %+v", u)
	}

	d.dropFiles(640, 200, drawing)
	d.opened()
	d.step("drop-drawing")
	d.accept()
	d.until("the question for the bay's heights", func() bool { at, ok := button(d.shot()); return ok && at.Y < 600 })
	d.step("drop-heights")
	d.accept()
	d.closed()
	bays := len(before.Arrangements[0].Bays)
	p = d.saved(path, "the bay dropped", func(p *layout.Plan) bool { return len(p.Arrangements[0].Bays) == bays+1 })
	size := layout.PolygonOf(p.Arrangements[0].Bays[bays].Levels[0].Outline).Bounds().Size()
	// What is drawn is a rectangle of 100 by 50 mm with a half circle at one end.
	if math.Abs(size.X-125) > 0.1 || math.Abs(size.Y-50) > 0.1 {
		t.Errorf("the bay dropped is %.2f by %.2f mm, drawn are 125 by 50", size.X, size.Y)
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}
