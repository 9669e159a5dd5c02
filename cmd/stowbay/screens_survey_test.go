package main

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// surveying shows a picture laid under the plan view with its scale, a bay drawn over it by typed lengths with its heights, and a
// corner of it moved.
func (c *camera) surveying() {
	p := layout.NewPlan(vehicles.Catalogue().Donor("van-rear-engine"), "From the survey")
	a := p.Arrangements[0]
	a.Bays = slices.DeleteFunc(a.Bays, func(b vehicles.Bay) bool { return b.ID == "mid" })
	path := c.write("survey.yaml", p, nil)
	dir := filepath.Dir(path)
	writeSketch(c.t, filepath.Join(dir, "sketch.png"))
	c.open(path)
	c.key("1") // the plan alone, so that lengths can be read
	c.dropFiles(c.width/2, c.height/2, filepath.Join(dir, "sketch.png"))
	c.opened()
	c.take("underlay")
	c.accept()
	c.closed()
	at := c.places()
	c.take("underlay-marks")
	c.click(at[0].X, at[0].Y)
	c.click(at[1].X, at[1].Y)
	c.opened()
	c.key("shift+Tab", "shift+Tab", "Down", "Down", "Down", "Return", "Tab", "Down", "Down", "Down", "Down", "Return")
	c.take("underlay-scale")
	c.accept()
	c.closed()

	c.key("b")
	c.xdo("mousemove", fmt.Sprint(at[2].X), fmt.Sprint(at[2].Y))
	c.drawn("=560,330", "=1450,330", "=1560,150")
	c.typed("450<-110")
	c.take("new-bay")
	c.key("Return")
	c.drawn("=560,-300")
	c.key("Return")
	c.opened()
	c.typed("Where the tank was")
	c.take("new-bay-heights")
	c.accept()
	c.closed()
	c.click(at[3].X, at[3].Y)
	c.typed("=1500,330")
	c.take("corners")
}

// places are the two marks of the sketch as it lies under the plan view at first, a place beside the bay drawn, and the bay's
// second corner.
func (c *camera) places() [4]image.Point {
	if c.width > 1280 {
		return [4]image.Point{{513, 552}, {1388, 552}, {1100, 700}, {1007, 465}}
	}
	return [4]image.Point{{422, 411}, {859, 411}, {690, 470}, {668, 370}}
}

// drawn types corners one after the other.
func (c *camera) drawn(corners ...string) {
	c.t.Helper()
	for _, at := range corners {
		c.typed(at)
		c.key("Return")
	}
}

// importing shows an outline of a drawing before it is put in.
func (c *camera) importing() {
	plan, err := demo.Plan()
	path := c.write("demonstration.yaml", plan, err)
	file := filepath.Join(filepath.Dir(path), "floor-plate.svg")
	const plate = `<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="500mm" viewBox="0 0 900 500">` +
		`<path d="M0 60 L80 0 H700 Q900 0 900 200 V500 H240 V420 H0 Z"/></svg>`
	if err := os.WriteFile(file, []byte(plate), 0o644); err != nil {
		c.t.Fatal(err)
	}
	c.open(path)
	c.dropFiles(c.width/2, c.height/2, file)
	c.opened()
	c.take("import")
	c.shut()
}

// placing shows a module on its way from the stores, and rows and columns before they are put in.
func (c *camera) placing() {
	plan, err := demo.Plan()
	c.open(c.write("demonstration.yaml", plan, err))
	to, module := image.Pt(520, 200), image.Pt(520, 275)
	if c.width > 1280 {
		to, module = image.Pt(741, 270), image.Pt(736, 410)
	}
	c.hold(image.Pt(150, 150), to)
	c.take("stores-drag")
	c.key("Escape")
	c.xdo("mouseup", "1")
	c.key("Escape", "v")
	c.click(module.X, module.Y)
	c.asked("rows and columns")
	for _, typed := range []string{"1", "", "", "3", "60"} { // one along, three across with gaps of 60 mm
		if typed != "" {
			c.key("ctrl+a")
			c.typed(typed)
		}
		c.key("Tab")
	}
	c.xdo("mousemove", fmt.Sprint(c.width/2), fmt.Sprint(c.height-5))
	c.take("array")
}

// underWay shows packing while it goes on: a box on a load bed, large enough to take a while.
func (c *camera) underWay() {
	p := layout.NewPlan(vehicles.Catalogue().Donor("pickup-ladder"), "On the load bed")
	p.Arrangements[0].Boxes = []*layout.Box{{ID: "bed", Name: "On the load bed", At: vehicles.XYZ{2100, -650, 900}, Shell: layout.Shell{WallMM: 2, LinerMM: 2},
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {1650, 0}, {1730, 200}, {1730, 1100}, {1650, 1300}, {0, 1300}}, CeilingMM: 120}}}}
	c.open(c.write("load-bed.yaml", p, nil))
	c.key("p")
	c.opened()
	c.accept()
	time.Sleep(2500 * time.Millisecond)
	c.snap("packing")
}

