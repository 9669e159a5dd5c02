package vehicles

// WeighingGuidance tells how to weigh a donor without getting hurt and without fooling oneself. It is shown in the
// survey panel and printed in the report. One paragraph a line.
const WeighingGuidance = `Corner weighing
Put four scales on level, hard floor: the tops within 3 mm of one height, or the loads wander across the diagonals.
Weigh in kerb condition: full tank, all fluids, spare wheel, tools, nobody aboard; tyres at their pressures, doors shut, brake off, in neutral, wheels chocked.
Roll the vehicle back and forth and bounce each corner before reading, so that the suspension settles. Read three times and take the mean. Note the scales' smallest step.
Lifting an axle to find the height of the centre of gravity (after ISO 10392)
Block the springs solid at ride height at both axles, or their movement goes into the result. Fill the tank to the brim or empty it. Nothing loose aboard.
Leave the axle on the scales free to turn: no brake, no gear. Chock nothing that stands on a scale; keep the vehicle from rolling with straps that hang slack while you read.
Raise the other axle straight up in at least three steps, to 10 degrees or more, and read the scales at each. Lower it in the same steps and read again. Then lift the other axle.
Measure how far the raised wheels' centres stand above the others', not how far the jack went.
Never be hurt for a number
Lift on the axle or on the maker's lifting points only, with gear rated for the whole vehicle; a jack is for lifting, stands are for holding. Set stands or cribbing under the raised axle at each step.
Nobody under, in, in front of or behind a raised vehicle, and one person who watches and nothing else. Stop when anything creaks, slides or leans.
Tall, narrow or loaded vehicles can fall sideways or roll off: if in doubt, do not lift. An estimate marked as one, with its wide uncertainty, is an honest answer.
Fuel, battery acid and hot coolant can run out of a tilted vehicle. Keep fire away and disconnect the starter battery.
These notes replace neither the lift maker's instructions nor your local rules for work on vehicles.`
