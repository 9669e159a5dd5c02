package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/vehicles"
)

// desk is a virtual display with the real program running on it.
type desk struct {
	t       testing.TB
	dir     string
	bin     string // programs of the test's own in place of all those of the system; "": the system's
	display string
	program *exec.Cmd
	began   time.Time
	stderr  log
	exited  chan error
}

// needs skips the test where the tools for a real window are missing.
func needs(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("a real window takes time; left out by -short")
	}
	for _, tool := range []string{"Xvfb", "xdotool", "import"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed; the real-window test is left out", tool)
		}
	}
}

// binary is the program, built once for all tests of the package.
var binary string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "stowbay-window")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	binary = filepath.Join(dir, "stowbay")
	os.Setenv("GORACE", "halt_on_error=1")
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

func build(t testing.TB) {
	t.Helper()
	if _, err := os.Stat(binary); err == nil {
		return
	}
	args := []string{"build", "-tags", "x11", "-o", binary}
	if os.Getenv("STOWBAY_RACE") != "" { // a race ends the program, and with it the test: see TestMain
		args = append(args, "-race")
	}
	out, err := exec.Command("go", append(args, ".")...).CombinedOutput()
	if err != nil {
		t.Fatalf("building the program: %v\n%s", err, out)
	}
}

// newDesk starts a display of the size given. The program keeps its preferences in a folder of the test's own.
func newDesk(t testing.TB, width, height int) *desk {
	t.Helper()
	needs(t)
	build(t)
	d := &desk{t: t, dir: t.TempDir()}
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	x := exec.Command("Xvfb", "-displayfd", "3", "-r", "-noreset", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height), "+extension", "GLX")
	x.ExtraFiles = []*os.File{w}
	if err := x.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	t.Cleanup(func() { x.Process.Kill(); x.Wait() })
	line, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		t.Fatalf("Xvfb did not say which display it serves: %v", err)
	}
	d.display = ":" + strings.TrimSpace(line)
	return d
}

// env is the environment of everything that runs on the display.
func (d *desk) env() []string {
	home := filepath.Join(d.dir, "home")
	os.MkdirAll(filepath.Join(home, ".cache"), 0o755)
	out := os.Environ()
	if d.bin != "" {
		out = append(out, "PATH="+d.bin)
	}
	return append(out, "DISPLAY="+d.display, "HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_CACHE_HOME="+filepath.Join(home, ".cache"),
		"XDG_STATE_HOME="+home, "XDG_DATA_HOME="+home, "FYNE_SCALE=1", timingsVariable+"=frames")
}

// start runs the program and waits for its window.
func (d *desk) start(args ...string) {
	d.t.Helper()
	d.program = exec.Command(binary, args...)
	d.program.Env = d.env()
	d.program.Dir = d.dir
	d.program.Stderr = &d.stderr
	d.began = time.Now()
	if err := d.program.Start(); err != nil {
		d.t.Fatal(err)
	}
	d.exited = make(chan error, 1)
	go func(p *exec.Cmd, c chan error) { c <- p.Wait() }(d.program, d.exited)
	d.t.Cleanup(d.kill)
	d.until("the window", func() bool { return len(d.windows()) > 0 })
	d.xdo("windowmove", d.windows()[0], "0", "0")
	d.until("a picture in the window", func() bool { return colours(d.shot()) > 8 })
	d.pause()
}

// windows are the windows of the program.
func (d *desk) windows() []string {
	return strings.Fields(d.asked("search", "--all", "--onlyvisible", "--pid", strconv.Itoa(d.program.Process.Pid), "--name", "Stowbay"))
}

// title is what stands over the window.
func (d *desk) title() string { return strings.TrimSpace(d.asked("getwindowname", d.windows()[0])) }

// asked is what xdotool answers; nothing where it finds nothing.
func (d *desk) asked(args ...string) string {
	cmd := exec.Command("xdotool", args...)
	cmd.Env = d.env()
	out, _ := cmd.Output()
	return string(out)
}

