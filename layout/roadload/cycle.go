package roadload

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"
)

// Cycle is a driving cycle: the speed at every second from 0 on.
type Cycle struct {
	ID, Name string
	Source   string
	KMH      []float64

	steps []step
	km    float64
}

// step is one second of a cycle: its mean speed and its gain in speed, m/s.
type step struct{ mean, gain float64 }

//go:embed cycles/wltc_class3b.csv
var wltc string

//go:embed cycles/nedc.csv
var nedc string

// Cycles returns the cycles WLTC class 3b and NEDC. They are read once and must not be changed.
var Cycles = sync.OnceValue(func() []*Cycle {
	return []*Cycle{
		newCycle("wltc", "WLTC class 3b", "UN GTR 15 annex 1", wltc),
		newCycle("nedc", "NEDC", "UN R83 annex 4a", nedc),
	}
})

func newCycle(id, name, source, trace string) *Cycle {
	c := &Cycle{ID: id, Name: name, Source: source}
	for _, line := range strings.Split(trace, "\n")[1:] {
		_, v, ok := strings.Cut(strings.TrimSpace(line), ",")
		if kmh, err := strconv.ParseFloat(v, 64); ok && err == nil {
			c.KMH = append(c.KMH, kmh)
		}
	}
	for i := 1; i < len(c.KMH); i++ {
		a, b := c.KMH[i-1]/3.6, c.KMH[i]/3.6
		c.steps = append(c.steps, step{(a + b) / 2, b - a})
		c.km += (a + b) / 2000
	}
	return c
}

// KM is the cycle's length in km.
func (c *Cycle) KM() float64 { return c.km }

// Seconds is the cycle's time.
func (c *Cycle) Seconds() float64 { return float64(len(c.steps)) }

// Wheels is the energy that a cycle asks of the wheels.
type Wheels struct {
	DriveWh float64 // put in
	BrakeWh float64 // to be braked away, positive
	PeakW   float64 // most power put in, over one second
}

// power is the power at the wheels in one second of a cycle, W.
func (v Vehicle) power(s step) float64 {
	return (v.DragN(s.mean) + v.MassKg*gravity*v.Rolling + v.MassKg*(1+v.Rotating)*s.gain) * s.mean
}

// Drive works a cycle out on the level: for each second the force at the mean speed, with the mass and the
// rotating parts accelerated by the change of speed.
func (v Vehicle) Drive(c *Cycle) Wheels {
	var w Wheels
	for _, s := range c.steps {
		p := v.power(s)
		if p > 0 {
			w.DriveWh += p / 3600
			w.PeakW = max(w.PeakW, p)
		} else {
			w.BrakeWh -= p / 3600
		}
	}
	return w
}
