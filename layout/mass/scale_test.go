package mass

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"

	"stowbay/layout"
	"stowbay/vehicles"
)

// A model of the vehicle, all lengths and all masses a power of two smaller, stands as the vehicle does: each figure is smaller by what
// its unit says (similarity of mechanics: angles and shares stay, inertia goes with mass and the square of length).
func TestSizesDoNotMatter(t *testing.T) {
	const mass, length = 1.0 / 1024, 1.0 / 8192
	d := donor()
	d.RollShareFront = 0.55
	d.Springs = vehicles.Springs{FrontNPerMM: 0.1, RearNPerMM: 0.11} // very soft, as the model's are stiffer
	d.LoadPlaces = []vehicles.LoadPlace{{ID: "box", At: vehicles.XYZ{2000, 0, 800}, MaxKg: 60}, {ID: "bed", At: vehicles.XYZ{2600, 100, 900}}}
	p := &layout.Plan{Donor: d.ID, Arrangements: []*layout.Arrangement{{ID: "a", Parts: d.Added}}}
	p.Settings.Mass = layout.Mass{OccupantKg: 75, PlaceMM: 20, Cases: []layout.LoadCase{{ID: "own", Seats: []int{2}, Loads: d.Added}}}
	small, q := model(d, mass, length), *p
	q.Settings.Mass.OccupantKg *= mass
	q.Settings.Mass.PlaceMM *= length
	q.Settings.Mass.Cases = []layout.LoadCase{{ID: "own", Seats: []int{2}, Loads: small.Added}}
	q.Arrangements = []*layout.Arrangement{{ID: "a", Parts: small.Added}}
	full, tiny := readingsOf(p, d), readingsOf(&q, small)
	if len(full) != len(tiny) || len(full) < 90 {
		t.Fatalf("%d readings, the model's %d", len(full), len(tiny))
	}
	if !slices.ContainsFunc(full, func(x layout.Reading) bool { return x.Key == "ride_mm.front" }) {
		t.Error("no ride height")
	}
	per := map[string]float64{"kg": mass, "mm": length, "kg m²": mass * length * length, "%": 1, "points": 1, "°": 1, "": 1}
	for i, x := range full {
		y, k := tiny[i], per[x.Unit]
		if x.Key != y.Key || x.Of != y.Of || math.Abs(x.Value*k-y.Value) > 1e-9*math.Abs(x.Value*k) || math.Abs(x.PlusMinus*k-y.PlusMinus) > 1e-9*math.Abs(x.PlusMinus*k) {
			t.Errorf("%s %s: %v ± %v %s, the model's %s is %v ± %v", x.Of, x.Key, x.Value, x.PlusMinus, x.Unit, y.Key, y.Value, y.PlusMinus)
		}
	}
}

func readingsOf(p *layout.Plan, d *vehicles.Donor) []layout.Reading {
	lib := (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{d}})
	return Evaluate(layout.Resolve(p, p.Arrangements[0], lib, nil), nil, nil).Readings()
}

