package search

import "testing"

func TestUnknownPushIsToldTheKnownOnes(t *testing.T) {
	o := Options{Pushes: []Push{Low, "sideways"}}
	if _, err := o.pushes(); err == nil || err.Error() != `push "sideways" is none of low, forward, rearward, centre` {
		t.Errorf("%v", err)
	}
}
