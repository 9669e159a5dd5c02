// Package geometry holds planar polygons with holes, oriented rectangles,
// upright prisms and spaces made of prisms, with the measures and predicates a
// layout needs: area, centroid, containment, overlap, distance, inset.
//
// # Units and frame
//
// Every length is in millimetres, every area in square millimetres and every
// volume in cubic millimetres. The plane is an ordinary mathematical plane: a
// ring has a positive area when it runs from the x axis towards the y axis.
// Heights grow upward. The package does not know what the axes mean.
//
// # Tolerance
//
// There is one tolerance, [Lattice]. A predicate that answers yes or no first
// rounds coordinates to the lattice and then works exactly in integers, so
// that its answer never depends on the order of operations. Measures (area,
// distance, centroid) use the coordinates as given, except that shapes which
// touch or overlap on the lattice are at distance zero.
//
// Corners of a shape turned by an odd angle move by up to half a lattice step
// on either axis when they are rounded, so two turned shapes placed flush may
// be told to overlap. [Rect.Overlaps] and [Polygon.Overlaps] therefore ignore
// an overlap of turned shapes no deeper than two lattice steps; the shapes
// whose sides all follow the axes are always judged exactly. Containment has
// no such allowance: a shape is never said to fit when on the lattice it does
// not.
//
// # Closed and open
//
// Shapes are closed sets: contact from within is containment, contact from
// outside is not overlap.
package geometry
