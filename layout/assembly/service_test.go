package assembly

import (
	"context"
	"slices"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// fourPlugged are four boxes in a row with touch-proof connectors.
func fourPlugged() *Model {
	return modelOf(boxWith("b1", "eight", 1, "connector"), boxWith("b2", "eight", 2, "connector"), boxWith("b3", "eight", 1, "connector"), boxWith("b4", "eight", 1, "connector"))
}

func pluggedBy(q *Sequence, k Kind) (out []string) {
	for _, s := range stepsOf(q, k) {
		out = append(out, strings.Join(s.Refs, "-"))
	}
	return out
}

// Only a box's own plugs are pulled for it, and only those are put back.
func TestOnlyTheBoxsOwnPlugsArePulled(t *testing.T) {
	m := fourPlugged()
	for box, want := range map[string][]string{"b1": {"b1-b2"}, "b2": {"b1-b2", "b2-b3"}, "b4": {"b3-b4"}} {
		q, err := TakeBoxOut(context.Background(), m, box)
		if got := pluggedBy(q, Disconnect); err != nil || !slices.Equal(got, want) {
			t.Errorf("taking %s out pulls %v, want %v; %v", box, got, want, err)
		}
		q, err = Replace(context.Background(), m, box+"/m1")
		if err != nil || !slices.Equal(pluggedBy(q, Disconnect), want) || !slices.Equal(pluggedBy(q, ConnectBox), want) {
			t.Errorf("replacing in %s pulls %v and puts back %v, want %v; %v", box, pluggedBy(q, Disconnect), pluggedBy(q, ConnectBox), want, err)
		}
	}
}

// Boxes of 29.2, 29.2 and 58.4 V: the second cable parts the whole in halves of 58.4 V, so it is opened first, in five steps
// above 60 V; the first one then stands in 58.4 V. The other way round all would be above it.
func TestCablesAreOpenedInTheBestOrder(t *testing.T) {
	for _, c := range []struct {
		counts [3]int
		want   []string
	}{{[3]int{1, 1, 2}, []string{"b2-b3", "b1-b2"}}, {[3]int{2, 1, 1}, []string{"b1-b2", "b2-b3"}}} {
		q, err := TakeBoxOut(context.Background(), modelOf(boxWith("b1", "eight", c.counts[0]), boxWith("b2", "eight", c.counts[1]), boxWith("b3", "eight", c.counts[2])), "b2")
		if err != nil {
			t.Fatal(err)
		}
		if got := cablesOf(q, TakeOffLink); !slices.Equal(got, c.want) || q.HazardSteps != 5 || !q.Proved {
			t.Errorf("%v: cables %v, want %v; %d hazardous steps, proved %v", c.counts, got, c.want, q.HazardSteps, q.Proved)
		}
		near(t, "highest voltage", q.HighestV, 58.4)
	}
}

// Feet with one bolt and with more are named so; a box in no string has nothing to measure.
func TestTakingABoxOfGearOut(t *testing.T) {
	b := boxWith("b", "eight", 0, "fuse")
	b.Feet = []layout.Foot{{ID: "f1", At: vehicles.XYZ{50, -20, 0}, Bolt: "M10"}, {ID: "f2", At: vehicles.XYZ{90, -20, 0}, Bolt: "M8", Bolts: 2}}
	q, err := TakeBoxOut(context.Background(), New(sceneOf(b), Circuit{}), "b")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range q.Steps {
		if s.CircuitV != 0 {
			t.Errorf("%v V: %s", s.CircuitV, s.Text)
		}
		if s.Kind == Loosen {
			got = append(got, s.Text)
		}
	}
	if want := []string{"Undo foot b/f1 (1 x M10).", "Undo foot b/f2 (2 x M8)."}; !slices.Equal(got, want) {
		t.Errorf("feet %q, want %q", got, want)
	}
}

// Under one other module: that one comes out first and goes back in last, and only the module in question is a new one. At
// the end all stands as before, and each terminal was uncovered and covered once for each time its joint was opened or made.
func TestReplaceUnderAnotherModule(t *testing.T) {
	m := modelOf(overhang())
	q, err := Replace(context.Background(), m, "box/d")
	if err != nil {
		t.Fatal(err)
	}
	var out, in, fresh []string
	for _, s := range q.Steps {
		switch s.Kind {
		case TakeOut:
			out = append(out, s.Refs[0])
		case Place:
			if in = append(in, s.Refs[0]); strings.HasPrefix(s.Text, "Put the new module") {
				fresh = append(fresh, s.Refs[0])
			}
		}
	}
	if !slices.Equal(out, []string{"box/e", "box/d"}) || !slices.Equal(in, []string{"box/d", "box/e"}) || !slices.Equal(fresh, []string{"box/d"}) {
		t.Errorf("out %v, in %v, new %v", out, in, fresh)
	}
	if q.Proved || !strings.HasPrefix(q.How, "best within each layer") || q.CoverChanges != q.LeastCovers || q.CoverChanges == 0 {
		t.Errorf("proved %v: %s; %d cover changes, bound %d", q.Proved, q.How, q.CoverChanges, q.LeastCovers)
	}
	last := q.At(m, len(q.Steps))
	if len(last.Placed) != 7 || len(last.Joined) != len(m.Joints) || len(last.Bare) != 0 {
		t.Errorf("at the end %+v", last)
	}
}
