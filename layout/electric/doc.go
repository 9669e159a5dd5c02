// Package electric works out the pack's electrics from a scene: the strings through modules and boxes, the
// voltage window, energy and currents, faults and fuses, conductor sections, insulation distances and the gear
// that protects and controls. It computes and compares; whether a result is acceptable is said elsewhere.
//
// Units: V, A, ohm, mm, mm2, kg, W, kWh, C, s unless a name says otherwise. Places are in the vehicle's frame.
// Potentials are against pack negative with every cell at its highest voltage. Everything is a function of the
// scene alone: the result before an edit only saves work, it never changes an answer.
package electric
