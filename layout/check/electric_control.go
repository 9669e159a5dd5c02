package check

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/electric"
)

func centreOfBox(b *layout.BoxScene) r3.Vector {
	lo, hi := b.Outer.Bounds()
	return lo.Add(hi).Mul(0.5)
}

// offMiddle is how far from the electrical middle a service disconnect may split a string, as a share of its voltage.
const offMiddle = 0.1

func serviceDisconnect(e *Evaluation) []Finding {
	r := e.Electric
	var out []Finding
	for _, d := range r.Protection.Disconnects {
		s := &r.Strings[d.String]
		switch {
		case d.Gear == nil && s.MaxV <= classAV:
		case d.Gear == nil:
			out = append(out, Finding{Severity: Fails, Subject: s.ID, Text: fmt.Sprintf("String %s has no service disconnect that splits its %.0f V in two for work on it. Place one near its middle.", s.ID, s.MaxV)})
		default:
			out = append(out, disconnectFinding(s, d))
		}
	}
	return out
}

func disconnectFinding(s *electric.String, d electric.Disconnect) Finding {
	f := Finding{Severity: Passes, Subject: d.Gear.ID, Refs: []string{d.Gear.ID}, Place: &d.Gear.CG}
	if math.IsInf(d.OffMiddle, 1) {
		f.Severity = Warns
		f.Text = fmt.Sprintf("Service disconnect %s is at an end of string %s and splits nothing: put it near the middle.", d.Gear.ID, s.ID)
		return f
	}
	f.Required, f.Actual, f.Compare, f.Unit = 100*offMiddle, 100*d.OffMiddle, "at most", "%"
	parts := fmt.Sprintf("splits string %s after module %d into %.0f V and %.0f V", s.ID, d.After, d.LowV, d.HighV)
	f.Text = fmt.Sprintf("Service disconnect %s %s.", d.Gear.ID, parts)
	if d.OffMiddle > offMiddle {
		f.Severity = Warns
		f.Text = fmt.Sprintf("Service disconnect %s %s: put it nearer to the middle.", d.Gear.ID, parts)
	}
	return f
}

func pilotLoop(e *Evaluation) []Finding {
	p := &e.Electric.Protection
	if len(e.Electric.Strings) == 0 {
		return nil
	}
	return []Finding{{Severity: Notes, Subject: "pack", Actual: float64(len(p.Pilot)),
		Text: fmt.Sprintf("The pilot loop, a thin wire that holds the contactors closed, has to run through %d contacts and drop the contactors when any opens: %s.", len(p.Pilot), strings.Join(p.Pilot, ", "))}}
}

func inertiaSwitch(e *Evaluation) []Finding {
	g := e.Electric.Protection.Inertia
	switch {
	case len(e.Electric.Strings) == 0:
		return nil
	case g == nil:
		return []Finding{{Severity: Warns, Subject: "vehicle", Text: "No inertia switch is placed: nothing drops the contactors in a crash. Place one."}}
	}
	return []Finding{{Severity: Passes, Subject: g.ID, Refs: []string{g.ID}, Place: &g.CG, Text: fmt.Sprintf("Inertia switch %s drops the contactors in a crash.", g.ID)}}
}

func monitoringBoards(e *Evaluation) []Finding {
	p := &e.Electric.Protection
	cells, channels := 0, 0
	for _, b := range p.Boards {
		cells, channels = cells+b.Cells, channels+b.Channels
	}
	var out []Finding
	for _, b := range p.Boards {
		out = append(out, boardFinding(b, channels >= cells))
	}
	return append(out, boardLoop(p)...)
}

// boardFinding compares the boards of a box with its cells. Where there are enough in all, boards in another box can
// watch them, with sense wires from box to box.
func boardFinding(b electric.Boards, enoughInAll bool) Finding {
	id := b.Box.Box.ID
	l := level{subject: id, refs: []string{id}, required: float64(b.Cells), actual: float64(b.Channels), compare: "at least", unit: "cells", bad: Fails,
		good:  fmt.Sprintf("The monitoring boards in box %s watch %d cells; its modules have %d in series.", id, b.Channels, b.Cells),
		wrong: fmt.Sprintf("The modules in box %s have %d cells in series; its monitoring boards watch %d, and those of all boxes together are too few. Place more boards.", id, b.Cells, b.Channels)}
	if enoughInAll {
		l.bad = Warns
		l.wrong = fmt.Sprintf("The modules in box %s have %d cells in series; its monitoring boards watch %d. Boards elsewhere suffice, but their sense wires, live and thin, then run from box to box.", id, b.Cells, b.Channels)
	}
	f := l.finding()
	c := centreOfBox(b.Box)
	f.Place = &c
	return f
}

func boardLoop(p *electric.Protection) []Finding {
	if len(p.BoardOrder) < 2 {
		return nil
	}
	return []Finding{{Severity: Notes, Subject: "pack", Actual: p.BoardLoopMM, Unit: "mm",
		Text: fmt.Sprintf("The monitoring boards' loop through the boxes %s is about %.1f m long; keep it apart from the traction cables.", strings.Join(p.BoardOrder, ", "), p.BoardLoopMM/1e3)}}
}

func temperatureSensors(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Electric.Protection.Boards {
		id := b.Box.Box.ID
		f := level{subject: id, refs: []string{id}, required: float64(b.NeedSensors), actual: float64(b.Sensors), compare: "at least", unit: "sensors", bad: Warns,
			good:  fmt.Sprintf("The boards in box %s read %d temperature sensors; two for each module are %d.", id, b.Sensors, b.NeedSensors),
			wrong: fmt.Sprintf("The boards in box %s read %d temperature sensors; two for each module, at the coolant's inlet and outlet edges, are %d. Add sensors, or boards that read more.", id, b.Sensors, b.NeedSensors)}.finding()
		out = append(out, f)
	}
	return out
}
