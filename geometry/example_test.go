package geometry_test

import (
	"fmt"

	"github.com/golang/geo/r2"
	"stowbay/geometry"
)

// A bay narrows by a neck of 100 mm; keeping 60 mm from its walls leaves two
// separate places.
func ExamplePolygon_Inset() {
	bay := geometry.Polygon{Outer: geometry.Ring{
		{X: 0, Y: 0}, {X: 500, Y: 0}, {X: 500, Y: 200}, {X: 700, Y: 200}, {X: 700, Y: 0}, {X: 1200, Y: 0},
		{X: 1200, Y: 500}, {X: 700, Y: 500}, {X: 700, Y: 300}, {X: 500, Y: 300}, {X: 500, Y: 500}, {X: 0, Y: 500},
	}}
	places, err := bay.Inset(60)
	for _, p := range places {
		fmt.Println(p.Bounds().Size(), p.Area())
	}
	fmt.Println(err)
	// Output:
	// (380.000000000000, 380.000000000000) 144400
	// (380.000000000000, 380.000000000000) 144400
	// <nil>
}

// A bay with a step in its floor, and a box that stands across it.
func ExampleSpace_ContainsPrism() {
	bay := geometry.Space{Solids: []geometry.Prism{
		{Base: geometry.NewRect(0, 0, 600, 800), Bottom: 250, Top: 600},
		{Base: geometry.NewRect(600, 0, 1000, 800), Bottom: 320, Top: 600},
	}}
	box := geometry.Rect{Centre: r2.Point{X: 500, Y: 400}, Half: r2.Point{X: 450, Y: 200}}.Polygon()
	fmt.Println(bay.ContainsPrism(geometry.Prism{Base: box, Bottom: 250, Top: 500}))
	fmt.Println(bay.ContainsPrism(geometry.Prism{Base: box, Bottom: 320, Top: 570}))
	// Output:
	// false
	// true
}
