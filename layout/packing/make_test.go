package packing

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"
)

var makeInstances = flag.Bool("packing.make", false, "write testdata/packing/free_form_own.json anew, with CBC")

var makeMore = flag.Int("packing.more", 10, "with -packing.kind, how many instances to add")

var makeKind = flag.String("packing.kind", "", "with -packing.make, add instances of this kind to those there are")

const ownPath = "../../testdata/packing/free_form_own.json"

// TestMakeInstances makes bays of the shapes met in vehicles, at random from a
// fixed seed, and has CBC prove their optima. It keeps those that it proves.
func TestMakeInstances(t *testing.T) {
	if !*makeInstances {
		t.Skip("run with -packing.make to write the instances anew")
	}
	needCBC(t)
	rng := rand.New(rand.NewPCG(20, 27))
	var out []instance
	limit, want, first, all := 25*time.Second, 64, 0, kinds
	if *makeKind != "" {
		out, all = ownInstances(t), []string{*makeKind}
		limit, want, first = 60*time.Second, len(out)+*makeMore, 100+len(out)
		rng = rand.New(rand.NewPCG(20, uint64(first)))
	}
	for k := first; len(out) < want; k++ {
		in := randomInstance(rng, all[k%len(all)], k)
		if p := in.problem(); p.Validate() != nil {
			continue
		}
		a := runCBC(t, in, limit)
		t.Logf("%s: %+v", in.Name, a)
		if !a.proved || a.optimum < 8 || a.optimum > 60 {
			continue
		}
		in.Optimum, in.Proved, in.Seconds = a.optimum, true, a.seconds
		in.Tool = "CBC " + a.version
		out = append(out, in)
		text, err := json.MarshalIndent(out, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(ownPath, append(text, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

var blocks = [][2]float64{{5, 2}, {7, 3}, {8, 3}, {9, 4}, {11, 4}, {7, 5}, {10, 3}, {9, 5}, {6, 4}, {12, 5}}

var kinds = []string{"L", "T", "U", "taper", "cut corners", "island", "steps", "gaps", "strips", "wall"}

func randomInstance(rng *rand.Rand, kind string, k int) instance {
	in := instance{Kind: kind}
	b := blocks[rng.IntN(len(blocks))]
	in.Length, in.Width = b[0], b[1]
	between := func(lo, hi int) float64 { return float64(lo + rng.IntN(hi-lo+1)) }
	w, h := between(32, 58), between(22, 40)
	if slices.Contains([]string{"gaps", "strips", "gaps at steps", "gaps at walls", "islands with strips"}, in.Kind) {
		// These models have many rows; smaller bays keep the oracle's time in bounds.
		w, h = between(18, 26), between(12, 17)
		in.Length, in.Width = between(5, 7), between(2, 4)
	}
	for w*h > 58*in.Length*in.Width {
		w, h = math.Floor(w*0.9), math.Floor(h*0.9)
	}
	switch in.Kind {
	case "L", "gaps", "gaps at walls":
		in.Outline = ell(w, h, between(int(w)/3, 2*int(w)/3), between(int(h)/3, 2*int(h)/3))
	case "T", "wall":
		in.Outline = tee(w, h, between(4, int(w)/3), between(int(h)/3, 2*int(h)/3))
	case "U", "strips":
		a := between(int(w)/4, int(w)/3)
		in.Outline = [][2]float64{{0, 0}, {w, 0}, {w, h}, {w - a, h}, {w - a, h / 2}, {a, h / 2}, {a, h}, {0, h}}
		in.Outline = whole(in.Outline)
	case "taper":
		c := between(2, 9)
		in.Outline = [][2]float64{{0, 0}, {w, c}, {w, h - c}, {0, h}}
		in.Slanted = true
	case "cut corners":
		c := between(3, 9)
		in.Outline = [][2]float64{{c, 0}, {w - c, 0}, {w, c}, {w, h - c}, {w - c, h}, {c, h}, {0, h - c}, {0, c}}
		in.Slanted = true
	case "islands with strips":
		in.Outline = ell(w, h, between(int(w)/2, 3*int(w)/4), between(int(h)/2, 3*int(h)/4))
		x, y := between(4, int(w)/2), between(3, int(h)/2)
		a, b := between(1, 3), between(1, 3)
		in.KeepOuts = [][][2]float64{{{x, y}, {x + a, y}, {x + a, y + b}, {x, y + b}}}
	case "island":
		in.Outline = [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}}
		for range 1 + rng.IntN(3) {
			x, y := between(3, int(w)-9), between(3, int(h)-9)
			a, b := between(1, 5), between(1, 5)
			in.KeepOuts = append(in.KeepOuts, [][2]float64{{x, y}, {x + a, y}, {x + a, y + b}, {x, y + b}})
		}
	case "steps", "gaps at steps":
		a, b := between(5, int(w)/3), between(4, int(h)/3)
		in.Outline = [][2]float64{{0, 0}, {w, 0}, {w, h - 2*b}, {w - a, h - 2*b}, {w - a, h - b}, {w - 2*a, h - b}, {w - 2*a, h}, {0, h}}
	}
	switch in.Kind {
	case "gaps", "gaps at steps":
		in.Side, in.End, in.Wall = 0, between(1, 2), float64(rng.IntN(2))
		if rng.IntN(2) == 0 {
			in.Side, in.End = in.End, in.Side
		}
	case "gaps at walls":
		in.Side, in.End, in.Wall = between(1, 2), 0, between(1, 3)
		if rng.IntN(2) == 0 {
			in.Side, in.End = in.End, in.Side
		}
	case "wall":
		in.Length, in.Width = in.Length+3, in.Width+1
		in.Side, in.Wall = 1, between(1, 2)
		in.End = in.Side
	case "strips", "islands with strips":
		in.FrontStrip = between(1, 3)
		if rng.IntN(2) == 0 {
			in.BackStrip = in.FrontStrip
		}
	}
	in.Name = fmt.Sprintf("%s-%02d-%gx%g", in.Kind, k, in.Length, in.Width)
	return in
}

func ell(w, h, a, b float64) [][2]float64 {
	return [][2]float64{{0, 0}, {w, 0}, {w, b}, {a, b}, {a, h}, {0, h}}
}

func tee(w, h, a, b float64) [][2]float64 {
	return [][2]float64{{0, 0}, {w, 0}, {w, b}, {w - a, b}, {w - a, h}, {a, h}, {a, b}, {0, b}}
}

func whole(ps [][2]float64) [][2]float64 {
	for i := range ps {
		ps[i] = [2]float64{float64(int(ps[i][0])), float64(int(ps[i][1]))}
	}
	return ps
}