// kill ends the program at once, as a power cut would.
func (d *desk) kill() {
	if d.program == nil {
		return
	}
	d.program.Process.Kill()
	<-d.exited
	d.program = nil
}

// until waits for something that the program does.
func (d *desk) until(what string, ok func() bool) {
	d.t.Helper()
	for range 1200 {
		if ok() {
			return
		}
		select {
		case err := <-d.exited:
			d.exited <- err
			d.t.Fatalf("the program ended while waiting for %s: %v\n%s", what, err, d.stderr.String())
		case <-time.After(50 * time.Millisecond):
		}
	}
	if keep := os.Getenv("STOWBAY_TEST_SHOTS"); keep != "" {
		d.keep(filepath.Join(keep, "failed-"+d.t.Name()+".png"))
	}
	d.t.Fatalf("waited in vain for %s", what)
}

// xdo has the mouse or the keyboard do something.
func (d *desk) xdo(args ...string) {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	cmd := exec.CommandContext(ctx, "xdotool", args...)
	cmd.Env = d.env()
	if out, err := cmd.CombinedOutput(); err != nil {
		d.t.Fatalf("xdotool %v: %v\n%s", args, err, out)
	}
}

// pause gives the program time for a few frames.
func (d *desk) pause() { time.Sleep(150 * time.Millisecond) }

func (d *desk) click(x, y int) {
	d.t.Helper()
	d.xdo("mousemove", strconv.Itoa(x), strconv.Itoa(y))
	d.pause()
	d.xdo("click", "1")
	d.pause()
}

func (d *desk) key(keys ...string) {
	d.t.Helper()
	for _, k := range keys {
		d.xdo("key", k)
		d.pause()
	}
}

func (d *desk) typed(s string) {
	d.t.Helper()
	d.xdo("type", "--delay", "30", s)
	d.pause()
}

// drag pulls the mouse in steps from one place to another, with keys held down.
func (d *desk) drag(x0, y0, x1, y1 int, held ...string) {
	d.t.Helper()
	d.xdo("mousemove", strconv.Itoa(x0), strconv.Itoa(y0))
	d.pause()
	for _, k := range held {
		d.xdo("keydown", k)
	}
	d.xdo("mousedown", "1")
	d.pause()
	const steps = 8
	for i := 1; i <= steps; i++ {
		d.xdo("mousemove", strconv.Itoa(x0+(x1-x0)*i/steps), strconv.Itoa(y0+(y1-y0)*i/steps))
		time.Sleep(30 * time.Millisecond)
	}
	d.pause()
	d.xdo("mouseup", "1")
	for _, k := range held {
		d.xdo("keyup", k)
	}
	d.pause()
}

// shot takes a picture of the whole display.
func (d *desk) shot() image.Image {
	d.t.Helper()
	cmd := exec.Command("import", "-window", "root", "png:-")
	cmd.Env = d.env()
	out, err := cmd.Output()
	if err != nil {
		d.t.Fatalf("taking a screenshot: %v", err)
	}
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		d.t.Fatalf("reading the screenshot: %v", err)
	}
	return img
}

// keep writes a screenshot to a file; for looking at.
func (d *desk) keep(path string) {
	cmd := exec.Command("import", "-window", "root", path)
	cmd.Env = d.env()
	_ = cmd.Run()
}

// colours counts the distinct colours of a picture.
func colours(m image.Image) int {
	seen := map[[3]uint32]bool{}
	b := m.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += 2 {
		for x := b.Min.X; x < b.Max.X; x += 2 {
			r, g, bl, _ := m.At(x, y).RGBA()
			seen[[3]uint32{r, g, bl}] = true
		}
	}
	return len(seen)
}

// different counts the pixels of a rectangle that differ between two pictures.
func different(a, b image.Image, r image.Rectangle) int {
	n := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			ar, ag, ab, _ := a.At(x, y).RGBA()
			br, bg, bb, _ := b.At(x, y).RGBA()
			if ar != br || ag != bg || ab != bb {
				n++
			}
		}
	}
	return n
}

