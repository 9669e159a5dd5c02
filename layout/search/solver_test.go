package search

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stowbay/vehicles"
)

// The best height, the best front share and the best side of a vehicle with five boxes are what CBC, a
// general-purpose solver of mixed-integer programs, finds: one binary for each way to use each box, one program for
// each series and parallel count.
func TestAgainstCBC(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	cbc, err := exec.LookPath("cbc")
	if err != nil {
		t.Skip("cbc is not installed; it comes with the package coinor-cbc")
	}
	y := stiff(t)
	y.plan.Settings.Mass.FrontTargetPct = 62 // out of reach, as is an even split: a best that is not 0 takes CBC seconds, not minutes
	y.plan.Settings.Search.EnergyKWh = 85    // few counts, and the many modules that make for many ways
	for _, o := range []Objective{Height, FrontOff, Side} {
		var fine Resolution
		fine[o] = 1e-4
		options := Options{Packings: y.packings, Objectives: []Objective{o}, Resolution: fine}
		r, err := Run(context.Background(), y.plan, y.a, y.lib, options, nil)
		if err != nil || len(r.Found) != 1 {
			for _, e := range r.Excluded {
				t.Log(e.Text)
			}
			t.Fatalf("%v, %d found where one is the best", err, len(r.Found))
		}
		want, programs := math.Inf(1), 0
		for _, k := range tasksOf(t, y) {
			s := k.weighSubset([]int{0, 1, 2, 3, 4})
			for _, c := range k.choices {
				g := k.fields[0].groupOf(c, s, k.moduleKg*float64(c.Count))
				if v, ok := solveProgram(t, cbc, program(g, o, r.Found[0].Values[o]+2*gapLeft)); ok {
					want = min(want, v)
				}
				programs++
			}
		}
		got := r.Found[0].Values[o]
		if got > want+2e-4 || want > got+gapLeft+2e-4 {
			t.Errorf("%s: %.5f %s found, %.5f by CBC in %d programs", o.Key(), got, o.Unit(), want, programs)
		}
		t.Logf("%s: %.5f %s, %d programs, %.0f arrangements of which %.0f looked at", o.Key(), got, o.Unit(), programs, r.Tally.All, r.Tally.Looked)
	}
}

// gapLeft is how much better than what it returns CBC leaves possible, in points and mm: a tenth of the search's steps and
// less. To close the gap wholly takes it minutes, as a few kilograms more or less far forward make no difference.
const gapLeft = 0.01

// stiff is a vehicle whose loads are linear in the moments: the roll stiffness share is given. Every box holds a
// contactor, so that all five are always there.
func stiff(t *testing.T) *yard {
	sites := bigSites()[:5]
	for i := range sites {
		sites[i].y += 450
		sites[i].holdsContactorAlso = true
	}
	y := bigWith(t, sites, 1)
	d := *y.lib.Donor("yard-cart")
	d.RollShareFront = 0.55
	d.Ratings = vehicles.Ratings{FrontAxleKg: 1300, RearAxleKg: 1750, GrossKg: 2900}
	d.Tyres = vehicles.Tyres{FrontLoadIndex: 104, RearLoadIndex: 108}
	y.lib = y.lib.With(vehicles.Records{Donors: []*vehicles.Donor{&d}})
	return y
}

