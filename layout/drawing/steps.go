package drawing

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/vehicles"
)

// Step draws a box as it stands during one step of a sequence: from above in its own frame, with what is in place, the
// links fitted, covered conductors dashed and bare ones filled, with the highest voltage from each to anything in its
// circuit. Where the step is in no box, or i is no step, the list has no items.
func Step(m *assembly.Model, q *assembly.Sequence, i int) *List {
	if i < 0 || i >= len(q.Steps) {
		return &List{Bounds: r2.EmptyRect()}
	}
	s := &q.Steps[i]
	box := m.Scene.Box(s.Box)
	if box == nil {
		return &List{Title: s.Text, Bounds: r2.EmptyRect()}
	}
	at := q.At(m, i)
	p := newPen(PlanView, &Options{Off: LayerLabels | LayerFixings | LayerDimensions})
	p.box(filled(m.Scene, box, at))
	d := stepPen{pen: p, m: m, box: box, size: conductorMM(box)}
	d.links(at)
	d.conductors(at)
	l := p.list(s.Text)
	l.Bounds = l.Bounds.ExpandedByMargin(0.5 * d.size)
	return l
}

// filled resolves a box in its own frame with only what is in place.
func filled(s *layout.Scene, b *layout.BoxScene, at assembly.State) *layout.BoxScene {
	own := *b.Box
	own.Modules, own.Gear = nil, nil
	for _, m := range b.Box.Modules {
		if at.Placed[b.Box.ID+"/"+m.ID] {
			own.Modules = append(own.Modules, m)
		}
	}
	for _, g := range b.Box.Gear {
		if at.Placed[b.Box.ID+"/"+g.ID] {
			own.Gear = append(own.Gear, g)
		}
	}
	own.At, own.TurnDeg = vehicles.XYZ{}, 0
	return layout.Resolve(s.Plan, &layout.Arrangement{Boxes: []*layout.Box{&own}}, s.Library, nil).Boxes[0]
}

// conductorMM is the size a conductor is drawn at.
func conductorMM(b *layout.BoxScene) float64 {
	lo, hi := b.Outer.Bounds()
	return 0.045 * math.Sqrt((hi.X-lo.X)*(hi.Y-lo.Y))
}

type stepPen struct {
	*pen
	m    *assembly.Model
	box  *layout.BoxScene
	size float64
}

func (d *stepPen) place(c *assembly.Conductor) r2.Point { return d.at(d.box.Frame.FromVehicle(c.At)) }

func (d *stepPen) links(at assembly.State) {
	for _, j := range at.Joined {
		a, b := d.m.Conductor(j[0]), d.m.Conductor(j[1])
		if a.Box == d.box && b.Box == d.box {
			d.segment(Tag{Role: RoleLink, Ref: a.ID}, d.place(a), d.place(b))
		}
	}
}

func (d *stepPen) conductors(at assembly.State) {
	bare := map[string]bool{}
	for _, b := range at.Bare {
		bare[b.ID] = true
	}
	for i := range d.m.Conductors {
		c := &d.m.Conductors[i]
		if c.Box != d.box || !at.Placed[c.Of] {
			continue
		}
		if !bare[c.ID] {
			d.loop(Tag{Role: RoleCovered, Ref: c.ID}, d.disc(d.place(c), 0.4*d.size, 12).Outer)
		}
	}
	for _, b := range at.Bare {
		if c := d.m.Conductor(b.ID); c != nil && c.Box == d.box {
			d.bare(c, b)
		}
	}
}

func (d *stepPen) bare(c *assembly.Conductor, b assembly.Bare) {
	at, t := d.place(c), Tag{Role: RoleBare, Ref: c.ID}
	star := d.disc(at, 0.7*d.size, 16)
	d.fill(t, star)
	d.loop(t, star.Outer)
	d.text(Text{Of: t, At: at.Add(pt(0, 0.9*d.size)), S: fmt.Sprintf("%.0f V", b.WorstV), InMM: 1.1 * d.size, Anchor: South, Halo: true})
}

// Steps sets pictures of steps side by side, each with its number and text under it, in so many columns.
func Steps(title string, m *assembly.Model, q *assembly.Sequence, steps []int, columns int) *List {
	out := &List{Title: title, Bounds: r2.EmptyRect()}
	var pictures []*List
	size := r2.Point{}
	for _, i := range steps {
		l := Step(m, q, i)
		pictures = append(pictures, l)
		if !l.Bounds.IsEmpty() {
			size = pt(max(size.X, l.Bounds.Size().X), max(size.Y, l.Bounds.Size().Y))
		}
	}
	if len(pictures) == 0 || size.X == 0 {
		return out
	}
	letter := size.X / 27
	cell := pt(1.06*size.X, size.Y+5.5*letter)
	for k, l := range pictures {
		if l.Bounds.IsEmpty() {
			continue
		}
		out.Bounds = out.Bounds.AddPoint(pt(float64(columns)*cell.X, 0)) // few pictures are as large as many
		corner := pt(float64(k%columns)*cell.X, -float64(k/columns)*cell.Y)
		out.add(l.Shifted(corner.Sub(pt(l.Bounds.X.Lo, l.Bounds.Y.Lo))))
		out.caption(corner, letter, fmt.Sprintf("%d. %s", steps[k]+1, l.Title))
	}
	return out
}

// captionLetters is how many letters fit a line under a picture.
const captionLetters = 50

func (l *List) caption(at r2.Point, letter float64, s string) {
	for i, line := range lines(s, captionLetters, 3) {
		t := Text{Of: Tag{Role: RoleLabel}, At: at.Sub(pt(0, (0.6+1.3*float64(i))*letter)), S: line, InMM: letter, Anchor: West}
		t.At = t.At.Sub(pt(0, letter/2))
		l.Items = append(l.Items, t)
		l.Bounds = l.Bounds.Union(t.extent())
	}
}

// lines breaks a text at blanks into at most so many lines of at most so many letters.
func lines(s string, letters, most int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		switch {
		case line == "":
			line = w
		case len(line)+1+len(w) <= letters:
			line += " " + w
		default:
			out, line = append(out, line), w
		}
	}
	out = append(out, line)
	if len(out) > most {
		out = out[:most]
		out[most-1] += " ..."
	}
	return out
}
