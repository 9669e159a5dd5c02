package check

import (
	"slices"
	"testing"

	"stowbay/layout"
)

// recorded is a pack of two modules with a build record in which nothing stands out: cells at 2.7 to 4.2 V allowed, 6
// mohm and 120 Ah by the data sheet.
func recorded() (*wired, *layout.Build) {
	w := newWired()
	b := w.box("front", 0, 2)
	b.Gear = gearRow("contactor:negative", "contactor:positive")
	w.arrangement().Boxes = []*layout.Box{b}
	build := &layout.Build{}
	for _, id := range []string{"A1", "A2"} {
		build.Received = append(build.Received, layout.Received{Shop: id, Serial: "S-" + id, Module: "block", CellsV: cells(3.7), MilliOhm: 6, CapacityAh: 120})
	}
	build.Slots = []layout.Slot{{Arrangement: "a", Slot: "front/m1", Shop: "A1"}, {Arrangement: "a", Slot: "front/m2", Shop: "A2"}}
	w.plan.Build = build
	return w, build
}

func cells(v float64) []float64 { return slices.Repeat([]float64{v}, 12) }

// Every remark of the inspection comes out as a finding, and none where its limit is just met.
func TestBuildRecordAtItsLimits(t *testing.T) {
	cases := []struct {
		name  string
		spoil func(*layout.Build)
		want  Severity
		says  string
	}{
		{"nothing stands out", func(*layout.Build) {}, Passes, "2 modules received, 2 slots of 2 filled"},
		{"a cell at the lowest voltage", func(b *layout.Build) { both(b, cells(2.7)) }, Passes, ""},
		{"a cell below it", func(b *layout.Build) { both(b, cells(2.699)) }, Fails, "below the 2.70 V"},
		{"a cell at the highest voltage", func(b *layout.Build) { both(b, cells(4.2)) }, Passes, ""},
		{"a cell above it", func(b *layout.Build) { both(b, cells(4.201)) }, Fails, "above the 4.20 V"},
		{"a spread of 50 mV", func(b *layout.Build) { both(b, append(cells(3.7)[1:], 3.75)) }, Passes, ""},
		{"a spread above 50 mV", func(b *layout.Build) { both(b, append(cells(3.7)[1:], 3.751)) }, Warns, "51 mV apart"},
		{"a cell missing", func(b *layout.Build) { both(b, cells(3.7)[1:]) }, Fails, "11 cell voltages"},
		{"no cells entered", func(b *layout.Build) { both(b, nil) }, Notes, "No cell voltages"},
		{"resistance at 1.25 times", func(b *layout.Build) { b.Received[0].MilliOhm = 7.5 }, Passes, ""},
		{"resistance above", func(b *layout.Build) { b.Received[0].MilliOhm = 7.51 }, Warns, "warmer"},
		{"capacity at 0.9 times", func(b *layout.Build) { b.Received[0].CapacityAh = 108 }, Passes, ""},
		{"capacity below", func(b *layout.Build) { b.Received[0].CapacityAh = 107.9 }, Warns, "limits every string"},
		{"charge 50 mV apart", func(b *layout.Build) { b.Received[0].CellsV = cells(3.75) }, Passes, ""},
		{"charge further apart", func(b *layout.Build) { b.Received[0].CellsV = cells(3.751) }, Warns, "51 mV more"},
		{"a serial number twice", func(b *layout.Build) { b.Received[1].Serial = "S-A1" }, Warns, "same maker's serial number"},
		{"a type unknown", func(b *layout.Build) { b.Received[1].Module = "other"; b.Slots = b.Slots[:1] }, Warns, "not in the library"},
		{"a module never received", func(b *layout.Build) { b.Slots[1].Shop = "A9" }, Fails, "never received"},
		{"a refused module built in", func(b *layout.Build) { b.Received[1].Refused = true }, Fails, "refused on arrival"},
		{"a refused module on the shelf", func(b *layout.Build) { b.Received[1].Refused = true; b.Slots = b.Slots[:1] }, Passes, "1 slot of 2"},
		{"a wrong type built in", func(b *layout.Build) { b.Received[1].Module = "other" }, Fails, "is for a module of type block"},
		{"one module in two slots", func(b *layout.Build) { b.Slots[1].Shop = "A1" }, Fails, "in slot front/m1 and in slot front/m2"},
		{"a slot that is gone", func(b *layout.Build) { b.Slots[1].Slot = "front/m9" }, Warns, "not in this arrangement"},
		{"a slot of another arrangement", func(b *layout.Build) { b.Slots[1].Arrangement = "b" }, Passes, "1 slot of 2"},
		{"a replacement put right", func(b *layout.Build) {
			b.Slots = append([]layout.Slot{{Arrangement: "a", Slot: "front/m1", Shop: "A9"}}, b.Slots...)
		}, Passes, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			w, b := recorded()
			c.spoil(b)
			expect(t, w.handled(), "build.record", c.want, c.says)
		})
	}
}

func both(b *layout.Build, v []float64) {
	for i := range b.Received {
		b.Received[i].CellsV = v
	}
}

// Without a build record, or with an empty one, nothing is said.
func TestBuildRecordLeftOut(t *testing.T) {
	w, _ := recorded()
	for _, b := range []*layout.Build{nil, {}} {
		w.plan.Build = b
		if s := texts(w.handled(), "build.record"); s != "" {
			t.Errorf("%+v: %s", b, s)
		}
	}
}