// model is a donor with its masses and lengths multiplied.
func model(d *vehicles.Donor, kg, mm float64) *vehicles.Donor {
	m := *d
	for _, v := range []*float64{&m.Scales.FrontLeftKg, &m.Scales.FrontRightKg, &m.Scales.RearLeftKg, &m.Scales.RearRightKg, &m.Scales.ResolutionKg, &m.Ratings.GrossKg} {
		*v *= kg
	}
	for _, v := range []*float64{&m.WheelbaseMM, &m.TrackFrontMM, &m.TrackRearMM, &m.WheelRadiusMM, &m.CentreOfGravity.HeightMM, &m.CentreOfGravity.PlusMinusMM} {
		*v *= mm
	}
	m.Springs.FrontNPerMM *= kg / mm
	m.Springs.RearNPerMM *= kg / mm
	at := func(p vehicles.XYZ) vehicles.XYZ { return vehicles.XYZ{p[0] * mm, p[1] * mm, p[2] * mm} }
	parts := func(ps []vehicles.Part) []vehicles.Part {
		out := append([]vehicles.Part{}, ps...)
		for i := range out {
			out[i].MassKg, out[i].At = out[i].MassKg*kg, at(out[i].At)
			if s := out[i].SizeMM; s != nil {
				size := at(*s)
				out[i].SizeMM = &size
			}
		}
		return out
	}
	m.Removed, m.Added = parts(d.Removed), parts(d.Added)
	m.Seats = append([]vehicles.Seat{}, d.Seats...)
	for i := range m.Seats {
		m.Seats[i].At = at(m.Seats[i].At)
	}
	m.LoadPlaces = append([]vehicles.LoadPlace{}, d.LoadPlaces...)
	for i := range m.LoadPlaces {
		m.LoadPlaces[i].At, m.LoadPlaces[i].MaxKg = at(m.LoadPlaces[i].At), m.LoadPlaces[i].MaxKg*kg
	}
	return &m
}

// Half a kilogram stands as a ton does, and one kilogram has a centre of gravity and a half width.
func TestSmallMassesStandLikeGreatOnes(t *testing.T) {
	great, small := of(1000, 2500, 1500, 1125, 400, 0.5), of(0.5, 2500, 1500, 1125, 400, 0.5)
	near(t, "share", small.FrontSharePct.Value, great.FrontSharePct.Value, 1e-12)
	near(t, "SSF", small.SSF.Value, great.SSF.Value, 1e-12)
	near(t, "front", small.Front.Value, 0.275, 1e-12)
	var s sum
	s.add(1, 1, r3.Vector{X: 2, Y: 3, Z: 4}, 1, Second{})
	if s.cg() != (r3.Vector{X: 2, Y: 3, Z: 4}) {
		t.Errorf("centre of gravity %v", s.cg())
	}
	near(t, "half width of the mass", s.linear(oneKg).PlusMinus, 1, 1e-12)
	near(t, "half width of x", s.ratio(inX, oneKg).PlusMinus, 1, 1e-12) // the mass's own error cancels
	for kg, want := range map[float64]bool{0: false, 0.5: true} {
		var m sum
		m.exact(kg, r3.Vector{}, Second{})
		for _, r := range []Result{{donor: m}, {now: m}} {
			r.Scene = &layout.Scene{Donor: donor()}
			if r.donor.kg() == 0 {
				r.donor.exact(1, r3.Vector{}, Second{})
			}
			if r.now.kg() == 0 && kg > 0 {
				r.now.exact(1, r3.Vector{}, Second{})
			}
			if got := r.usable(); got != want {
				t.Errorf("%v kg: usable is %v", kg, got)
			}
		}
	}
}

// Known roll stiffness shares a lateral moment out: 100 kg put 500 mm to the right of the centre plane, halfway between the axles, bring
// 0.55 of 50000 kg mm onto the front axle with its track of 1440 mm, the rest onto the rear one with 1400 mm.
func TestRollStiffnessSharesALateralMoment(t *testing.T) {
	d := donor()
	d.RollShareFront, d.Removed = 0.55, nil
	d.Added = []vehicles.Part{{ID: "p", MassKg: 100, Known: "weighed", At: vehicles.XYZ{1300, 500, 600}}}
	r := Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil)
	now, was := r.Of(CaseKerb).Now.Wheels(), r.Of(CaseKerb).Donor.Wheels()
	front, rear := 0.55*50000/1440, 0.45*50000/1400
	for i, more := range []float64{25 - front, 25 + front, 25 - rear, 25 + rear} {
		near(t, "wheel", now[i].Value-was[i].Value, more, 1e-9)
	}
	for _, share := range []float64{0.55, 0} {
		d.RollShareFront = share
		r = Evaluate(sceneOf(d, &layout.Arrangement{ID: "a"}, nil), nil, nil)
		in := r.whyWheel(r.Of(CaseKerb))().Inputs
		phi := in[len(in)-2]
		if share > 0 && (phi.Value != 0.55 || phi.Note != "from the donor's record") || share == 0 && (phi.Value == 0 || phi.Note == "from the donor's record") {
			t.Errorf("share of %v: explained as %+v", share, phi)
		}
	}
}

