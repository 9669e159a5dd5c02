package report

import (
	"fmt"
	"slices"

	"stowbay/layout/drawing"
	"stowbay/layout/mass"
	"stowbay/layout/report/page"
)

// ledgerLine is one line of the printed ledger: entries of one name in one box taken together.
type ledgerLine struct {
	mass.Entry
	count   int
	x, y, z float64 // sums of kg x place, for the centre
	pm      float64
}

// ledgerLines takes together what is alike: the modules of one type in one box. Their errors add up in full,
// since one datasheet stands for all of them.
func ledgerLines(es []mass.Entry) []ledgerLine {
	var out []ledgerLine
	at := map[string]int{}
	for _, e := range es {
		n := max(e.Count, 1)
		key := string(e.Group) + "\x00" + e.Of + "\x00" + e.Name
		i, had := at[key]
		if !had || e.Group != mass.Modules {
			i = len(out)
			at[key] = i
			out = append(out, ledgerLine{Entry: e, pm: e.PlusMinus, count: n})
			l := &out[i]
			l.x, l.y, l.z = e.Kg*e.At.X, e.Kg*e.At.Y, e.Kg*e.At.Z
			continue
		}
		l := &out[i]
		l.count += n
		l.Kg += e.Kg
		l.pm += e.PlusMinus
		l.x, l.y, l.z = l.x+e.Kg*e.At.X, l.y+e.Kg*e.At.Y, l.z+e.Kg*e.At.Z
		l.Running = e.Running
	}
	for i := range out {
		if l := &out[i]; l.Kg != 0 {
			l.At.X, l.At.Y, l.At.Z = l.x/l.Kg, l.y/l.Kg, l.z/l.Kg
		}
	}
	return out
}

// massLedger sets every line from the donor's kerb mass on, with the running total.
func (b *book) massLedger() {
	r := b.e.Mass
	b.Para("From the donor's kerb mass on: what was taken out, what was put in, the boxes with what is in them. The last column is the sum so far.")
	kg, mm := " "+b.unit("kg"), " "+b.unit("mm")
	t := page.Table{Pt: 6.8, Total: true, Columns: []page.Column{{Head: "group"}, {Head: "in"}, {Head: "what"}, {Head: "pieces", Right: true}, {Head: "mass" + kg, Right: true}, {Head: "±" + kg, Right: true}, {Head: "known from"},
		{Head: "x" + mm, Right: true}, {Head: "y" + mm, Right: true}, {Head: "z" + mm, Right: true}, {Head: "sum" + kg, Right: true}}}
	last := 0.0
	for _, l := range ledgerLines(r.Ledger()) {
		known := l.Known
		if l.Assumed {
			known += " *"
		}
		t.Rows = append(t.Rows, page.Row(words(string(l.Group)), l.Of, l.Name, fmt.Sprint(l.count), b.mass2(l.Kg), b.mass2(l.pm), known,
			b.place0(l.At.X), b.place0(l.At.Y), b.place0(l.At.Z), b.mass1(l.Running)))
		last = l.Running
	}
	now := r.Now
	t.Rows = append(t.Rows, page.Row("converted", "", "vehicle at kerb mass", "", b.mass1(now.Kg.Value), b.mass2(now.Kg.PlusMinus), "sum", b.place0(now.X.Value), b.place0(now.Y.Value), b.place0(now.Z.Value), b.mass1(last)))
	b.Table(t)
	b.Small("* The uncertainty follows from how the mass is known, by the percentages in the plan's settings (an assumption). Modules of one type in one box are one line here; the tables in CSV have a line for each.")
	b.change()
	b.trim()
}

func (b *book) mass1(kg float64) string { return fixed(b.value(kg, "kg"), 1) }
func (b *book) mass2(kg float64) string { return fixed(b.value(kg, "kg"), 2) }

