package electric

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// A resistor maker's worked example: 800 V, 1000 uF, 47 ohm. Its 95 % time is given as three time constants.
func TestPrechargeWorked(t *testing.T) {
	c := ChargeThrough(800, 1000e-6, 47)
	near(t, "time constant", c.TauS, 0.047, 1e-9)
	near(t, "95 %", c.TimeTo(0.95), 0.141, 0.002)
	near(t, "99 %", c.TimeTo(0.99), 0.2164, 1e-3)
	near(t, "peak current", c.PeakA, 17.02, 1e-3)
	near(t, "peak power", c.PeakW, 13617, 1e-4)
	near(t, "energy", c.J, 320, 1e-9)
	// A component maker's page: five time constants charge to 99.326 %.
	near(t, "5 tau", 1-math.Exp(-5), 0.99326, 1e-5)
	near(t, "time to that", c.TimeTo(0.9932620530009145), 5*c.TauS, 1e-9)
}

// A university course: 1 uF holds 0.1 J at 447.2 V. ISO 6469-4: 0.2 J at 400 V is 2.5 uF.
func TestCapacitorEnergy(t *testing.T) {
	near(t, "1 uF", CapacitorJ(1e-6, 447.2), 0.1, 1e-4)
	near(t, "0.2 J", CapacitorJ(2.5e-6, 400), yLimitJ, 1e-9)
}

// The energy that goes through the resistor while it charges, integrated step by step, is that of the capacitor.
func TestPrechargeEnergyByIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(50, 900).Draw(t, "V")
		f := rapid.Float64Range(50e-6, 5e-3).Draw(t, "F")
		r := rapid.Float64Range(5, 500).Draw(t, "ohm")
		c := ChargeThrough(v, f, r)
		dt, u, heat := c.TauS/2000, 0.0, 0.0
		for range 30000 {
			i := (v - u) / r
			heat += i * i * r * dt
			u += i / f * dt
		}
		if math.Abs(heat-c.J) > 2e-3*c.J {
			t.Fatalf("resistor took %v J, formula says %v", heat, c.J)
		}
	})
}

// UN Regulation 100 5.1.3: 100 ohm a volt; a 400 V pack needs 40 kohm. 49 CFR 571.305 S8: the resistor that
// tests an isolation monitor at 400 V and 1 Mohm lies between 39 501 and 41 667 ohm.
func TestIsolationWorked(t *testing.T) {
	near(t, "400 V", IsolationOhm(400, OhmPerVoltDC), 40000, 1e-12)
	lo, hi := MonitorTestOhms(400, 1e6)
	near(t, "test resistor from", lo, 39501, 1e-5)
	near(t, "test resistor to", hi, 41667, 1e-5)
	near(t, "side by side", SideBySide(2e6, 0, 2e6), 1e6, 1e-12)
	if !math.IsInf(SideBySide(), 1) {
		t.Error("nothing side by side is no path")
	}
}

// The pack network with unequal strings against a nodal analysis of every module and link as its own node, solved
// by gonum's LU decomposition.
func TestParallelAgainstNodalAnalysis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strings := rapid.IntRange(1, 5).Draw(t, "strings")
		load := rapid.Float64Range(-500, 500).Draw(t, "load")
		var cells [][]Branch
		var bs []Branch
		for range strings {
			n := rapid.IntRange(1, 6).Draw(t, "modules")
			var s []Branch
			sum := Branch{}
			for range n {
				b := Branch{V: rapid.Float64Range(10, 60).Draw(t, "V"), Ohm: rapid.Float64Range(0.001, 0.02).Draw(t, "ohm")}
				s = append(s, b)
				sum.V, sum.Ohm = sum.V+b.V, sum.Ohm+b.Ohm
			}
			cells, bs = append(cells, s), append(bs, sum)
		}
		got := SolveParallel(bs, load)
		v, amps := nodal(t, cells, load)
		if math.Abs(got.V-v) > 1e-6*math.Max(1, math.Abs(v)) {
			t.Fatalf("bars: %v, nodal analysis %v", got.V, v)
		}
		total := 0.0
		for i := range bs {
			total += got.A[i]
			if math.Abs(got.A[i]-amps[i]) > 1e-5*math.Max(1, math.Abs(amps[i])) {
				t.Fatalf("string %d: %v, nodal analysis %v", i, got.A[i], amps[i])
			}
		}
		if math.Abs(total-load) > 1e-6*math.Max(1, math.Abs(load)) {
			t.Fatalf("strings deliver %v of %v A", total, load)
		}
	})
}

// nodal solves G u = i with pack negative as reference: node 0 is the positive bar, then the joints inside the strings.
func nodal(t *rapid.T, strings [][]Branch, load float64) (bar float64, amps []float64) {
	n := 1
	for _, s := range strings {
		n += len(s) - 1
	}
	g, i := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	i.SetVec(0, -load)
	joint := 1
	var first [][2]int
	for _, s := range strings {
		from := -1 // pack negative
		for k, b := range s {
			to := 0
			if k < len(s)-1 {
				to = joint
				joint++
			}
			if k == 0 {
				first = append(first, [2]int{from, to})
			}
			stamp(g, i, from, to, b)
			from = to
		}
	}
	var u mat.VecDense
	if err := u.SolveVec(g, i); err != nil {
		t.Fatalf("nodal analysis: %v", err)
	}
	for k, s := range strings {
		amps = append(amps, (s[0].V-u.AtVec(first[k][1]))/s[0].Ohm)
	}
	return u.AtVec(0), amps
}

// stamp adds a source with its positive end at to: as a current source beside its conductance (Norton).
func stamp(g *mat.Dense, i *mat.VecDense, from, to int, b Branch) {
	y := 1 / b.Ohm
	add := func(r, c int, v float64) {
		if r >= 0 && c >= 0 {
			g.Set(r, c, g.At(r, c)+v)
		}
	}
	add(from, from, y)
	add(to, to, y)
	add(from, to, -y)
	add(to, from, -y)
	if from >= 0 {
		i.SetVec(from, i.AtVec(from)-y*b.V)
	}
	if to >= 0 {
		i.SetVec(to, i.AtVec(to)+y*b.V)
	}
}

// Reversing a string flips signs only: the voltage between any two of its joints keeps its size.
func TestReversedChainFlipsSigns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(1, 100), 1, 30).Draw(t, "sources")
		n := len(v)
		back := make([]float64, n)
		for i := range v {
			back[i] = -v[n-1-i]
		}
		a, b := Potentials(v), Potentials(back)
		j, k := rapid.IntRange(0, n).Draw(t, "from"), rapid.IntRange(0, n).Draw(t, "to")
		if fwd, rev := a[k]-a[j], b[n-k]-b[n-j]; math.Abs(fwd-rev) > 1e-9*a[n] {
			t.Fatalf("%v V one way, %v V in the reversed string", fwd, rev)
		}
		if w := Potentials([]float64{v[0]}); w[1] != -Potentials([]float64{-v[0]})[1] {
			t.Fatal("a source the other way round has the other sign")
		}
	})
}
