// Package assembly works out what happens while a pack is put together and taken apart: which conductors are bare at
// each step, what voltage stands between them, what a dropped tool can bridge, in which order links are best fitted,
// what stays live after a crash; and the papers: build record, matching of modules, check sheets.
//
// Units: V, A, ohm, mm, J, N m unless a name says otherwise. Places are in the vehicle's frame. Voltages are with
// every cell at its highest. How strings run is handed in as a [Circuit]; nothing here routes one.
//
// What counts as voltage: two conductors that are joined through modules have the voltage of the modules between
// them. Two that are not joined at all have none. Between a conductor and metal there is none either until a first
// fault; the fault is taken to sit at the worst place of the conductor's circuit, so that the figure is the largest
// that a person or a tool between the conductor and metal can meet.
//
// It computes and compares and certifies nothing. Work on live parts belongs to licensed people.
package assembly
