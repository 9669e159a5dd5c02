package roadload

import (
	"math"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Pack is what the battery gives, as other subjects work it out.
type Pack struct {
	UsableKWh float64
	// ModuleKWh and ModuleKg are one module more: its usable energy and its mass. 0: there is none.
	ModuleKWh, ModuleKg float64
	Module              string // its name
}

// Result is how far an arrangement goes. It is never changed once made.
type Result struct {
	Known    bool // drag area and rolling resistance are known, and there is a mass
	Vehicle  Vehicle
	Estimate bool    // drag or rolling resistance is an estimate
	DriveEff float64 // battery to wheels, 0 to 1
	Regen    float64 // share of the braking energy at the wheels that comes back to the battery
	AuxW     float64
	Pack     Pack
	Steady   []Steady
	Cycles   []Driven
	Missing  []string // what is not known, in words
	Assumed  []string // what is taken where nothing is stated, in words
	LoadKg   float64  // carried besides the driver
}

// Steady is driving at one speed on the level.
type Steady struct {
	KMH       float64
	WheelN    float64
	WhPerKm   float64 // from the battery
	RangeKm   float64
	OneMoreKm float64 // what one module more adds
}

// Driven is a cycle driven over and over.
type Driven struct {
	Cycle     *Cycle
	Wheels    Wheels
	BackWh    float64 // of the braking energy, what comes back to the battery
	WhPerKm   float64 // from the battery, auxiliaries and what comes back counted
	RangeKm   float64
	OneMoreKm float64
	PeakKW    float64 // from the battery
	MeanKW    float64
	// EffectiveKW is the root of the mean square of the battery's power: what its heat goes by.
	EffectiveKW float64
}

// What is taken where the settings state nothing. All are estimates without a source.
const (
	defaultDrivePct = 85
	defaultRegenPct = 50
	defaultAuxW     = 300
	defaultAir      = 1.2 // kg/m3, at about 20 C and sea level
	// rotating is the share that wheels, motor and gears add to the mass when the speed changes: common practice
	// for electric vehicles, from memory.
	rotating = 0.04
)

// speeds are the steady speeds that are worked out, km/h.
var speeds = []float64{50, 80, 100}

// Evaluate works out forces, consumption and range of the vehicle with a mass in kg: the converted vehicle with its
// driver, without the settings' load, which is added here. d may be nil.
func Evaluate(d *vehicles.Donor, s layout.Range, massKg float64, p Pack) *Result {
	r := &Result{Pack: p, LoadKg: s.LoadKg}
	r.Vehicle = Vehicle{MassKg: massKg + s.LoadKg, AirKgM3: r.or(s.AirKgM3, defaultAir, "air of 1.2 kg/m³"), Rotating: rotating}
	r.Vehicle.DragAreaM2, r.Vehicle.Rolling = s.DragAreaM2, s.RollingResistance
	r.fromDonor(d)
	r.DriveEff = r.or(s.DrivePct, defaultDrivePct, "85 % from battery to wheels") / 100
	r.Regen = r.or(s.RegenPct, defaultRegenPct, "50 % of the braking energy coming back") / 100
	r.AuxW = r.or(s.AuxiliaryW, defaultAuxW, "300 W for lights, pump and heater")
	r.Assumed = append(r.Assumed, "rotating parts as 4 % of the mass")
	r.miss(massKg <= 0, "the vehicle's mass")
	r.miss(r.Vehicle.DragAreaM2 <= 0, "the drag area")
	r.miss(r.Vehicle.Rolling <= 0, "the rolling resistance")
	if r.Known = len(r.Missing) == 0; r.Known {
		r.drive()
	}
	return r
}

func (r *Result) or(v, otherwise float64, words string) float64 {
	if v != 0 {
		return v
	}
	r.Assumed = append(r.Assumed, words)
	return otherwise
}

func (r *Result) miss(missing bool, what string) {
	if missing {
		r.Missing = append(r.Missing, what)
	}
}

func (r *Result) fromDonor(d *vehicles.Donor) {
	if d == nil {
		return
	}
	if r.Vehicle.DragAreaM2 == 0 {
		r.Vehicle.DragAreaM2, r.Estimate = d.Road.DragAreaM2, d.Road.Estimate
	}
	if r.Vehicle.Rolling == 0 {
		r.Vehicle.Rolling, r.Estimate = d.Road.RollingResistance, r.Estimate || d.Road.Estimate
	}
}

func (r *Result) drive() {
	more := r.Vehicle
	more.MassKg += r.Pack.ModuleKg
	for _, kmh := range speeds {
		s := Steady{KMH: kmh, WheelN: r.Vehicle.SteadyN(kmh/3.6, 0), WhPerKm: r.steady(r.Vehicle, kmh)}
		s.RangeKm = rangeKm(r.Pack.UsableKWh, s.WhPerKm)
		s.OneMoreKm = r.gain(s.RangeKm, r.steady(more, kmh))
		r.Steady = append(r.Steady, s)
	}
	for _, c := range Cycles() {
		d := r.driven(r.Vehicle, c)
		d.OneMoreKm = r.gain(d.RangeKm, r.driven(more, c).WhPerKm)
		r.Cycles = append(r.Cycles, d)
	}
}

// gain is what one module more adds to a range, at the consumption with it on board.
func (r *Result) gain(rangeNow, whPerKm float64) float64 {
	if r.Pack.ModuleKWh <= 0 {
		return 0
	}
	return rangeKm(r.Pack.UsableKWh+r.Pack.ModuleKWh, whPerKm) - rangeNow
}

// steady is the consumption at a steady speed, Wh/km from the battery.
func (r *Result) steady(v Vehicle, kmh float64) float64 {
	return v.SteadyWhPerKm(kmh)/r.DriveEff + r.AuxW/kmh
}

func (r *Result) driven(v Vehicle, c *Cycle) Driven {
	w := v.Drive(c)
	d := Driven{Cycle: c, Wheels: w, BackWh: w.BrakeWh * r.Regen}
	aux := r.AuxW * c.Seconds() / 3600
	wh := w.DriveWh/r.DriveEff - d.BackWh + aux
	d.WhPerKm = wh / c.KM()
	d.RangeKm = rangeKm(r.Pack.UsableKWh, d.WhPerKm)
	d.PeakKW = (w.PeakW/r.DriveEff + r.AuxW) / 1000
	d.MeanKW = wh / c.Seconds() * 3.6
	d.EffectiveKW = r.effective(v, c) / 1000
	return d
}

// effective is the root of the mean square of the battery's power over a cycle, W.
func (r *Result) effective(v Vehicle, c *Cycle) float64 {
	square := 0.0
	for _, s := range c.steps {
		p := v.power(s)
		if p > 0 {
			p /= r.DriveEff
		} else {
			p *= r.Regen
		}
		square += (p + r.AuxW) * (p + r.AuxW)
	}
	return math.Sqrt(square / c.Seconds())
}

func rangeKm(kwh, whPerKm float64) float64 {
	if whPerKm <= 0 {
		return 0
	}
	return 1000 * kwh / whPerKm
}

// ClimbKW is the battery's power at a steady speed in km/h on a grade in per cent.
func (r *Result) ClimbKW(kmh, gradePct float64) float64 {
	return (r.Vehicle.SteadyN(kmh/3.6, slopeDeg(gradePct))*kmh/3.6/r.DriveEff + r.AuxW) / 1000
}
