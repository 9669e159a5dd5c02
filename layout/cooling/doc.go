// Package cooling works out whether coolant reaches every module: the flow network of hoses and plates against the
// pump's curve, temperatures along the loop at a stated heat, the worst module, the spread, the coolant's volume,
// where the temperature sensors belong and how long warming up takes. Modules that air alone cools are compared with
// their maker's stated limit only. The state is steady; heat through walls and hoses is left out. Frame: the
// vehicle's, mm; flows in m3/s or litres a minute, pressures in Pa or kPa, temperatures in degrees Celsius.
package cooling
