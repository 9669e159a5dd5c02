package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// primary is the colour of the button that Return stands for in the light palette.
var primary = color.NRGBA{0x00, 0x4f, 0x9e, 0xff}

// accept clicks the button in the primary colour of the dialog in front: the widest run of that colour.
func (d *desk) accept() {
	d.t.Helper()
	d.opened()
	var at image.Point
	d.until("a button to go on", func() bool {
		var ok bool
		at, ok = button(d.shot())
		return ok
	})
	d.click(at.X, at.Y)
}

// opened waits until a dialog dims the window, closed until none does.
func (d *desk) opened() {
	d.t.Helper()
	d.until("a dialog", func() bool { return dimmed(d.shot()) })
	d.pause()
}

func (d *desk) closed() {
	d.t.Helper()
	d.until("the dialog's end", func() bool { return !dimmed(d.shot()) })
	d.pause()
}

// dimmed reports whether the menu bar is darker than the light palette has it.
func dimmed(m image.Image) bool {
	r, _, _, _ := m.At(m.Bounds().Max.X-20, 8).RGBA()
	return r>>8 < 0xe0
}

// button returns the middle of the largest upright area of the primary colour.
func button(m image.Image) (image.Point, bool) {
	is := func(x, y int) bool {
		r, g, b, _ := m.At(x, y).RGBA()
		return uint8(r>>8) == primary.R && uint8(g>>8) == primary.G && uint8(b>>8) == primary.B
	}
	b := m.Bounds()
	for y := b.Max.Y - 30; y > 40; y-- {
		run := 0
		for x := b.Min.X; x < b.Max.X; x++ {
			if !is(x, y) {
				run = 0
				continue
			}
			if run++; run == 40 && is(x, y-8) && is(x-39, y-8) {
				return image.Pt(x-20, y-4), true
			}
		}
	}
	return image.Point{}, false
}

// plan reads the plan on disk.
func (d *desk) plan(path string) *layout.Plan {
	p, err := layout.Load(path)
	if err != nil {
		return nil
	}
	return p
}

// saved saves and waits until the plan on disk is as it should be.
func (d *desk) saved(path, what string, ok func(*layout.Plan) bool) *layout.Plan {
	d.t.Helper()
	d.key("ctrl+s")
	var p *layout.Plan
	d.until(what+" in the plan saved", func() bool {
		p = d.plan(path)
		return p != nil && ok(p)
	})
	return p
}

// step keeps a screenshot where the environment asks for them.
func (d *desk) step(name string) {
	if keep := os.Getenv("STOWBAY_TEST_SHOTS"); keep != "" {
		d.keep(filepath.Join(keep, "job-"+name+".png"))
	}
}

