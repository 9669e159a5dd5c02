package mass

import (
	"stowbay/layout"
	"stowbay/vehicles"
)

// Result is all that the mass of an arrangement says. It is never changed once made.
type Result struct {
	Scene  *layout.Scene
	Ledger []Entry // from the donor's kerb mass on, with running total
	Donor  Body    // as surveyed, kerb
	Now    Body    // converted, kerb
	Change Change  // converted less donor, both at kerb
	Cases  []Case  // kerb, driver, seats, gross, then the user's own; empty without a usable donor
	Boxes  []BoxMass
	Trim   []Sensitivity

	donor, change, now sum
	axles              axles
	boxes              []*boxWeight
}

// BoxMass is a box with all that is in it.
type BoxMass struct {
	ID      string
	Body    Body
	SheetKg float64 // its shell: walls, floor, lid, flange, feet, liner, barriers
	Panels  []Panel // what the shell is made of
}

// Change is what the conversion does to the vehicle at kerb. The donor's own errors cancel where they can.
type Change struct {
	Kg            Figure
	X, Y, Z       Figure // of the centre of gravity, mm
	FrontSharePct Figure // percentage points
	SSF           Figure
	RideFront     Figure // body height over the front axle, mm, up positive; where spring rates are given
	RideRear      Figure
	HasRide       bool
	// Inertia is by how much the tensor about the centre of gravity grows (Steiner's theorem over the ledger),
	// kg m2. The donor's own tensor is not surveyed and drops out.
	Inertia Inertia
	// YawPct is the yaw inertia's growth against an estimate of the donor's, mass x front arm x rear arm.
	YawPct float64
}

// Evaluate computes masses, loads, stability and trim of a scene.
//
// extras are entries that other subjects know better: where they hold any of the groups Links, Cables or
// Coolant, the estimates of that group made here are left out. prev, the result before an edit, may be nil;
// boxes that both scenes share are taken over from it.
func Evaluate(s *layout.Scene, extras []Entry, prev *Result) *Result {
	r := &Result{Scene: s}
	d := defaultsOf(s.Plan.Settings.Mass)
	given := groupsOf(extras)
	r.boxes = weighBoxes(s, prev, d)
	r.Ledger = make([]Entry, 0, 64+10*len(r.boxes))
	if s.Donor != nil {
		r.addDonor(s.Donor, d)
	}
	for i := range s.Arrangement.Parts {
		r.put(partEntry(&s.Arrangement.Parts[i], PutIn, "put_in/arrangement/", 1, d))
	}
	r.addBoxes(given, d)
	r.addModuleErrors(d)
	for _, g := range s.Gear {
		r.put(gearEntry(g, "", d))
	}
	r.addEstimates(given, d)
	for _, e := range extras {
		r.put(e)
	}
	r.conclude(d)
	return r
}

func groupsOf(es []Entry) map[Group]bool {
	out := map[Group]bool{}
	for _, e := range es {
		out[e.Group] = true
	}
	return out
}

// put adds a line that changes the donor.
func (r *Result) put(e Entry) {
	r.change.addEntry(&e)
	r.note(e)
}

// note writes a line without adding it.
func (r *Result) note(e Entry) {
	if n := len(r.Ledger); n > 0 {
		e.Running = r.Ledger[n-1].Running
	}
	e.Running += e.Kg
	r.Ledger = append(r.Ledger, e)
}

func (r *Result) addDonor(v *vehicles.Donor, d defaults) {
	r.donor = kerbOf(v)
	r.axles = axlesOf(v, &r.donor)
	b := r.donor.body()
	r.note(Entry{ID: "kerb", Group: Kerb, Name: "donor as weighed", Count: 1, Kg: b.Kg.Value, PlusMinus: b.Kg.PlusMinus, Known: OnScales, At: b.CG()})
	for i := range v.Removed {
		r.put(partEntry(&v.Removed[i], TakenOut, "taken_out/", -1, d))
	}
	for i := range v.Added {
		r.put(partEntry(&v.Added[i], PutIn, "put_in/", 1, d))
	}
}

// weighBoxes weighs what prev does not have.
func weighBoxes(s *layout.Scene, prev *Result, d defaults) []*boxWeight {
	old := prev.known(s, d)
	out := make([]*boxWeight, len(s.Boxes))
	for i, b := range s.Boxes {
		out[i] = old[b.Box.ID]
		if out[i] == nil || out[i].scene != b {
			out[i] = weighBox(b, out[i], s, d)
		}
	}
	return out
}

// known is the boxes of the previous result by id, where the same settings and records hold.
func (r *Result) known(s *layout.Scene, d defaults) map[string]*boxWeight {
	if r == nil || r.Scene.Library != s.Library || !sameRates(r.Scene.Plan.Settings, s.Plan.Settings) {
		return nil
	}
	out := make(map[string]*boxWeight, len(r.boxes))
	for _, b := range r.boxes {
		out[b.scene.Box.ID] = b
	}
	return out
}

// sameRates tells whether two settings weigh a box alike.
func sameRates(a, b layout.Settings) bool {
	return defaultsOf(a.Mass) == defaultsOf(b.Mass) && a.Electric.LinkMM2 == b.Electric.LinkMM2 && a.Cooling.GlycolPct == b.Cooling.GlycolPct
}

