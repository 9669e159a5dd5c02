package main

import (
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/layout/demo"
)

// What a pan and a drag cost in the real window, all four views, readings and findings in sight, on plans of 400 and of
// 2,000 modules. The mouse moves 125 times a second. Reported are
//
//	frames/s      pictures a second that show another place of the mouse
//	ms-p50, -p99  from a move of the mouse until the readings of it, or later ones, are shown: for a pan, until the views are
//	cpu-ms/frame  time of all threads of the program for one picture; holds on a busy machine too
//	MB            largest memory of the program so far
//	s-start       from the program's start until its first picture is shown
func BenchmarkDesk(b *testing.B) {
	for _, plan := range []struct{ boxes, each int }{{4, 100}, {1, 400}, {30, 67}} {
		for _, g := range []struct {
			name     string
			button   byte
			readings bool
		}{{"pan", 3, false}, {"drag", 1, true}} {
			b.Run(fmt.Sprintf("%dx%d/%s", plan.boxes, plan.each, g.name), func(b *testing.B) {
				d := largeDesk(b, plan.boxes, plan.each)
				p, err := newPointer(d.display)
				if err != nil {
					b.Fatal(err)
				}
				defer p.Close()
				var all measure
				for b.Loop() {
					all.add(d.gesture(p, g.button))
				}
				all.report(b, g.readings)
				b.ReportMetric(d.largestMB(), "MB")
				b.ReportMetric(d.started(), "s-start")
				b.ReportMetric(0, "ns/op")
			})
		}
	}
}

// log collects what the program prints while it runs.
type log struct {
	sync.Mutex
	text strings.Builder
}

func (l *log) Write(p []byte) (int, error) {
	l.Lock()
	defer l.Unlock()
	return l.text.Write(p)
}

func (l *log) String() string {
	l.Lock()
	defer l.Unlock()
	return l.text.String()
}

// largeDesk is a display with the program on a large plan.
func largeDesk(b *testing.B, boxes, each int) *desk {
	d := newDesk(b, 1280, 800)
	plan, err := demo.Large(boxes, each)
	if err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(d.dir, "large.yaml")
	if err := layout.Save(path, plan); err != nil {
		b.Fatal(err)
	}
	d.start(path)
	time.Sleep(time.Second)
	return d
}

// move is a step of the mouse.
type move struct {
	at image.Point
	us int64 // microseconds of the clock
}

// frame is a picture that the program showed.
type frame struct {
	us             int64
	view, readings image.Point
}

// measure is what was measured over some gestures.
type measure struct {
	frames, cpu, seconds float64
	views, readings      []float64 // latencies in milliseconds
}

func (r *measure) add(o measure) {
	r.frames, r.cpu, r.seconds = r.frames+o.frames, r.cpu+o.cpu, r.seconds+o.seconds
	r.views, r.readings = append(r.views, o.views...), append(r.readings, o.readings...)
}

func (r *measure) report(b *testing.B, readings bool) {
	late := r.views
	if readings {
		late = r.readings
	}
	slices.Sort(late)
	if len(late) == 0 || r.frames == 0 {
		b.Fatal("no picture followed the mouse")
	}
	b.ReportMetric(r.frames/r.seconds, "frames/s")
	b.ReportMetric(late[len(late)/2], "ms-p50")
	b.ReportMetric(late[len(late)*99/100], "ms-p99")
	b.ReportMetric(1000*r.cpu/r.frames, "cpu-ms/frame")
}

// gesture moves the mouse round in small ellipses from a module with a button held.
func (d *desk) gesture(p *pointer, button byte) measure {
	const steps, pause = 500, 8 * time.Millisecond
	at := d.onModule()
	d.fake(p, movedTo, 0, at.X, at.Y)
	d.pause()
	d.fake(p, pressed, button, 0, 0)
	d.pause()
	d.fake(p, movedTo, 0, at.X+12, at.Y) // a step that begins the drag
	d.pause()
	before, cpu := len(d.stderr.String()), d.cpuSeconds()
	began := time.Now()
	moves := make([]move, steps)
	for i := range moves {
		a := 2 * math.Pi * float64(i) / 97
		to := at.Add(image.Pt(int(12+50*math.Sin(a)), int(30*math.Sin(1.7*a))))
		time.Sleep(time.Until(began.Add(time.Duration(i) * pause)))
		moves[i] = move{to, d.fake(p, movedTo, 0, to.X, to.Y).UnixMicro()}
	}
	out := measure{seconds: time.Since(began).Seconds(), cpu: d.cpuSeconds() - cpu}
	time.Sleep(1500 * time.Millisecond)
	d.fake(p, released, button, 0, 0)
	d.pause()
	out.follow(moves, framesIn(d.stderr.String()[before:]))
	return out
}

