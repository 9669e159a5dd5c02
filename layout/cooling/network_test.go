package cooling

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/optimize"
	"pgregory.net/rapid"
)

// oneFlow makes the flow of water at 20 C the same in every test.
var oneFlow = Coolant{0}

func pipe(d, l, k float64) *Node { return &Node{Pipe: &Pipe{DiameterMM: d, LengthMM: l, LossK: k}} }

func parallel(ns ...*Node) *Node { return &Node{Parallel: ns} }
func series(ns ...*Node) *Node   { return &Node{Series: ns} }

// By hand: two laminar pipes of one bore side by side, one twice as long as the other. The drop is 128 mu l Q/(pi d^4),
// so that the flows are as 2 to 1, and with the pump's parabola head (1 - (Q/Qm)^2) the whole flow is the positive
// root of H Q^2/Qm^2 + R Q - H = 0 with 1/R = 1/R1 + 1/R2.
func TestParallelByHand(t *testing.T) {
	a, b := pipe(4, 1000, 0), pipe(4, 2000, 0)
	n := parallel(a, b)
	pump := Pump{HeadPa: 1000, MostFlow: 1e-5}
	if !n.Solve(pump, oneFlow, 20) {
		t.Fatal("not settled")
	}
	mu := oneFlow.ViscosityPaS(20)
	r1 := 128 * mu * 1 / (math.Pi * math.Pow(0.004, 4))
	r := 1 / (1/r1 + 1/(2*r1))
	h := pump.HeadPa / (pump.MostFlow * pump.MostFlow)
	q := (-r + math.Sqrt(r*r+4*h*pump.HeadPa)) / (2 * h)
	near(t, "flow", n.Flow, q, 1e-8*q)
	near(t, "short pipe", a.Flow, 2*q/3, 1e-8*q)
	near(t, "long pipe", b.Flow, q/3, 1e-8*q)
	near(t, "drop", a.DropPa, r*q, 1e-6*r*q)
	if a.Pipe.Reynolds(a.Flow, a.fluid) > laminarRe {
		t.Error("the case is not laminar")
	}
}

// One part beside nothing is that part alone.
func TestOneSideAlone(t *testing.T) {
	alone, beside := pipe(8, 3000, 2), parallel(pipe(8, 3000, 2))
	alone.HeatW, beside.Parallel[0].HeatW = 500, 500
	pump := Pump{HeadPa: 20000, MostFlow: 2e-4}
	if !alone.Solve(pump, oneFlow, 20) || !beside.Solve(pump, oneFlow, 20) {
		t.Fatal("not settled")
	}
	near(t, "flow", beside.Flow, alone.Flow, 1e-6*alone.Flow)
	near(t, "drop", beside.DropPa, alone.DropPa, 1e-6*alone.DropPa)
	near(t, "temperature", beside.OutC, alone.OutC, 1e-6)
	if alone.OutC < 21 {
		t.Errorf("500 W warm it to %v", alone.OutC)
	}
}

// Where pump and loop meet, the pump gives what the loop takes; nothing flows against more than the pump gives.
func TestPumpMeetsTheLoop(t *testing.T) {
	p := Pump{HeadPa: 20000, MostFlow: 3e-4}
	for _, source := range []float64{-500, 0, 15000, 19999.5} {
		for _, slope := range []float64{1, 1e6, 1e9} {
			q := p.meet(source, slope)
			if q <= 0 {
				t.Errorf("source %v, slope %v: no flow", source, slope)
			}
			near(t, "pressure", p.At(q), source+slope*q, 1e-6)
		}
	}
	near(t, "against too much", p.meet(20001, 1e6), 0, 0)
}

// A hose has no leg of less than half a millimetre.
func TestLegsOfAHose(t *testing.T) {
	for z, stops := range map[float64]int{0.48: 2, 0.52: 3} {
		r := run("a", "b", r3.Vector{}, r3.Vector{X: 300, Z: z})
		if len(r.Path) != stops {
			t.Errorf("%v mm up: %v", z, r.Path)
		}
	}
}

// N like laminar plates: in parallel they drop 1/N^2 of what they drop in series at one whole flow (Hagen-Poiseuille).
func TestSeriesAgainstParallel(t *testing.T) {
	const count = 5
	f := Coolant{0.5}.Fluid(25)
	p := Pipe{DiameterMM: 8, LengthMM: 1000}
	q := 1e-5
	near(t, "drops", count*p.DropPa(q, f)/p.DropPa(q/count, f), count*count, 1e-9)
}

// The enthalpy's slope is the heat capacity, also beyond where the polynomials hold, and temperatures come back.
func TestEnthalpyIsTheHeatCapacitysIntegral(t *testing.T) {
	for _, glycol := range []float64{0, 0.3, 0.5} {
		m := Coolant{glycol}.mixture()
		for temp := -60.0; temp < 180; temp += 7 {
			slope := (m.enthalpy(temp+0.01) - m.enthalpy(temp-0.01)) / 0.02
			near(t, "slope", slope, Coolant{glycol}.HeatCapacityJKgK(temp), 0.5)
			near(t, "temperature", m.tempAt(m.enthalpy(temp), 25), temp, 1e-6)
		}
	}
}

// E6-04, heat balance: 2 kW in 6 L/min of the half mixture at 25 C warm it by 5.64 K. The example takes the
// properties of 25 C throughout, so that 25 C is the mean here.
func TestHeatBalanceAsWorked(t *testing.T) {
	n := pipe(16, 1000, 0)
	n.HeatW, n.Flow = 2000, 6.0/60000
	n.fluid = Coolant{0.5}.Fluid(25)
	near(t, "rise", n.warm(Coolant{0.5}.mixture(), Coolant{0.5}.DensityKgM3(25), 25-5.64/2)-(25-5.64/2), 5.64, 0.005)
}