func (r *Result) addBoxes(given map[Group]bool, d defaults) {
	for _, b := range r.boxes {
		own := b.estimates(given)
		r.change.plus(&b.sum)
		for _, e := range b.entries {
			r.note(e)
		}
		for _, e := range own {
			r.put(e)
		}
		all := b.all(own, d)
		r.Boxes = append(r.Boxes, BoxMass{ID: b.scene.Box.ID, Body: all.body(), SheetKg: b.sheetKg(), Panels: b.panels})
	}
}

// estimates are a box's estimated lines that nothing given replaces.
func (w *boxWeight) estimates(given map[Group]bool) []Entry {
	var out []Entry
	for _, e := range []Entry{w.links, w.coolant} {
		if e.Kg > 0 && !given[e.Group] {
			out = append(out, e)
		}
	}
	return out
}

func (w *boxWeight) sheetKg() float64 {
	kg := 0.0
	for i := range w.panels {
		kg += w.panels[i].Kg
	}
	return kg
}

// addModuleErrors adds the errors of module masses: those of one type are the same for all its modules.
func (r *Result) addModuleErrors(d defaults) {
	var all []typeSum
	for _, b := range r.boxes {
		for _, t := range b.types {
			all = gather(all, t)
		}
	}
	for _, t := range all {
		r.change.spread(t.at.times(moduleHalf(t.module, d)))
	}
}

// gather adds a type's modules to those of the same type, in the order in which types come.
func gather(all []typeSum, t typeSum) []typeSum {
	for i := range all {
		if all[i].module == t.module {
			all[i].at, all[i].count = all[i].at.plus(t.at, 1), all[i].count+t.count
			return all
		}
	}
	return append(all, t)
}

func (r *Result) addEstimates(given map[Group]bool, d defaults) {
	if !given[Cables] {
		for _, e := range cableEntries(r.Scene, d) {
			r.put(e)
		}
	}
	if !given[Coolant] {
		for _, e := range hoseEntries(r.Scene, d) {
			r.put(e)
		}
	}
}

// conclude works out everything that follows from the sums.
func (r *Result) conclude(d defaults) {
	r.now = r.donor
	r.now.plus(&r.change)
	r.Donor, r.Now = r.donor.body(), r.now.body()
	if !r.usable() {
		return
	}
	r.Change = r.changeOf()
	for _, l := range loadings(r.Scene.Donor, r.Scene.Plan.Settings.Mass, d) {
		r.Cases = append(r.Cases, r.caseOf(l))
	}
	r.Trim = r.sensitivities()
}

// usable tells whether there is a donor whose wheels and mass make sense.
func (r *Result) usable() bool {
	d := r.Scene.Donor
	return d != nil && d.WheelbaseMM > 0 && d.TrackFrontMM > 0 && d.TrackRearMM > 0 && r.donor.kg() > 0 && r.now.kg() > 0
}

func (r *Result) changeOf() Change {
	d := r.Scene.Donor
	c := Change{
		Kg:            r.change.linear(oneKg),
		X:             r.difference(inX, oneKg),
		Y:             r.difference(inY, oneKg),
		Z:             r.difference(inZ, oneKg),
		FrontSharePct: r.difference(r.axles.frontRow().times(100), oneKg),
		Inertia:       r.inertiaChange(),
	}
	if r.donor.first[3] > 0 && r.now.first[3] > 0 {
		c.SSF = r.difference(oneKg.times(r.axles.meanTrack()/2), inZ)
	}
	k := d.Springs
	if c.HasRide = k.FrontNPerMM > 0 && k.RearNPerMM > 0; c.HasRide {
		c.RideFront = r.change.linear(r.axles.frontRow().times(-gravity / 2 / k.FrontNPerMM))
		c.RideRear = r.change.linear(r.axles.rearRow().times(-gravity / 2 / k.RearNPerMM))
	}
	front, rear := r.donor.cg().X, r.axles.base-r.donor.cg().X
	if own := r.donor.kg() * front * rear * 1e-6; own > 0 {
		c.YawPct = 100 * c.Inertia.ZZ / own
	}
	return c
}

// gravity is the standard acceleration of free fall, m/s2 (ISO 80000-3).
const gravity = 9.80665

// difference is by how much a quotient of the converted vehicle is over the donor's.
func (r *Result) difference(num, den row) Figure {
	n, o := dot(den, r.now.first), dot(den, r.donor.first)
	vn, vo := dot(num, r.now.first)/n, dot(num, r.donor.first)/o
	added := num.plus(den, -vn).times(1 / n)
	kept := added.plus(num.plus(den, -vo), -1/o)
	return Figure{vn - vo, hypot(r.change.half(added), r.donor.half(kept))}
}

// inertiaChange is the tensor about the new centre of gravity less the donor's about its own.
func (r *Result) inertiaChange() Inertia {
	g := r.now.cg()
	moved := r.change.second.moved(r.change.kg(), r.change.moments(), g)
	return moved.plus(pointSecond(r.donor.kg(), r.donor.cg().Sub(g))).Inertia()
}
