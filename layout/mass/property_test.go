package mass

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"stowbay/layout"
	"stowbay/vehicles"
)

func between(lo, hi float64) *rapid.Generator[float64] { return rapid.Float64Range(lo, hi) }

// anyDonor is a vehicle of any proportions, with unequal tracks, a lean and a twist.
func anyDonor(t *rapid.T) *vehicles.Donor {
	d := donor()
	d.WheelbaseMM = between(1800, 4500).Draw(t, "wheelbase")
	d.TrackFrontMM = between(1000, 2000).Draw(t, "front track")
	d.TrackRearMM = between(1000, 2000).Draw(t, "rear track")
	kg := between(150, 900)
	d.Scales = vehicles.Scales{FrontLeftKg: kg.Draw(t, "fl"), FrontRightKg: kg.Draw(t, "fr"), RearLeftKg: kg.Draw(t, "rl"), RearRightKg: kg.Draw(t, "rr")}
	if rapid.Bool().Draw(t, "share known") {
		d.RollShareFront = between(0.2, 0.8).Draw(t, "share")
	}
	d.Ratings.GrossKg = 8000
	d.Removed, d.Added = nil, nil
	for range rapid.IntRange(0, 3).Draw(t, "parts out") {
		d.Removed = append(d.Removed, anyPart(t))
	}
	for range rapid.IntRange(0, 3).Draw(t, "parts in") {
		d.Added = append(d.Added, anyPart(t))
	}
	return d
}

func anyPart(t *rapid.T) vehicles.Part {
	return vehicles.Part{
		ID: "p", MassKg: between(0.5, 90).Draw(t, "kg"), Known: rapid.SampledFrom([]string{"weighed", "datasheet", "guess"}).Draw(t, "known"),
		At:     vehicles.XYZ{between(-500, 4000).Draw(t, "x"), between(-900, 900).Draw(t, "y"), between(200, 1500).Draw(t, "z")},
		SizeMM: &vehicles.XYZ{between(0, 800).Draw(t, "l"), between(0, 800).Draw(t, "w"), between(0, 800).Draw(t, "h")},
	}
}

func anyArrangement(t *rapid.T) *layout.Arrangement {
	a := &layout.Arrangement{ID: "a"}
	for i := range rapid.IntRange(0, 3).Draw(t, "boxes") {
		at := vehicles.XYZ{between(0, 3000).Draw(t, "bx"), between(-900, 500).Draw(t, "by"), between(150, 900).Draw(t, "bz")}
		b := box([]string{"b1", "b2", "b3"}[i], rapid.IntRange(1, 8).Draw(t, "modules"), at)
		b.TurnDeg = rapid.SampledFrom([]float64{0, 90, 180, -90, 17.3}).Draw(t, "turn")
		a.Boxes = append(a.Boxes, b)
	}
	return a
}

// In every case the wheel loads sum to the mass, and their moments about three axes balance the weight.
func TestWheelLoadsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDonor(t)
		r := Evaluate(sceneOf(d, anyArrangement(t), nil), nil, nil)
		for i := range r.Cases {
			for _, s := range []State{r.Cases[i].Now, r.Cases[i].Donor} {
				balanced(t, r, s)
			}
		}
	})
}

func balanced(t *rapid.T, r *Result, s State) {
	m := s.Body.Kg.Value
	var kg float64
	var moment r3.Vector
	for i, w := range s.Wheels() {
		kg += w.Value
		moment = moment.Add(r.WheelPlace(i).Mul(w.Value))
	}
	about := r3.Vector{X: between(-5000, 5000).Draw(t, "axis x"), Y: between(-5000, 5000).Draw(t, "axis y")}
	moment = moment.Sub(about.Mul(kg))
	want := s.Body.CG().Sub(about).Mul(m)
	if math.Abs(kg-m) > 1e-9*m || math.Abs(moment.X-want.X) > 1e-9*m*1e4 || math.Abs(moment.Y-want.Y) > 1e-9*m*1e4 {
		t.Fatalf("wheels %v carry %v of %v kg, moments %v, want %v", s.Wheels(), kg, m, moment, want)
	}
	if d := s.Front.Value + s.Rear.Value - m; math.Abs(d) > 1e-9*m {
		t.Fatalf("axles are off by %g kg", d)
	}
	if d := s.BrakingFront.Value + s.BrakingRear.Value - m; math.Abs(d) > 1e-9*m {
		t.Fatalf("axles in braking are off by %g kg", d)
	}
}

