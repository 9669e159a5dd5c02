// Package packing finds the most identical blocks that fit a free-form bay, and
// proves that no more do.
//
// A [Problem] holds bays (polygons with keep-outs, extruded between floors and
// ceilings), the postures a module may take, the gaps it needs, the strips that
// must stay free at its terminal and port faces, and the modules that are already
// fixed. [Solve] answers with placements, their count, an upper bound on any
// count, and the argument that closes the gap between the two, or the gap as it is.
//
// # Frame and units
//
// x runs rearward, y to the right, z up; lengths are millimetres. The plan (x, y)
// is treated as an ordinary plane; a turn is counted from +x towards +y. Inside,
// coordinates are whole numbers of a lattice step, 0.01 mm unless the input needs
// a finer one or slanted walls are met exactly only on a finer one, so that every
// test for overlap is exact.
//
// # Rules of the model
//
// Two bodies keep, between facing faces, the larger of the gaps of the two faces:
// they are apart by that gap along x, or along y. A body keeps its wall gap from
// the outline of its level and from keep-outs, measured square to each wall, with
// mitred corners. A free strip lies before a face; it may not leave the interior
// and no other body may stand in it, but two strips may share space. A module
// rests on a floor, or on a whole layer of modules of one height. A level's
// outline counts as a wall all round, except between levels of equal floor.
package packing
