package drawing

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

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

// Pictures stand in rows and columns, one under the other by one cell, which is 1.06 of the widest across; their numbers go up from 1.
// Under each there are three lines of up to 50 letters.
func TestPicturesOfStepsStandInRows(t *testing.T) {
	m, q := inOneBox(t)
	k, high := len(q.Steps)/2, 0.0
	for i := range 5 {
		high = max(high, Step(m, q, k+i).Bounds.Size().Y)
	}
	for columns := 1; columns <= 3; columns++ {
		var at []r2.Point
		l := Steps("x", m, q, []int{k, k + 1, k + 2, k + 3, k + 4}, columns)
		for _, it := range l.Items {
			if x, ok := it.(Text); ok {
				for i := range 5 {
					if strings.HasPrefix(x.S, fmt.Sprintf("%d. ", k+1+i)) {
						at = append(at, x.At)
					}
				}
			}
		}
		if len(at) != 5 {
			t.Fatalf("%d numbers", len(at))
		}
		letter := 0.0
		for _, it := range l.Items {
			if x, ok := it.(Text); ok && x.Anchor == West {
				letter = x.InMM
			}
		}
		for i, q := range at {
			cell := pt(1.06*27*letter, 0)
			if d := q.X - at[0].X - float64(i%columns)*cell.X; math.Abs(d) > 1e-6 {
				t.Errorf("%d columns: picture %d is %g aside", columns, i, d)
			}
			if i >= columns {
				if down := at[i-columns].Y - q.Y; math.Abs(down-high-5.5*letter) > 1e-6 {
					t.Errorf("%d columns: picture %d is %g under the one before", columns, i, down)
				}
			}
		}
	}
	l := &List{Bounds: r2.EmptyRect()}
	l.caption(pt(0, 0), 2, strings.TrimSpace(strings.Repeat("123456789 ", 5))+"0"+strings.Repeat(" 123456789", 12))
	if len(l.Items) != 3 || len(l.Items[0].(Text).S) != 50 || !strings.HasSuffix(l.Items[2].(Text).S, " ...") {
		t.Errorf("a caption of %d lines: %v", len(l.Items), l.Items)
	}
	short := &List{Bounds: r2.EmptyRect()}
	if short.caption(pt(0, 0), 2, strings.Repeat("x", 47)+" 123"); len(short.Items) != 2 {
		t.Errorf("51 letters on %d lines", len(short.Items))
	}
	for i, it := range l.Items {
		if y := it.(Text).At.Y; math.Abs(y+2*(1.1+1.3*float64(i))) > 1e-9 {
			t.Errorf("line %d at %g", i, y)
		}
	}
}

func TestLinesBreakAtBlanks(t *testing.T) {
	for s, want := range map[string]string{"one two three": "one two|three", "": "", "abcdefghijk": "abcdefghijk", "a b c d e f g h i j k": "a b c d|e f g h ..."} {
		if got := strings.Join(lines(s, 7, 2), "|"); got != want {
			t.Errorf("%q breaks into %q, want %q", s, got, want)
		}
	}
}