// Putting in what was taken out restores the donor.
func TestPuttingBackRestoresTheDonor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDonor(t)
		d.Added = d.Removed
		r := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil)
		for i := range r.Cases {
			now, was := r.Cases[i].Now, r.Cases[i].Donor
			donors := was.Wheels()
			for k, w := range now.Wheels() {
				if math.Abs(w.Value-donors[k].Value) > 1e-9*was.Body.Kg.Value {
					t.Fatalf("case %s: wheel %d %v, donor %v", r.Cases[i].ID, k, w, donors[k])
				}
			}
			if d := now.Body.CG().Sub(was.Body.CG()).Norm(); d > 1e-9*was.Body.CG().Norm() {
				t.Fatalf("case %s: centre of gravity moved by %g mm", r.Cases[i].ID, d)
			}
		}
		if z := r.Change.Inertia; math.Abs(z.ZZ)+math.Abs(z.XX)+math.Abs(z.YY) > 1e-6 {
			t.Fatalf("inertia changed by %v", z)
		}
	})
}

func mirroredY(p vehicles.XYZ) vehicles.XYZ { return vehicles.XYZ{p[0], -p[1], p[2]} }

func mirroredParts(ps []vehicles.Part) []vehicles.Part {
	out := append([]vehicles.Part{}, ps...)
	for i := range out {
		out[i].At = mirroredY(out[i].At)
	}
	return out
}

// mirroredBox is the mirror image of a box as box makes it.
func mirroredBox(b *layout.Box) *layout.Box {
	m := *b
	w := 400.0
	m.TurnDeg = -b.TurnDeg
	f := layout.NewFrame(b.At, b.TurnDeg)
	m.At = mirroredY(xyz(f.ToVehicle(r3.Vector{Y: w})))
	m.Modules = append([]layout.Placement{}, b.Modules...)
	for i := range m.Modules {
		m.Modules[i].At[1] = w - m.Modules[i].At[1] - 355
	}
	m.Feet = append([]layout.Foot{}, b.Feet...)
	for i := range m.Feet {
		m.Feet[i].At[1] = w - m.Feet[i].At[1]
	}
	m.Openings = append([]layout.Opening{}, b.Openings...)
	for i := range m.Openings {
		m.Openings[i].At[1] = w - m.Openings[i].At[1]
	}
	return &m
}

func xyz(v r3.Vector) vehicles.XYZ { return vehicles.XYZ{v.X, v.Y, v.Z} }

// The mirror image of everything swaps left and right and changes nothing else.
func TestMirrorSymmetry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, a := anyDonor(t), anyArrangement(t)
		e, b := *d, *a
		e.Removed, e.Added = mirroredParts(d.Removed), mirroredParts(d.Added)
		e.Scales = vehicles.Scales{FrontLeftKg: d.Scales.FrontRightKg, FrontRightKg: d.Scales.FrontLeftKg, RearLeftKg: d.Scales.RearRightKg, RearRightKg: d.Scales.RearLeftKg}
		e.Seats = append([]vehicles.Seat{}, d.Seats...)
		for i := range e.Seats {
			e.Seats[i].At = mirroredY(e.Seats[i].At)
		}
		b.Boxes = nil
		for _, x := range a.Boxes {
			b.Boxes = append(b.Boxes, mirroredBox(x))
		}
		r, m := Evaluate(sceneOf(d, a, nil), nil, nil), Evaluate(sceneOf(&e, &b, nil), nil, nil)
		for i := range r.Cases {
			w, v := r.Cases[i].Now.Wheels(), m.Cases[i].Now.Wheels()
			for k, other := range []int{1, 0, 3, 2} {
				if math.Abs(w[k].Value-v[other].Value) > 1e-7 || math.Abs(w[k].PlusMinus-v[other].PlusMinus) > 1e-7 {
					t.Fatalf("case %s: wheel %d %v against the image's %v", r.Cases[i].ID, k, w[k], v[other])
				}
			}
			if math.Abs(r.Cases[i].Now.TiltDeg.Value-m.Cases[i].Now.TiltDeg.Value) > 1e-7 {
				t.Fatalf("tilt %v against %v", r.Cases[i].Now.TiltDeg, m.Cases[i].Now.TiltDeg)
			}
		}
	})
}

