package check

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout/mass"
	"stowbay/vehicles"
)

const (
	plate          = "the vehicle's plate as entered"
	commonPractice = "common practice"
	loadIndexTable = "tyre load index table (ISO 4000-1)"
)

// massRules are the rules on mass, loads and stability. A limit passes only where it passes with the whole
// uncertainty; where it passes without but not with it, the finding warns.
var massRules = []Rule{
	{"mass.survey", "a survey whose readings contradict each other", "", surveyAgrees},
	{"mass.axle", "an axle loaded beyond its rating", plate, axleRatings},
	{"mass.gross", "a vehicle heavier than its gross mass", plate, grossMass},
	{"mass.seats", "a vehicle that cannot carry people on all its seats", "49 CFR 567.4(g)(3): gross rating at least unladen mass, rated cargo and an occupant on every seat", seatsCarried},
	{"mass.tyre", "a tyre loaded beyond its load index", loadIndexTable, tyreLoads},
	{"mass.tyre_normal", "tyres without reserve at normal load", "49 CFR 571.110 S4.2.1.2: normal load at most 94 % of the tyre's rating", normalLoads},
	{"mass.steering", "a front axle too light to steer", "front axle at least 20 % of the laden mass: EU clause for buses and goods vehicles, restated", steeringAxle},
	{"mass.inside", "a wheel that carries nothing, so that the vehicle stands on three or tips", "moment balance", wheelsCarry},
	{"mass.split", "a vehicle that brakes and steers unlike the donor", commonPractice, frontSplit},
	{"mass.side", "a vehicle that leans or pulls to one side", commonPractice, sideSplit},
	{"mass.cg_height", "a centre of gravity above the donor's", commonPractice, centreHeight},
	{"mass.ssf", "a vehicle more willing to roll over than the donor", "static stability factor T/(2h) (NHTSA); no worse than the donor's is common practice", rollOver},
	{"mass.growth", "a vehicle that outgrows its type approval", "France, order of 13 March 2020: running mass at most 120 % of the original; restated, other codes differ", massGrowth},
	{"mass.known", "figures that rest on guesses", "the plan itself", massesKnown},
}

// limited judges a figure with its uncertainty against a limit.
func limited(v mass.Figure, limit float64, atMost bool, otherwise Severity) (Severity, string) {
	margin := v.Value - limit
	compare := "at least"
	if atMost {
		margin, compare = -margin, "at most"
	}
	const slack = 1e-9 // rounding of sums
	switch {
	case margin < -slack:
		return otherwise, compare
	case margin < v.PlusMinus-slack:
		return Warns, compare
	}
	return Passes, compare
}

// unsure ends a sentence where the uncertainty decides.
func unsure(f Finding, v mass.Figure) string {
	if f.Severity == Warns && f.Margin() >= 0 {
		return fmt.Sprintf(" Its uncertainty of ±%s leaves open whether that holds.", strings.TrimSpace(fmt.Sprintf("%.2g %s", v.PlusMinus, f.Unit)))
	}
	return ""
}

// loadCheck is one load against one limit in one load case.
type loadCheck struct {
	subject string
	what    string // "the front axle carries"
	in      string // load case in words
	load    mass.Figure
	limit   float64
	place   r3.Vector
	source  string
	remedy  func() string // what to do where it does not pass; may be nil
	mild    bool          // true where a breach only warns
}

// worst turns checks of one kind into findings: each one that does not pass, or else the one that passes with
// the least left.
func worst(checks []loadCheck, atMost bool, otherwise Severity) []Finding {
	var out []Finding
	closest, least := -1, 0.0
	for i, c := range checks {
		f := c.judged(atMost, otherwise)
		switch {
		case f.Severity != Passes:
			out = append(out, c.worded(f))
		case closest < 0 || f.Margin() < least:
			closest, least = i, f.Margin()
		}
	}
	if len(out) == 0 && closest >= 0 {
		c := checks[closest]
		out = append(out, c.worded(c.judged(atMost, otherwise)))
	}
	return out
}

