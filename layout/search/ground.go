package search

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/layout/check"
	"stowbay/layout/electric"
	"stowbay/layout/mass"
	"stowbay/vehicles"
)

// ground is what all arrangements searched have in common.
type ground struct {
	plan    *layout.Plan
	a       *layout.Arrangement
	lib     *vehicles.Library
	boxes   []*layout.Box
	always  []bool   // the box stays whatever it holds
	blocked []string // why the box cannot be used; empty where it can
	clashes [][2]int // boxes that stand in each other
	at      []r3.Vector
	hub     *r3.Vector
	empty   *layout.Scene
	bare    *mass.Result // the vehicle without boxes
	gear    []*vehicles.Gear
	load    electric.Load
	rules   *rules
	target  float64 // front share aimed at, in per cent
	cableKg float64 // of a metre of traction cable
}

// cableMM2 and cableCover stand in where the plan states no section: as layout/electric and layout/mass have them.
const (
	cableMM2   = 50
	cableCover = 1.3
)

func groundOf(p *layout.Plan, a *layout.Arrangement, lib *vehicles.Library, boxes []*layout.Box, strict bool) (*ground, error) {
	g := &ground{plan: p, a: a, lib: lib, boxes: boxes}
	bare := *a
	bare.Boxes = nil
	g.bare = mass.Evaluate(layout.Resolve(p, &bare, lib, nil), noCables, nil)
	if len(g.bare.Cases) == 0 {
		return nil, fmt.Errorf("the plan's donor %q cannot be weighed: without wheel loads, wheelbase and tracks there is nothing to search by", p.Donor)
	}
	g.empties()
	mm2 := p.Settings.Electric.CableMM2
	if mm2 == 0 {
		mm2 = cableMM2
	}
	g.cableKg = electric.CopperKg(1000, mm2) * cableCover
	g.rules = rulesOf(p, g.bare, strict)
	g.target = g.bare.Target()
	return g, nil
}

// noCables keeps mass from estimating cables and links: the search adds its own.
var noCables = []mass.Entry{{ID: "cables/search", Group: mass.Cables, Known: mass.Estimate}, {ID: "links/search", Group: mass.Links, Known: mass.Estimate}}

// empties looks at the boxes without modules: where they stand, which have to stay and which do not fit.
func (g *ground) empties() {
	empty := *g.a
	empty.Boxes, empty.Strings = make([]*layout.Box, len(g.boxes)), nil
	g.always, g.blocked = make([]bool, len(g.boxes)), make([]string, len(g.boxes))
	for i, b := range g.boxes {
		e := *b
		e.Modules = nil
		empty.Boxes[i] = &e
		g.always[i] = b.Locked || holdsLocked(b) || servesMore(b)
	}
	e := check.Evaluate(g.plan, &empty, g.lib, nil)
	g.empty, g.load = e.Scene, e.Electric.Load
	for i, b := range e.Scene.Boxes {
		lo, hi := b.Outer.Bounds()
		g.at = append(g.at, lo.Add(hi).Mul(0.5))
		g.blocked[i] = misfit(e, b.Box.ID)
	}
	g.findClashes(e)
	g.findHub(e)
	g.gear = append(g.gear, g.load.Inverter, g.load.Charger)
	for _, q := range e.Scene.Gear {
		if q.Gear.Kind == "dc_dc" {
			g.gear = append(g.gear, q.Gear)
		}
	}
}

func holdsLocked(b *layout.Box) bool {
	for _, m := range b.Modules {
		if m.Locked {
			return true
		}
	}
	return false
}

// servesMore tells whether a box holds gear that serves more than the box: without it the pack would lack a contactor,
// say.
func servesMore(b *layout.Box) bool {
	return slices.ContainsFunc(b.Gear, func(g layout.PlacedGear) bool { return g.Role != "box" })
}

// findClashes lists the boxes that stand in each other, by the checks of the empty boxes.
func (g *ground) findClashes(e *check.Evaluation) {
	of := func(id string) int { return slices.IndexFunc(g.boxes, func(b *layout.Box) bool { return b.ID == id }) }
	for _, f := range e.Findings {
		if f.Rule != "fit.boxes" || f.Severity != check.Fails || len(f.Refs) != 2 {
			continue
		}
		if a, b := of(f.Refs[0]), of(f.Refs[1]); a >= 0 && b >= 0 {
			g.clashes = append(g.clashes, [2]int{a, b})
		}
	}
}

// clash tells whether two boxes of a set stand in each other, other than two that both stay in any case.
func (g *ground) clash(boxes []int) bool {
	return slices.ContainsFunc(g.clashes, func(c [2]int) bool {
		return slices.Contains(boxes, c[0]) && slices.Contains(boxes, c[1]) && !(g.always[c[0]] && g.always[c[1]])
	})
}

// misfit says why a box does not go where it stands, by the checks of the empty box.
func misfit(e *check.Evaluation, box string) string {
	for _, f := range e.Findings {
		if f.Severity == check.Fails && f.Subject == box && (strings.HasPrefix(f.Rule, "fit.") || f.Rule == "place.ground") && f.Rule != "fit.boxes" {
			return f.Text
		}
	}
	return ""
}

// findHub takes the place that both ends of the strings lead to: a junction outside the boxes, or the inverter.
func (g *ground) findHub(e *check.Evaluation) {
	if at := g.load.InverterAt; at != nil {
		g.hub = &at.CG
	}
	for _, q := range e.Scene.Gear {
		if q.Gear.Kind == "junction" {
			g.hub = &q.CG
			return
		}
	}
}

// sceneWith resolves the arrangement with the boxes given.
func (g *ground) sceneWith(boxes []*layout.Box, prev *layout.Scene) *layout.Scene {
	a := *g.a
	a.Boxes, a.Strings, a.Cables = boxes, nil, nil
	return layout.Resolve(g.plan, &a, g.lib, prev)
}

// gearCost is what the gear in a box costs.
func (g *ground) gearCost(box int) float64 {
	sum := 0.0
	for i := range g.boxes[box].Gear {
		if q := g.lib.Gear(g.boxes[box].Gear[i].Gear); q != nil {
			sum += q.Price
		}
	}
	return sum
}

// liveSteps are the joints made at a hazardous voltage.
func (g *ground) liveSteps(m *vehicles.Module, series, parallel int) int {
	limit := assembly.LimitsOf(g.plan.Settings.Assembly).TouchV
	group := max(1, int(math.Floor(limit/m.MaxV()+1e-9)))
	live := (series+group-1)/group - 1
	if float64(series)*m.MaxV() <= limit {
		return 0
	}
	return parallel*live + parallel - 1
}
