package report

import (
	"context"
	"fmt"
	"strings"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/layout/report/page"
)

// picturesAcross is how many step pictures stand side by side, and picturesDown how many rows a figure has.
const (
	picturesAcross = 3
	picturesDown   = 4
	mostPictures   = 240
)

// stepPictures sets the box at the worst step of every job on a joint, box by box.
func (b *book) stepPictures(m *assembly.Model, q *assembly.Sequence) {
	var steps []int
	box, set := "", 0
	flush := func() {
		if len(steps) > 0 {
			rows := (len(steps) + picturesAcross - 1) / picturesAcross
			b.Figure(drawing.Steps("Box "+box+", seen from above", m, q, steps, picturesAcross), page.Figure{MM: float64(rows) * 230 / (picturesDown + 0.2), Fill: true})
		}
		steps = nil
	}
	for _, j := range q.Jobs {
		i := pictured(q, j)
		if i < 0 || set == mostPictures {
			continue
		}
		if j.Box != box || len(steps) == picturesAcross*picturesDown {
			flush()
			box = j.Box
		}
		steps, set = append(steps, i), set+1
	}
	flush()
	b.Small("Bare conductors are filled and carry the highest voltage to anything in their circuit; covered ones are dashed." + missingPictures(q, set))
}

func missingPictures(q *assembly.Sequence, set int) string {
	if set < mostPictures {
		return ""
	}
	return fmt.Sprintf(" The first %d joints are shown; the table of steps has them all.", set)
}

// pictured is the step of a job that is shown: where the link is in and both ends are bare; -1 for jobs without one.
func pictured(q *assembly.Sequence, j assembly.Job) int {
	for i := j.From; i < j.To; i++ {
		if q.Steps[i].Kind == assembly.FitLink {
			return i
		}
	}
	return -1
}

// service sets what it takes to take a box out and to replace each module.
func (b *book) service(m *assembly.Model) {
	b.Section("Taking a box out", "", 2, 40)
	t := page.Table{Pt: 6.8, Columns: serviceColumns("box")}
	for _, box := range b.e.Scene.Boxes {
		if len(box.Modules) == 0 {
			continue
		}
		if q, err := assembly.TakeBoxOut(context.Background(), m, box.Box.ID); err == nil {
			t.Rows = append(t.Rows, serviceRow(b, box.Box.ID, q))
		}
	}
	b.Table(t)
	b.Section("Replacing one module", "", 2, 40)
	t = page.Table{Pt: 6.8, Columns: serviceColumns("module")}
	b.e.Scene.Bodies(func(_ *layout.BoxScene, x *layout.Body) {
		if q, err := assembly.Replace(context.Background(), m, x.ID); err == nil {
			t.Rows = append(t.Rows, serviceRow(b, x.ID, q))
		}
	})
	b.Table(t)
	b.Small("Out and back in again. Modules that stand above come out first. Joints are opened in the order that leaves the fewest steps at a bare hazardous voltage; another joint is opened on the way where that helps.")
}

func serviceColumns(what string) []page.Column {
	return []page.Column{{Head: what}, {Head: "steps", Right: true}, {Head: "of them live work", Right: true}, {Head: "highest bare, V", Right: true}, {Head: "joints opened"}}
}

func serviceRow(b *book, id string, q *assembly.Sequence) []page.Cell {
	var opened []string
	for _, s := range q.Steps {
		if s.Kind == assembly.TakeOffLink {
			opened = append(opened, strings.Join(s.Refs, " to "))
		}
	}
	return page.Row(id, fmt.Sprint(len(q.Steps)), fmt.Sprint(q.HazardSteps), fixed(q.HighestV, 0), or(strings.Join(opened, "; "), "none"))
}

// livePlan is the vehicle from above with what stays live marked.
func livePlan(e *check.Evaluation, imperial bool) *drawing.List {
	o := drawing.Options{Imperial: imperial, Marks: map[string]drawing.Mark{}, Off: drawing.LayerZones | drawing.LayerStrips | drawing.LayerHoses}
	cables := map[[2]string]bool{}
	for _, s := range e.Assembly.Crash.Live {
		for _, r := range s.Refs {
			o.Marks[r] = drawing.Warned
		}
		for _, c := range s.Cables {
			cables[[2]string{c.From.Box.ID, c.To.Box.ID}], cables[[2]string{c.To.Box.ID, c.From.Box.ID}] = true, true
		}
	}
	for _, s := range e.Electric.Strings {
		for _, l := range s.Links {
			if l.Between() && cables[[2]string{l.FromBox, l.ToBox}] && len(l.Path) > 1 {
				o.Lines = append(o.Lines, drawing.Line{Role: drawing.RoleBare, Ref: l.From, Points: l.Path})
			}
		}
	}
	l := drawing.Plan(e.Scene, o)
	l.Title = "Live after the contactors have opened, seen from above"
	return l
}