func (c loadCheck) judged(atMost bool, otherwise Severity) Finding {
	f := Finding{Subject: c.subject, Required: c.limit, Actual: c.load.Value, Unit: "kg", Source: c.source}
	if c.mild {
		otherwise = Warns
	}
	f.Severity, f.Compare = limited(c.load, c.limit, atMost, otherwise)
	return f
}

func (c loadCheck) worded(f Finding) Finding {
	f.Refs, f.Place = []string{c.subject}, &c.place
	digits := 0
	if math.Abs(f.Margin()) < 1 {
		digits = 1
	}
	f.Text = fmt.Sprintf("%s: %s %.*f ± %.0f kg; %s %.*f kg is allowed.%s", c.in, c.what, digits, c.load.Value, math.Ceil(c.load.PlusMinus), f.Compare, digits, c.limit, unsure(f, c.load))
	if f.Severity != Passes && c.remedy != nil {
		f.Text += c.remedy()
	}
	return f
}

// surveyAgrees passes the survey's contradictions on.
func surveyAgrees(e *Evaluation) []Finding {
	if e.Scene.Donor == nil {
		return nil
	}
	s := e.Mass.Survey()
	var out []Finding
	for _, c := range s.Contradictions {
		f := Finding{Severity: Warns, Subject: "donor", Required: c.Limit, Actual: c.Actual, Unit: c.Unit, Source: c.Source, Text: capital(c.Text) + "."}
		if c.Advice {
			f.Severity = Notes
		}
		out = append(out, f)
	}
	if len(out) == 0 {
		out = append(out, Finding{Severity: Passes, Subject: "donor", Source: "the survey itself", Text: fmt.Sprintf("Nothing in the survey contradicts itself: %s on four wheels.", s.Mass)})
	}
	return out
}

func axleRatings(e *Evaluation) []Finding {
	d := e.Scene.Donor
	var front, rear []loadCheck
	for i := range e.Mass.Cases {
		c := &e.Mass.Cases[i]
		f := loadCheck{subject: "front axle", what: "the front axle carries", in: capital(c.Name), load: c.Now.Front, limit: d.Ratings.FrontAxleKg}
		r := loadCheck{subject: "rear axle", what: "the rear axle carries", in: capital(c.Name), load: c.Now.Rear, limit: d.Ratings.RearAxleKg, place: r3.Vector{X: d.WheelbaseMM}}
		f.blame(c, c.Donor.Front, func(x float64) float64 { return 1 - x/d.WheelbaseMM })
		r.blame(c, c.Donor.Rear, func(x float64) float64 { return x / d.WheelbaseMM })
		front, rear = append(front, f), append(rear, r)
	}
	return append(worst(front, true, Fails), worst(rear, true, Fails)...)
}

// blame finds out whether the conversion is to blame where an axle is over its rating. Where the donor laden to its
// gross mass in the same places is over it too, the load places are, and the finding only warns. share is the axle's
// share of a load at x.
func (l *loadCheck) blame(c *mass.Case, donor mass.Figure, share func(float64) float64) {
	l.mild = c.ID == mass.CaseGross && donor.Value > l.limit
	mild, over := l.mild, l.load.Most()-l.limit
	l.remedy = func() string {
		text := fmt.Sprintf(" The donor has %.0f kg there in that case.", donor.Value)
		if mild {
			text = fmt.Sprintf(" The donor is over it too in that case, with %.0f kg: look at the load places and how much each may carry.", donor.Value)
		}
		if less := lessGoods(c, over, share); less != "" || mild {
			return text + less
		}
		return text + " Move boxes towards the other axle."
	}
}

func lighter() string { return " Take mass out: modules, or parts that are not needed." }

func sparesTyre() string {
	return " Move boxes away from that wheel, or fit tyres of a higher load index."
}