// testPlan writes a plan with one box in the middle of the first donor, holding two modules far apart.
func testPlan(t *testing.T, path string) *layout.Plan {
	t.Helper()
	cat := vehicles.Catalogue()
	donor, module := cat.Donor("van-rear-engine"), cat.Module("nmc-355")
	if donor == nil || module == nil {
		t.Fatal("the catalogue lacks the donor or the module of this test")
	}
	p := layout.NewPlan(donor, "Window test")
	b := &layout.Box{ID: "mid", At: vehicles.XYZ{600, -400, 250}, Levels: []vehicles.Level{{
		Outline: []vehicles.XY{{0, 0}, {1400, 0}, {1400, 800}, {0, 800}}, CeilingMM: 200}}}
	for i, x := range []float64{100, 900} {
		b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", i+1), Module: module.ID, Posture: vehicles.Flat, At: vehicles.XYZ{x, 100, 2}})
	}
	p.Arrangements[0].Boxes = []*layout.Box{b}
	if err := layout.Save(path, p); err != nil {
		t.Fatal(err)
	}
	return p
}

// The plan view's scale and origin are found by dragging a module by a known number of pixels and reading the plan
// that was saved: both axes have to give one and the same scale, and the module's picture has to be where it was
// dropped.
func TestDragInTheRealWindow(t *testing.T) {
	d := newDesk(t, 1280, 800)
	path := filepath.Join(d.dir, "plan.yaml")
	before := testPlan(t, path)
	d.start(path)
	d.key("1", "s") // the plan alone, without snapping
	d.pause()
	first := d.shot()
	if n := colours(first); n < 30 {
		t.Fatalf("the screenshot has only %d colours", n)
	}
	at := find(t, d)
	const dx, dy = 60, -48
	d.drag(at.X, at.Y, at.X+dx, at.Y+dy)
	second := d.shot()
	d.key("ctrl+s")
	var moved vehicles.XYZ
	d.until("the plan on disk to change", func() bool {
		p, err := layout.Load(path)
		if err != nil {
			t.Fatalf("the plan saved cannot be read: %v", err)
		}
		m := p.Arrangements[0].Boxes[0].Modules[0]
		was := before.Arrangements[0].Boxes[0].Modules[0]
		for i := range moved {
			moved[i] = m.At[i] - was.At[i]
		}
		return m.At != was.At
	})
	if moved[0] <= 0 || moved[1] <= 0 || moved[2] != 0 {
		t.Fatalf("moved by %v; pulled to the right and up, x and y have to grow", moved)
	}
	if kx, ky := moved[0]/dx, moved[1]/-dy; math.Abs(kx-ky) > 0.05*kx {
		t.Errorf("%.2f mm a pixel along x, %.2f along y", kx, ky)
	}
	here := image.Rect(at.X+dx-12, at.Y+dy-4, at.X+dx+12, at.Y+dy+4)
	if different(first, second, here) < here.Dx()*here.Dy()/2 {
		t.Error("the module's picture is not where it was dropped")
	}
}

// find returns a pixel on the first module: the one in the middle of the modules' blue to the left of the window's
// middle, checked by picking it.
func find(t *testing.T, d *desk) image.Point {
	t.Helper()
	var at image.Point
	d.until("a module to be seen", func() bool {
		var n int
		at, n = middleOfModules(d.shot())
		return n >= 100
	})
	return at
}

// middleOfModules returns the middle of the pixels in a module's colour and how many there are.
func middleOfModules(img image.Image) (image.Point, int) {
	b := img.Bounds()
	sum, n := image.Point{}, 0
	for y := 80; y < b.Max.Y-40; y++ {
		for x := 320; x < b.Max.X/2; x++ {
			r, g, bl, _ := img.At(x, y).RGBA()
			if r>>8 == 0xd3 && g>>8 == 0xe8 && bl>>8 == 0xf6 {
				sum, n = sum.Add(image.Pt(x, y)), n+1
			}
		}
	}
	if n == 0 {
		return sum, 0
	}
	return sum.Div(n), n
}
