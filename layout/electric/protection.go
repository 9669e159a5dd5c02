package electric

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// Protection is the gear that protects and controls the pack, and where it is.
type Protection struct {
	Poles       []Pole
	Disconnects []Disconnect
	Pilot       []string // what the pilot loop runs through: connectors, lids, disconnects, inverter, charger
	Boards      []Boards // box by box
	BoardLoopMM float64  // way of the boards' loop through the boxes along the axes, there and back to the master
	BoardOrder  []string // boxes in that order
	Inertia     *layout.GearBody
	Master      *layout.GearBody
	Current     *layout.GearBody // current sensor
}

// Pole is one end of a string and the contactor in the box it ends in.
type Pole struct {
	String    int
	Pole      string // "negative" or "positive"
	Box       *layout.BoxScene
	Contactor *layout.GearBody // nil: none
}

// Disconnect is a service disconnect and where it splits a string.
type Disconnect struct {
	Gear      *layout.GearBody // nil: the string has none
	String    int
	After     int     // it splits the string after so many modules
	LowV      float64 // the two segments at the cells' highest voltage
	HighV     float64
	OffMiddle float64 // distance from the middle as a share of the whole voltage
}

// Boards are the monitoring boards of one box against what its modules need.
type Boards struct {
	Box             *layout.BoxScene
	Gear            []*layout.GearBody
	Cells, Channels int
	NeedSensors     int // two for each module: at the coolant's inlet and outlet edge
	Sensors         int
}

func (r *Result) protect() {
	p := &r.Protection
	for i := range r.Strings {
		p.poles(i, &r.Strings[i])
	}
	p.Disconnects = r.disconnects()
	for _, g := range r.allGear() {
		switch g.Gear.Kind {
		case "inertia_switch":
			p.Inertia = firstOf(p.Inertia, g)
		case "monitoring_master":
			p.Master = firstOf(p.Master, g)
		case "current_sensor":
			p.Current = firstOf(p.Current, g)
		}
	}
	for _, b := range r.Scene.Boxes {
		if len(b.Modules) > 0 {
			p.Boards = append(p.Boards, boardsOf(b))
		}
	}
	p.Pilot = r.pilot()
	r.boardLoop()
}

func firstOf(a, b *layout.GearBody) *layout.GearBody {
	if a != nil {
		return a
	}
	return b
}

// poles finds the contactors at both ends of a string. A box that holds both ends needs two.
func (p *Protection) poles(i int, s *String) {
	used := map[*layout.GearBody]bool{}
	for _, q := range p.Poles {
		used[q.Contactor] = true
	}
	first, last := s.Passes[0].Box, s.Passes[len(s.Passes)-1].Box
	for _, end := range []Pole{{String: i, Pole: "negative", Box: first}, {String: i, Pole: "positive", Box: last}} {
		end.Contactor = contactorAt(end.Box, end.Pole, used)
		if end.Contactor != nil {
			used[end.Contactor] = true
		}
		p.Poles = append(p.Poles, end)
	}
}

// contactorAt is a contactor in a box not yet used: one of the pole's role before one without a role.
func contactorAt(b *layout.BoxScene, role string, used map[*layout.GearBody]bool) *layout.GearBody {
	for _, want := range []string{role, "", "box"} {
		for _, g := range b.Gear {
			if g.Gear.Kind == "contactor" && g.Placed.Role == want && !used[g] {
				return g
			}
		}
	}
	return nil
}

// disconnects gives every service disconnect to one string that passes its box: the one it splits nearest to the
// electrical middle. Strings are served in turn; a string may go without.
func (r *Result) disconnects() []Disconnect {
	taken := map[*layout.GearBody]bool{}
	var out []Disconnect
	for i := range r.Strings {
		d := r.disconnect(i, taken)
		taken[d.Gear] = d.Gear != nil
		out = append(out, d)
	}
	return out
}

// disconnect finds the service disconnect of a string among those not taken: in the boxes it passes, at the joint
// of that box nearest to the string's electrical middle.
func (r *Result) disconnect(i int, taken map[*layout.GearBody]bool) Disconnect {
	s := &r.Strings[i]
	best := Disconnect{String: i, OffMiddle: math.Inf(1), HighV: s.MaxV}
	for _, p := range s.Passes {
		for _, g := range p.Box.Gear {
			if g.Gear.Kind != "service_disconnect" || taken[g] {
				continue
			}
			if d := s.split(i, g, p); best.Gear == nil || d.OffMiddle < best.OffMiddle {
				best = d
			}
		}
	}
	return best
}

func (s *String) split(i int, g *layout.GearBody, p Passage) Disconnect {
	d := Disconnect{Gear: g, String: i, OffMiddle: math.Inf(1)}
	for k := max(p.From, 1); k <= min(p.To, len(s.Modules)-1); k++ {
		low := s.Modules[k].NegV
		if off := math.Abs(low/s.MaxV - 0.5); off < d.OffMiddle {
			d.After, d.LowV, d.HighV, d.OffMiddle = k, low, s.MaxV-low, off
		}
	}
	return d
}

func boardsOf(b *layout.BoxScene) Boards {
	out := Boards{Box: b}
	for _, m := range b.Modules {
		out.Cells += m.Module.Series
		out.NeedSensors += 2
	}
	for _, g := range b.Gear {
		if g.Gear.Kind == "monitoring_board" {
			out.Gear = append(out.Gear, g)
			out.Channels += g.Gear.Channels
			out.Sensors += g.Gear.Sensors
		}
	}
	return out
}

// pilot lists what the pilot loop has to run through, in the order of boxes and then the gear outside.
func (r *Result) pilot() []string {
	var out []string
	for _, b := range r.Scene.Boxes {
		if len(b.Modules) == 0 {
			continue
		}
		out = append(out, "lid of "+b.Box.ID)
		for i := range b.Box.Openings {
			if o := &b.Box.Openings[i]; o.Kind == "connector" {
				out = append(out, "connector "+b.Box.ID+"/"+o.ID)
			}
		}
		out = append(out, pilotGear(b.Gear)...)
	}
	return append(out, pilotGear(r.Scene.Gear)...)
}

func pilotGear(gs []*layout.GearBody) []string {
	var out []string
	for _, g := range gs {
		switch g.Gear.Kind {
		case "connector", "service_disconnect", "inverter", "charger", "dc_dc", "heater", "junction", "inertia_switch":
			out = append(out, g.ID)
		}
	}
	return out
}

// boardLoop lays the boards' daisy chain through the boxes with modules: from the master, or the first box, by
// the shortest order of box centres and back.
func (r *Result) boardLoop() {
	p := &r.Protection
	var centres []r3.Vector
	for _, b := range p.Boards {
		centres = append(centres, centreOf(b.Box))
	}
	if len(centres) == 0 {
		return
	}
	home := centres[0]
	if p.Master != nil {
		home = p.Master.CG
	}
	c := newCosts(len(centres))
	for i := range centres {
		c.start[i] = alongAxes(home, centres[i])
		c.end[i] = c.start[i]
		for k := range centres {
			c.step[i*c.n+k] = alongAxes(centres[i], centres[k])
		}
	}
	order := c.shortest()
	p.BoardLoopMM = c.total(order)
	for _, i := range order {
		p.BoardOrder = append(p.BoardOrder, p.Boards[i].Box.Box.ID)
	}
}

// HasContactors tells whether both ends of every string have a contactor.
func (p *Protection) HasContactors() bool {
	return !slices.ContainsFunc(p.Poles, func(q Pole) bool { return q.Contactor == nil })
}
