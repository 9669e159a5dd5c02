package mass

import (
	"math"

	"stowbay/layout"
)

func hypot(a, b float64) float64 { return math.Hypot(a, b) }

// Sensitivity is by how much a reading at kerb changes when a box with all that is in it is moved 100 mm along
// an axis: rearward, to the right or up.
type Sensitivity struct {
	Box    string
	Axis   string // "x", "y", "z"
	Key    string // the reading's
	Per100 float64
	Unit   string
}

// Moved is the direction of a sensitivity in words.
func (s Sensitivity) Moved() string {
	return map[string]string{"x": "rearward", "y": "to the right", "z": "up"}[s.Axis]
}

// Trim returns the partial derivatives of the main readings to each box's place. Nothing comes back without a
// usable donor.
func (r *Result) Trim() []Sensitivity {
	if len(r.Cases) == 0 {
		return nil
	}
	out := make([]Sensitivity, 0, 12*len(r.Boxes))
	for i := range r.Boxes {
		out = append(out, r.sensitive(&r.Boxes[i])...)
	}
	return out
}

func (r *Result) sensitive(b *BoxMass) []Sensitivity {
	a, m, total := r.axles, b.Body.Kg.Value, r.now.kg()
	push := 100 * m // kg mm that a move of 100 mm shifts
	phi := a.rollShare(&r.now)
	side := push * (phi/a.front + (1-phi)/a.rear) / total * 100
	out := []Sensitivity{
		{b.ID, "x", "axles_kg.front", -push / a.base, "kg"},
		{b.ID, "x", "axles_kg.rear", push / a.base, "kg"},
		{b.ID, "x", "front_share_pct", -100 * push / a.base / total, "points"},
		{b.ID, "x", "cg_mm.x", push / total, "mm"},
		{b.ID, "y", "cg_mm.y", push / total, "mm"},
		{b.ID, "y", "side_pct", side, "points"},
		{b.ID, "y", "wheels_kg.front_left", -push * phi / a.front, "kg"},
		{b.ID, "y", "wheels_kg.rear_left", -push * (1 - phi) / a.rear, "kg"},
		{b.ID, "z", "cg_mm.z", push / total, "mm"},
	}
	if h := r.now.first[3]; h > 0 {
		out = append(out, Sensitivity{b.ID, "z", "ssf", -a.meanTrack() / 2 * total / h / h * push, ""})
	}
	return out
}

// Move is one way to bring the front axle's share to a target: a box, or all boxes that are not locked, moved
// along the vehicle.
type Move struct {
	Box    string  // empty: all boxes that are not locked, together
	ByMM   float64 // rearward positive
	Locked bool    // the box is locked
	InBay  bool    // false: no bay bounds it
	// FreeMM is how far it can go that way before the bounds of its bay are met, less the bay's clearance; the
	// bay's cut corners and keep-outs are not looked at.
	FreeMM float64
}

// Possible tells whether the move stays within the bay's bounds and moves nothing locked.
func (m Move) Possible() bool { return !m.Locked && (!m.InBay || math.Abs(m.ByMM) <= m.FreeMM) }

// Bring says what must move, and how far, for the front axle to carry the share given, in per cent, at kerb. The
// first move is that of all boxes together; the rest are each box alone. Nothing comes back without a usable
// donor or boxes.
func (r *Result) Bring(frontSharePct float64) []Move {
	if len(r.Cases) == 0 || len(r.Boxes) == 0 {
		return nil
	}
	want := r.axles.base * (1 - frontSharePct/100)
	moment := r.now.kg() * (want - r.now.cg().X)
	out := []Move{{Locked: true}}
	kg := 0.0
	for i, b := range r.Scene.Boxes {
		own := r.Boxes[i].Body.Kg.Value
		if own <= 0 {
			continue
		}
		m := moveOf(r.Scene, b, moment/own)
		out = append(out, m)
		if !m.Locked {
			kg += own
			out[0] = out[0].with(m)
		}
	}
	if kg > 0 {
		out[0].ByMM = moment / kg
	}
	return out
}

func moveOf(s *layout.Scene, b *layout.BoxScene, by float64) Move {
	m := Move{Box: b.Box.ID, ByMM: by, Locked: b.Box.Locked}
	m.FreeMM, m.InBay = room(s, b, by > 0)
	return m
}

// with is the common move of boxes when one more joins.
func (m Move) with(one Move) Move {
	if one.InBay && (!m.InBay || one.FreeMM < m.FreeMM) {
		m.InBay, m.FreeMM = true, one.FreeMM
	}
	m.Locked = false
	return m
}

// Target is the front share aimed at, in per cent: the setting's, or the donor's at kerb.
func (r *Result) Target() float64 {
	if t := r.Scene.Plan.Settings.Mass.FrontTargetPct; t > 0 {
		return t
	}
	if len(r.Cases) == 0 {
		return 0
	}
	return r.Cases[0].Donor.FrontSharePct.Value
}

// room is how far a box can be moved rearward, or forward, within its bay's bounds, and whether it has a bay.
func room(s *layout.Scene, b *layout.BoxScene, rearward bool) (float64, bool) {
	bay := s.Bay(b.Box.Bay)
	if bay == nil {
		return 0, false
	}
	lo, hi := b.Outer.Bounds()
	first, last := bay.Space.Bounds()
	gap := lo.X - first.X
	if rearward {
		gap = last.X - hi.X
	}
	return max(0, gap-bay.Bay.ClearanceMM), true
}
