package report_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"stowbay/internal/inputs"
	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/layout/report"
	"stowbay/vehicles"
)

// extremes are what a slip of the finger, a broken file or ill will puts in the place of a number.
var extremes = []string{".nan", ".inf", "-.inf", "1e308", "-1e308", "1e-300", "0", "-7", "99999999", "0.0001", "1e400"}

var numeral = regexp.MustCompile(`(?m)([:\[,] ?)(-?\d+(?:\.\d+)?)(,|\]|$)`)

// spoilt gives n copies of a file, each with one of its numbers, chosen by chance, replaced by an extreme.
func spoilt(file []byte, n int, seed uint64) []string {
	r := rand.New(rand.NewPCG(seed, 0))
	all := numeral.FindAllSubmatchIndex(file, -1)
	out := make([]string, n)
	for i := range out {
		at := all[r.IntN(len(all))]
		out[i] = string(file[:at[4]]) + extremes[r.IntN(len(extremes))] + string(file[at[5]:])
	}
	return out
}

// tries is how many spoilt files of each kind are tried: 60, or what STOWBAY_SPOILT says.
func tries() int { return inputs.Count("STOWBAY_SPOILT", 60) }

// through takes a plan through the whole pipeline and checks that its figures are such as JSON and people can hold.
func through(t *testing.T, p *layout.Plan, lib *vehicles.Library, what string) {
	t.Helper()
	defer func() {
		if r := recover(); r != nil {
			t.Fatalf("%s: %v", what, r)
		}
	}()
	for _, a := range p.Arrangements {
		e := check.Evaluate(p, a, lib, nil)
		for _, r := range e.Readings {
			if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) {
				t.Errorf("%s: reading %s of %q is %v", what, r.Key, r.Of, r.Value)
			}
			if r.Why != nil {
				r.Why()
			}
		}
		for _, f := range e.Findings {
			if strings.Contains(f.Text, "NaN") || strings.Contains(f.Text, "Inf") {
				t.Errorf("%s: finding %s says %q", what, f.Rule, f.Text)
			}
		}
		b, err := report.JSON(e)
		if err != nil || !json.Valid(b) {
			t.Errorf("%s: %v", what, err)
		}
		report.Summary(e)
		report.FindingLines(e)
	}
}

// changed is the first line in which two files differ, to say which number was replaced.
func changed(was []byte, is string) string {
	a, b := strings.Split(string(was), "\n"), strings.Split(is, "\n")
	for i := range a {
		if i < len(b) && a[i] != b[i] {
			return fmt.Sprintf("line %d: %s -> %s", i+1, strings.TrimSpace(a[i]), strings.TrimSpace(b[i]))
		}
	}
	return "nothing"
}

func TestExtremeNumbersInThePlan(t *testing.T) {
	read := 0
	for _, text := range spoilt(demo.File(), tries(), 1) {
		p, err := layout.ParseOver("plan.yaml", []byte(text), vehicles.Catalogue())
		if err != nil {
			continue // refused with a problem, as it should be
		}
		read++
		through(t, p, p.LibraryOver(vehicles.Catalogue()), changed(demo.File(), text))
	}
	if read == 0 {
		t.Error("every file was refused: nothing went through the pipeline")
	}
}

func TestExtremeNumbersInDonorAndModule(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	one := *p
	one.Arrangements = p.Arrangements[:1]
	donor, err := vehicles.WriteDonor(vehicles.Catalogue().Donor(p.Donor))
	if err != nil {
		t.Fatal(err)
	}
	module, err := vehicles.WriteModule(vehicles.Catalogue().Module("lfp-8s"))
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for _, text := range spoilt(donor, tries(), 2) {
		if d, err := vehicles.ReadDonor("donor.yaml", []byte(text)); err == nil {
			read++
			through(t, &one, vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{d}}), "donor "+changed(donor, text))
		}
	}
	for _, text := range spoilt(module, tries(), 3) {
		if m, err := vehicles.ReadModule("module.yaml", []byte(text)); err == nil {
			read++
			through(t, &one, vehicles.Catalogue().With(vehicles.Records{Modules: []*vehicles.Module{m}}), "module "+changed(module, text))
		}
	}
	if read == 0 {
		t.Error("every file was refused: nothing went through the pipeline")
	}
}

// frame is a plan with one bay of the outline given and a box in it of the same outline.
func frame(corners string) string {
	return "format: 1\nname: x\ndonor: van-rear-engine\narrangements:\n  - id: a\n    name: A\n    bays:\n      - id: bay\n        name: Bay\n        levels:\n          - outline: " + corners +
		"\n            floor_mm: 200\n            ceiling_mm: 500\n    boxes:\n      - id: b\n        bay: bay\n        at_mm: [0, 0, 200]\n        levels:\n          - outline: " + corners +
		"\n            floor_mm: 0\n            ceiling_mm: 300\n        modules:\n          - {id: m, module: nmc-355, at_mm: [5, 5, 5], posture: flat}\n"
}

func TestOutlinesThatAreNone(t *testing.T) {
	var million strings.Builder
	million.WriteString("[")
	for i := range 200_000 {
		fmt.Fprintf(&million, "[%d, %d], ", i, i%7)
	}
	million.WriteString("[0, 9]]")
	for name, corners := range map[string]string{
		"crosses itself":   "[[0, 0], [900, 900], [900, 0], [0, 900]]",
		"no area":          "[[0, 0], [900, 0], [1800, 0]]",
		"two corners":      "[[0, 0], [900, 0]]",
		"one place":        "[[5, 5], [5, 5], [5, 5], [5, 5]]",
		"there and back":   "[[0, 0], [900, 0], [900, 900], [900, 0]]",
		"touches itself":   "[[0, 0], [900, 0], [450, 450], [900, 900], [0, 900], [450, 450]]",
		"far away":         "[[0, 0], [1e308, 0], [1e308, 1e308]]",
		"too many corners": million.String(),
	} {
		_, err := layout.ParseOver("plan.yaml", []byte(frame(corners)), vehicles.Catalogue())
		if err == nil {
			t.Errorf("%s: read", name)
			continue
		}
		if !strings.HasPrefix(err.Error(), "plan.yaml:") || len(err.Error()) > 1<<20 {
			t.Errorf("%s: %.200s", name, err)
		}
	}
}

// Thin, tiny and huge outlines are allowed where they are outlines at all; they go through the pipeline.
func TestOutlinesThatAreBarelyOnes(t *testing.T) {
	for name, corners := range map[string]string{
		"sliver": "[[0, 0], [9000, 0], [9000, 0.02]]",
		"speck":  "[[0, 0], [0.05, 0], [0.05, 0.05], [0, 0.05]]",
		"huge":   "[[0, 0], [30000, 0], [30000, 9000], [0, 9000]]",
		"comb":   comb(100),
	} {
		p, err := layout.ParseOver("plan.yaml", []byte(frame(corners)), vehicles.Catalogue())
		if err != nil {
			if !strings.HasPrefix(err.Error(), "plan.yaml:") {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		through(t, p, p.LibraryOver(vehicles.Catalogue()), name)
	}
}

// comb is an outline with n teeth.
func comb(n int) string {
	var b strings.Builder
	b.WriteString("[[0, 0]")
	for i := range n {
		x := 10 * i
		fmt.Fprintf(&b, ", [%d, 0], [%d, 500], [%d, 500]", x+5, x+5, x+10)
	}
	fmt.Fprintf(&b, ", [%d, 600], [0, 600]]", 10*n)
	return b.String()
}
