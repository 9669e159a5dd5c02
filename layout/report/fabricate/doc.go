// Package fabricate works out what the workshop cuts for a box: flat patterns with bend lines, holes by drill
// size, the cut list whose masses are the mass ledger's, and how the pieces lie on sheets.
//
// Millimetres, kg, degrees. A flat pattern is seen from the inside of the box where its lid is on top, from the
// outside where its lid is below; a bend up is towards the eye. Flat lengths are for the middle of the tolerance:
// bend a test piece of the sheet in hand before cutting a box (common practice).
package fabricate
