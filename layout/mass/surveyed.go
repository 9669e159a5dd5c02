package mass

import (
	"stowbay/layout"
	"stowbay/vehicles"
)

// surveyed is what follows from the donor and the settings alone. It is taken over while both stay the same.
type surveyed struct {
	donor    *vehicles.Donor
	settings layout.Mass
	survey   vehicles.Survey
	kerb     sum
	change   sum // taken out and put in by the donor's own lists
	axles    axles
	lines    []Entry
	loadings []loading
	states   []State // the donor's, in each load case
}

func surveyOf(s *layout.Scene, prev *Result, d defaults) *surveyed {
	m := s.Plan.Settings.Mass
	if prev != nil && prev.survey.donor == s.Donor && sameMass(prev.survey.settings, m) {
		return prev.survey
	}
	out := &surveyed{donor: s.Donor, settings: m}
	if s.Donor != nil {
		out.survey = s.Donor.Survey()
		out.kerb = kerbOf(s.Donor, out.survey)
		out.axles = axlesOf(s.Donor, &out.kerb)
		out.addLines(d)
		out.loadings = loadings(s.Donor, m, d)
		out.load(brakingG(m))
	}
	return out
}

// load works out how the donor stands in each load case.
func (s *surveyed) load(g float64) {
	for _, l := range s.loadings {
		laden, _, _ := l.aboard(s.kerb, s.donor)
		s.states = append(s.states, s.axles.stateOf(&laden, g))
	}
}

// sameMass tells whether two settings weigh the donor and its load cases alike.
func sameMass(a, b layout.Mass) bool {
	return sameList(a.Cases, b.Cases) && OccupantKg(a) == OccupantKg(b) && brakingG(a) == brakingG(b) && defaultsOf(a) == defaultsOf(b)
}

func (s *surveyed) addLines(d defaults) {
	b := s.kerb.body()
	s.lines = []Entry{{
		ID: "kerb", Group: Kerb, Name: "donor as weighed", Count: 1, Kg: b.Kg.Value, PlusMinus: b.Kg.PlusMinus, Known: OnScales, At: b.CG(),
	}}
	for i := range s.donor.Removed {
		s.put(partEntry(&s.donor.Removed[i], TakenOut, "taken_out/", -1, d))
	}
	for i := range s.donor.Added {
		s.put(partEntry(&s.donor.Added[i], PutIn, "put_in/", 1, d))
	}
}

func (s *surveyed) put(e Entry) {
	s.change.addEntry(&e)
	s.lines = append(s.lines, e)
}
