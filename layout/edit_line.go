package layout

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// Line is what things are aligned by, in the vehicle's frame.
type Line string

// The lines.
const (
	FrontLine  Line = "front"  // least x
	RearLine   Line = "rear"   // greatest x
	LeftLine   Line = "left"   // least y
	RightLine  Line = "right"  // greatest y
	LowerLine  Line = "lower"  // least z
	UpperLine  Line = "upper"  // greatest z
	LengthLine Line = "length" // the middle along x
	WidthLine  Line = "width"  // the middle along y
	HeightLine Line = "height" // the middle along z
	CentreLine Line = "centre" // the middle on the vehicle's centre plane
)

// Axis is one of the vehicle's axes.
type Axis int

// The axes.
const (
	AlongX Axis = iota
	AlongY
	AlongZ
)

// Align gives the edit that moves boxes, modules and gear so that their extents along the vehicle's axes meet a line of the first one named,
// which stays. [CentreLine] moves all of them, each on its own. lib is the plan's library over the catalogue.
func Align(p *Plan, lib *vehicles.Library, arrangement string, ids []string, line Line) (Edit, error) {
	ex, err := extentsOf(p, lib, arrangement, ids)
	if err != nil {
		return nil, err
	}
	if _, _, ok := ex[0].at(line); !ok {
		return nil, fmt.Errorf("there is no line %q", line)
	}
	axis, want, _ := ex[0].at(line)
	shifts := make([]r3.Vector, len(ids))
	for i, e := range ex {
		_, have, _ := e.at(line)
		if line == CentreLine {
			want = 0
		}
		shifts[i] = axis.vector(want - have)
	}
	return shift(p, arrangement, "Align "+things(ids)+" by "+string(line), ids, shifts)
}

// Distribute gives the edit that moves boxes, modules and gear along an axis of the vehicle so that the gaps between
// their extents are even. The two outermost stay. lib is the plan's library over the catalogue.
func Distribute(p *Plan, lib *vehicles.Library, arrangement string, ids []string, along Axis) (Edit, error) {
	if len(ids) < 3 {
		return nil, errors.New("choose three or more to even out their gaps")
	}
	ex, err := extentsOf(p, lib, arrangement, ids)
	if err != nil {
		return nil, err
	}
	order := make([]int, len(ids))
	taken := 0.0
	for i := range ids {
		order[i] = i
		taken += along.of(ex[i].hi) - along.of(ex[i].lo)
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(along.of(ex[i].lo), along.of(ex[j].lo)) })
	first, last := ex[order[0]], ex[order[len(order)-1]]
	gap := (along.of(last.hi) - along.of(first.lo) - taken) / float64(len(ids)-1)
	shifts := make([]r3.Vector, len(ids))
	at := along.of(first.lo)
	for _, i := range order {
		shifts[i] = along.vector(at - along.of(ex[i].lo))
		at += along.of(ex[i].hi) - along.of(ex[i].lo) + gap
	}
	return shift(p, arrangement, "Even out "+things(ids), ids, shifts)
}

func extentsOf(p *Plan, lib *vehicles.Library, arrangement string, ids []string) ([]extent, error) {
	a, err := p.find(arrangement)
	if err != nil {
		return nil, err
	}
	if len(ids) == 0 {
		return nil, errors.New("nothing is chosen")
	}
	out := make([]extent, len(ids))
	for i, id := range ids {
		e, ok := a.extentOf(lib, id)
		if !ok {
			return nil, fmt.Errorf("%q is not here, or its size is not known", id)
		}
		out[i] = e
	}
	return out, nil
}

// shift moves each thing by its own amount, in one step. What is locked stays.
func shift(p *Plan, arrangement, label string, ids []string, by []r3.Vector) (Edit, error) {
	q := p
	moved := false
	for i, id := range ids {
		if by[i].Norm() < 0.005 {
			continue
		}
		e, err := Move(q, arrangement, []string{id}, by[i])
		if errors.Is(err, ErrLocked) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if q, err = e.Apply(q); err != nil {
			return nil, err
		}
		moved = true
	}
	if !moved {
		return Together(label), nil
	}
	return Diff(p, q, label)
}

func (a Axis) of(v r3.Vector) float64 { return [3]float64{v.X, v.Y, v.Z}[a] }

func (a Axis) vector(d float64) r3.Vector {
	v := [3]float64{}
	v[a] = d
	return r3.Vector{X: v[0], Y: v[1], Z: v[2]}
}

func (e extent) at(l Line) (Axis, float64, bool) {
	mid := e.lo.Add(e.hi).Mul(0.5)
	switch l {
	case FrontLine:
		return AlongX, e.lo.X, true
	case RearLine:
		return AlongX, e.hi.X, true
	case LeftLine:
		return AlongY, e.lo.Y, true
	case RightLine:
		return AlongY, e.hi.Y, true
	case LowerLine:
		return AlongZ, e.lo.Z, true
	case UpperLine:
		return AlongZ, e.hi.Z, true
	case LengthLine:
		return AlongX, mid.X, true
	case WidthLine, CentreLine:
		return AlongY, mid.Y, true
	case HeightLine:
		return AlongZ, mid.Z, true
	}
	return 0, 0, false
}

// Mirrored gives the edit that puts in the mirror image of a box across the vehicle's centre plane, and the new
// box's id. Where linked is set the new box follows the other from then on.
func Mirrored(p *Plan, lib *vehicles.Library, arrangement, box string, linked bool) (Edit, string, error) {
	id := ""
	e, err := Change(p, arrangement, "Mirror box "+box, func(a *Arrangement) error {
		of := a.Box(box)
		if of == nil {
			return fmt.Errorf("there is no box %q", box)
		}
		id = FreshID("box", a.Taken)
		a.Boxes = append(slices.Clip(a.Boxes), MirrorBox(of, &Box{ID: id, Name: mirroredName(of.Name)}, lib))
		if linked {
			a.Mirrors = append(slices.Clip(a.Mirrors), Mirror{Of: box, Box: id})
		}
		return nil
	})
	return e, id, err
}

func mirroredName(name string) string {
	if name == "" {
		return ""
	}
	return clip(name, 185) + " (mirrored)"
}

// Link gives the edit that makes one box follow another as its mirror image across the vehicle's centre plane.
// Everything in and on it is replaced by the mirror image of the other's.
func Link(p *Plan, arrangement, of, box string) (Edit, error) {
	return Change(p, arrangement, fmt.Sprintf("Let box %s follow box %s", box, of), func(a *Arrangement) error {
		a.Mirrors = append(slices.Clip(a.Mirrors), Mirror{Of: of, Box: box})
		return nil
	})
}

// Unlink gives the edit that ends the mirror link of a box that follows another. It stays as it is.
func Unlink(p *Plan, arrangement, box string) (Edit, error) {
	return Change(p, arrangement, "End the mirror link of box "+box, func(a *Arrangement) (err error) {
		a.Mirrors, err = without(a.Mirrors, "box that follows another called", box, func(m Mirror) string { return m.Box })
		return err
	})
}

// Follows returns the id of the box that a box follows, or "".
func (a *Arrangement) Follows(box string) string {
	for _, m := range a.Mirrors {
		if m.Box == box {
			return m.Of
		}
	}
	return ""
}
