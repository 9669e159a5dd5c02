package check

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// inBay checks that each box lies in its bay and keeps the bay's clearance.
func inBay(e *Evaluation) []Finding {
	var out []Finding
	for _, b := range e.Scene.Boxes {
		if f, ok := boxInBay(e.Scene, b); ok {
			out = append(out, f)
		}
	}
	return out
}

func boxInBay(s *layout.Scene, b *layout.BoxScene) (Finding, bool) {
	id := b.Box.ID
	f := Finding{Severity: Fails, Subject: id, Refs: []string{id}, Unit: "mm", Compare: "at least"}
	bay := s.Bay(b.Box.Bay)
	if bay == nil {
		f.Severity, f.Compare, f.Unit = Notes, "", ""
		f.Text = fmt.Sprintf("Box %s stands in no bay, so that nothing says whether there is room for it. Say which bay it is for.", id)
		return f, true
	}
	free, err := bay.Space.Prepare()
	if err != nil {
		f.Text, f.Compare = fmt.Sprintf("Bay %s has no usable shape: %v. Draw it anew.", bay.Bay.ID, err), ""
		return f, true
	}
	f.Refs = append(f.Refs, bay.Bay.ID)
	f.Required = bay.Bay.ClearanceMM
	f.Actual = math.Inf(1)
	for _, p := range b.Outer.Solids {
		if !free.ContainsPrism(p) {
			c := p.Centroid()
			f.Place, f.Compare, f.Unit = &c, "", ""
			f.Actual = 0
			f.Text = fmt.Sprintf("Box %s reaches out of bay %s: move it in, or make it smaller.", id, bay.Bay.ID)
			return f, true
		}
		d, from, to := free.WallDistance(p)
		below, above := free.VerticalClearance(p)
		if m := min(d, below, above); m < f.Actual {
			f.Actual, f.Place, f.To = m, &from, &to
		}
	}
	return f.judge(fmt.Sprintf("Box %s keeps %.1f mm to bay %s; %.1f mm are wanted.", id, f.Actual, bay.Bay.ID, f.Required)).mending("Move it, or make it smaller."), true
}

// judge sets the severity from required and actual, with one lattice step of slack, and the text.
func (f Finding) judge(text string) Finding {
	f.Text = text
	if f.Margin() >= -tolerance {
		f.Severity = Passes
	}
	return f
}

// boxesApart checks that no two boxes, and no gear outside them, stand in each other.
func boxesApart(e *Evaluation) []Finding {
	type body struct {
		id    string
		parts []geometry.Prism
	}
	var all []body
	for _, b := range e.Scene.Boxes {
		all = append(all, body{b.Box.ID, b.Outer.Solids})
	}
	for _, g := range e.Scene.Gear {
		all = append(all, body{g.ID, []geometry.Prism{g.Prism}})
	}
	var out []Finding
	pairs := 0
	for i := range all {
		for j := range i {
			pairs++
			if at, hit := meet(all[j].parts, all[i].parts); hit {
				out = append(out, Finding{Severity: Fails, Subject: all[i].id, Refs: []string{all[j].id, all[i].id}, Place: &at,
					Text: fmt.Sprintf("%s and %s overlap: move one of them.", all[j].id, all[i].id)})
			}
		}
	}
	if len(out) == 0 && pairs > 0 {
		out = append(out, Finding{Severity: Passes, Subject: "vehicle", Text: fmt.Sprintf("No box overlaps another or gear outside the boxes (%s looked at).", counted(pairs, "pair"))})
	}
	return out
}

func meet(as, bs []geometry.Prism) (r3.Vector, bool) {
	for _, a := range as {
		for _, b := range bs {
			if a.Overlaps(b) {
				return a.Centroid().Add(b.Centroid()).Mul(0.5), true
			}
		}
	}
	return r3.Vector{}, false
}

// keepOuts checks that no box and no gear outside the boxes reaches into a keep-out or its margin.
func keepOuts(e *Evaluation) []Finding {
	var out []Finding
	for _, k := range e.Scene.KeepOuts {
		for _, b := range e.Scene.Boxes {
			out = append(out, inKeepOut(k, b.Box.ID, b.Outer.Solids)...)
		}
		for _, g := range e.Scene.Gear {
			out = append(out, inKeepOut(k, g.ID, []geometry.Prism{g.Prism})...)
		}
	}
	if len(out) == 0 && len(e.Scene.KeepOuts) > 0 && len(e.Scene.Boxes) > 0 {
		out = append(out, Finding{Severity: Passes, Subject: "vehicle", Text: fmt.Sprintf("No box and no gear outside them reaches into any keep-out (%d looked at).", len(e.Scene.KeepOuts))})
	}
	return out
}

func inKeepOut(k layout.KeepOutScene, id string, parts []geometry.Prism) []Finding {
	at, hit := meet([]geometry.Prism{k.Prism}, parts)
	if !hit {
		return nil
	}
	name := k.KeepOut.Name
	if name == "" {
		name = k.KeepOut.ID
	}
	text := fmt.Sprintf("%s reaches into the keep-out %q: move it clear.", id, name)
	if k.KeepOut.MarginMM > 0 {
		text = fmt.Sprintf("%s reaches into the keep-out %q or the %.0f mm to be kept from it: move it clear.", id, name, k.KeepOut.MarginMM)
	}
	return []Finding{{Severity: Fails, Subject: id, Refs: []string{id, k.Ref}, Place: &at, Text: text}}
}

// references reports what leads nowhere.
func references(e *Evaluation) []Finding {
	var out []Finding
	for _, m := range e.Scene.Missing {
		out = append(out, Finding{Severity: Fails, Subject: "plan", Text: capital(m) + "."})
	}
	return out
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
