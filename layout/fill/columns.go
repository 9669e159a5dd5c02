package fill

import "stowbay/geometry"

// column is a part of the plan over which the interior reaches from one floor to one ceiling.
type column struct {
	base           geometry.Polygon
	floor, ceiling float64
}

// sliver is the area in mm² below which a piece of plan is dropped: no body stands on it.
const sliver = 1

// columnsOf cuts a space into columns, going up slab by slab: where the free plan goes on, a column grows;
// where it ends, the column has its ceiling; where it begins, a new column has its floor.
func columnsOf(s geometry.Space) ([]column, error) {
	slabs, err := s.Slabs()
	if err != nil {
		return nil, err
	}
	var open, done []column
	for _, slab := range slabs {
		grown, ended, err := carryOn(open, slab)
		if err != nil {
			return nil, err
		}
		begun, err := beginning(open, slab)
		if err != nil {
			return nil, err
		}
		done = append(done, ended...)
		open = append(grown, begun...)
	}
	return append(done, open...), nil
}

// carryOn splits open columns into what goes on through the slab and what ends below it.
func carryOn(open []column, slab geometry.Slab) (grown, ended []column, err error) {
	for _, c := range open {
		if c.ceiling < slab.Bottom {
			ended = append(ended, c)
			continue
		}
		for _, f := range slab.Free {
			both, err := geometry.Intersection(c.base, f)
			if err != nil {
				return nil, nil, err
			}
			grown = appendColumns(grown, both, c.floor, slab.Top)
		}
		rest, err := geometry.Difference(c.base, slab.Free...)
		if err != nil {
			return nil, nil, err
		}
		ended = appendColumns(ended, rest, c.floor, c.ceiling)
	}
	return grown, ended, nil
}

// beginning returns the columns whose floor is the slab's lower face.
func beginning(open []column, slab geometry.Slab) ([]column, error) {
	var below []geometry.Polygon
	for _, c := range open {
		if c.ceiling >= slab.Bottom {
			below = append(below, c.base)
		}
	}
	var out []column
	for _, f := range slab.Free {
		rest, err := geometry.Difference(f, below...)
		if err != nil {
			return nil, err
		}
		out = appendColumns(out, rest, slab.Bottom, slab.Top)
	}
	return out, nil
}

func appendColumns(to []column, ps []geometry.Polygon, floor, ceiling float64) []column {
	for _, p := range ps {
		if p.Area() > sliver {
			to = append(to, column{base: p, floor: floor, ceiling: ceiling})
		}
	}
	return to
}
