package report

import (
	"strings"

	"stowbay/layout/report/page"
)

// driving sets consumption and range.
func (b *book) driving() {
	r := b.e.Road
	if r == nil || !r.Known {
		missing := ""
		if r != nil {
			missing = strings.Join(r.Missing, "; ")
		}
		b.Para("Range is not computed: " + or(missing, "drag, rolling resistance or mass are not known") + ".")
		return
	}
	b.Facts([][2]string{
		{"Mass with driver and load", b.text(r.Vehicle.MassKg, "kg")},
		{"Load besides the driver", b.text(r.LoadKg, "kg")},
		{"Drag area", trim(r.Vehicle.DragAreaM2) + " m²"},
		{"Rolling resistance", trim(r.Vehicle.Rolling)},
		{"Battery to wheels", fixed(100*r.DriveEff, 0) + " %"},
		{"Braking energy that comes back", fixed(100*r.Regen, 0) + " %"},
		{"Auxiliaries", fixed(r.AuxW, 0) + " W"},
		{"Usable energy", trim(r.Pack.UsableKWh) + " kWh"},
	}, 2)
	b.steadyTable()
	b.cycleTable()
	b.Small("All of these are estimates: efficiency and what comes back are stated, not measured. Cold, wind, wet roads and slopes shorten the range.")
	if len(r.Assumed) > 0 {
		b.Heading("Taken where nothing is stated")
		b.Bullets(r.Assumed)
	}
}

// perDistance is the consumption in the unit shown.
func (b *book) perDistance(whPerKm float64) string {
	if b.imperial {
		return fixed(whPerKm*1.609344, 0)
	}
	return fixed(whPerKm, 0)
}

func (b *book) steadyTable() {
	b.Heading("Steady driving on the level")
	d := b.unit("km")
	t := page.Table{Columns: []page.Column{{Head: d + "/h", Right: true}, {Head: "at the wheels, N", Right: true}, {Head: "from the battery, Wh/" + d, Right: true}, {Head: "range, " + d, Right: true}, {Head: "one module more adds, " + d, Right: true}}}
	for _, s := range b.e.Road.Steady {
		t.Rows = append(t.Rows, page.Row(b.num(s.KMH, "km"), fixed(s.WheelN, 0), b.perDistance(s.WhPerKm), fixed(b.value(s.RangeKm, "km"), 0), fixed(b.value(s.OneMoreKm, "km"), 1)))
	}
	b.Table(t)
}

func (b *book) cycleTable() {
	b.Heading("Driving cycles, over and over")
	d := b.unit("km")
	t := page.Table{Columns: []page.Column{{Head: "cycle"}, {Head: "source"}, {Head: "length, " + d, Right: true}, {Head: "from the battery, Wh/" + d, Right: true}, {Head: "range, " + d, Right: true}, {Head: "one module more adds, " + d, Right: true}, {Head: "mean kW", Right: true}, {Head: "peak kW", Right: true}}}
	for _, c := range b.e.Road.Cycles {
		t.Rows = append(t.Rows, page.Row(c.Cycle.Name, c.Cycle.Source, fixed(b.value(c.Cycle.KM(), "km"), 1), b.perDistance(c.WhPerKm), fixed(b.value(c.RangeKm, "km"), 0), fixed(b.value(c.OneMoreKm, "km"), 1), fixed(c.MeanKW, 1), fixed(c.PeakKW, 1)))
	}
	b.Table(t)
}
