package mass

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Case is a load case: who and what is on board, and how the converted vehicle and the donor stand with it.
type Case struct {
	ID, Name string
	Loads    []Entry
	Now      State
	Donor    State
	// PayloadLeft is the gross mass less the converted vehicle's mass in this case, kg.
	PayloadLeft Figure
	Remark      string
}

// The ids of the standing load cases.
const (
	CaseKerb   = "kerb"   // nobody on board
	CaseDriver = "driver" // the driver: with it, running order as Regulation (EU) 1230/2012 article 2(4) has it
	CaseSeats  = "seats"  // every seat taken
	CaseGross  = "gross"  // every seat taken and goods up to the gross mass
)

// GoodsPrefix begins the ids of the goods that fill the case CaseGross up.
const GoodsPrefix = "load/goods-"

// loading is what a case puts on board before the vehicle is looked at.
type loading struct {
	id, name string
	loads    []Entry
	toGross  bool
}

// loadings are the standing cases and the user's own.
func loadings(d *vehicles.Donor, m layout.Mass, def defaults) []loading {
	all := occupants(d, m, seatNumbers(len(d.Seats)))
	out := []loading{
		{id: CaseKerb, name: "kerb, nobody on board"},
		{id: CaseDriver, name: "driver only", loads: occupants(d, m, driver(d))},
		{id: CaseSeats, name: "all seats taken", loads: all},
		{id: CaseGross, name: "laden to gross mass", loads: all, toGross: true},
	}
	for i := range m.Cases {
		c := &m.Cases[i]
		l := loading{id: c.ID, name: or2(c.Name, c.ID), loads: occupants(d, m, c.Seats)}
		for k := range c.Loads {
			l.loads = append(l.loads, partEntry(&c.Loads[k], Load, "load/", 1, def))
		}
		out = append(out, l)
	}
	return out
}

func or2(s, t string) string {
	if s == "" {
		return t
	}
	return s
}

func seatNumbers(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i + 1
	}
	return out
}

// driver is the number of the seat that is named the driver's, else of the first.
func driver(d *vehicles.Donor) []int {
	for i, s := range d.Seats {
		if strings.Contains(strings.ToLower(s.Name), "driver") {
			return []int{i + 1}
		}
	}
	return seatNumbers(min(1, len(d.Seats)))
}

// OccupantKg is the mass of an occupant that the plan's regulation sets: 75 kg unless it says otherwise.
func OccupantKg(m layout.Mass) float64 { return or(m.OccupantKg, 75) }

func occupants(d *vehicles.Donor, m layout.Mass, seats []int) []Entry {
	var out []Entry
	for _, n := range seats {
		if n < 1 || n > len(d.Seats) {
			continue
		}
		s := d.Seats[n-1]
		out = append(out, Entry{
			ID: fmt.Sprintf("load/seat-%d", n), Group: Load, Name: s.Name, Count: 1, Kg: OccupantKg(m), Known: Rule, At: s.At.Vector(),
		})
	}
	return out
}

// caseOf works a case out for the converted vehicle.
func (r *Result) caseOf(l loading, donor State) Case {
	c := Case{ID: l.id, Name: l.name, Donor: donor}
	var now sum
	now, c.Loads, c.Remark = l.aboard(r.now, r.Scene.Donor)
	c.Now = r.axles.stateOf(&now, donor.BrakingG)
	c.PayloadLeft = Figure{r.Scene.Donor.Ratings.GrossKg - c.Now.Body.Kg.Value, c.Now.Body.Kg.PlusMinus}
	return c
}

// aboard puts a case's loads on a vehicle and returns it with all that is on board and what is to be said of it.
func (l loading) aboard(s sum, d *vehicles.Donor) (laden sum, loads []Entry, remark string) {
	for i := range l.loads {
		s.addEntry(&l.loads[i])
	}
	if !l.toGross {
		return s, slices.Clip(l.loads), ""
	}
	more, remark := fillTo(&s, d)
	return s, slices.Concat(l.loads, more), remark
}

func brakingG(m layout.Mass) float64 { return or(m.BrakingG, 0.5) }

// fillTo puts goods on the donor's load places, in their order, each up to what it may carry, until the gross
// mass is reached. It returns the goods, and what stands in the way.
func fillTo(s *sum, d *vehicles.Donor) (loads []Entry, remark string) {
	left := d.Ratings.GrossKg - s.kg()
	if left < 0 {
		return nil, "The seats alone bring the vehicle over its gross mass; no goods are put in."
	}
	places, remark := loadPlaces(d, s)
	for i, p := range places {
		kg := left
		if p.MaxKg > 0 {
			kg = min(kg, p.MaxKg)
		}
		loads = append(loads, goods(i, p, kg))
		if left -= kg; left <= 0 {
			s.fill(kg, p.At.Vector())
			return loads, remark
		}
		s.exact(kg, p.At.Vector(), Second{})
	}
	return loads, fmt.Sprintf("The load places carry %.0f kg less than the gross mass allows.", left)
}

func goods(i int, p vehicles.LoadPlace, kg float64) Entry {
	return Entry{
		ID: fmt.Sprintf("%s%d", GoodsPrefix, i+1), Group: Load, Name: "goods: " + or2(p.Name, p.ID), Count: 1, Kg: kg, Known: Rule, At: p.At.Vector(),
	}
}

// loadPlaces are the donor's, or else one over the rear axle at the height of the centre of gravity.
func loadPlaces(d *vehicles.Donor, s *sum) ([]vehicles.LoadPlace, string) {
	if len(d.LoadPlaces) > 0 {
		return d.LoadPlaces, ""
	}
	p := vehicles.LoadPlace{ID: "rear-axle", Name: "over the rear axle", At: vehicles.XYZ{d.WheelbaseMM, 0, s.cg().Z}}
	return []vehicles.LoadPlace{p}, "The donor names no load place: goods are taken to stand over the rear axle (an assumption)."
}

// partEntry is the line of a part, sign -1 for one taken out.
func partEntry(p *vehicles.Part, g Group, prefix string, sign float64, d defaults) Entry {
	e := Entry{ID: prefix + p.ID, Group: g, Name: or2(p.Name, p.ID), Count: 1, Kg: sign * p.MassKg, Known: p.Known, At: p.At.Vector(), PlaceMM: d.placeMM}
	if p.SizeMM != nil {
		e.Own = blockSecond(e.Kg, p.SizeMM.Vector())
	}
	return e.settle(p.PlusMinusKg, d)
}

// Of returns the case with that id, or nil.
func (r *Result) Of(id string) *Case {
	for i := range r.Cases {
		if r.Cases[i].ID == id {
			return &r.Cases[i]
		}
	}
	return nil
}

// WheelPlace is where a wheel of the donor meets the ground, by its order in [State.Wheels]. The donor must be known.
func (r *Result) WheelPlace(i int) r3.Vector { return wheelsOf(r.Scene.Donor, 0)[i].at }

// Seated is how the converted vehicle stands with the seats of those numbers taken, from 1, and nothing else on
// board. Numbers without a seat are left out.
func (r *Result) Seated(seats ...int) State {
	s := r.now
	if d := r.Scene.Donor; d != nil {
		for _, e := range occupants(d, r.Scene.Plan.Settings.Mass, seats) {
			s.addEntry(&e)
		}
	}
	return r.axles.stateOf(&s, brakingG(r.Scene.Plan.Settings.Mass))
}