// place0 is a coordinate without decimals, or in inches with one.
func (b *book) place0(mm float64) string {
	if b.imperial {
		return fixed(mm/25.4, 1)
	}
	return fixed(mm, 0)
}

func (b *book) figure(f mass.Figure, unit string) string {
	return b.num(f.Value, unit) + " ± " + b.num(f.PlusMinus, unit) + " " + b.unit(unit)
}

// change sets what the conversion does to the vehicle at kerb.
func (b *book) change() {
	c := b.e.Mass.Change
	b.Heading("What the conversion changes, at kerb mass")
	facts := [][2]string{
		{"Mass", b.figure(c.Kg, "kg")},
		{"Centre of gravity, rearward", b.figure(c.X, "mm")},
		{"Centre of gravity, to the right", b.figure(c.Y, "mm")},
		{"Centre of gravity, up", b.figure(c.Z, "mm")},
		{"Front axle's share", b.figure(c.FrontSharePct, "points")},
		{"Static stability factor", b.num(c.SSF.Value, "") + " ± " + b.num(c.SSF.PlusMinus, "")},
		{"Yaw inertia", trim(c.Inertia.ZZ) + " kg m², " + fixed(c.YawPct, 1) + " % of an estimate of the donor's"},
	}
	if c.HasRide {
		facts = append(facts, [2]string{"Body height over the front axle", b.figure(c.RideFront, "mm")}, [2]string{"Body height over the rear axle", b.figure(c.RideRear, "mm")})
	} else {
		facts = append(facts, [2]string{"Ride height", "not computed: the donor has no spring rates"})
	}
	b.Facts(facts, 2)
}

// trim sets by how much the main readings change when a box is moved.
func (b *book) trim() {
	ss := b.e.Mass.Trim()
	if len(ss) == 0 {
		return
	}
	var keys []string
	for _, s := range ss {
		if !slices.Contains(keys, s.Key) {
			keys = append(keys, s.Key)
		}
	}
	b.Heading("By how much moving a box 100 mm changes readings at kerb mass")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "box"}, {Head: "moved"}}}
	for _, k := range keys {
		t.Columns = append(t.Columns, page.Column{Head: b.keyWords(k), Right: true})
	}
	for i := 0; i < len(ss); {
		row := page.Row(ss[i].Box, ss[i].Moved())
		row = append(row, make([]page.Cell, len(keys))...)
		from := i
		for ; i < len(ss) && ss[i].Box == ss[from].Box && ss[i].Axis == ss[from].Axis; i++ {
			row[2+slices.Index(keys, ss[i].Key)].S = b.text(ss[i].Per100, ss[i].Unit)
		}
		t.Rows = append(t.Rows, row)
	}
	b.Table(t)
}

// keyWords is a reading's label for a column's head.
func (b *book) keyWords(key string) string {
	if r, ok := b.e.Reading(key); ok {
		return r.Label
	}
	return key
}

// axleChart is the axle loads of the fullest load case against the ratings, or nil without load cases.
func (b *book) axleChart() *drawing.List {
	d := b.e.Scene.Donor
	c := b.e.Mass.Of(mass.CaseGross)
	if d == nil || c == nil {
		return nil
	}
	kg := b.unit("kg")
	bar := func(name string, v, was, limit float64) drawing.Bar {
		return drawing.Bar{Name: name, Value: b.value(v, "kg"), Was: b.value(was, "kg"), Limit: b.value(limit, "kg"), Unit: kg}
	}
	return drawing.Bars("Loads, "+c.Name+"; hollow mark: the donor's; stroke: the rating", []drawing.Bar{
		bar("Front axle", c.Now.Front.Value, c.Donor.Front.Value, d.Ratings.FrontAxleKg),
		bar("Rear axle", c.Now.Rear.Value, c.Donor.Rear.Value, d.Ratings.RearAxleKg),
		bar("Vehicle", c.Now.Body.Kg.Value, c.Donor.Body.Kg.Value, d.Ratings.GrossKg),
	}, 178)
}
