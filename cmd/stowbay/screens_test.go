package main

import (
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// Screenshots of the program's states at both sizes, into the folder that STOWBAY_SCREENS names, for looking at.
func TestScreens(t *testing.T) {
	folder := os.Getenv("STOWBAY_SCREENS")
	if folder == "" {
		t.Skip("STOWBAY_SCREENS names no folder for screenshots")
	}
	for _, size := range [][2]int{{1280, 800}, {1920, 1080}} {
		name := fmt.Sprintf("%dx%d", size[0], size[1])
		for _, of := range []struct {
			name string
			take func(*camera)
		}{{"start", (*camera).firstPage}, {"packing", (*camera).packing}, {"demonstration", (*camera).demonstration}, {"working", (*camera).working},
			{"leftBehind", (*camera).leftBehind}, {"searching", (*camera).searching}, {"surveying", (*camera).surveying}, {"importing", (*camera).importing},
			{"placing", (*camera).placing}, {"underWay", (*camera).underWay}, {"records", (*camera).records}, {"building", (*camera).building},
			{"elsewhere", (*camera).elsewhere}, {"filtering", (*camera).filtering}} {
			t.Run(name+"/"+of.name, func(t *testing.T) {
				of.take(&camera{desk: newDesk(t, size[0], size[1]), width: size[0], height: size[1], folder: folder})
			})
		}
	}
}

// workshop is the folder that the plans in the screenshots lie in: its name is to be seen there.
var workshop = filepath.Join(os.TempDir(), "workshop")

// camera takes screenshots of a desk.
type camera struct {
	*desk
	width, height int
	folder        string
}

// open starts the program in a window as large as the display, with the pointer where it points at nothing.
func (c *camera) open(args ...string) {
	c.kill()
	c.start(args...)
	c.xdo("windowsize", "--sync", c.windows()[0], fmt.Sprint(c.width), fmt.Sprint(c.height))
	c.xdo("mousemove", fmt.Sprint(c.width/2), fmt.Sprint(c.height-5))
	c.settle(400 * time.Millisecond)
}

// settle waits until two pictures in a row are the same, taken some time apart.
func (c *camera) settle(apart time.Duration) {
	time.Sleep(apart)
	was := c.shot()
	c.until("the window to come to rest", func() bool {
		time.Sleep(apart)
		now := c.shot()
		same := different(was, now, now.Bounds()) == 0
		was = now
		return same
	})
}

// take keeps a screenshot under a name.
func (c *camera) take(name string) {
	c.settle(400 * time.Millisecond)
	c.snap(name)
}

// snap keeps a screenshot as it is at once, in 255 colours: a third of the size, and no difference to be seen.
func (c *camera) snap(name string) {
	c.t.Helper()
	path := filepath.Join(c.folder, fmt.Sprintf("%s-%dx%d.png", name, c.width, c.height))
	cmd := exec.Command("import", "-window", "root", "+dither", "-colors", "255", "-define", "png:compression-level=9", "PNG8:"+path)
	cmd.Env = c.env()
	if out, err := cmd.CombinedOutput(); err != nil {
		c.t.Errorf("keeping %s: %v\n%s", name, err, out)
	}
}

// dialog keeps a screenshot of what keys open, and closes it again.
func (c *camera) dialog(name, typed string, keys ...string) {
	c.t.Helper()
	c.key(keys...)
	c.opened()
	if typed != "" {
		c.typed(typed)
	}
	c.take(name)
	c.shut()
}

func (c *camera) shut() {
	c.t.Helper()
	c.until("no dialog", func() bool {
		c.key("Escape")
		return !dimmed(c.shot())
	})
}

// reading keeps a screenshot of what a click on a row of the readings opens.
func (c *camera) reading(name string, y int) {
	c.t.Helper()
	c.click(c.width-240, y)
	c.opened()
	c.xdo("mousemove", fmt.Sprint(c.width/2), fmt.Sprint(c.height-5))
	c.take(name)
	c.shut()
}

func (c *camera) write(name string, p *layout.Plan, err error) string {
	c.t.Helper()
	dir := filepath.Join(workshop, fmt.Sprint(c.width))
	c.t.Cleanup(func() { os.RemoveAll(dir) })
	path := filepath.Join(dir, name)
	if err == nil {
		err = os.RemoveAll(dir) // what a run that was broken off left there
	}
	if err == nil {
		err = os.MkdirAll(dir, 0o755)
	}
	if err == nil {
		err = layout.Save(path, p)
	}
	if err != nil {
		c.t.Fatal(err)
	}
	return path
}

func (c *camera) firstPage() {
	c.open()
	c.take("start")
}

// packing packs the bay where a donor's spare wheel was.
func (c *camera) packing() {
	p := layout.NewPlan(vehicles.Catalogue().Donor("pickup-ladder"), "From the survey")
	a := p.Arrangements[0]
	a.Bays = slices.DeleteFunc(a.Bays, func(b vehicles.Bay) bool { return b.ID != "under-bed" })
	c.open(c.write("pick-up.yaml", p, nil))
	c.key("p")
	c.opened()
	c.take("pack-ask")
	c.accept()
	c.settle(3 * time.Second) // the time packed shows while it goes on
	c.take("pack")
	c.shut()
}

func (c *camera) demonstration() {
	plan, err := demo.Plan()
	c.open(c.write("demonstration.yaml", plan, err))
	c.take("main")
	c.key("F5")
	c.take("guide")
	c.key("F2")
	c.dialog("keys", "", "question")
	c.dialog("finder", "box", "ctrl+k")
	c.dialog("readings", "front", "F6")
	c.dialog("help", "", "F1")
	c.dialog("report", "", "ctrl+p")
	c.dialog("print", "", "ctrl+shift+p")
	c.reading("why", 326)
	c.reading("voltage", 145)
	c.key("n")
	c.take("findings")
	c.key("Escape", "f", "F9")
	c.take("dark")
	c.key("F9")
	c.command("inches")
	c.xdo("mousemove", fmt.Sprint(c.width/2), fmt.Sprint(c.height-5))
	c.take("inches")
}

// working shows what is picked, dragged and undone, and the windows for a donor, several arrangements and a record.
func (c *camera) working() {
	plan, err := demo.Plan()
	c.open(c.write("demonstration.yaml", plan, err))
	c.dialog("donor", "", "ctrl+n")
	c.dialog("arrangements", "", "a")
	c.dialog("compare", "", "c")
	c.key("ctrl+k")
	c.opened()
	c.typed("new module")
	c.key("Return") // the editor opens where the finder was
	c.take("editor")
	c.shut()
	c.key("bracketright", "F3")
	c.take("details")
	c.key("F2", "Escape")
	c.dragged(image.Pt(600, 223), image.Pt(635, 245))
	c.key("bracketright", "Right", "Down", "F4")
	c.take("history")
}

// dragged keeps a screenshot of a module held after a drag; places are those in the smaller window.
func (c *camera) dragged(from, to image.Point) {
	if c.width > 1280 {
		from, to = image.Pt(886, 312), image.Pt(960, 350)
	}
	c.hold(from, to)
	c.take("drag")
	c.key("Escape")
	c.xdo("mouseup", "1")
	c.xdo("mousemove", fmt.Sprint(c.width/2), fmt.Sprint(c.height-5))
}

// leftBehind ends the program before an edit is saved, and opens the plan again.
func (c *camera) leftBehind() {
	plan, err := demo.Plan()
	path := c.write("demonstration.yaml", plan, err)
	c.open(path)
	c.key("bracketright", "Right")
	c.settle(time.Second) // so that the edit is in the journal
	c.open(path)
	c.opened()
	c.take("recover")
}

// searching shows what a search with its usual settings found.
func (c *camera) searching() {
	plan, err := demo.Plan()
	c.open(c.write("demonstration.yaml", plan, err))
	c.key("ctrl+f")
	c.opened()
	c.accept()
	c.settle(5 * time.Second) // the time searched shows while it goes on
	c.take("search")
}
