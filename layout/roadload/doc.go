// Package roadload works out how far an arrangement goes on one charge: the forces that hold a vehicle back on the
// level and on a grade, the energy of steady driving and of the driving cycles WLTC class 3b and NEDC, what comes
// back in braking, and what one module more would change. Frame and sheet of the vehicle do not matter here. kg,
// m/s, N, W, Wh.
package roadload
