// Package search looks for the best arrangements of a vehicle and sets arrangements side by side.
//
// [Run] goes through a discretised choice: the module type and the postures it may stand in, modules in series and
// strings in parallel, how many modules stand in each box, and towards which side the modules that a box has room to
// spare for are pushed. It returns every arrangement that no other one of that choice beats in all objectives at once,
// each objective rounded to a stated resolution. Nothing is sampled: what is not looked at one by one is cut off by
// a limit that all of it breaks, or by a bound that shows all of it to be beaten.
//
// # What is exact and what is not
//
// Masses, axle and wheel loads and the centre of gravity are linear in what is placed, and equal what layout/mass
// computes for the same modules with the traction cable of the round below as its one cable. Axle, gross and tyre
// limits, the voltage window and the modules' currents are limits of the search itself, judged by the value as the
// checks do; an uncertainty that reaches over a limit warns when the arrangement is opened. The rest (free ways in
// air and along surfaces, sag, protection, restraint, coolant) is checked on an arrangement when it is opened.
//
// A box may be left out, with the gear that serves it alone; a box that holds other gear, locked modules or is locked
// itself stays, and may stay without modules. Where modules are pushed is one choice for all boxes of an arrangement.
//
// Boxes are joined in the order of the shortest round from the inverter through their middles and back, along the
// axes. Its length is the cable length; every further string adds a pair of leads as long as the mean of the boxes'
// distances from the inverter (an estimate; the electrics route the cables of an opened arrangement one by one).
//
// Live assembly steps: a string is put together in groups below the hazardous voltage, each finished and covered; the
// joints between the groups are made at a hazardous voltage: ceil(series / floor(60 V / module's highest voltage)) - 1
// for each string, and one more for each string that is joined to those before it (common practice, no source).
//
// A packing whose count is not proved limits what is called complete: the result then says so.
package search
