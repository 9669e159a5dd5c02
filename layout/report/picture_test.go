package report

import (
	"math"
	"testing"

	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// The picture is seen from the rear left, 30 degrees from square to the side and 25 degrees above the horizontal. By the
// rules of parallel projection an upright length is shortened by cos 25, a step to the right of the vehicle by sin 30
// across and by cos 30 sin 25 upward; measured on the circles of a wheel, which is as thick as the one lies beside the other.
func TestPictureIsSeenFromTheRearLeft(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	e := check.Evaluate(p, p.Arrangements[0], p.LibraryOver(vehicles.Catalogue()), nil)
	b := &book{plan: p, e: e}
	var rings []drawing.Stroke
	for _, it := range b.picture().Items {
		if s, ok := it.(drawing.Stroke); ok && s.Of.Role == drawing.RoleWheel {
			rings = append(rings, s)
		}
	}
	if len(rings) < 8 {
		t.Fatalf("%d circles of wheels", len(rings))
	}
	const rad = math.Pi / 180
	radius := e.Scene.Donor.WheelRadiusMM
	ring := rings[0].Points
	half := len(ring) / 2
	upright := 0
	for i := range half {
		if d := ring[i].Sub(ring[i+half]); math.Abs(d.X) < 1e-6 {
			upright++
			if want := 2 * radius * math.Cos(25*rad); math.Abs(math.Abs(d.Y)-want) > 1e-6 {
				t.Errorf("a wheel %g mm high is drawn %g high, want %g", 2*radius, d.Y, want)
			}
		}
	}
	if upright != 1 {
		t.Errorf("%d upright diameters", upright)
	}
	across := rings[1].Points[0].Sub(ring[0])
	thick := across.X / math.Sin(30*rad)
	if thick < 50 || thick > 400 {
		t.Errorf("a tyre %g mm wide", thick)
	}
	if want := thick * math.Cos(30*rad) * math.Sin(25*rad); math.Abs(across.Y-want) > 1e-6 {
		t.Errorf("a step to the right is drawn %v, want %g upward", across, want)
	}
}
