package record

import (
	"errors"
	"reflect"
	"strings"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
)

// cornerFault is something wrong with an outline: at a corner, or at the whole outline where corner is -1.
type cornerFault struct {
	corner int
	msg    string
}

// polygonFaults checks a list of [x, y] corners as the outline of a simple polygon. No corners at all are no fault.
func polygonFaults(v reflect.Value) []cornerFault {
	if v.Len() == 0 {
		return nil
	}
	var out []cornerFault
	for _, err := range (geometry.Polygon{Outer: ring(v)}).Validate() {
		corner, msg := -1, err.Error()
		var f *geometry.Fault
		if errors.As(err, &f) {
			corner, msg = f.Corner, f.Wrong
		}
		out = append(out, cornerFault{corner, strings.ReplaceAll(msg, "outer edge", "edge")})
	}
	return out
}

func ring(v reflect.Value) geometry.Ring {
	r := make(geometry.Ring, v.Len())
	for i := range r {
		r[i] = r2.Point{X: v.Index(i).Index(0).Float(), Y: v.Index(i).Index(1).Float()}
	}
	return r
}