// lessGoods says by how much the goods that were put on last must be fewer for an axle to pass.
func lessGoods(c *mass.Case, over float64, share func(float64) float64) string {
	if len(c.Loads) == 0 {
		return ""
	}
	last := c.Loads[len(c.Loads)-1]
	part := share(last.At.X)
	if !strings.HasPrefix(last.ID, mass.GoodsPrefix) || part <= 0 || over/part > last.Kg {
		return ""
	}
	return fmt.Sprintf(" It would pass with %.0f kg instead of %.0f kg of %s.", last.Kg-over/part, last.Kg, last.Name)
}

// grossMass leaves out the case that is laden to the gross mass, as that meets it by what it is.
func grossMass(e *Evaluation) []Finding {
	var out []loadCheck
	for i := range e.Mass.Cases {
		c := &e.Mass.Cases[i]
		if c.ID != mass.CaseGross {
			out = append(out, loadCheck{subject: "vehicle", what: "the vehicle weighs", in: capital(c.Name), load: c.Now.Body.Kg, limit: e.Scene.Donor.Ratings.GrossKg, place: c.Now.Body.CG(), remedy: lighter})
		}
	}
	return worst(out, true, Fails)
}

func seatsCarried(e *Evaluation) []Finding {
	c := e.Mass.Of(mass.CaseSeats)
	if c == nil || len(c.Loads) == 0 {
		return nil
	}
	p := c.Now.Body.CG()
	f := Finding{Subject: "vehicle", Actual: c.PayloadLeft.Value, Unit: "kg", Place: &p}
	f.Severity, f.Compare = limited(c.PayloadLeft, 0, false, Fails)
	people := fmt.Sprintf("With %s of %.0f kg", counted(len(c.Loads), "occupant"), mass.OccupantKg(e.Plan.Settings.Mass))
	if c.PayloadLeft.Value < 0 {
		f.Text = fmt.Sprintf("%s the vehicle is %.0f ± %.0f kg over its gross mass, with no goods at all. Take mass out.", people, -c.PayloadLeft.Value, c.PayloadLeft.PlusMinus)
		return []Finding{f}
	}
	donor := e.Scene.Donor.Ratings.GrossKg - c.Donor.Body.Kg.Value
	f.Text = fmt.Sprintf("%s, %.0f ± %.0f kg are left for goods; the donor had %.0f kg.%s", people, c.PayloadLeft.Value, c.PayloadLeft.PlusMinus, donor, unsure(f, c.PayloadLeft))
	return []Finding{f}
}

// tyreAxle is one axle's tyres.
type tyreAxle struct {
	name   string
	index  int
	tyres  float64 // on one side
	wheels [2]int  // in mass.State.Wheels
}

func tyreAxles(d *vehicles.Donor) []tyreAxle {
	rear := 1.0
	if d.TwinRearTyres {
		rear = 2
	}
	return []tyreAxle{{"front", d.Tyres.FrontLoadIndex, 1, [2]int{0, 1}}, {"rear", d.Tyres.RearLoadIndex, rear, [2]int{2, 3}}}
}

// rating is what one side's tyres carry, and what is to be said where that is not known.
func (a tyreAxle) rating() (float64, string) {
	if a.index == 0 {
		return 0, fmt.Sprintf("The load index of the %s tyres is not given, so they are not checked.", a.name)
	}
	kg, ok := vehicles.LoadIndexKg(a.index)
	if !ok {
		return 0, fmt.Sprintf("Load index %d of the %s tyres is not in the table, so they are not checked.", a.index, a.name)
	}
	return kg * a.tyres, ""
}

var wheelNames = [4]string{"front left wheel", "front right wheel", "rear left wheel", "rear right wheel"}

