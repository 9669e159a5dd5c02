// Package vehicles describes what a conversion starts from: the donor vehicle as surveyed, the battery
// modules and the gear that go into it, and the arithmetic that turns scale readings into a centre of gravity.
//
// Frame: x rearward from the front axle's centre line, y to the vehicle's right from the centre plane, z up
// from the ground at kerb mass (the sense of SAE J1100, right-handed). Millimetres, kilograms, degrees;
// every field's name carries its unit.
//
// The struct tags are the file format: `yaml` names the field, `rule` says what is allowed in it and `doc`
// explains it. The strict reader, the field reference and the editors all work from these tags.
package vehicles
