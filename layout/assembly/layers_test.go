package assembly

import (
	"context"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Four modules 300 by 150 by 110 mm: m2 beside m1 on the floor, m3 on both, m4 on m3 over m2 alone. What stands above a module
// comes out before it, the topmost first.
func TestAboveIsWhatHasToComeOutFirst(t *testing.T) {
	b := boxWith("box", "four", 0)
	b.Levels[0].Outline = []vehicles.XY{{0, 0}, {800, 0}, {800, 400}, {0, 400}}
	b.Levels[0].CeilingMM = 400
	for id, at := range map[string]vehicles.XYZ{"m1": {20, 20, 4}, "m2": {330, 20, 4}, "m3": {180, 20, 116}, "m4": {470, 20, 228}} {
		b.Modules = append(b.Modules, layout.Placement{ID: id, Module: "four", Posture: vehicles.Flat, At: at})
	}
	slices.SortFunc(b.Modules, func(x, y layout.Placement) int { return int(x.ID[1]) - int(y.ID[1]) })
	s := sceneOf(b).Boxes[0]
	for i, want := range [][]string{{"box/m4", "box/m3"}, {"box/m4", "box/m3"}, {"box/m4"}, nil} {
		var got []string
		for _, x := range above(s, s.Modules[i]) {
			got = append(got, x.ID)
		}
		if !slices.Equal(got, want) {
			t.Errorf("above %s are %v, want %v", s.Modules[i].ID, got, want)
		}
	}
}

// overhang is a box of six modules 300 by 150 by 110 mm and a fuse, the string in their order here: b, a, f and c on the
// floor, d on c, and e on d so far forward that it hangs over the positive terminal of b, a module's height below it.
func overhang() *layout.Box {
	b := boxWith("box", "eight", 8, "fuse")
	b.Levels[0].CeilingMM = 500
	b.Modules = nil
	for _, x := range []layout.Placement{{ID: "b", At: vehicles.XYZ{340, 20, 4}}, {ID: "a", At: vehicles.XYZ{20, 20, 4}}, {ID: "f", At: vehicles.XYZ{20, 190, 4}}, {ID: "c", At: vehicles.XYZ{660, 20, 4}},
		{ID: "d", At: vehicles.XYZ{660, 20, 114}}, {ID: "e", At: vehicles.XYZ{500, 20, 224}}} {
		x.Module, x.Posture = "eight", vehicles.Flat
		b.Modules = append(b.Modules, x)
	}
	return b
}

func TestLayersOfAStack(t *testing.T) {
	ls := layersOf(sceneOf(overhang()).Boxes[0])
	var got []string
	for _, layer := range ls.order {
		names := ""
		for _, x := range layer {
			names += x.Placement.ID
		}
		got = append(got, names)
	}
	if want := []string{"bafc", "d", "e"}; !slices.Equal(got, want) {
		t.Errorf("layers %q, want %q", got, want)
	}
}

// A millimetre of play is allowed between layers that are not quite level; touching in plan is not standing on.
func TestWhatStandsOverWhat(t *testing.T) {
	under := volume{r3.Vector{}, r3.Vector{X: 300, Y: 150, Z: 110}}
	for _, c := range []struct {
		lo   r3.Vector
		want bool
	}{{r3.Vector{Z: 110}, true}, {r3.Vector{Z: 200}, true}, {r3.Vector{Z: 109}, true}, {r3.Vector{Z: 108.5}, false},
		{r3.Vector{X: 299, Z: 110}, true}, {r3.Vector{X: 300, Z: 110}, false}, {r3.Vector{X: -300, Z: 110}, false}, {r3.Vector{Y: 150, Z: 110}, false}, {r3.Vector{Y: -150, Z: 110}, false}} {
		s := volume{c.lo, c.lo.Add(under.hi)}
		if got := s.over(&under); got != c.want {
			t.Errorf("a block from %v: %v", c.lo, got)
		}
	}
}

// A module covers what lies below its bottom and within its plan: d from 660, 20 to 960, 170, bottom at 114 mm.
func TestWhatAModuleCovers(t *testing.T) {
	b := sceneOf(overhang()).Boxes[0]
	ls := layersOf(b)
	d := b.Modules[4]
	for _, c := range []struct {
		at   r3.Vector
		want bool
	}{{r3.Vector{X: 660, Y: 20, Z: 114}, true}, {r3.Vector{X: 960, Y: 170, Z: 20}, true}, {r3.Vector{X: 700, Y: 90, Z: 115}, true}, {r3.Vector{X: 700, Y: 90, Z: 115.5}, false},
		{r3.Vector{X: 659, Y: 90, Z: 100}, false}, {r3.Vector{X: 961, Y: 90, Z: 100}, false}, {r3.Vector{X: 700, Y: 19, Z: 100}, false}, {r3.Vector{X: 700, Y: 171, Z: 100}, false}} {
		x := Conductor{Box: b, At: b.Frame.ToVehicle(c.at)}
		if got := covers(d, &x, ls); got != c.want {
			t.Errorf("%v: %v", c.at, got)
		}
		if x.Of = d.ID; covers(d, &x, ls) {
			t.Errorf("%v: a module covers its own terminal", c.at)
		}
	}
	if covers(b.Modules[0], &Conductor{Box: b, At: b.Frame.ToVehicle(r3.Vector{X: 400, Y: 90, Z: 1})}, ls) {
		t.Error("a module on the floor covers something")
	}
}

// By hand, phases 2k for gear and 2k+1 for links of layer k = 0, 1, 2: b's end lies under e, so its joint is made before
// layer 2; the joint of a and f can be made until the end; c's end lies under d, before layer 1; the joints of d and e wait for their own layers, and so does the fuse at e.
func TestWindowsOfJointsByHand(t *testing.T) {
	m := modelOf(overhang())
	b := m.Scene.Boxes[0]
	ls := layersOf(b)
	w := newWriter(context.Background(), m, "")
	var got []window
	for i := range m.tracks[0].seams {
		got = append(got, w.windowOf(seamAt{0, i}, ls))
	}
	if want := []window{{1, 3}, {1, 5}, {1, 1}, {3, 3}, {5, 5}, {4, 4}}; !slices.Equal(got, want) {
		t.Errorf("windows %v, want %v", got, want)
	}
	for id, want := range map[string]int{"box/b/+": 2, "box/b/-": 0, "box/c/-": 1, "box/c/+": 1, "box/d/-": 2, "box/e/+": 0} {
		if got := lowestOver(m.Conductor(id), ls); got != want {
			t.Errorf("over %s: layer %d, want %d", id, got, want)
		}
	}
	var buried []string
	for _, x := range m.Buried(b) {
		buried = append(buried, x.Conductor.ID+" under "+x.Under.Placement.ID)
	}
	if want := []string{"box/b/+ under e", "box/c/- under d", "box/c/+ under d", "box/d/- under e"}; !slices.Equal(buried, want) {
		t.Errorf("buried %q, want %q", buried, want)
	}
}

// The layers of the stack go in one after the other, each job with its place in it, and jobs follow each other without gaps.
func TestLayersGoInOneAfterTheOther(t *testing.T) {
	m := modelOf(overhang())
	q, err := Plan(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	var titles []string
	at := 0
	for n, j := range q.Jobs {
		if j.From != at || j.To <= j.From {
			t.Errorf("job %d is steps %d to %d; the one before ends at %d", n, j.From, j.To, at)
		}
		for _, s := range q.Steps[j.From:j.To] {
			if s.Job != n {
				t.Errorf("%q is of job %d, not %d", s.Text, s.Job, n)
			}
		}
		if at = j.To; q.Steps[j.From].Kind == Place {
			titles = append(titles, j.Title)
		}
	}
	if want := []string{"Modules into box box", "Modules of layer 2 into box box", "Modules of layer 3 into box box"}; at != len(q.Steps) || !slices.Equal(titles, want) {
		t.Errorf("%d of %d steps in jobs; modules go in by %q", at, len(q.Steps), titles)
	}
}
