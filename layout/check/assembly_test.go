package check

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/electric"
	"stowbay/layout/goldentest"
	"stowbay/vehicles"
)

// handled judges a plan by the rules of assembly and build record alone.
func (w *wired) handled() []Finding {
	var gear []*vehicles.Gear
	for _, g := range w.gear {
		gear = append(gear, g)
	}
	lib := (&vehicles.Library{}).With(vehicles.Records{Modules: []*vehicles.Module{w.module}, Gear: gear})
	scene := layout.Resolve(w.plan, w.arrangement(), lib, nil)
	e := &Evaluation{Plan: w.plan, Arrangement: w.arrangement(), Scene: scene, Electric: electric.Evaluate(scene, nil)}
	e.Assembly = assembly.Evaluate(scene, circuit(e.Electric), nil)
	var out []Finding
	for _, list := range [][]Rule{assemblyRules, buildRules} {
		for _, r := range list {
			for _, f := range r.Run(e) {
				out = append(out, r.complete(f))
			}
		}
	}
	return out
}

// single is the pack cut down to one box of n modules of v volts at most each, a contactor at either end.
func single(n int, v float64) *wired {
	w := newWired()
	w.module.Cell.MaxV = v / float64(w.module.Series)
	b := w.box("front", 0, n)
	b.Gear = gearRow("contactor:negative", "contactor:positive")
	w.arrangement().Boxes = []*layout.Box{b}
	return w
}

// joules gives every module the nominal energy stated.
func (w *wired) joules(j float64) *wired {
	c := &w.module.Cell
	c.CapacityAh = j / 3600 / (c.NominalV * float64(w.module.Series*w.module.Parallel))
	return w
}

// stacked has a second module over the first one, so much further rear.
func stacked(rearMM float64) *wired {
	w := single(1, 50)
	b := w.arrangement().Boxes[0]
	b.Levels[0].CeilingMM = 300
	b.Modules = append(b.Modules, layout.Placement{ID: "m2", Module: "block", Posture: vehicles.Flat, At: vehicles.XYZ{40 + rearMM, 20, 114}})
	return w
}

// bolted states the torque of every terminal.
func bolted() *wired {
	w := single(2, 50)
	for i := range w.module.Terminals {
		w.module.Terminals[i].TorqueNm = 9
	}
	for _, id := range []string{"1", "2"} {
		w.gear["contactor"].Terminals = append(w.gear["contactor"].Terminals, vehicles.Terminal{ID: id, Polarity: "none", Face: vehicles.Top, At: vehicles.XYZ{30, 30, 60}, DiameterMM: 12, TorqueNm: 12})
	}
	return w
}

// leads has box contactors at both ends of both boxes, or at neither.
func leads(v float64, contactors bool) *wired {
	w := single(1, v)
	rear := w.box("rear", 2000, 1)
	w.arrangement().Boxes = append(w.arrangement().Boxes, rear)
	for _, b := range w.arrangement().Boxes {
		b.Gear = nil
		if contactors {
			b.Gear = gearRow("contactor:box", "contactor:box")
		}
	}
	return w
}

