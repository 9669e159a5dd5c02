// Package mass says what a converted vehicle weighs, where, and on which wheel: the mass ledger with its
// uncertainty, load cases against the donor, stability, ride height and what must move to trim the vehicle.
//
// Everything is in the vehicle's frame (x rearward from the front axle, y to the right, z up from the ground),
// kg and mm; inertia is in kg m2. Plan in, results out: nothing here is changed by being computed.
//
// Uncertainty: every mass in the ledger has a half width. Different things are taken as independent and add in
// quadrature; modules of one type share one datasheet, so that their errors add up in full. The half widths are
// carried to every figure through its first derivatives (law of propagation, JCGM 100:2008, 5.1.2).
package mass
