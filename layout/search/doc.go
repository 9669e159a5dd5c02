// Package search looks for the best arrangements of a vehicle and sets arrangements side by side.
//
// [Run] goes through a discretised choice: the module type, modules in series and strings in parallel, and for each
// box whether it is used, how many modules stand in it, in which posture they were packed, and towards which side those
// are pushed that it has room to spare for. It returns every arrangement that no other one of that choice beats in all
// objectives at once, each objective rounded to a stated resolution. Nothing is sampled: what is not looked at one by
// one is cut off by a limit that all of it breaks, or by a bound that shows all of it to be beaten.
//
// # How nothing is lost
//
// Arrangements of one module type, series and parallel count and set of boxes weigh and cost the same; front share,
// height and side follow from three moments, which are sums over the boxes. Boxes are joined in pairs, the sums of a
// pair are kept in a tree of boxes of moments, and two trees are set against each other. Of a node of each, the least
// and the greatest moments bound the three figures; a slanted bound tells how low the centre of gravity can come at
// either end. A pair of nodes is passed over only where an arrangement found before is no worse than those bounds in
// every figure, in steps, or where every moment in them breaks the same limit.
//
// # What is exact and what is not
//
// Masses, axle and wheel loads and the centre of gravity are linear in what is placed, and equal what layout/mass
// computes for the same modules with the traction cable of the round below as its one cable. Axle, gross and tyre
// limits, the voltage window and the modules' currents are limits of the search itself, judged by the value as the
// checks do; an uncertainty that reaches over a limit warns when the arrangement is opened. So are the distances
// between bodies in a box, and the feet of each box at the mass and centre that each way to use it gives, where the
// plan names accelerations. Distances of live parts depend on the order in which a string joins the modules: left out
// is what is too close in any order; the rest is checked on an arrangement when it is opened, as are sag, protection and
// coolant. Boxes that stand in each other are not used together.
//
// A box may be left out, with the gear that serves it alone; a box that holds other gear, locked modules or is locked
// itself stays, and may stay without modules. Ways to use a box that hold as many modules with the same moments are
// one, as no figure tells them apart: one of them is shown.
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