func (d *desk) fake(p *pointer, kind, button byte, x, y int) time.Time {
	d.t.Helper()
	at, err := p.fake(kind, button, x, y)
	if err != nil {
		d.t.Fatal(err)
	}
	return at
}

// onModule is a pixel well inside the picture of a module.
func (d *desk) onModule() image.Point {
	var at image.Point
	d.until("a module to be seen", func() bool {
		img := d.shot()
		plain := func(x, y int) bool {
			r, g, bl, _ := img.At(x, y).RGBA()
			return r>>8 == 0xd3 && g>>8 == 0xe8 && bl>>8 == 0xf6
		}
		for y := 200; y < 420; y++ {
			for x := 600; x < 900; x++ {
				if plain(x, y) && plain(x-1, y-1) && plain(x+1, y+1) && plain(x-1, y+1) && plain(x+1, y-1) {
					at = image.Pt(x, y)
					return true
				}
			}
		}
		return false
	})
	return at
}

// framesIn reads the lines "frame µs views x y readings x y" of the program.
func framesIn(s string) []frame {
	var out []frame
	for line := range strings.Lines(s) {
		var f frame
		n, _ := fmt.Sscanf(line, "frame %d views %d %d readings %d %d", &f.us, &f.view.X, &f.view.Y, &f.readings.X, &f.readings.Y)
		if n == 5 {
			out = append(out, f)
		}
	}
	return out
}

// follow counts the pictures that show a new place and how long after each move it, or a later one, was shown.
func (r *measure) follow(moves []move, frames []frame) {
	var views, readings []shown
	for i, f := range frames {
		if (i == 0 || f.view != frames[i-1].view) && f.us <= moves[len(moves)-1].us {
			r.frames++
		}
		views = append(views, shown{latest(moves, f.view, f.us), f.us})
		readings = append(readings, shown{latest(moves, f.readings, f.us), f.us})
	}
	r.views, r.readings = latencies(moves, views), latencies(moves, readings)
}

// shown says that at a time a picture showed the move with a number.
type shown struct {
	move int
	us   int64
}

// latest is the number of the last move to a place that was made before a time; -1: none.
func latest(moves []move, to image.Point, us int64) int {
	for i, m := range slices.Backward(moves) {
		if m.us <= us && m.at == to {
			return i
		}
	}
	return -1
}

// latencies are the times in milliseconds from each move until it, or a later one, is shown. What never is counts as a
// second.
func latencies(moves []move, by []shown) []float64 {
	out := make([]float64, len(moves))
	for i, m := range moves {
		out[i] = 1000
		if k := slices.IndexFunc(by, func(s shown) bool { return s.move >= i }); k >= 0 {
			out[i] = float64(by[k].us-m.us) / 1000
		}
	}
	return out
}

// proc reads a file of the program's folder under /proc.
func (d *desk) proc(name string) string {
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/%s", d.program.Process.Pid, name))
	if err != nil {
		d.t.Fatal(err)
	}
	return string(b)
}

// cpuSeconds is the processor time of all threads of the program.
func (d *desk) cpuSeconds() float64 {
	const ticks = 100 // a second, on every Linux that Go runs on
	s := d.proc("stat")
	f := strings.Fields(s[strings.LastIndex(s, ")")+1:])
	user, _ := strconv.ParseFloat(f[11], 64)
	system, _ := strconv.ParseFloat(f[12], 64)
	return (user + system) / ticks
}

// largestMB is the largest resident memory so far.
func (d *desk) largestMB() float64 {
	_, s, _ := strings.Cut(d.proc("status"), "VmHWM:")
	kb, _ := strconv.ParseFloat(strings.Fields(s)[0], 64)
	return kb / 1000
}

// started is the time from the start of the program until its first picture was shown, in seconds.
func (d *desk) started() float64 {
	f := framesIn(d.stderr.String())
	if len(f) == 0 {
		d.t.Fatal("the program showed nothing")
	}
	return time.UnixMicro(f[0].us).Sub(d.began).Seconds()
}
