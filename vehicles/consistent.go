package vehicles

import "fmt"

// The methods named Problems are what a single field's rule cannot say; the record package runs them after reading
// and when a value in memory is checked. They judge whether a record makes sense at all. A survey that contradicts
// itself is not refused here: see [Donor.Survey].

type report = func(path, msg string)

// Problems reports what is wrong with the level as a whole.
func (l *Level) Problems(report func(path, msg string)) { standing(l.FloorMM, l.CeilingMM, report) }

// Problems reports what is wrong with the keep-out as a whole.
func (k *KeepOut) Problems(report func(path, msg string)) { standing(k.FloorMM, k.CeilingMM, report) }

// Problems reports what is wrong with the zone as a whole.
func (z *Zone) Problems(report func(path, msg string)) { standing(z.FloorMM, z.CeilingMM, report) }

// Problems reports what is wrong with the rail as a whole.
func (r *Rail) Problems(report func(path, msg string)) { standing(r.FloorMM, r.CeilingMM, report) }

// standing wants the ceiling above the floor by a lattice step at least.
func standing(floor, ceiling float64, report report) {
	if ceiling-floor < 0.01 {
		report("ceiling_mm", fmt.Sprintf("%g must lie above floor_mm, which is %g", ceiling, floor))
	}
}

// Problems reports what is wrong with the bay as a whole.
func (b *Bay) Problems(report func(path, msg string)) {
	unique("keep_outs", ".id", b.KeepOuts, func(k *KeepOut) string { return k.ID }, report)
}

// unique wants every entry of a list to have a name of its own. field leads from an entry to its name: ".id".
func unique[T any](list, field string, entries []T, name func(*T) string, report report) {
	first := map[string]int{}
	for i := range entries {
		n := name(&entries[i])
		if k, twice := first[n]; twice && n != "" {
			report(fmt.Sprintf("%s[%d]%s", list, i, field), fmt.Sprintf("%q is already the name of %s[%d]; each needs its own", n, list, k))
			continue
		}
		first[n] = i
	}
}

// Problems reports what is wrong with the donor as a whole.
func (d *Donor) Problems(report func(path, msg string)) {
	unique("seats", ".name", d.Seats, func(s *Seat) string { return s.Name }, report)
	unique("load_places", ".id", d.LoadPlaces, func(l *LoadPlace) string { return l.ID }, report)
	unique("removed", ".id", d.Removed, func(p *Part) string { return p.ID }, report)
	unique("added", ".id", d.Added, func(p *Part) string { return p.ID }, report)
	unique("bays", ".id", d.Bays, func(b *Bay) string { return b.ID }, report)
	unique("keep_outs", ".id", d.KeepOuts, func(k *KeepOut) string { return k.ID }, report)
	unique("zones", ".id", d.Zones, func(z *Zone) string { return z.ID }, report)
	unique("rails", ".id", d.Rails, func(r *Rail) string { return r.ID }, report)
	for i, l := range d.CentreOfGravity.Lifts {
		if l.RaisedMM >= d.WheelbaseMM && d.WheelbaseMM > 0 {
			report(fmt.Sprintf("centre_of_gravity.lifts[%d].raised_mm", i),
				fmt.Sprintf("%g is not less than the wheelbase of %g; no vehicle stands like that", l.RaisedMM, d.WheelbaseMM))
		}
	}
}

// Problems reports what is wrong with the height and the way it was found.
func (c *CGRise) Problems(report func(path, msg string)) {
	switch {
	case c.How == "axle_lift" && len(c.Lifts) == 0:
		report("lifts", "are missing; a height found by axle lifts needs their readings")
	case c.How != "axle_lift" && c.HeightMM <= 0:
		report("height_mm", "is missing; want the height above the ground")
	}
}