// cloud is the ledger as point masses: each thing that is not a point as eight, at the two-point Gauss abscissae of
// its edges, which carry a block's second moments exactly.
func cloud(kg float64, c r3.Vector, size, x, y, z r3.Vector) []point {
	var out []point
	k := 1 / math.Sqrt(12)
	for i := range 8 {
		s := func(bit int) float64 {
			if i>>bit&1 == 1 {
				return k
			}
			return -k
		}
		p := c.Add(x.Mul(s(0) * size.X)).Add(y.Mul(s(1) * size.Y)).Add(z.Mul(s(2) * size.Z))
		out = append(out, point{kg / 8, p})
	}
	return out
}

type point struct {
	kg float64
	at r3.Vector
}

// tensor is the inertia of points about their own centre by gonum's matrices: the sum of -m [r]x [r]x.
func tensor(ps []point) (kg float64, c r3.Vector, i *mat.Dense) {
	for _, p := range ps {
		kg += p.kg
		c = c.Add(p.at.Mul(p.kg))
	}
	c = c.Mul(1 / kg)
	i = mat.NewDense(3, 3, nil)
	for _, p := range ps {
		r := p.at.Sub(c).Mul(1e-3)
		cross := mat.NewDense(3, 3, []float64{0, -r.Z, r.Y, r.Z, 0, -r.X, -r.Y, r.X, 0})
		var sq mat.Dense
		sq.Mul(cross, cross)
		sq.Scale(-p.kg, &sq)
		i.Add(i, &sq)
	}
	return kg, c, i
}

// Centre of gravity and inertia change against all masses as points, with gonum's matrices.
func TestInertiaAgainstPointMasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, a := anyDonor(t), anyArrangement(t)
		for _, b := range a.Boxes { // modules only: sheet has its own test
			b.Shell, b.Feet, b.Openings = layout.Shell{WallMM: 1e-9, LidMM: 1e-9, FlangeMM: 1e-9}, nil, nil
		}
		s := sceneOf(d, a, nil)
		none := []Entry{{ID: "none", Group: Cables}, {ID: "none", Group: Links}, {ID: "none", Group: Coolant}}
		r := Evaluate(s, none, nil)
		was := []point{{r.Donor.Kg.Value, r.Donor.CG()}}
		ps := append([]point{}, was...)
		ex, ey, ez := r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
		for _, p := range d.Removed {
			ps = append(ps, cloud(-p.MassKg, p.At.Vector(), p.SizeMM.Vector(), ex, ey, ez)...)
		}
		for _, p := range d.Added {
			ps = append(ps, cloud(p.MassKg, p.At.Vector(), p.SizeMM.Vector(), ex, ey, ez)...)
		}
		s.Bodies(func(b *layout.BoxScene, m *layout.Body) {
			ps = append(ps, cloud(m.Module.MassKg, m.CG, m.Pose.Extent(), b.Frame.Direction(ex), b.Frame.Direction(ey), ez)...)
		})
		kg, c, now := tensor(ps)
		got := r.Change.Inertia
		want := []float64{now.At(0, 0), now.At(1, 1), now.At(2, 2), now.At(0, 1), now.At(0, 2), now.At(1, 2)}
		for i, v := range []float64{got.XX, got.YY, got.ZZ, got.XY, got.XZ, got.YZ} {
			if math.Abs(v-want[i]) > 1e-5 {
				t.Fatalf("inertia element %d: got %v, points give %v", i, v, want[i])
			}
		}
		if r.Now.CG().Sub(c).Norm() > 1e-5 || math.Abs(r.Now.Kg.Value-kg) > 1e-6 {
			t.Fatalf("got %v kg at %v, points give %v at %v", r.Now.Kg.Value, r.Now.CG(), kg, c)
		}
	})
}