// The whole job in the real window: a new plan from a donor, a picture under the plan view with its scale, a bay
// drawn, packed, a module dragged, undone, the arrangement duplicated, compared, the report written, the plan saved,
// the program killed, and the work since brought back.
func TestWholeJobInTheRealWindow(t *testing.T) {
	d := newDesk(t, 1280, 800)
	path := filepath.Join(d.dir, "job.yaml")
	writePicture(t, filepath.Join(d.dir, "photo.png"))
	d.start()
	d.step("01-start")
	d.key("ctrl+n")
	d.opened()
	d.step("02-donor")
	d.accept()
	d.closed()
	d.key("ctrl+s")
	d.opened()
	d.typed(path) // the name is picked whole when the dialog opens
	d.step("03-save")
	d.accept()
	d.until("the plan's file", func() bool { return d.plan(path) != nil })
	d.closed()
	if p := d.plan(path); p.Donor == "" || len(p.Arrangements[0].Bays) == 0 {
		t.Errorf("the new plan has the donor %q with %d bays", p.Donor, len(p.Arrangements[0].Bays))
	}

	d.key("1", "s", "i")
	d.opened()
	d.step("04-picture")
	d.click(591, 245) // the only picture in the plan's folder
	d.accept()
	d.until("the question which view", func() bool { at, ok := button(d.shot()); return ok && at.Y < 560 })
	d.accept() // under the plan, where the pointer was last
	d.closed()
	d.setScale("1000")
	p := d.saved(path, "the picture", func(p *layout.Plan) bool { return len(p.Underlays) == 1 && p.Underlays[0].View == "plan" })
	once := p.Underlays[0]
	if once.MMPerPx <= 0 || once.File != "photo.png" {
		t.Errorf("underlay %+v", once)
	}
	d.command("set the picture")
	d.setScale("2000")
	p = d.saved(path, "the picture's other scale", func(p *layout.Plan) bool { return p.Underlays[0].MMPerPx != once.MMPerPx })
	// The same two places of the screen lay as far apart in the picture as 1000 mm, and are 2000 mm apart in it now, so
	// that the view shows as many mm in a pixel:
	mmPerPixel := 2000 / (p.Underlays[0].MMPerPx / once.MMPerPx) / scaleApart

	d.key("b")
	d.drag(500, 580, 640, 660)
	d.opened()
	d.step("06-bay")
	d.accept()
	d.closed()
	p = d.saved(path, "the bay drawn", func(p *layout.Plan) bool { return p.Arrangements[0].Bay("bay1") != nil })
	if b := layout.PolygonOf(p.Arrangements[0].Bay("bay1").Levels[0].Outline); len(b.Outer) != 4 {
		t.Errorf("the bay drawn has the outline %v", b.Outer)
	} else {
		size := b.Bounds().Size()
		near(t, "the length of the bay", size.X, 140*mmPerPixel)
		near(t, "the width of the bay", size.Y, 80*mmPerPixel)
	}

	d.key("p")
	d.opened()
	d.step("07-pack")
	d.accept()
	d.step("08-packing")
	count := func(p *layout.Plan) int {
		n := 0
		for _, a := range p.Arrangements {
			for _, b := range a.Boxes {
				n += len(b.Modules)
			}
		}
		return n
	}
	p = nil
	d.until("modules packed", func() bool {
		d.key("Return", "ctrl+s") // Escape would cancel the packing
		p = d.plan(path)
		return p != nil && count(p) > 0
	})
	d.until("the packing's dialog gone", func() bool { d.key("Escape"); return !dimmed(d.shot()) })
	d.step("09-packed")
	packed := count(p)
	first := p.Arrangements[0].Boxes[0].Modules

	at := find(t, d)
	d.drag(at.X, at.Y, at.X+40, at.Y-30)
	d.step("10-dragged")
	p = d.saved(path, "the module dragged", func(p *layout.Plan) bool { return moved(p, first) })
	shift := shifts(p.Arrangements[0].Boxes[0].Modules, first)
	if len(shift) != 1 {
		t.Errorf("%d modules moved, one was dragged", len(shift))
	}
	near(t, "the drag along x", shift[0][0], 40*mmPerPixel)
	near(t, "the drag along y", shift[0][1], 30*mmPerPixel)
	d.key("ctrl+z")
	d.saved(path, "the drag undone", func(p *layout.Plan) bool { return !moved(p, first) && count(p) == packed })
	d.key("ctrl+shift+d")
	d.saved(path, "the second arrangement", func(p *layout.Plan) bool { return len(p.Arrangements) == 2 && count(p) == 2*packed })
	d.key("c")
	d.opened()
	d.until("the comparison's table", func() bool { return inked(d.shot()) > 4000 })
	d.step("11-compare")
	d.key("Escape")
	d.closed()
	d.key("ctrl+p")
	d.opened()
	d.step("12-report")
	d.accept()
	report := filepath.Join(d.dir, "job-report.pdf")
	d.until("the report", func() bool {
		data, err := os.ReadFile(report)
		return err == nil && bytes.HasPrefix(data, []byte("%PDF-")) && bytes.Count(data, []byte("/Type /Page\n")) > 3
	})
	d.until("the word on the report gone", func() bool { d.key("Escape"); return !dimmed(d.shot()) })

	d.key("ctrl+a")
	d.key("Right")
	d.pause()
	d.until("the journal", func() bool { return len(journals(d.dir)) > 0 })
	d.pause()
	d.kill()
	if !slices.Equal(d.plan(path).Arrangements[1].Boxes[0].Modules, first) {
		t.Fatal("the move is in the plan before it was saved")
	}
	d.start(path)
	d.opened()
	d.step("13-recover")
	d.accept()
	d.closed()
	d.step("14-recovered")
	d.saved(path, "the move brought back", func(p *layout.Plan) bool {
		return p.Arrangements[1].Boxes[0].Modules[0].At[0] == first[0].At[0]+1
	})
}

// scaleApart is how many pixels the two places lie apart that the picture's scale is set by.
const scaleApart = 200

// setScale clicks two places and types how far they are apart.
func (d *desk) setScale(mm string) {
	d.t.Helper()
	d.click(500, 300)
	d.click(500+scaleApart, 300)
	d.opened()
	d.key("ctrl+a")
	d.typed(mm)
	d.step("05-scale-" + mm)
	d.accept()
	d.closed()
}

// command does a command by words of its name.
func (d *desk) command(words string) {
	d.t.Helper()
	d.key("ctrl+k")
	d.opened()
	d.typed(words)
	d.key("Return")
	d.closed()
}

// near compares a length with what it should be to within two pixels of this test's view, some 14 mm.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 14 {
		t.Errorf("%s is %.1f mm, want about %.1f", what, got, want)
	}
}

// shifts are by how much the modules that moved did.
func shifts(now, was []layout.Placement) (out []vehicles.XYZ) {
	for i := range now {
		if a, b := now[i].At, was[i].At; a != b {
			out = append(out, vehicles.XYZ{a[0] - b[0], a[1] - b[1], a[2] - b[2]})
		}
	}
	return out
}

// inked counts the dark pixels in the middle of the window: the texts and lines of a dialog.
func inked(m image.Image) int {
	n, b := 0, m.Bounds()
	for y := b.Max.Y / 5; y < b.Max.Y*4/5; y++ {
		for x := b.Max.X / 5; x < b.Max.X*4/5; x++ {
			if r, g, bl, _ := m.At(x, y).RGBA(); r>>8 < 0x60 && g>>8 < 0x60 && bl>>8 < 0x60 {
				n++
			}
		}
	}
	return n
}

// moved reports whether the modules of the first box stand otherwise than they were packed.
func moved(p *layout.Plan, packed []layout.Placement) bool {
	return !slices.Equal(p.Arrangements[0].Boxes[0].Modules, packed)
}

func journals(dir string) []string {
	found, _ := filepath.Glob(filepath.Join(dir, ".*.journal"))
	return found
}

// writePicture writes a small invented picture to lay under a view.
func writePicture(t *testing.T, path string) {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 400, 160))
	for y := range 160 {
		for x := range 400 {
			img.Set(x, y, color.RGBA{uint8(120 + x/4), uint8(160 - y/3), 140, 255})
		}
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