// drawNetwork draws a mixed network: pipes in series, then branches of pipes, one of which splits again.
func drawNetwork(t *rapid.T) (*Node, Pump) {
	one := func(name string) *Node {
		n := pipe(rapid.Float64Range(4, 16).Draw(t, name+" bore"), rapid.Float64Range(200, 4000).Draw(t, name+" length"), rapid.Float64Range(0, 10).Draw(t, name+" loss"))
		n.Pipe.Channels = rapid.IntRange(1, 4).Draw(t, name+" channels")
		n.HeatW = rapid.Float64Range(0, 200).Draw(t, name+" heat")
		return n
	}
	n := series(one("common"), parallel(one("a"), series(one("b"), parallel(one("c"), one("d"))), one("e")))
	return n, Pump{HeadPa: rapid.Float64Range(5e3, 8e4).Draw(t, "head"), MostFlow: rapid.Float64Range(1e-4, 1e-3).Draw(t, "flow")}
}

func (n *Node) leaves() []*Node {
	if n.Pipe != nil {
		return []*Node{n}
	}
	var out []*Node
	for _, m := range append(append([]*Node(nil), n.Series...), n.Parallel...) {
		out = append(out, m.leaves()...)
	}
	return out
}

// What flows in flows out, parts side by side lose the same pressure, and the loop's loss is the pump's head.
func TestFlowAndPressureBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, pump := drawNetwork(t)
		if !n.Solve(pump, Coolant{0.5}, 25) {
			t.Fatal("not settled")
		}
		if d := math.Abs(n.DropPa - pump.At(n.Flow)); d > 1e-4*pump.HeadPa {
			t.Fatalf("loop loses %g Pa, the pump gives %g", n.DropPa, pump.At(n.Flow))
		}
		checkSides(t, n, pump)
		heat := 0.0
		for _, l := range n.leaves() {
			heat += l.HeatW
		}
		rise := n.OutC - 25
		carried := n.Flow * Coolant{0.5}.DensityKgM3(25) * Coolant{0.5}.HeatCapacityJKgK(25+rise/2) * rise
		if math.Abs(carried-heat) > 0.02*heat+1 {
			t.Fatalf("%g W carried, %g W given", carried, heat)
		}
	})
}

func checkSides(t *rapid.T, n *Node, pump Pump) {
	sum := 0.0
	for _, m := range n.Parallel {
		sum += m.Flow
		if math.Abs(m.DropPa-n.DropPa) > 1e-4*pump.HeadPa {
			t.Fatalf("side by side %g and %g Pa", m.DropPa, n.DropPa)
		}
		checkSides(t, m, pump)
	}
	if len(n.Parallel) > 0 && math.Abs(sum-n.Flow) > 1e-7*pump.MostFlow {
		t.Fatalf("flows %g, together %g", n.Flow, sum)
	}
	for _, m := range n.Series {
		checkSides(t, m, pump)
	}
}

// A general optimiser finds the same flows: they are those of the least content, the sum over all pipes of the integral
// of loss over flow less the pump's (Cherry and Millar 1951). The unknowns are the flows of the four branches.
func TestNetworkAgainstAGeneralOptimiser(t *testing.T) {
	n := series(pipe(12, 2000, 3), parallel(pipe(6, 1300, 8), series(pipe(8, 900, 2), parallel(pipe(5, 1000, 4), pipe(7, 1500, 1))), pipe(4, 700, 0)))
	pump := Pump{HeadPa: 35000, MostFlow: 20.0 / 60000}
	if !n.Solve(pump, Coolant{0.5}, 25) {
		t.Fatal("not settled")
	}
	l := n.leaves() // common, a, b, c, d, e
	content := func(p *Node, q float64) float64 {
		const steps = 400
		sum := 0.0
		for i := range steps { // midpoint rule
			sum += p.Pipe.DropPa(q*(float64(i)+0.5)/steps, p.fluid) * q / steps
		}
		return sum
	}
	const unit = 1e-4 // m3/s
	total := func(x []float64) float64 {
		a, c, d, e := x[0]*unit, x[1]*unit, x[2]*unit, x[3]*unit
		q := a + c + d + e
		given := pump.HeadPa * (q - q*q*q/(3*pump.MostFlow*pump.MostFlow))
		return content(l[0], q) + content(l[1], a) + content(l[2], c+d) + content(l[3], c) + content(l[4], d) + content(l[5], e) - given
	}
	r, err := optimize.Minimize(optimize.Problem{Func: total}, []float64{0.5, 0.5, 0.5, 0.5}, &optimize.Settings{FuncEvaluations: 20000, Converger: &optimize.FunctionConverge{Absolute: 1e-14, Iterations: 400}}, &optimize.NelderMead{})
	if err != nil {
		t.Fatal(err)
	}
	for i, k := range []int{1, 3, 4, 5} {
		near(t, "branch", l[k].Flow/unit, r.X[i], 2e-3*(0.05+r.X[i]))
	}
}

func BenchmarkSolve400(b *testing.B) {
	var branches []*Node
	for range 8 {
		s := series()
		for range 50 {
			p := pipe(8, 1150, 6)
			p.Pipe.Channels, p.HeatW = 4, 30
			s.Series = append(s.Series, pipe(16, 300, 3), p)
		}
		branches = append(branches, s)
	}
	n := series(pipe(16, 3000, 3), parallel(branches...))
	for b.Loop() {
		n.Solve(Pump{HeadPa: 35000, MostFlow: 20.0 / 60000}, Coolant{0.5}, 25)
	}
}
