package packing

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
	"time"
)

// instance is a free-form problem on whole numbers, with the optimum that a
// general-purpose solver found and proved for positions on whole numbers.
type instance struct {
	Name     string         `json:"name"`
	Kind     string         `json:"kind"`
	Outline  [][2]float64   `json:"outline"`
	KeepOuts [][][2]float64 `json:"keep_outs,omitempty"`
	Length   float64        `json:"length"`
	Width    float64        `json:"width"`
	Side     float64        `json:"side,omitempty"`
	End      float64        `json:"end,omitempty"`
	Wall     float64        `json:"wall,omitempty"`
	// FrontStrip and BackStrip are free strips at the faces +x and -x at turn 0.
	FrontStrip float64 `json:"front_strip,omitempty"`
	BackStrip  float64 `json:"back_strip,omitempty"`
	Optimum    int     `json:"optimum"`
	// Slanted bays: the optimum is for whole positions only and may be beaten.
	Slanted bool    `json:"slanted,omitempty"`
	Tool    string  `json:"tool"`
	Seconds float64 `json:"seconds"`
	Proved  bool    `json:"proved"`
}

func (in instance) problem() Problem {
	ring := func(ps [][2]float64) (out []Point) {
		for _, p := range ps {
			out = append(out, Point{p[0], p[1]})
		}
		return out
	}
	r := Region{Outline: ring(in.Outline)}
	for _, k := range in.KeepOuts {
		r.KeepOuts = append(r.KeepOuts, ring(k))
	}
	q := Posture{Name: "module", LengthMM: in.Length, WidthMM: in.Width, HeightMM: 1,
		Gaps: Gaps{SideMM: in.Side, EndMM: in.End, WallMM: in.Wall}, EndsDiffer: in.FrontStrip != in.BackStrip}
	for face, depth := range map[Face]float64{PlusX: in.FrontStrip, MinusX: in.BackStrip} {
		if depth > 0 {
			q.Strips = append(q.Strips, Strip{Face: face, DepthMM: depth})
		}
	}
	return Problem{Bays: []Bay{{ID: "bay", Levels: []Level{{Region: r, CeilingMM: 1}}}}, Postures: []Posture{q}}
}

// column is a possible place in the oracle's model: body and strips as rectangles.
type column struct {
	body   box
	gx, gy float64
	strips []box
	lying  bool
}

