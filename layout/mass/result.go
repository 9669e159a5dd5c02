package mass

import (
	"stowbay/layout"
	"stowbay/vehicles"
)

// Result is all that the mass of an arrangement says. It is never changed once made.
type Result struct {
	Scene  *layout.Scene
	Donor  Body   // as surveyed, kerb
	Now    Body   // converted, kerb
	Change Change // converted less donor, both at kerb
	Cases  []Case // kerb, driver, seats, gross, then the user's own; empty without a usable donor
	Boxes  []BoxMass

	donor, change, now sum
	axles              axles
	survey             *surveyed
	boxes              []*boxTotal
	given              map[Group]bool // groups that the caller's entries hold
	others             []Entry        // lines after the boxes
}

// BoxMass is a box with all that is in it, the caller's entries that name it included.
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
// Coolant, the estimates of that group made here are left out; an entry whose Of is a box counts with that box. prev, the result before an edit, may be nil;
// boxes that both scenes share are taken over from it.
func Evaluate(s *layout.Scene, extras []Entry, prev *Result) *Result {
	r := &Result{Scene: s, given: groupsOf(extras)}
	d := defaultsOf(s.Plan.Settings.Mass)
	r.survey = surveyOf(s, prev, d)
	r.donor, r.change, r.axles = r.survey.kerb, r.survey.change, r.survey.axles
	r.boxes = weighBoxes(s, prev, r.given, d)
	r.addBoxes(extras)
	r.addModuleErrors(d)
	for i := range s.Arrangement.Parts {
		r.put(partEntry(&s.Arrangement.Parts[i], PutIn, "put_in/arrangement/", 1, d))
	}
	for _, g := range s.Gear {
		r.put(gearEntry(g, "", d))
	}
	r.addEstimates(d)
	for _, e := range extras {
		r.put(e)
	}
	r.conclude()
	return r
}

func groupsOf(es []Entry) map[Group]bool {
	out := map[Group]bool{}
	for i := range es {
		out[es[i].Group] = true
	}
	return out
}

// put adds a line after the boxes.
func (r *Result) put(e Entry) {
	r.change.addEntry(&e)
	r.others = append(r.others, e)
}

// Survey returns what the donor's own readings say, contradictions included.
func (r *Result) Survey() vehicles.Survey { return r.survey.survey }

// Each calls f for every line of the ledger in its order. Running is not filled in.
func (r *Result) Each(f func(*Entry)) {
	each := func(es []Entry) {
		for i := range es {
			f(&es[i])
		}
	}
	each(r.survey.lines)
	for _, b := range r.boxes {
		each(b.of.entries)
		each(b.own)
	}
	each(r.others)
}

// Ledger returns every line from the donor's kerb mass on, with the running total: taken out, put in, the boxes
// with what is in them, then parts and gear of the arrangement, cables, hoses and the caller's entries.
func (r *Result) Ledger() []Entry {
	out := make([]Entry, 0, len(r.survey.lines)+10*len(r.boxes)+len(r.others))
	total := 0.0
	r.Each(func(e *Entry) {
		total += e.Kg
		out = append(out, *e)
		out[len(out)-1].Running = total
	})
	return out
}

// weighBoxes weighs what prev does not have.
func weighBoxes(s *layout.Scene, prev *Result, given map[Group]bool, d defaults) []*boxTotal {
	old := prev.known(s)
	out := make([]*boxTotal, len(s.Boxes))
	for i, b := range s.Boxes {
		was := old[b.Box.ID]
		switch {
		case was == nil:
			out[i] = weighBox(b, nil, s, d).total(given, d)
		case was.of.scene != b:
			out[i] = weighBox(b, was.of, s, d).total(given, d)
		case prev.given[Links] != given[Links] || prev.given[Coolant] != given[Coolant]:
			out[i] = was.of.total(given, d)
		default:
			out[i] = was
		}
	}
	return out
}

// known is the boxes of the previous result by id, where the same settings and records hold.
func (r *Result) known(s *layout.Scene) map[string]*boxTotal {
	if r == nil || r.Scene.Library != s.Library || !sameRates(r.Scene.Plan.Settings, s.Plan.Settings) {
		return nil
	}
	out := make(map[string]*boxTotal, len(r.boxes))
	for _, b := range r.boxes {
		out[b.of.scene.Box.ID] = b
	}
	return out
}

// sameRates tells whether two settings weigh a box alike.
func sameRates(a, b layout.Settings) bool {
	return defaultsOf(a.Mass) == defaultsOf(b.Mass) && a.Electric.LinkMM2 == b.Electric.LinkMM2 && a.Cooling.GlycolPct == b.Cooling.GlycolPct
}

func (r *Result) addBoxes(extras []Entry) {
	r.Boxes = make([]BoxMass, len(r.boxes))
	for i, b := range r.boxes {
		r.change.plus(&b.sum)
		r.Boxes[i] = b.mass(extras)
	}
}

// addModuleErrors adds the errors of module masses: those of one type are the same for all its modules.
func (r *Result) addModuleErrors(d defaults) {
	var all []typeSum
	for _, b := range r.boxes {
		for _, t := range b.of.types {
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
			all[i].at = all[i].at.plus(t.at, 1)
			return all
		}
	}
	return append(all, t)
}

func (r *Result) addEstimates(d defaults) {
	if !r.given[Cables] {
		for _, e := range r.cableEntries(d) {
			r.put(e)
		}
	}
	if !r.given[Coolant] {
		for _, e := range r.hoseEntries(d) {
			r.put(e)
		}
	}
}

// conclude works out everything that follows from the sums.
func (r *Result) conclude() {
	r.now = r.donor
	r.now.plus(&r.change)
	r.Donor, r.Now = r.donor.body(), r.now.body()
	if !r.usable() {
		return
	}
	r.Change = r.changeOf()
	r.Cases = make([]Case, len(r.survey.loadings))
	for i, l := range r.survey.loadings {
		r.Cases[i] = r.caseOf(l, r.survey.states[i])
	}
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
