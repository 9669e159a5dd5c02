package electric

import "stowbay/layout"

// use is the electric settings with their defaults put in.
type use struct {
	layout.Electric
}

func settingsOf(s *layout.Scene) use {
	e := s.Plan.Settings.Electric
	setDefault(&e.SOCPct, 50)
	setDefault(&e.UsableLowPct, 10)
	setDefault(&e.UsableHighPct, 95)
	setDefault(&e.HotC, 45)
	setDefault(&e.AltitudeM, 2000)
	setDefault(&e.FaultMS, 100)
	setDefault(&e.Pollution, 3)
	setDefault(&e.Overvoltage, 2)
	setDefault(&e.MaterialGroup, "IIIa")
	setDefault(&e.Insulation, "reinforced")
	setDefault(&e.CableInsulation, "silicone")
	return use{e}
}

func setDefault[T comparable](v *T, d T) {
	var zero T
	if *v == zero {
		*v = d
	}
}