func tyreLoads(e *Evaluation) []Finding {
	if len(e.Mass.Cases) == 0 {
		return nil
	}
	var out []Finding
	for _, a := range tyreAxles(e.Scene.Donor) {
		rating, unknown := a.rating()
		if unknown != "" {
			out = append(out, Finding{Severity: Notes, Subject: a.name + " axle", Text: unknown})
			continue
		}
		var checks []loadCheck
		for i := range e.Mass.Cases {
			c := &e.Mass.Cases[i]
			checks = append(checks, e.wheelChecks(a, capital(c.Name), c.Now, rating, a.source())...)
		}
		out = append(out, worst(checks, true, Fails)...)
	}
	return out
}

func (a tyreAxle) source() string {
	s := fmt.Sprintf("%s, index %d", loadIndexTable, a.index)
	if a.tyres > 1 {
		s += "; two tyres a side, each with the index entered: enter the index for twin fitment"
	}
	return s
}

func (e *Evaluation) wheelChecks(a tyreAxle, in string, s mass.State, rating float64, source string) []loadCheck {
	var out []loadCheck
	for _, w := range a.wheels {
		out = append(out, loadCheck{subject: wheelNames[w], what: "the " + wheelNames[w] + " carries", in: in, load: s.Wheels()[w], limit: rating, place: e.Mass.WheelPlace(w), source: source, remedy: sparesTyre})
	}
	return out
}

// normalLoads applies where the plan works with the US occupant of 68 kg. Normal load is two in front for two to
// four seats, and one more behind for five to ten.
func normalLoads(e *Evaluation) []Finding {
	d := e.Scene.Donor
	if len(e.Mass.Cases) == 0 || mass.OccupantKg(e.Plan.Settings.Mass) > 70 || len(d.Seats) == 0 {
		return nil
	}
	state := e.Mass.Seated(normalSeats(d.Seats)...)
	var out []Finding
	for _, a := range tyreAxles(d) {
		if rating, unknown := a.rating(); unknown == "" {
			out = append(out, worst(e.wheelChecks(a, "Normal load", state, 0.94*rating, ""), true, Fails)...)
		}
	}
	return out
}

// normalSeats are the numbers of the seats taken at normal load, the foremost first.
func normalSeats(seats []vehicles.Seat) []int {
	order := make([]int, len(seats))
	for i := range order {
		order[i] = i + 1
	}
	for i := range order { // few seats: insertion keeps the order of equals
		for k := i; k > 0 && seats[order[k]-1].At[0] < seats[order[k-1]-1].At[0]; k-- {
			order[k], order[k-1] = order[k-1], order[k]
		}
	}
	n := min(2, len(seats))
	if len(seats) >= 5 {
		n = 3
	}
	return order[:n]
}

// steeringAxle is a failure for the categories the clause is written for, and a warning for others.
func steeringAxle(e *Evaluation) []Finding {
	otherwise := Warns
	if d := e.Scene.Donor; d != nil && d.Category != "" && d.Category != "M1" {
		otherwise = Fails
	}
	var out []Finding
	for i := range e.Mass.Cases {
		c := &e.Mass.Cases[i]
		if c.ID == mass.CaseKerb {
			continue
		}
		v := c.Now.FrontSharePct
		f := Finding{Subject: "front axle", Refs: []string{"front axle"}, Required: 20, Actual: v.Value, Unit: "%", Place: &r3.Vector{}}
		f.Severity, f.Compare = limited(v, 20, false, otherwise)
		f.Text = fmt.Sprintf("%s: the front axle carries %.1f ± %.1f %% of the mass; at least 20 %% is wanted to steer.%s", capital(c.Name), v.Value, v.PlusMinus, unsure(f, v))
		f = f.mending("Move boxes forward.")
		out = append(out, f)
	}
	return notPassing(out)
}

// notPassing keeps what does not pass, or else what passes with the least margin.
func notPassing(fs []Finding) []Finding {
	var out []Finding
	closest := -1
	for i, f := range fs {
		if f.Severity != Passes {
			out = append(out, f)
		} else if closest < 0 || f.Margin() < fs[closest].Margin() {
			closest = i
		}
	}
	if len(out) == 0 && closest >= 0 {
		out = append(out, fs[closest])
	}
	return out
}

