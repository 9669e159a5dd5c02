package geometry

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
)

// wavy is an outline of n corners about a circle of 1000 mm, every other one
// further in.
func wavy(n int) Polygon {
	r := make(Ring, n)
	for i := range r {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		l := 1000 - 150*float64(i%2)
		r[i] = pt(l*c, l*s)
	}
	return Polygon{Outer: r}
}

var (
	benchBool  bool
	benchFloat float64
	benchPolys []Polygon
)

func BenchmarkRectOverlaps(b *testing.B) {
	p := Rect{Centre: pt(0, 0), Half: pt(180, 75), Turn: degrees(10)}
	q := Rect{Centre: pt(250, 120), Half: pt(180, 75), Turn: degrees(30)}
	b.ReportAllocs()
	for b.Loop() {
		benchBool = p.Overlaps(q)
	}
}

func BenchmarkRectDistance(b *testing.B) {
	p := Rect{Centre: pt(0, 0), Half: pt(180, 75), Turn: degrees(10)}
	q := Rect{Centre: pt(500, 120), Half: pt(180, 75), Turn: degrees(30)}
	b.ReportAllocs()
	for b.Loop() {
		benchFloat = p.Distance(q)
	}
}

func BenchmarkRectDistanceSquare(b *testing.B) {
	p := Rect{Centre: pt(0, 0), Half: pt(180, 75)}
	q := Rect{Centre: pt(500, 120), Half: pt(180, 75), Turn: degrees(90)}
	b.ReportAllocs()
	for b.Loop() {
		benchFloat = p.Distance(q)
	}
}

func benchContains(b *testing.B, r Rect) {
	p := wavy(30)
	b.ReportAllocs()
	for b.Loop() {
		benchBool = p.ContainsRect(r)
	}
}

func BenchmarkContainsRectInTheMiddle(b *testing.B) {
	benchContains(b, Rect{Half: pt(180, 75), Turn: degrees(10)})
}

func BenchmarkContainsRectByTheWall(b *testing.B) {
	benchContains(b, Rect{Centre: pt(700, 200), Half: pt(180, 75), Turn: degrees(10)})
}

func BenchmarkContainsRectFarOut(b *testing.B) {
	benchContains(b, Rect{Centre: pt(1300, 200), Half: pt(180, 75), Turn: degrees(10)})
}

func benchPair(b *testing.B, f func(p, q Polygon)) {
	p := Rect{Centre: pt(0, 0), Half: pt(180, 75), Turn: degrees(10)}.Polygon()
	q := Rect{Centre: pt(500, 120), Half: pt(180, 75), Turn: degrees(30)}.Polygon()
	b.ReportAllocs()
	for b.Loop() {
		f(p, q)
	}
}

func BenchmarkPolygonOverlaps(b *testing.B) {
	benchPair(b, func(p, q Polygon) { benchBool = p.Overlaps(q) })
}

func BenchmarkPolygonDistance(b *testing.B) {
	benchPair(b, func(p, q Polygon) { benchFloat = p.Distance(q) })
}

func BenchmarkPrismDistance(b *testing.B) {
	benchPair(b, func(p, q Polygon) {
		benchFloat = Prism{p, 0, 100}.Distance(Prism{q, 50, 200})
	})
}

func BenchmarkDistanceToBoundary(b *testing.B) {
	p := wavy(30)
	q := Rect{Centre: pt(600, 200), Half: pt(180, 75), Turn: degrees(10)}.Polygon()
	b.ReportAllocs()
	for b.Loop() {
		_, _, benchFloat = p.DistanceToBoundary(q)
	}
}

func BenchmarkInset(b *testing.B) {
	p := wavy(30)
	b.ReportAllocs()
	for b.Loop() {
		benchPolys, _ = p.Inset(20)
	}
}

func BenchmarkSpaceContains(b *testing.B) {
	s := Space{
		Solids: []Prism{
			{Base: NewRect(0, 0, 200, 600), Bottom: 200, Top: 450},
			{Base: NewRect(200, 0, 700, 600), Bottom: 200, Top: 500},
			{Base: NewRect(700, 0, 1000, 600), Bottom: 300, Top: 500},
		},
		KeepOuts: []Prism{{Base: NewRect(480, 280, 520, 320), Bottom: 200, Top: 350}},
	}
	prepared, err := s.Prepare()
	if err != nil {
		b.Fatal(err)
	}
	p := Prism{Base: Rect{Centre: pt(650, 150), Half: pt(180, 75)}.Polygon(), Bottom: 310, Top: 440}
	b.Run("prepared", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			benchBool = prepared.ContainsPrism(p)
		}
	})
	b.Run("unprepared", func(b *testing.B) {
		for b.Loop() {
			benchBool = s.ContainsPrism(p)
		}
	})
	b.Run("prepare", func(b *testing.B) {
		for b.Loop() {
			_, err = s.Prepare()
		}
	})
	b.Run("inset", func(b *testing.B) {
		for b.Loop() {
			_, err = s.Inset(10, 5, 5)
		}
	})
}

func BenchmarkValidate(b *testing.B) {
	p := wavy(MaxCorners)
	for b.Loop() {
		benchBool = len(p.Validate()) == 0
	}
}

var benchPoint r2.Point

func BenchmarkCentroid(b *testing.B) {
	p := wavy(30)
	for b.Loop() {
		benchPoint = p.Centroid()
	}
}