// records shows the editors of gear, of the donor and of the plan's settings, and pages of the help.
func (c *camera) records() {
	plan, err := demo.Plan()
	c.open(c.write("demonstration.yaml", plan, err))
	for _, of := range [][2]string{{"editor-gear", "new gear"}, {"editor-donor", "survey of the donor vehicle"}, {"settings", "plan settings"},
		{"help-rules", "rules and their sources"}, {"help-words", "cautions"}} {
		c.asked(of[1])
		c.opened()
		if of[0] == "help-words" {
			c.key("Up", "Up", "Up")
		}
		c.take(of[0])
		c.shut()
	}
}

// filtering shows the findings that hold a word, one of them clicked.
func (c *camera) filtering() {
	plan, err := demo.Plan()
	c.open(c.write("demonstration.yaml", plan, err))
	find := image.Pt(c.width-47, 567) // the sign on the strip above the findings
	if c.width > 1280 {
		find.Y = 763
	}
	c.click(find.X, find.Y)
	c.typed("fuse")
	c.click(c.width-140, find.Y+80)
	c.xdo("mousemove", fmt.Sprint(c.width/2), fmt.Sprint(c.height-5))
	c.take("findings-filtered")
}

// building shows the steps of assembly and the build record.
func (c *camera) building() {
	plan, err := demo.Plan()
	path := c.write("demonstration.yaml", plan, err)
	file := filepath.Join(filepath.Dir(path), "received.csv")
	writeReceived(c.t, file)
	c.open(path)
	c.key("ctrl+b")
	c.opened()
	c.take("steps-ask")
	c.accept()
	c.settle(time.Second)
	c.key("Next", "Next", "Next", "Right", "Right", "Right")
	c.take("steps")
	c.shut()
	c.dropFiles(c.width/2, c.height/2, file)
	c.settle(400 * time.Millisecond)
	c.take("record-import")
	c.accept()
	c.take("record")
	left, top := (c.width-1180)/2, (c.height-700)/2
	c.click(left+122, top+60)
	c.settle(time.Second)
	c.take("record-matching")
	c.click(left+194, top+60)
	c.take("record-register")
}

// elsewhere opens a plan that another window of the program has open with changes that are not saved.
func (c *camera) elsewhere() {
	plan, err := demo.Plan()
	path := c.write("demonstration.yaml", plan, err)
	c.open(path)
	c.key("bracketright", "Right")
	c.settle(time.Second)
	second := &camera{desk: c.beside(), width: c.width, height: c.height, folder: c.folder}
	second.open(path)
	second.focus()
	second.opened()
	second.take("elsewhere")
}

// asked does a command by words of its name where it asks for something.
func (c *camera) asked(words string) {
	c.t.Helper()
	c.key("ctrl+k")
	c.opened()
	c.typed(words)
	c.key("Return")
	c.settle(400 * time.Millisecond)
}

// hold presses the mouse at one place and pulls it to another.
func (c *camera) hold(from, to image.Point) {
	c.t.Helper()
	c.xdo("mousemove", fmt.Sprint(from.X), fmt.Sprint(from.Y))
	c.pause()
	c.xdo("mousedown", "1")
	for i := 1; i <= 8; i++ {
		at := from.Add(to.Sub(from).Mul(i).Div(8))
		c.xdo("mousemove", fmt.Sprint(at.X), fmt.Sprint(at.Y))
		time.Sleep(50 * time.Millisecond)
	}
}

// writeSketch writes an invented sketch of a floor: two rails, a cross-member, the place of a tank, two marks.
func writeSketch(t testing.TB, path string) {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 1200, 520))
	paper, pencil := image.NewUniform(color.RGBA{0xe9, 0xe4, 0xd4, 255}), image.NewUniform(color.RGBA{0x50, 0x52, 0x5a, 255})
	draw.Draw(img, img.Bounds(), paper, image.Point{}, draw.Src)
	frame := func(r image.Rectangle, wide int) {
		draw.Draw(img, r, pencil, image.Point{}, draw.Src)
		draw.Draw(img, r.Inset(wide), paper, image.Point{}, draw.Src)
	}
	frame(image.Rect(40, 75, 1160, 104), 4)
	frame(image.Rect(40, 416, 1160, 445), 4)
	frame(image.Rect(790, 100, 820, 420), 4)
	frame(image.Rect(333, 123, 750, 397), 3)
	for _, x := range []int{100, 1100} {
		frame(image.Rect(x-16, 258, x+16, 262), 0)
		frame(image.Rect(x-2, 244, x+2, 276), 0)
	}
	f, err := os.Create(path)
	if err == nil {
		err = png.Encode(f, img)
		f.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
}

// writeReceived writes a table of invented modules received.
func writeReceived(t testing.TB, path string) {
	t.Helper()
	text := "shop_number,serial,module,date,by,cells_v,milliohm,capacity_ah,note,refused\n"
	for i := range 16 {
		text += fmt.Sprintf("S%02d,A-%d,lfp-8s,2026-09-%02d,J. Moor,3.2%d 3.2%d 3.2%d 3.2%d 3.2%d 3.2%d 3.2%d 3.2%d,%.2f,%.1f,,\n", i+1, 40210+i*7, 1+i/4,
			80+i%3, 81, 80, 79+i%2, 80, 82-i%3, 81, 80, 4+float64(i*7%16)/40, 96+float64(i*5%16)/5)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}
