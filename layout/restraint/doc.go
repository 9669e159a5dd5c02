// Package restraint works out whether a box stays where it is: what acceleration pulls at it, what each mounting
// foot then carries, and how much of what its bolts, plate and weld can bear that uses up.
//
// A box is taken as rigid. Each bolt is a spring in three directions (bolt and bending foot in series along the
// bolt, the bolt's shear across it), so that the reactions follow from one stiffness of six degrees of freedom and
// are in equilibrium with the load. Contact, friction and preload are not counted on. Resistances are those of
// EN 1993-1-8 with its recommended partial factors. Frame: the vehicle's, x rearward, y right, z up; mm, N, MPa.
package restraint
