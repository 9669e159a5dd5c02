package drawing

import (
	"context"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

// inOneBox has the modules of the demonstration's first box in a string, in the order in which they are listed.
func inOneBox(t *testing.T) (*assembly.Model, *assembly.Sequence) {
	t.Helper()
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	s := layout.Resolve(p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue()), nil)
	b := s.Boxes[0]
	c := assembly.Chain{ID: "S1", Passages: []assembly.Passage{{Box: b, To: len(b.Modules)}}}
	for _, m := range b.Modules {
		x := assembly.Member{Body: m}
		for i := range m.Terminals {
			if m.Terminals[i].Polarity == "positive" {
				x.Pos = &m.Terminals[i]
			} else {
				x.Neg = &m.Terminals[i]
			}
		}
		c.Members = append(c.Members, x)
	}
	m := assembly.New(s, assembly.Circuit{Strings: []assembly.Chain{c}})
	q, err := assembly.Plan(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	return m, q
}

// Every step's picture has as many bare conductors as the step says, and links grow one by one.
func TestStepsShowWhatIsBare(t *testing.T) {
	m, q := inOneBox(t)
	links := 0
	for i := range q.Steps {
		if q.Steps[i].Kind == assembly.FitLink {
			links++
		}
		if q.Steps[i].Box != m.Scene.Boxes[0].Box.ID {
			continue
		}
		bare, drawn := 0, 0
		for _, it := range Step(m, q, i).Items {
			if f, ok := it.(Fill); ok && f.Of.Role == RoleBare {
				bare++
			}
			if s, ok := it.(Stroke); ok && s.Of.Role == RoleLink {
				drawn++
			}
		}
		if bare != len(q.Steps[i].Bare) || drawn != links {
			t.Fatalf("step %d (%s): %d bare drawn, %d in the step; %d links drawn, %d fitted", i, q.Steps[i].Text, bare, len(q.Steps[i].Bare), drawn, links)
		}
	}
	if links == 0 {
		t.Fatal("no link was fitted")
	}
}

func TestStepsSideBySide(t *testing.T) {
	m, q := inOneBox(t)
	one := Steps("x", m, q, []int{len(q.Steps) / 2}, 3)
	four := Steps("x", m, q, []int{len(q.Steps) / 2, len(q.Steps)/2 + 1, len(q.Steps)/2 + 2, len(q.Steps)/2 + 3}, 3)
	if a, b := one.Bounds.Size(), four.Bounds.Size(); b.Y < 1.9*a.Y || b.X > 1.2*a.X {
		t.Errorf("one picture takes %v, four in three columns %v", a, b)
	}
	if l := Step(m, q, len(q.Steps)); len(l.Items) != 0 {
		t.Error("a step that is not there is drawn")
	}
}

func TestLinesBreakAtBlanks(t *testing.T) {
	for s, want := range map[string]string{"one two three": "one two|three", "": "", "abcdefghijk": "abcdefghijk", "a b c d e f g h i j k": "a b c d|e f g h ..."} {
		if got := strings.Join(lines(s, 7, 2), "|"); got != want {
			t.Errorf("%q breaks into %q, want %q", s, got, want)
		}
	}
}
