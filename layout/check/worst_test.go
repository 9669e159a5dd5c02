package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/cooling"
	"stowbay/layout/electric"
	"stowbay/layout/restraint"
)

// Of each box the module is named whose heat is furthest above what air may carry off, or least below it; it fails where it is above.
// Modules of which nothing is stated are counted.
func TestModuleThatAirCoolsWorst(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for range 300 {
		e := &Evaluation{Plan: &layout.Plan{}, Scene: &layout.Scene{}, Cooling: &cooling.Result{}, Electric: &electric.Result{}}
		e.Plan.Settings.Cooling.HeatA = 50
		var want []string
		for b := range 3 {
			id := fmt.Sprint("box-", b+1)
			e.Scene.Boxes = append(e.Scene.Boxes, &layout.BoxScene{Box: &layout.Box{ID: id}})
			most, name, silent := math.Inf(-1), "", 0
			for m := range r.IntN(5) {
				a := cooling.AirCooled{Body: &layout.Body{ID: fmt.Sprint(id, "/m", m+1)}, HeatW: 5 + float64(r.IntN(60)), LimitW: float64(r.IntN(3) * (1 + r.IntN(30)))}
				e.Cooling.Air = append(e.Cooling.Air, a)
				switch over := a.HeatW - a.LimitW; {
				case a.LimitW == 0:
					silent++
				case over > most:
					most, name = over, a.Body.ID
				}
			}
			if name != "" {
				want = append(want, fmt.Sprint(name, " fails ", most > 0))
			}
			if silent > 0 {
				want = append(want, fmt.Sprint(id, " ", silent))
			}
		}
		var got []string
		for _, f := range airCools(e) {
			if f.Severity == Notes {
				var n int
				if _, err := fmt.Sscanf(f.Text, "Box "+f.Subject+": %d", &n); err != nil {
					t.Fatal(f.Text, err)
				}
				got = append(got, fmt.Sprint(f.Subject, " ", n))
				continue
			}
			got = append(got, fmt.Sprint(f.Subject, " fails ", f.Severity == Fails))
		}
		if strings.Join(got, "; ") != strings.Join(want, "; ") {
			t.Fatalf("%q, want %q", got, want)
		}
	}
}

// The bolt named is the one pulled hardest for its preload, not the one pulled hardest: 55.5 of
// 62.5 kN against 60 of 80. Beyond its preload the joint opens.
func TestBoltThatOpensFirst(t *testing.T) {
	at := func(id string, preload float64) *restraint.Foot {
		return &restraint.Foot{Foot: &layout.Foot{ID: id}, TorqueNm: 90, PreloadN: preload}
	}
	strong, weak := at("strong", 80000), at("weak", 62500)
	b := &restraint.Box{Scene: &layout.BoxScene{Box: &layout.Box{ID: "b"}}}
	if fs := opening(b); len(fs) > 0 {
		t.Errorf("without loads: %+v", fs)
	}
	for pull, want := range map[float64]struct {
		severity Severity
		text     string
	}{
		55500: {Passes, "Box b, foot weak: the hardest pull on a bolt is 55.5 kN, its preload at 90 N m 62.5 kN."},
		65500: {Warns, "Box b, foot weak: the hardest pull on a bolt is 65.5 kN, its preload at 90 N m 62.5 kN. The joint opens under it"},
		82500: {Warns, "Box b, foot weak: the hardest pull on a bolt is 82.5 kN, its preload at 90 N m 62.5 kN. The joint opens under it"},
	} {
		b.Cases = []restraint.Case{{Feet: []restraint.FootLoad{{Foot: strong, BoltPullN: 60000}, {Foot: weak, BoltPullN: 1000}}}, {Feet: []restraint.FootLoad{{Foot: strong, BoltPullN: 100}, {Foot: weak, BoltPullN: pull}}}}
		fs := opening(b)
		if len(fs) != 1 || fs[0].Severity != want.severity || !strings.HasPrefix(fs[0].Text, want.text) || math.Abs(fs[0].Actual-pull/625) > 1e-9 {
			t.Errorf("%g N: %+v", pull, fs)
		}
	}
}
