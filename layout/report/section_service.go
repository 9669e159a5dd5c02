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

// picturesAcross is how many step pictures stand side by side; a figure of them is at most pictureMM high.
const (
	picturesAcross = 3
	pictureMM      = 225.0
	mostPictures   = 240
)

// stepPictures sets the box at every job on a joint, with the link in and both ends bare, box by box.
func (b *book) stepPictures(m *assembly.Model, q *assembly.Sequence) {
	b.Upright()
	b.Section("Pictures of the steps", "", 2, 60)
	b.Para("Each box from above, as it stands when a link is in and both its ends are bare. Bare conductors are filled and carry the highest voltage to anything in their circuit; covered ones are dashed.")
	byBox, set := map[string][]int{}, 0
	var boxes []string
	for _, j := range q.Jobs {
		i := pictured(q, j)
		if i < 0 || set == mostPictures {
			continue
		}
		if byBox[j.Box] == nil {
			boxes = append(boxes, j.Box)
		}
		byBox[j.Box], set = append(byBox[j.Box], i), set+1
	}
	for _, box := range boxes {
		b.boxPictures(m, q, box, byBox[box])
	}
	b.Small(missingPictures(set))
}

// boxPictures sets a box's pictures, as many on a page as fit.
func (b *book) boxPictures(m *assembly.Model, q *assembly.Sequence, box string, steps []int) {
	one := b.stepFigure(m, q, box, steps[:min(len(steps), picturesAcross)])
	rows := max(1, int(pictureMM/b.heightOver(one)))
	for len(steps) > 0 {
		n := min(len(steps), rows*picturesAcross)
		l := b.stepFigure(m, q, box, steps[:n])
		b.Figure(l, page.Figure{MM: min(pictureMM, b.heightOver(l)), Fill: true})
		steps = steps[n:]
	}
}

func (b *book) stepFigure(m *assembly.Model, q *assembly.Sequence, box string, steps []int) *drawing.List {
	return drawing.Steps("Box "+box+", seen from above", m, q, steps, picturesAcross)
}

// heightOver is the height of a list that fills the width of the page, mm.
func (b *book) heightOver(l *drawing.List) float64 {
	size := l.Bounds.Size()
	return b.Width() * size.Y / max(size.X, 1)
}

func missingPictures(set int) string {
	if set < mostPictures {
		return ""
	}
	return fmt.Sprintf("The first %d joints are shown; the table of steps has them all.", set)
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