// A part of the arrangement counts once.
func TestPartsOfTheArrangementCountOnce(t *testing.T) {
	parts := []vehicles.Part{{ID: "tow bar", MassKg: 18, Known: "weighed", At: vehicles.XYZ{3300, 0, 400}}}
	with := Evaluate(sceneOf(donor(), &layout.Arrangement{ID: "a", Parts: parts}, nil), nil, nil)
	without := Evaluate(sceneOf(donor(), &layout.Arrangement{ID: "a"}, nil), nil, nil)
	near(t, "mass", with.Now.Kg.Value-without.Now.Kg.Value, 18, 1e-9)
}

// A stated half width of one module counts for each of them.
func TestStatedHalfWidthOfModules(t *testing.T) {
	s := sceneOf(donor(), fleet(2, 6), nil)
	s.Boxes[0].Modules[0].Module.PlusMinusKg = 0.2 // shared by all
	for _, e := range Evaluate(s, nil, nil).Ledger() {
		if e.Group == Modules {
			near(t, e.ID, e.PlusMinus, 1.2, 1e-12)
			if e.Assumed {
				t.Errorf("%s: a stated half width is called assumed", e.ID)
			}
		}
	}
}

func TestHalfWidthsInWords(t *testing.T) {
	for v, want := range map[float64]string{0: "±0.0 kg", 0.042: "±0.042 kg", 0.5: "±0.5 kg", 1: "±1.0 kg", 12.34: "±12.3 kg"} {
		if got := halfWidth(v, "kg"); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}

// The floor of a box 500 mm by 400 mm has 0.2 m².
func TestShellExplainsItsPanels(t *testing.T) {
	b := &layout.Box{ID: "b", Levels: []vehicles.Level{{Outline: rect(0, 0, 500, 400), CeilingMM: 200}}, Shell: layout.Shell{WallMM: 2}}
	r := Evaluate(sceneOf(donor(), &layout.Arrangement{ID: "a", Boxes: []*layout.Box{b}}, nil), nil, nil)
	in := r.whyShell(&r.Boxes[0])().Inputs[0]
	if in.Name != "floor-1" || in.Note != "0.2000 m² of 2 mm steel, 7850 kg/m³" {
		t.Errorf("%+v", in)
	}
}

// Turning a second-moment matrix is R S R' (the transformation of a tensor): compared with a general matrix library.
func TestTurnedMomentsAgainstAMatrixLibrary(t *testing.T) {
	s := Second{XX: 3, YY: 11, ZZ: 7, XY: -2.5, XZ: 1.5, YZ: 4}
	x, y := r3.Vector{X: 1.0 / 3, Y: 2.0 / 3, Z: 2.0 / 3}, r3.Vector{X: 2.0 / 3, Y: 1.0 / 3, Z: -2.0 / 3}
	z := x.Cross(y)
	turn := mat.NewDense(3, 3, []float64{x.X, y.X, z.X, x.Y, y.Y, z.Y, x.Z, y.Z, z.Z})
	var half, want mat.Dense
	half.Mul(turn, mat.NewDense(3, 3, []float64{s.XX, s.XY, s.XZ, s.XY, s.YY, s.YZ, s.XZ, s.YZ, s.ZZ}))
	want.Mul(&half, turn.T())
	got := s.turned(x, y, z)
	for i, v := range []float64{got.XX, got.YY, got.ZZ, got.XY, got.XZ, got.YZ} {
		near(t, string(rune('a'+i)), v, []float64{want.At(0, 0), want.At(1, 1), want.At(2, 2), want.At(0, 1), want.At(0, 2), want.At(1, 2)}[i], 1e-12)
	}
}
