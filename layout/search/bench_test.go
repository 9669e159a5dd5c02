package search

import (
	"context"
	"fmt"
	"testing"

	"stowbay/vehicles"
)

// big is an invented vehicle with up to six boxes and up to eight module types. Packings are given: what is
// measured is the search with all counts that the voltage window leaves and nine objectives.
func big(t testing.TB, boxes, types int) *yard { return bigWith(t, bigSites()[:boxes], types) }

func bigSites() []site {
	return []site{
		{-500, -400, 480, 2, 5, 2, false}, {500, -600, 220, 4, 3, 2, false}, {500, 100, 220, 4, 3, 2, false}, {2000, -450, 260, 2, 6, 2, false},
		{2950, -400, 350, 2, 5, 2, true}, {900, -250, 700, 2, 3, 1, false},
	}
}

func bigWith(t testing.TB, sites []site, types int) *yard {
	flat := []vehicles.Posture{vehicles.Flat}
	ms := []*vehicles.Module{
		block("m1", 300, 150, 100, 14, 50, 400, flat...), block("m2", 300, 300, 100, 27, 100, 750, flat...), block("m3", 300, 150, 200, 26, 95, 700, flat...),
		block("m4", 150, 150, 100, 8, 26, 220, flat...), block("m5", 300, 225, 100, 20, 76, 590, flat...), block("m6", 600, 150, 100, 27.5, 104, 790, vehicles.Flat, vehicles.Side),
		block("m7", 150, 300, 200, 27, 97, 720, flat...), block("m8", 200, 150, 100, 10, 35, 300, flat...),
	}
	y := newYard(t, sites, ms[:types]...)
	d := *y.lib.Donor("yard-cart")
	d.Ratings = vehicles.Ratings{FrontAxleKg: 1500, RearAxleKg: 1900, GrossKg: 3200}
	d.Tyres = vehicles.Tyres{FrontLoadIndex: 108, RearLoadIndex: 115}
	inverter := *y.lib.Gear("yard-inverter")
	inverter.VoltageMinV, inverter.VoltageMaxV = 250, 430
	y.lib = y.lib.With(vehicles.Records{Donors: []*vehicles.Donor{&d}, Gear: []*vehicles.Gear{&inverter}})
	return y
}

func benchmark(b *testing.B, boxes, types int) {
	y := big(b, boxes, types)
	var r Result
	b.ResetTimer()
	for range b.N {
		var err error
		if r, err = Run(context.Background(), y.plan, y.a, y.lib, y.options(), nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(r.Found)), "found")
	b.ReportMetric(r.Tally.All, "arrangements")
	b.ReportMetric(r.Tally.Looked, "looked-at")
}

// BenchmarkSearch is the size the tool is made for: five bays, six module types.
func BenchmarkSearch(b *testing.B) { benchmark(b, 5, 6) }

// BenchmarkGrowth is how the time grows with bays and with types.
func BenchmarkGrowth(b *testing.B) {
	for n := 1; n <= 6; n++ {
		b.Run(fmt.Sprintf("bays-%d-types-6", n), func(b *testing.B) { benchmark(b, n, 6) })
	}
	for n := 1; n <= 8; n++ {
		b.Run(fmt.Sprintf("bays-5-types-%d", n), func(b *testing.B) { benchmark(b, 5, n) })
	}
}