// program states a group in the LP format: x_b_i is 1 where box b is used in its way i; MX, MY, MZ are the vehicle's
// moments in tonne metres. What costs more than most is left out: it cannot be the best, and CBC has less to go through.
func program(g *group, o Objective, most float64) string {
	const unit = 1e6
	k := g.task
	rules := k.ground.rules
	w := rules.wheels
	kg := g.values[Mass]
	var subject, binary strings.Builder
	var modules, all [4]strings.Builder
	for _, b := range g.subset.boxes {
		fmt.Fprintf(&subject, " one_%d:", b)
		for n, way := range g.field.bays[b].all {
			name := fmt.Sprintf("x_%d_%d", b, n)
			fmt.Fprintf(&subject, " + %s", name)
			fmt.Fprintf(&binary, " %s\n", name)
			fmt.Fprintf(&modules[0], " + %d %s", len(way.kept), name)
			for i := 1; i < 4; i++ {
				fmt.Fprintf(&all[i], " %+.15g %s", way.first[i]/unit, name)
			}
		}
		subject.WriteString(" = 1\n")
	}
	fmt.Fprintf(&subject, " count:%s = %d\n", modules[0].String(), g.choice.Count)
	for i, m := range []string{"", "MX", "MY", "MZ"} {
		if i > 0 {
			fmt.Fprintf(&subject, " moment%s:%s - %s = %.15g\n", m, all[i].String(), m, -g.base[i]/unit)
		}
	}
	laden := rules.laden(kg)
	for i, c := range rules.cases {
		l := laden[i]
		total := kg + l[0]
		row := func(name string, kx, ky, constant, most float64) { // kx MX + ky MY + constant <= most
			if most > 0 && !math.IsInf(most, 1) {
				fmt.Fprintf(&subject, " %s_%d: %.15g MX %+.15g MY <= %.15g\n", name, i, kx*unit, ky*unit, most-constant)
			}
		}
		row("front", -1/w.base, 0, total-l[1]/w.base, c.front)
		row("rear", 1/w.base, 0, l[1]/w.base, c.rear)
		f, b := w.share/w.front, (1-w.share)/w.rear
		tf, tb := w.twist/w.front, -w.twist/w.rear
		for _, side := range []float64{-1, 1} {
			name := map[float64]string{-1: "left", 1: "right"}[side]
			front, rear := (total-l[1]/w.base)/2+side*(f*l[2]+tf), l[1]/w.base/2+side*(b*l[2]+tb)
			row("f"+name, -1/w.base/2, side*f, front, c.frontTyre)
			row("r"+name, 1/w.base/2, side*b, rear, c.rearTyre)
			row("fg"+name, 1/w.base/2, -side*f, 0, front)
			row("rg"+name, -1/w.base/2, -side*b, 0, rear)
		}
	}
	cost := fmt.Sprintf("%.15g MZ", unit/kg)
	switch o {
	case FrontOff:
		cost = "T"
		fmt.Fprintf(&subject, " off1: T %+.15g MX >= %.15g\n off2: T %+.15g MX >= %.15g\n", 100*unit/w.base/kg, 100-k.ground.target, -100*unit/w.base/kg, k.ground.target-100)
	case Side:
		cost = "T"
		c := 100 * unit * (w.share/w.front + (1-w.share)/w.rear) / kg
		twist := 100 * w.twist * (1/w.front - 1/w.rear) / kg
		fmt.Fprintf(&subject, " side1: T %+.15g MY >= %.15g\n side2: T %+.15g MY >= %.15g\n", -c, twist, c, -twist)
	}
	fmt.Fprintf(&subject, " most: %s <= %.15g\n", cost, most)
	return fmt.Sprintf("Minimize\n cost: %s\nSubject To\n%sBounds\n MX free\n MY free\n MZ free\nBinaries\n%sEnd\n", cost, subject.String(), binary.String())
}

// solveProgram returns the least cost, or false where nothing is allowed.
func solveProgram(t *testing.T, cbc, lp string) (float64, bool) {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "a.lp"), filepath.Join(dir, "a.sol")
	if err := os.WriteFile(in, []byte(lp), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command(cbc, in, "ratioGap", "0", "allowableGap", fmt.Sprint(gapLeft), "primalTolerance", "1e-9", "integerTolerance", "1e-9", "seconds", "20", "solve", "solution", out).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	line, _, _ := strings.Cut(string(b), "\n")
	if strings.Contains(line, "nfeasible") {
		return 0, false
	}
	i := strings.LastIndex(line, " ")
	v, err := strconv.ParseFloat(strings.TrimSpace(line[i:]), 64)
	if err != nil || !strings.HasPrefix(line, "Optimal") {
		t.Fatalf("%q from %s", line, said)
	}
	return v, true
}
