// Package layout holds the plan: a donor, the records it uses, and several arrangements of bays, boxes and
// modules in it, with the settings that the checks need. Edits are reversible values; loading is strict and
// saving is atomic. How anything is computed or drawn is not known here.
//
// Frame: x rearward from the front axle's centre line, y to the vehicle's right, z up from the ground at kerb
// mass; millimetres. A box has a frame of its own: its origin stands at the box's At in the vehicle, turned
// about the vertical by TurnDeg (from x towards y). Levels, modules, gear and feet of a box are in that frame,
// so that moving a box is one edit.
package layout
