package check

import "slices"

// Table returns every rule, in the order in which a designer asks the questions.
func Table() []Rule { return table }

var table = slices.Concat(fitRules, electricRules, massRules, assemblyRules, buildRules, restraintRules, placeRules, coolingRules, rangeRules)
