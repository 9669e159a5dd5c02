package record

import (
	"fmt"
	"reflect"
)

// polygonProblem checks a list of [x, y] corners. It returns the corner at fault, or -1, and what is wrong, or "".
func polygonProblem(v reflect.Value) (int, string) {
	n := v.Len()
	if n == 0 {
		return -1, ""
	}
	if n < 3 {
		return -1, fmt.Sprintf("has %s; a polygon needs at least 3", count(n, "corners"))
	}
	return -1, ""
}