func wheelsCarry(e *Evaluation) []Finding {
	var out []Finding
	for i := range e.Mass.Cases {
		c := &e.Mass.Cases[i]
		for w, v := range c.Now.Wheels() {
			p := e.Mass.WheelPlace(w)
			f := Finding{Subject: wheelNames[w], Refs: []string{wheelNames[w]}, Actual: v.Value, Unit: "kg", Place: &p}
			f.Severity, f.Compare = limited(v, 0, false, Fails)
			f.Text = fmt.Sprintf("%s: the %s stands on the ground with %.0f ± %.0f kg.%s", capital(c.Name), wheelNames[w], v.Value, v.PlusMinus, unsure(f, v))
			if f.Severity == Fails {
				f.Text = fmt.Sprintf("%s: the %s would have to pull with %.0f kg, so the centre of gravity lies outside the wheels that carry. Move boxes towards that wheel.", capital(c.Name), wheelNames[w], -v.Value)
			}
			out = append(out, f)
		}
	}
	return notPassing(out)
}

// frontSplit compares the front share with the donor's at kerb, within the band.
func frontSplit(e *Evaluation) []Finding {
	if len(e.Mass.Cases) == 0 {
		return nil
	}
	band := settingOr(e.Plan.Settings.Mass.SplitBandPct, 3)
	change, c := e.Mass.Change.FrontSharePct, &e.Mass.Cases[0]
	off := mass.Figure{Value: math.Abs(change.Value), PlusMinus: change.PlusMinus}
	f := e.shifted(off, band, "points")
	f.Text = fmt.Sprintf("At kerb the front axle carries %.1f %%, the donor's %.1f %%: %.1f ± %.1f percentage points apart; at most %.1f are wanted.%s%s",
		c.Now.FrontSharePct.Value, c.Donor.FrontSharePct.Value, off.Value, off.PlusMinus, band, unsure(f, off), e.remedy(f))
	return []Finding{f}
}

// remedy says what would bring the front share back.
func (e *Evaluation) remedy(f Finding) string {
	moves := e.Mass.Bring(e.Mass.Target())
	if f.Severity == Passes || len(moves) == 0 || moves[0].Locked {
		return ""
	}
	by := moves[0].ByMM
	way := "rearward"
	if by < 0 {
		by, way = -by, "forward"
	}
	return fmt.Sprintf(" All boxes together would have to go %.0f mm %s for %.1f %%.", by, way, e.Mass.Target())
}

// shifted is a finding about the centre of gravity against the donor's, drawn from one to the other.
func (e *Evaluation) shifted(v mass.Figure, limit float64, unit string) Finding {
	from, to := e.Mass.Donor.CG(), e.Mass.Now.CG()
	f := Finding{Subject: "vehicle", Required: limit, Actual: v.Value, Unit: unit, Place: &to, To: &from}
	f.Severity, f.Compare = limited(v, limit, true, Warns)
	return f
}

func sideSplit(e *Evaluation) []Finding {
	if len(e.Mass.Cases) == 0 {
		return nil
	}
	band := settingOr(e.Plan.Settings.Mass.SideBandPct, 2)
	v := e.Mass.Cases[0].Now.SidePct
	side := "right"
	if v.Value < 0 {
		side = "left"
	}
	v.Value = math.Abs(v.Value)
	f := e.shifted(v, band, "points")
	f.Text = fmt.Sprintf("At kerb the %s side carries %.1f ± %.1f percentage points more than half; at most %.1f are wanted.%s", side, v.Value, v.PlusMinus, band, unsure(f, v))
	return []Finding{f.mending("Move boxes to the other side.")}
}

