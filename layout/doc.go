// Package layout holds the plan: a donor, the records it uses, and several arrangements of bays, boxes and
// modules in it, with the settings that the checks need. Edits are reversible values; loading is strict and
// saving is atomic. How anything is computed or drawn is not known here.
//
// Frame: x rearward from the front axle's centre line, y to the vehicle's right, z up from the ground at kerb
// mass; millimetres. A box has a frame of its own: its origin stands at the box's At in the vehicle, turned
// about the vertical by TurnDeg (from x towards y). Levels, modules, gear and feet of a box are in that frame,
// so that moving a box is one edit.
//
// Nothing reachable from a plan is ever changed in place: an edit replaces the box, the arrangement or the list and shares
// the rest. Plans can therefore be read from several goroutines, an undo brings back the very same boxes, and [Resolve] knows by the
// pointer what stayed the same.
//
// A plan is worked on through a [Document]: ask a function such as [Move], [PutBox] or [Change] for an edit of its plan, and
// have the document [Document.Do] it. Programs without a document use [Settle].
package layout
