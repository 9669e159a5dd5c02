// Package fill carries boxes to the packing solver and its placements back: the bridge between plans, which
// the solver knows nothing of, and the solver, which plans know nothing of.
//
// It stands below layout/check in the order of rooms and imports geometry, vehicles, layout and layout/packing.
package fill