// Every rule of the assembly is met where it just holds and broken a hair beyond. Limits: 60 V DC (UN Regulation 100,
// 49 CFR 571.305 S3), below 120 V DC and at most 6 MJ (student racing EV.5.1.2).
func TestAssemblyRulesAtTheirLimits(t *testing.T) {
	short := single(2, 50)
	short.plan.Settings.Assembly.ToolMM = 1
	cases := []struct {
		name, rule string
		w          *wired
		want       Severity
		says       string
	}{
		{"a bridge at 60 V", "assembly.bridge", single(1, 60), Passes, "60 V"},
		{"a bridge above 60 V", "assembly.bridge", single(1, 60.01), Notes, "above 60 V"},
		{"nothing in reach of a short part", "assembly.bridge", short, Passes, "nothing in box front is within 1 mm"},
		{"contactors at both ends", "assembly.leaves", single(2, 50), Passes, "Every conductor"},
		{"the negative contactor missing", "assembly.leaves", single(2, 50).without(0), Notes, "The negative end of string S1 leaves box front"},
		{"the positive contactor missing", "assembly.leaves", single(2, 50).without(1), Notes, "The positive end of string S1 leaves box front"},
		{"a segment below 120 V", "assembly.segment", single(2, 59.99).joules(1e6), Passes, "120 V and 2.0 MJ stay in one piece"},
		{"a segment at 120 V", "assembly.segment", single(2, 60).joules(1e6), Notes, "less than 120 V"},
		{"a segment of 6 MJ", "assembly.segment", single(2, 50).joules(3e6), Passes, "6.0 MJ"},
		{"a segment above 6 MJ", "assembly.segment", single(2, 50).joules(3.001e6), Notes, "1 removable link"},
		{"a module above 6 MJ", "assembly.segment", single(1, 50).joules(6.001e6), Notes, "A single module holds more than 6 MJ"},
		{"a box at 60 V", "assembly.break_link", single(2, 30), Passes, "60 V stay in one piece"},
		{"a box above 60 V", "assembly.break_link", single(2, 30.01), Notes, "1 removable link, after front/m"},
		{"a module above 60 V", "assembly.break_link", single(1, 60.01), Notes, "no link can help"},
		{"an upper module beside the terminals", "assembly.reach", stacked(1), Passes, "No module stands over"},
		{"an upper module over a terminal", "assembly.reach", stacked(0), Warns, "1 bolted end lies under"},
		{"cables dead after a crash", "assembly.crash", leads(50, true), Notes, "stays live in box"},
		{"a live cable at 60 V", "assembly.crash", leads(30, false), Notes, "up to 60 V"},
		{"a live cable above 60 V", "assembly.crash", leads(30.01, false), Warns, "Live outside the boxes then: the cable from box"},
		{"every torque stated", "assembly.torque", bolted(), Passes, "every bolted end is stated"},
		{"a torque missing", "assembly.torque", bolted().loose(), Warns, "No torque is stated for 2 of 6 bolted ends"},
	}
	var lines []string
	for _, c := range cases {
		fs := c.w.handled()
		lines = append(append(lines, c.name), Figures(fs)...)
		t.Run(c.name, func(t *testing.T) { expect(t, fs, c.rule, c.want, c.says) })
	}
	goldentest.Compare(t, "assembly", nil, lines)
}

// without takes gear i out of the front box.
func (w *wired) without(i int) *wired {
	b := w.arrangement().Boxes[0]
	b.Gear = append(b.Gear[:i:i], b.Gear[i+1:]...)
	return w
}

// loose leaves the torque of the modules' negative terminals open.
func (w *wired) loose() *wired {
	w.module.Terminals[0].TorqueNm = 0
	return w
}

// expect wants a rule's gravest finding to be of a severity and one of its findings of that severity to say something.
func expect(t *testing.T, fs []Finding, rule string, want Severity, says string) {
	t.Helper()
	if got := gravest(fs, rule); got != want {
		t.Errorf("%s is %q, want %q", rule, got, want)
	}
	said := false
	for _, f := range fs {
		if f.Rule == rule {
			checkWording(t, f)
			said = said || f.Severity == want && strings.Contains(f.Text, says)
		}
	}
	if !said {
		t.Errorf("%s does not say %q:\n%s", rule, says, texts(fs, rule))
	}
}

func texts(fs []Finding, rule string) string {
	var b strings.Builder
	for _, f := range fs {
		if f.Rule == rule {
			fmt.Fprintln(&b, f.Severity, f.Text)
		}
	}
	return b.String()
}

// A bridge's current is its voltage over the resistance of the modules between, by hand: 50 V over 6 milliohm.
func TestBridgeCurrentByHand(t *testing.T) {
	fs := single(1, 50).handled()
	if amps := 50.0 / 0.006; math.Abs(amps-8333) > 1 {
		t.Fatal(amps)
	}
	expect(t, fs, "assembly.bridge", Passes, "up to about 8.3 kA")
	w := single(1, 50)
	w.module.Ohmic.MilliOhm = 0.8
	expect(t, w.handled(), "assembly.bridge", Passes, "up to about 62.5 kA")
}

// Without an inertia switch nothing opens the contactors, and the finding says so.
func TestCrashWithoutInertiaSwitch(t *testing.T) {
	w := single(1, 50)
	expect(t, w.handled(), "assembly.crash", Notes, "After the inertia switch")
	w.arrangement().Gear = nil
	expect(t, w.handled(), "assembly.crash", Notes, "no inertia switch is placed")
}

// A plan without modules has nothing to assemble and nothing said of it.
func TestAssemblyOfAnEmptyPack(t *testing.T) {
	w := single(0, 50)
	if fs := w.handled(); len(fs) > 0 {
		t.Errorf("%+v", fs)
	}
}
