package assembly

import (
	"fmt"
	"math"
	"slices"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Remark is something to be said of the build record.
type Remark struct {
	Grade            string // "fails", "warns", "notes"
	Of               string // shop number or slot
	Required, Actual float64
	Compare, Unit    string
	Text             string
	Source           string
}

// Limits of the incoming inspection. Common practice without a source; the maker's own limits come first.
const (
	spreadV        = 0.05 // between the cells of one module at rest, V
	betweenV       = 0.05 // between the mean cell voltages of modules of one string, V
	resistanceOver = 1.25 // times the data sheet's
	capacityUnder  = 0.90 // times the data sheet's
)

const inspection = "common practice; the maker's own limits come first"

// Inspect looks through the build record: limits and spread of received modules, numbers used twice, slots that name
// what is not there.
func Inspect(s *layout.Scene) []Remark {
	b := s.Plan.Build
	if b == nil {
		return nil
	}
	i := inspector{s: s, b: b, byShop: map[string]*layout.Received{}}
	i.received()
	i.slots()
	return i.out
}

// beyondLimits are the shop numbers of received modules that fail the inspection.
func beyondLimits(s *layout.Scene) map[string]bool {
	i := inspector{s: s, b: s.Plan.Build, byShop: map[string]*layout.Received{}}
	i.received()
	out := map[string]bool{}
	for _, r := range i.out {
		if r.Grade == "fails" {
			out[r.Of] = true
		}
	}
	return out
}

type inspector struct {
	s      *layout.Scene
	b      *layout.Build
	byShop map[string]*layout.Received
	out    []Remark
}

func (i *inspector) say(r Remark) { i.out = append(i.out, r) }

func (i *inspector) received() {
	serials := map[string]string{}
	for k := range i.b.Received {
		r := &i.b.Received[k]
		if other := serials[r.Serial]; r.Serial != "" && other != "" && other != r.Shop {
			i.say(Remark{Grade: "warns", Of: r.Shop, Source: "the plan itself", Text: fmt.Sprintf("Modules %s and %s have the same maker's serial number %s.", other, r.Shop, r.Serial)})
		}
		serials[r.Serial] = r.Shop
		i.byShop[r.Shop] = r
		m := i.s.Library.Module(r.Module)
		if m == nil {
			i.say(Remark{Grade: "warns", Of: r.Shop, Source: "the plan itself", Text: fmt.Sprintf("Module %s is of type %q, which is not in the library: its limits are not checked.", r.Shop, r.Module)})
			continue
		}
		i.module(r, m)
	}
}

// module checks one module against its data sheet.
func (i *inspector) module(r *layout.Received, m *vehicles.Module) {
	if r.Refused {
		return
	}
	i.cells(r, m)
	if r.MilliOhm > resistanceOver*m.Ohmic.MilliOhm {
		i.say(Remark{Grade: "warns", Of: r.Shop, Required: resistanceOver * m.Ohmic.MilliOhm, Actual: r.MilliOhm, Compare: "at most", Unit: "mohm", Source: inspection,
			Text: fmt.Sprintf("Module %s has %.3g mohm; its data sheet says %.3g mohm. It will run warmer than its neighbours.", r.Shop, r.MilliOhm, m.Ohmic.MilliOhm)})
	}
	if r.CapacityAh > 0 && r.CapacityAh < capacityUnder*m.CapacityAh() {
		i.say(Remark{Grade: "warns", Of: r.Shop, Required: capacityUnder * m.CapacityAh(), Actual: r.CapacityAh, Compare: "at least", Unit: "Ah", Source: inspection,
			Text: fmt.Sprintf("Module %s has %.3g Ah; its data sheet says %.3g Ah. It limits every string that it is in.", r.Shop, r.CapacityAh, m.CapacityAh())})
	}
}

func (i *inspector) cells(r *layout.Received, m *vehicles.Module) {
	if len(r.CellsV) == 0 {
		i.say(Remark{Grade: "notes", Of: r.Shop, Source: inspection, Text: fmt.Sprintf("No cell voltages are entered for module %s.", r.Shop)})
		return
	}
	if len(r.CellsV) != m.Series {
		i.say(Remark{Grade: "fails", Of: r.Shop, Required: float64(m.Series), Actual: float64(len(r.CellsV)), Unit: "cells", Source: "module data sheet",
			Text: fmt.Sprintf("Module %s has %d cell voltages entered; a module of its type has %d cells in series.", r.Shop, len(r.CellsV), m.Series)})
	}
	lo, hi := slices.Min(r.CellsV), slices.Max(r.CellsV)
	if lo < m.Cell.MinV {
		i.say(Remark{Grade: "fails", Of: r.Shop, Required: m.Cell.MinV, Actual: lo, Compare: "at least", Unit: "V", Source: "module data sheet",
			Text: fmt.Sprintf("A cell of module %s stands at %.3f V, below the %.2f V that its data sheet allows: do not charge or build it in before its maker has been asked.", r.Shop, lo, m.Cell.MinV)})
	}
	if hi > m.Cell.MaxV {
		i.say(Remark{Grade: "fails", Of: r.Shop, Required: m.Cell.MaxV, Actual: hi, Compare: "at most", Unit: "V", Source: "module data sheet",
			Text: fmt.Sprintf("A cell of module %s stands at %.3f V, above the %.2f V that its data sheet allows.", r.Shop, hi, m.Cell.MaxV)})
	}
	if hi-lo > spreadV+1e-9 {
		i.say(Remark{Grade: "warns", Of: r.Shop, Required: spreadV, Actual: hi - lo, Compare: "at most", Unit: "V", Source: inspection,
			Text: fmt.Sprintf("The cells of module %s stand %.0f mV apart: find out why before it is built in.", r.Shop, 1000*(hi-lo))})
	}
}

// Register is which module sits in which slot of an arrangement; the last entry for a slot counts.
func Register(b *layout.Build, arrangement string) map[string]layout.Slot {
	out := map[string]layout.Slot{}
	if b == nil {
		return out
	}
	for _, s := range b.Slots {
		if s.Arrangement == arrangement {
			out[s.Slot] = s
		}
	}
	return out
}

func (i *inspector) slots() {
	now := Register(i.b, i.s.Arrangement.ID)
	in := map[string]string{}
	for _, slot := range i.order() {
		s, ok := now[slot.id]
		if !ok {
			continue
		}
		delete(now, slot.id)
		i.slot(s, slot.module)
		if other := in[s.Shop]; other != "" {
			i.say(Remark{Grade: "fails", Of: s.Shop, Source: "the plan itself", Text: fmt.Sprintf("Module %s is entered in slot %s and in slot %s.", s.Shop, other, s.Slot)})
		}
		in[s.Shop] = s.Slot
	}
	for _, id := range sortedKeys(now) {
		i.say(Remark{Grade: "warns", Of: id, Source: "the plan itself", Text: fmt.Sprintf("The register has module %s in slot %s, which is not in this arrangement.", now[id].Shop, id)})
	}
	i.levels(in)
}

type slotOf struct{ id, module string }

func (i *inspector) order() []slotOf {
	var out []slotOf
	i.s.Bodies(func(_ *layout.BoxScene, m *layout.Body) { out = append(out, slotOf{m.ID, m.Placement.Module}) })
	return out
}

func (i *inspector) slot(s layout.Slot, kind string) {
	r := i.byShop[s.Shop]
	switch {
	case r == nil:
		i.say(Remark{Grade: "fails", Of: s.Slot, Source: "the plan itself", Text: fmt.Sprintf("Slot %s names module %s, which was never received.", s.Slot, s.Shop)})
	case r.Refused:
		i.say(Remark{Grade: "fails", Of: s.Slot, Source: "the plan itself", Text: fmt.Sprintf("Slot %s holds module %s, which was refused on arrival.", s.Slot, s.Shop)})
	case r.Module != kind:
		i.say(Remark{Grade: "fails", Of: s.Slot, Source: "the plan itself", Text: fmt.Sprintf("Slot %s is for a module of type %s; module %s is of type %s.", s.Slot, kind, s.Shop, r.Module)})
	}
}

// levels compares the mean cell voltages of the modules that are built in.
func (i *inspector) levels(in map[string]string) {
	lo, hi := math.Inf(1), math.Inf(-1)
	var low, high string
	for _, shop := range sortedKeys(in) {
		r := i.byShop[shop]
		if r == nil || r.Refused || len(r.CellsV) == 0 {
			continue
		}
		mean := 0.0
		for _, v := range r.CellsV {
			mean += v / float64(len(r.CellsV))
		}
		if mean < lo {
			lo, low = mean, shop
		}
		if mean > hi {
			hi, high = mean, shop
		}
	}
	if hi-lo > betweenV+1e-9 {
		i.say(Remark{Grade: "warns", Of: high, Required: betweenV, Actual: hi - lo, Compare: "at most", Unit: "V", Source: inspection,
			Text: fmt.Sprintf("The modules built in stand at different charge: a cell of %s has %.0f mV more than one of %s on average. Bring them level before they are joined.", high, 1000*(hi-lo), low)})
	}
}

func sortedKeys[T any](m map[string]T) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
