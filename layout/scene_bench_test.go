package layout

import (
	"fmt"
	"testing"

	"github.com/golang/geo/r3"

	"stowbay/vehicles"
)

// crowded is a plan with so many boxes of so many modules each.
func crowded(boxes, modules int) *Plan {
	p := NewPlan(testDonor(), "Crowded")
	for i := range boxes {
		at := vehicles.XYZ{float64(1200 * i), 0, 200}
		p.Arrangements[0].Boxes = append(p.Arrangements[0].Boxes, plainBox(fmt.Sprintf("b%d", i), at, modules))
	}
	return p
}

func BenchmarkResolve(b *testing.B) {
	for _, n := range []struct{ boxes, modules int }{{1, 400}, {10, 40}, {1, 2000}, {30, 67}} {
		p := crowded(n.boxes, n.modules)
		lib := testLibrary()
		first := Resolve(p, p.Arrangements[0], lib, nil)
		e, err := Move(p, "a", []string{"b0"}, r3.Vector{X: 1})
		if err != nil {
			b.Fatal(err)
		}
		q, err := e.Apply(p)
		if err != nil {
			b.Fatal(err)
		}
		e, err = Move(p, "a", []string{"b0/m1"}, r3.Vector{X: 1})
		if err != nil {
			b.Fatal(err)
		}
		r, err := e.Apply(p)
		if err != nil {
			b.Fatal(err)
		}
		name := fmt.Sprintf("%dx%d", n.boxes, n.modules)
		b.Run(name+"/fresh", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Resolve(p, p.Arrangements[0], lib, nil)
			}
		})
		b.Run(name+"/box-moved", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Resolve(q, q.Arrangements[0], lib, first)
			}
		})
		b.Run(name+"/module-moved", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Resolve(r, r.Arrangements[0], lib, first)
			}
		})
	}
}

func BenchmarkDragOneModule(b *testing.B) {
	d := NewDocument(crowded(10, 40), testLibrary())
	d.BeginGesture("Drag")
	for i := 0; b.Loop(); i++ {
		e, err := Move(d.Plan(), "a", []string{"b0/m1"}, r3.Vector{X: float64(1 - 2*(i%2))})
		if err != nil {
			b.Fatal(err)
		}
		if err := d.Do(e); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDragBoxOf400(b *testing.B) {
	d := NewDocument(crowded(1, 400), testLibrary())
	d.BeginGesture("Drag")
	for i := 0; b.Loop(); i++ {
		e, err := Move(d.Plan(), "a", []string{"b0"}, r3.Vector{X: float64(1 - 2*(i%2))})
		if err != nil {
			b.Fatal(err)
		}
		if err := d.Do(e); err != nil {
			b.Fatal(err)
		}
	}
}
