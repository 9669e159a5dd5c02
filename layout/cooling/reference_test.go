package cooling

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s: %.6g, want %.6g within %g", what, got, want, within)
	}
}

// Melinder 2010, polynomials for ethylene glycol in water: testdata/reference/coolant_meg.csv holds values worked out
// apart from this program.
func TestCoolantAsMelinder(t *testing.T) {
	f, err := os.Open("../../testdata/reference/coolant_meg.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 20 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, r := range rows[1:] {
		var v [6]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(r[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		c, temp := Coolant{v[0]}, v[1]
		near(t, "density", c.DensityKgM3(temp), v[2], 0.006)
		near(t, "heat capacity", c.HeatCapacityJKgK(temp), v[3], 0.06)
		near(t, "viscosity", 1000*c.ViscosityPaS(temp), v[5], 0.00006)
	}
}

// A handbook's viscosity of the 50 % by volume mixture lies about 15 % under Melinder's (restated): 2.8 mPas at 26.7 C.
func TestViscosityNearAHandbook(t *testing.T) {
	near(t, "26.7 C", 1000*Coolant{0.523}.ViscosityPaS(26.7), 2.8, 0.2*2.8)
}

// Freezing points of ethylene glycol in water after Melinder as another program tabulates them, from its own fit: the data files of
// CoolProp's incompressible liquids, which take them from SecCool. Makers' tables say -34 C to -37 C for the half mixture (from memory,
// not checked against a text). Water freezes at nought.
func TestFreezing(t *testing.T) {
	for glycol, want := range map[float64]float64{
		0.05: -1.653, 0.1: -3.401, 0.15: -5.446, 0.2: -7.932, 0.25: -10.960, 0.3: -14.597, 0.35: -18.891, 0.4: -23.874, 0.45: -29.575,
		0.5: -36.028, 0.55: -43.283, 0.56: -44.837,
	} {
		near(t, "mixture", Coolant{glycol}.FreezesC(), want, 0.08)
	}
	near(t, "water", Coolant{0}.FreezesC(), 0, 0.001)
}

// Where the polynomials end, properties stay what they are at the end: 0 and 0.6 of glycol, -40 and 100 C. The enthalpy goes on in
// proportion to the heat capacity there.
func TestPropertiesBeyondTheirRange(t *testing.T) {
	for _, c := range []struct{ beyond, end Coolant }{{Coolant{0.7}, Coolant{0.6}}, {Coolant{-0.1}, Coolant{0}}} {
		near(t, "density", c.beyond.DensityKgM3(20), c.end.DensityKgM3(20), 0)
		near(t, "freezing", c.beyond.FreezesC(), c.end.FreezesC(), 0)
	}
	c := Coolant{0.5}
	for beyond, end := range map[float64]float64{-55: -40, 130: 100} {
		near(t, "density", c.DensityKgM3(beyond), c.DensityKgM3(end), 0)
		m := c.mixture()
		near(t, "enthalpy", m.enthalpy(beyond)-m.enthalpy(end), (beyond-end)*c.HeatCapacityJKgK(end), 1e-6)
	}
}

// Worked examples: laminar pipe of an examination (Q 0.01 m3/s, D 0.1 m, Re 800: f 0.08, 66.1 m a kilometre); Blasius'
// correlation at 1e4 and 1e5; a course's turbulent pipe with its friction factor given (16.79 m, as recomputed).
func TestFrictionAsWorked(t *testing.T) {
	near(t, "f at 800", Friction(800), 0.08, 1e-12)
	near(t, "f at 1e4", Friction(1e4), 0.0316, 1e-9)
	near(t, "f at 1e5", Friction(1e5), 0.01777, 5e-6)
	p := Pipe{DiameterMM: 100, LengthMM: 1e6}
	f := Fluid{DensityKgM3: 1000}
	f.ViscosityPaS = f.DensityKgM3 * p.Velocity(0.01) * 0.1 / 800
	near(t, "Reynolds", p.Reynolds(0.01, f), 800, 1e-9)
	near(t, "laminar head", p.DropPa(0.01, f)/(1000*9.81), 66.1, 0.05)
	given := Pipe{DiameterMM: 100, LossK: 0.0254 * 200 / 0.1}
	near(t, "turbulent velocity", given.Velocity(0.02), 2.546, 0.001)
	near(t, "turbulent head", given.DropPa(0.02, f)/(1000*9.81), 16.79, 0.01)
}

// The slope of the loss is that of the loss: central differences, in all three kinds of flow.
func TestSlopeIsTheLosss(t *testing.T) {
	p := Pipe{DiameterMM: 6, LengthMM: 1300, Channels: 2, LossK: 8}
	f := Coolant{0.5}.Fluid(25)
	for _, q := range []float64{1e-6, 2e-5, 6.5e-5, 8e-5, 2e-4} {
		_, slope := p.drop(q, f)
		h := q * 1e-5
		want := (p.DropPa(q+h, f) - p.DropPa(q-h, f)) / (2 * h)
		near(t, "slope", slope, want, 1e-4*want)
	}
	for _, re := range []float64{laminarRe, turbulentRe} {
		near(t, "no jump", Friction(re*(1+1e-12)), Friction(re*(1-1e-12)), 1e-9)
	}
}

// A thin pipe by Hagen and Poiseuille: 128 mu L Q / (pi d^4), for a pipe of 1 mm and of half a millimetre.
func TestThinPipesByHagenPoiseuille(t *testing.T) {
	f := Fluid{DensityKgM3: 1000, ViscosityPaS: 1e-3}
	const flow = 1e-7
	for _, mm := range []float64{0.5, 1, 2} {
		d := mm / 1000
		want := 128 * 1e-3 * 0.3 * flow / (math.Pi * d * d * d * d)
		near(t, "drop", Pipe{DiameterMM: mm, LengthMM: 300}.DropPa(flow, f), want, 1e-9*want)
	}
	pa, slope := Pipe{LengthMM: 300}.drop(flow, f)
	near(t, "no pipe", pa, 0, 0)
	near(t, "slope of no pipe", slope, 0, 0)
}

// Two channels of 8 mm bore and 1 m length hold pi/4 x 0.8² x 100 x 2 cm³.
func TestVolumeOfChannels(t *testing.T) {
	near(t, "litres", Pipe{DiameterMM: 8, LengthMM: 1000, Channels: 2}.VolumeL(), math.Pi/4*0.64*200/1000, 1e-12)
}