// Moving one box gives what a fresh evaluation gives, to the last bit, and sensitivities are what moving shows.
func TestIncrementalIsFresh(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, a := anyDonor(t), anyArrangement(t)
		if len(a.Boxes) == 0 {
			t.Skip("no box")
		}
		s := sceneOf(d, a, nil)
		first := Evaluate(s, nil, nil)
		k := rapid.IntRange(0, len(a.Boxes)-1).Draw(t, "moved")
		axis := rapid.IntRange(0, 2).Draw(t, "axis")
		moved := *a
		moved.Boxes = append([]*layout.Box{}, a.Boxes...)
		one := *a.Boxes[k]
		one.At[axis] += 100
		moved.Boxes[k] = &one
		s2 := sceneOf(d, &moved, s)
		got, want := Evaluate(s2, nil, first), Evaluate(s2, nil, nil)
		x, y := got.Readings(), want.Readings()
		for i := range x {
			if x[i].Value != y[i].Value || x[i].PlusMinus != y[i].PlusMinus || x[i].Key != y[i].Key {
				t.Fatalf("%s %s: %v incrementally, %v afresh", x[i].Of, x[i].Key, x[i].Value, y[i].Value)
			}
		}
	})
}

// What the trim table says is what moving the box by a millimetre shows.
func TestTrimIsWhatMovingShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, a := anyDonor(t), anyArrangement(t)
		if len(a.Boxes) == 0 {
			t.Skip("no box")
		}
		d.RollShareFront = 0.55 // else the share changes with the load, which the table leaves out
		none := []Entry{{Group: Cables}, {Group: Coolant}}
		s := sceneOf(d, a, nil)
		r := Evaluate(s, none, nil)
		before := values(r)
		for _, x := range r.Trim() {
			moved := *a
			moved.Boxes = nil
			for _, b := range a.Boxes {
				c := *b
				if b.ID == x.Box {
					c.At[map[string]int{"x": 0, "y": 1, "z": 2}[x.Axis]] += 1
				}
				moved.Boxes = append(moved.Boxes, &c)
			}
			after := values(Evaluate(sceneOf(d, &moved, s), none, nil))
			got := 100 * (after[x.Key] - before[x.Key])
			if math.Abs(got-x.Per100) > 1e-3*math.Abs(x.Per100)+1e-6 {
				t.Fatalf("%+v: moving shows %v", x, got)
			}
		}
	})
}

func values(r *Result) map[string]float64 {
	out := map[string]float64{}
	for _, x := range r.Readings() {
		if x.Of == "" {
			out[x.Key] = x.Value
		}
	}
	return out
}

// Moving all boxes as told brings the front share to the target.
func TestBringBringsIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, a := anyDonor(t), anyArrangement(t)
		if len(a.Boxes) == 0 {
			t.Skip("no box")
		}
		none := []Entry{{Group: Cables}, {Group: Coolant}}
		s := sceneOf(d, a, nil)
		target := between(35, 65).Draw(t, "target")
		moves := Evaluate(s, none, nil).Bring(target)
		which := rapid.IntRange(0, len(moves)-1).Draw(t, "move")
		moved := *a
		moved.Boxes = nil
		for _, b := range a.Boxes {
			c := *b
			if moves[which].Box == "" || moves[which].Box == b.ID {
				c.At[0] += moves[which].ByMM
			}
			moved.Boxes = append(moved.Boxes, &c)
		}
		r := Evaluate(sceneOf(d, &moved, s), none, nil)
		if got := r.Of(CaseKerb).Now.FrontSharePct.Value; math.Abs(got-target) > 1e-6 {
			t.Fatalf("front share %v after %+v, wanted %v", got, moves[which], target)
		}
	})
}