// columns lists every whole position of every turn that is clear of walls, by the
// tests' own verifier.
func (in instance) columns() []column {
	p := in.problem()
	q := p.Postures[0]
	r := p.Bays[0].Levels[0].Region
	turns := []int{0, 90}
	if q.EndsDiffer {
		turns = []int{0, 90, 180, 270}
	}
	var out []column
	x1, y1 := 0.0, 0.0
	for _, v := range r.Outline {
		x1, y1 = math.Max(x1, v.X), math.Max(y1, v.Y)
	}
	for _, turn := range turns {
		for x := 0.0; x < x1; x++ {
			for y := 0.0; y < y1; y++ {
				a := Placement{Bay: "bay", X: x, Y: y, Posture: "module", Turn: turn}
				if c, ok := in.column(p, r, a); ok {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

func (in instance) column(p Problem, r Region, a Placement) (column, bool) {
	c := column{body: footprint(p, a), strips: stripBoxes(p, a), lying: a.Turn%180 == 0}
	c.gx, c.gy = facing(p, a)
	if inRegion(c.body, r, in.Wall) != "" {
		return c, false
	}
	for _, s := range c.strips {
		if inRegion(s, r, 0) != "" {
			return c, false
		}
	}
	return c, true
}

// writeModel writes the set-packing model as an LP file. Bodies of one lie, grown to
// one side by their gaps, exclude one another where they hold a common cell. Bodies of
// two lies keep the larger gap along both axes: they exclude one another where, grown
// so, they hold cells no further apart than that gap exceeds those they were grown by.
// A column excludes all bodies from its strips.
func (in instance) writeModel(path string) (columns int, err error) {
	cols := in.columns()
	same := [2]map[[2]int][]int{{}, {}}
	bodies := [2]map[[2]int][]int{{}, {}}
	lie := func(c column) int {
		if c.lying {
			return 0
		}
		return 1
	}
	for k, c := range cols {
		grown := c.body
		grown.x1 += c.gx
		grown.y1 += c.gy
		cellsOf(grown, func(q [2]int) { same[lie(c)][q] = append(same[lie(c)][q], k) })
		cellsOf(c.body, func(q [2]int) { bodies[lie(c)][q] = append(bodies[lie(c)][q], k) })
	}
	var b strings.Builder
	b.WriteString("Maximize\n obj:")
	for k := range cols {
		fmt.Fprintf(&b, " + x%d", k)
		if k%20 == 19 {
			b.WriteString("\n")
		}
	}
	b.WriteString("\nSubject To\n")
	row := 0
	write := func(lists ...[]int) {
		n := 0
		var line strings.Builder
		for _, l := range lists {
			for _, k := range l {
				fmt.Fprintf(&line, " + x%d", k)
				if n++; n%20 == 0 {
					line.WriteString("\n")
				}
			}
		}
		if n > 1 {
			fmt.Fprintf(&b, " r%d:%s <= 1\n", row, line.String())
			row++
		}
	}
	more := int(math.Max(in.Side, in.End))
	alongEnds, alongSides := more-int(in.End), more-int(in.Side)
	for y := -100; y < 300; y++ {
		for x := -100; x < 300; x++ {
			for dx := -alongSides; dx <= alongEnds; dx++ {
				for dy := -alongEnds; dy <= alongSides; dy++ {
					write(same[0][[2]int{x, y}], same[1][[2]int{x + dx, y + dy}])
				}
			}
		}
	}
	for k, c := range cols {
		for _, s := range c.strips {
			cellsOf(s, func(q [2]int) {
				if len(bodies[0][q])+len(bodies[1][q]) > 0 {
					write([]int{k}, bodies[0][q], bodies[1][q])
				}
			})
		}
	}
	b.WriteString("Binary\n")
	for k := range cols {
		fmt.Fprintf(&b, " x%d\n", k)
	}
	b.WriteString("End\n")
	return len(cols), os.WriteFile(path, []byte(b.String()), 0o644)
}

func cellsOf(f box, visit func([2]int)) {
	for x := int(math.Floor(f.x0 + tol)); float64(x) < f.x1-tol; x++ {
		for y := int(math.Floor(f.y0 + tol)); float64(y) < f.y1-tol; y++ {
			visit([2]int{x, y})
		}
	}
}

// cbcAnswer is what CBC made of a model.
type cbcAnswer struct {
	optimum int
	proved  bool
	seconds float64
	version string
}

// needCBC skips a test where the solver is not installed.
func needCBC(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("cbc"); err != nil {
		t.Skip("cbc is not installed (Debian: coinor-cbc); the check against it is skipped")
	}
}

// runCBC solves an instance with CBC on two threads.
func runCBC(t testing.TB, in instance, limit time.Duration) cbcAnswer {
	t.Helper()
	path := filepath.Join(t.TempDir(), "model.lp")
	n, err := in.writeModel(path)
	if err != nil {
		t.Fatal(err)
	}
	if n == 0 {
		return cbcAnswer{proved: true}
	}
	ctx, cancel := context.WithTimeout(context.Background(), limit+20*time.Second)
	defer cancel()
	start := time.Now()
	out, err := exec.CommandContext(ctx, "cbc", path, "-seconds", strconv.Itoa(int(limit.Seconds())), "-threads", "2", "-solve", "-quit").CombinedOutput()
	a := cbcAnswer{seconds: time.Since(start).Seconds()}
	if err != nil {
		return a
	}
	for _, line := range strings.Split(string(out), "\n") {
		f := strings.Fields(line)
		switch {
		case strings.HasPrefix(line, "Version:"):
			a.version = f[1]
		case strings.HasPrefix(line, "Objective value:"):
			v, _ := strconv.ParseFloat(f[2], 64)
			a.optimum = int(math.Round(math.Abs(v)))
		case strings.HasPrefix(line, "Result - Optimal solution found"):
			a.proved = !strings.Contains(line, "within gap")
		}
	}
	return a
}
