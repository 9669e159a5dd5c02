package view

import (
	"errors"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

// Clip is what was copied. It travels as text by the system's clipboard, so that it can be put into another
// arrangement, another plan or another window.
type Clip struct {
	Copied   int                 `yaml:"stowbay_copy" rule:"required,min=1,max=1" doc:"number of this format"`
	Library  layout.Library      `yaml:"library,omitempty" doc:"the modules and gear that the copy is made of"`
	Boxes    []*layout.Box       `yaml:"boxes,omitempty" rule:"maxlen=200" doc:"whole boxes"`
	Contents []*layout.Box       `yaml:"contents,omitempty" rule:"maxlen=200" doc:"boxes of which only the modules and gear were copied"`
	Gear     []layout.PlacedGear `yaml:"gear,omitempty" rule:"maxlen=500" doc:"gear outside the boxes"`
	Bays     []vehicles.Bay      `yaml:"bays,omitempty" rule:"maxlen=100" doc:"bays"`
	KeepOuts []vehicles.KeepOut  `yaml:"keep_outs,omitempty" rule:"maxlen=500" doc:"keep-outs"`
}

// clipHead stands at the beginning of a copy's text.
const clipHead = "stowbay_copy:"

// ReadClip reads what [Clip.Text] wrote. Other text is an error that says so.
func ReadClip(text string) (*Clip, error) {
	if !strings.HasPrefix(text, clipHead) {
		return nil, errors.New("the clipboard holds nothing that was copied from a plan; pick something and copy it first")
	}
	c := &Clip{}
	if err := record.Read("clipboard", []byte(text), c); err != nil {
		return nil, err
	}
	return c, nil
}

// Text is the copy as text for the clipboard.
func (c *Clip) Text() (string, error) {
	data, err := record.Write(c)
	return string(data), err
}

// Copy takes a copy of the things referred to. It is an error where there is nothing of them to copy.
func (m *Model) Copy(refs []string) (*Clip, error) {
	c := &Clip{Copied: 1}
	a := m.Arrangement()
	for _, ref := range refs {
		box, inner := Split(ref)
		switch b := a.Box(box); {
		case b != nil && inner == "":
			c.Boxes = append(c.Boxes, b)
		case b != nil && !slices.Contains(refs, box):
			c.content(b, inner)
		case b == nil && !slices.Contains(refs, a.KeepOutBay(ref)): // else it goes along with its bay
			c.outside(a, ref)
		}
	}
	c.Contents = slices.DeleteFunc(c.Contents, func(b *layout.Box) bool { return len(b.Modules)+len(b.Gear) == 0 })
	if c.things() == 0 {
		return nil, errors.New("nothing that can be copied is picked: boxes, modules, gear, bays and keep-outs can")
	}
	c.gather(m.Library())
	return c, nil
}

// content adds a module or a piece of gear of a box.
func (c *Clip) content(b *layout.Box, inner string) {
	i := slices.IndexFunc(c.Contents, func(o *layout.Box) bool { return o.ID == b.ID })
	if i < 0 {
		part := *b
		part.Modules, part.Gear, part.Feet, part.Openings, part.Barriers = nil, nil, nil, nil, nil
		i, c.Contents = len(c.Contents), append(c.Contents, &part)
	}
	if k := b.Placement(inner); k >= 0 {
		c.Contents[i].Modules = append(c.Contents[i].Modules, b.Modules[k])
	}
	if k := b.GearIndex(inner); k >= 0 {
		c.Contents[i].Gear = append(c.Contents[i].Gear, b.Gear[k])
	}
}

// outside adds gear outside the boxes, a bay or a keep-out.
func (c *Clip) outside(a *layout.Arrangement, ref string) {
	for _, g := range a.Gear {
		if g.ID == ref {
			c.Gear = append(c.Gear, g)
		}
	}
	if b := a.Bay(ref); b != nil {
		c.Bays = append(c.Bays, *b)
	}
	if k := a.KeepOut(ref); k != nil {
		c.KeepOuts = append(c.KeepOuts, *k)
	}
}

// gather takes along the records that the copy is made of.
func (c *Clip) gather(lib *vehicles.Library) {
	var modules, gear []string
	for _, b := range slices.Concat(c.Boxes, c.Contents) {
		for _, p := range b.Modules {
			modules = append(modules, p.Module)
		}
		for _, g := range b.Gear {
			gear = append(gear, g.Gear)
		}
	}
	for _, g := range c.Gear {
		gear = append(gear, g.Gear)
	}
	for _, id := range once(modules) {
		if m := lib.Module(id); m != nil {
			c.Library.Modules = append(c.Library.Modules, m)
		}
	}
	for _, id := range once(gear) {
		if g := lib.Gear(id); g != nil {
			c.Library.Gear = append(c.Library.Gear, g)
		}
	}
}

func once(ids []string) []string {
	slices.Sort(ids)
	return slices.Compact(ids)
}

// Words says what the copy holds: "2 boxes, 3 modules".
func (c *Clip) Words() string {
	var modules, gear int
	for _, b := range c.Contents {
		modules, gear = modules+len(b.Modules), gear+len(b.Gear)
	}
	var out []string
	for _, k := range []struct {
		n          int
		what, rest string
	}{{len(c.Boxes), "box", ""}, {modules, "module", ""}, {gear + len(c.Gear), "piece", " of gear"}, {len(c.Bays), "bay", ""}, {len(c.KeepOuts), "keep-out", ""}} {
		if k.n > 0 {
			out = append(out, many(k.n, k.what)+k.rest)
		}
	}
	return strings.Join(out, ", ")
}

func (c *Clip) things() int {
	return len(c.Boxes) + len(c.Contents) + len(c.Gear) + len(c.Bays) + len(c.KeepOuts)
}

// Paste gives the edit that puts the copy into an arrangement, and the references of what is new once it is made.
// Modules go into the box named, else into the box of the same id as the one they came from, else into the only one
// there is. Everything lands where it was, or beside what stands there already; records that the plan does not know
// come along.
func (c *Clip) Paste(p *layout.Plan, lib *vehicles.Library, arrangement, into string) (layout.Edit, []string, error) {
	var made []string
	label := "Paste " + c.Words()
	edit, err := layout.Change(p, arrangement, label, func(a *layout.Arrangement) (err error) {
		made, err = c.put(a, lib, into)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	news := c.unknown(lib)
	if len(news.Modules)+len(news.Gear) == 0 {
		return edit, made, nil
	}
	records, err := layout.PutRecords(p, news)
	if err != nil {
		return nil, nil, err
	}
	return layout.Together(label, records, edit), made, nil
}

// unknown are the records of the copy that a library lacks.
func (c *Clip) unknown(lib *vehicles.Library) vehicles.Records {
	var out vehicles.Records
	for _, m := range c.Library.Modules {
		if lib.Module(m.ID) == nil {
			out.Modules = append(out.Modules, m)
		}
	}
	for _, g := range c.Library.Gear {
		if lib.Gear(g.ID) == nil {
			out.Gear = append(out.Gear, g)
		}
	}
	return out
}

func (c *Clip) put(a *layout.Arrangement, lib *vehicles.Library, into string) ([]string, error) {
	e := newEditor(a, lib)
	made := c.putSurvey(a)
	for _, b := range c.Boxes {
		made = append(made, c.putBox(a, b))
	}
	for _, b := range c.Contents {
		target := c.target(a, b, into)
		if target == "" {
			return nil, errors.New("pick the box that the modules are to go into, then paste")
		}
		made = append(made, c.putContents(e.box(target), b)...)
	}
	for _, g := range c.Gear {
		made = append(made, c.putGear(a, g))
	}
	return made, nil
}

// besides is the room in mm left between what is pasted and what stands there.
const besides = 10

func (c *Clip) putSurvey(a *layout.Arrangement) (made []string) {
	a.Bays, a.KeepOuts = slices.Clone(a.Bays), slices.Clone(a.KeepOuts)
	for _, b := range c.Bays {
		for slices.ContainsFunc(a.Bays, func(o vehicles.Bay) bool { return slices.Equal(o.Levels[0].Outline, b.Levels[0].Outline) }) {
			b = shiftedBay(b, r3.Vector{X: wideX(b.Levels[0].Outline) + besides})
		}
		b.ID = newNames(a.Named).as(b.ID)
		a.Bays = append(a.Bays, b)
		made = append(made, b.ID)
	}
	for _, k := range c.KeepOuts {
		for slices.ContainsFunc(a.KeepOuts, func(o vehicles.KeepOut) bool { return slices.Equal(o.Outline, k.Outline) }) {
			k = shiftedKeepOut(k, r3.Vector{X: wideX(k.Outline) + besides})
		}
		k.ID = newNames(a.Named).as(k.ID)
		a.KeepOuts = append(a.KeepOuts, k)
		made = append(made, k.ID)
	}
	return made
}

func wideX(ps []vehicles.XY) float64 {
	lo, hi := ps[0][0], ps[0][0]
	for _, p := range ps {
		lo, hi = min(lo, p[0]), max(hi, p[0])
	}
	return hi - lo
}

func (c *Clip) putBox(a *layout.Arrangement, of *layout.Box) string {
	b := *of
	wide := 0.0
	for _, l := range b.Levels {
		wide = max(wide, wideX(l.Outline))
	}
	for slices.ContainsFunc(a.Boxes, func(o *layout.Box) bool { return o.At == b.At }) {
		b.At[0] = tidy(b.At[0] + wide + besides)
	}
	b.ID, b.Locked = newNames(a.Named).as(b.ID), false
	if b.Bay != "" && a.Bay(b.Bay) == nil {
		b.Bay = ""
	}
	a.Boxes = append(a.Boxes, &b)
	return b.ID
}

// target is the box that takes what was copied out of another one; "" where that is not clear.
func (c *Clip) target(a *layout.Arrangement, from *layout.Box, into string) string {
	switch {
	case a.Box(into) != nil:
		return into
	case a.Box(from.ID) != nil:
		return from.ID
	case len(a.Boxes) == 1:
		return a.Boxes[0].ID
	}
	return ""
}

// putContents puts modules and gear into a box: where they stood in a box of the same id and shape, else into the
// least corner; each time so far rearward that nothing stands at its place already.
func (c *Clip) putContents(b, from *layout.Box) (made []string) {
	lo, wide := c.extent(from)
	var by r3.Vector
	if b.ID != from.ID || !slices.Equal(b.Levels[0].Outline, from.Levels[0].Outline) {
		by = innerCorner(b).Sub(lo)
	}
	for stands(b, from, by) {
		by.X += wide + besides
	}
	ids := newNames(b.Taken)
	for _, m := range from.Modules {
		m.At, m.Locked, m.ID = shifted(m.At, by), false, ids.as(m.ID)
		b.Modules = append(b.Modules, m)
		made = append(made, b.ID+"/"+m.ID)
	}
	for _, g := range from.Gear {
		g.At, g.Locked, g.ID = shifted(g.At, by), false, ids.as(g.ID)
		b.Gear = append(b.Gear, g)
		made = append(made, b.ID+"/"+g.ID)
	}
	return made
}

// stands reports whether one of the things copied would come to stand just where another one stands.
func stands(b, from *layout.Box, by r3.Vector) bool {
	at := map[vehicles.XYZ]bool{}
	for _, m := range b.Modules {
		at[m.At] = true
	}
	for _, g := range b.Gear {
		at[g.At] = true
	}
	return slices.ContainsFunc(from.Modules, func(m layout.Placement) bool { return at[shifted(m.At, by)] }) ||
		slices.ContainsFunc(from.Gear, func(g layout.PlacedGear) bool { return at[shifted(g.At, by)] })
}

// extent is the least corner of what a box holds in its frame, and how long that is.
func (c *Clip) extent(b *layout.Box) (lo r3.Vector, wide float64) {
	var hiX float64
	first := true
	add := func(p layout.Pose) {
		e := p.Extent()
		if first {
			lo, hiX, first = p.At, p.At.X+e.X, false
		}
		lo = r3.Vector{X: min(lo.X, p.At.X), Y: min(lo.Y, p.At.Y), Z: min(lo.Z, p.At.Z)}
		hiX = max(hiX, p.At.X+e.X)
	}
	for i := range b.Modules {
		for _, m := range c.Library.Modules {
			if m.ID == b.Modules[i].Module {
				add(layout.PoseOf(m, &b.Modules[i]))
			}
		}
	}
	for i := range b.Gear {
		if g := c.gear(b.Gear[i].Gear); g != nil {
			add(layout.GearPose(g, &b.Gear[i]))
		}
	}
	return lo, hiX - lo.X
}

func (c *Clip) gear(id string) *vehicles.Gear {
	for _, g := range c.Library.Gear {
		if g.ID == id {
			return g
		}
	}
	return nil
}

// innerCorner is the least corner inside a box, in its frame.
func innerCorner(b *layout.Box) r3.Vector {
	in, err := layout.BoxInterior(b)
	if err != nil || len(in.Solids) == 0 {
		o := b.Levels[0].Outline[0]
		return r3.Vector{X: o[0], Y: o[1], Z: innerFloor(b)}
	}
	r := in.Solids[0].Base.Bounds()
	return r3.Vector{X: r.X.Lo, Y: r.Y.Lo, Z: innerFloor(b)}
}

func (c *Clip) putGear(a *layout.Arrangement, g layout.PlacedGear) string {
	wide := 0.0
	if r := c.gear(g.Gear); r != nil {
		wide = layout.GearPose(r, &g).Extent().X
	}
	for slices.ContainsFunc(a.Gear, func(o layout.PlacedGear) bool { return o.At == g.At }) {
		g.At[0] = tidy(g.At[0] + wide + besides)
	}
	g.ID, g.Locked = newNames(a.Named).as(g.ID), false
	a.Gear = append(a.Gear, g)
	return g.ID
}