func centreHeight(e *Evaluation) []Finding {
	if len(e.Mass.Cases) == 0 {
		return nil
	}
	v, allowed := e.Mass.Change.Z, e.Plan.Settings.Mass.CGRiseMM
	f := e.shifted(v, allowed, "mm")
	f.Text = fmt.Sprintf("The centre of gravity lies %.0f ± %.0f mm %s the donor's; %s.%s", math.Abs(v.Value), v.PlusMinus, aboveOrBelow(v.Value), riseAllowed(allowed), unsure(f, v))
	return []Finding{f.mending("Set modules lower.")}
}

func aboveOrBelow(v float64) string {
	if v > 0 {
		return "above"
	}
	return "below"
}

func riseAllowed(mm float64) string {
	if mm == 0 {
		return "it should be no higher"
	}
	return fmt.Sprintf("it may be up to %.0f mm higher", mm)
}

func rollOver(e *Evaluation) []Finding {
	if len(e.Mass.Cases) == 0 || e.Mass.Cases[0].Donor.SSF.Value == 0 {
		return nil
	}
	c, change := &e.Mass.Cases[0], e.Mass.Change.SSF
	now := mass.Figure{Value: c.Now.SSF.Value, PlusMinus: change.PlusMinus}
	f := e.shifted(now, c.Donor.SSF.Value, "")
	f.Severity, f.Compare = limited(now, c.Donor.SSF.Value, false, Warns)
	f.Text = fmt.Sprintf("The static stability factor, half the track width over the height of the centre of gravity, is %.3f; the donor's is %.3f. The change is %+.3f ± %.3f.%s", now.Value, c.Donor.SSF.Value, change.Value, change.PlusMinus, unsure(f, now))
	return []Finding{f.mending("Set modules lower.")}
}

// massGrowth fails only where the plan names the code that sets the limit.
func massGrowth(e *Evaluation) []Finding {
	c := e.Mass.Of(mass.CaseDriver)
	if c == nil {
		return nil
	}
	otherwise := Notes
	if strings.Contains(strings.ToLower(e.Plan.Settings.Code), "france") {
		otherwise = Fails
	}
	was := c.Donor.Body.Kg.Value
	v := c.Now.Body.Kg
	f := e.shifted(v, 1.2*was, "kg")
	f.Severity, f.Compare = limited(v, 1.2*was, true, otherwise)
	f.Text = fmt.Sprintf("In running order the vehicle weighs %.0f ± %.0f kg, %.0f %% of the donor's %.0f kg; some codes allow 120 %%.%s", v.Value, v.PlusMinus, 100*v.Value/was, was, unsure(f, v))
	return []Finding{f}
}

// massesKnown notes what the figures rest on that is not weighed.
func massesKnown(e *Evaluation) []Finding {
	d := e.Scene.Donor
	if d == nil {
		return nil
	}
	var out []Finding
	if d.CentreOfGravity.How == "estimate" {
		p := e.Mass.Donor.CG()
		out = append(out, Finding{Severity: Notes, Subject: "donor", Place: &p,
			Text: fmt.Sprintf("The height of the donor's centre of gravity, %.0f ± %.0f mm, is an estimate; everything about stability rests on it.", e.Mass.Donor.Z.Value, e.Mass.Donor.Z.PlusMinus)})
	}
	var guessed float64
	var names []string
	e.Mass.Each(func(l *mass.Entry) {
		if l.Known == "guess" {
			guessed += math.Abs(l.Kg)
			names = append(names, l.Name)
		}
	})
	if len(names) > 0 {
		return append(out, Finding{Severity: Notes, Subject: "vehicle", Actual: guessed, Unit: "kg",
			Text: fmt.Sprintf("%.0f kg in the list of masses are guesses: %s. Weigh them as they come out or go in.", guessed, strings.Join(names, ", "))})
	}
	return append(out, Finding{Severity: Passes, Subject: "vehicle", Text: "No mass in the list of masses is a guess."})
}

func settingOr(v, d float64) float64 {
	if v == 0 {
		return d
	}
	return v
}
