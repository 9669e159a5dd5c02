package check

import (
	"stowbay/layout"
	"stowbay/vehicles"
)

// failWeighs is how many warnings a failing rule outweighs.
const failWeighs = 1000

// Trouble gives the measure of what is wrong with arrangements of a plan: their failing and warning findings, of which
// a failing one outweighs all warnings. It is not for use by several goroutines at once.
func Trouble(p *layout.Plan, lib *vehicles.Library) func(*layout.Arrangement) float64 {
	var last *Evaluation
	return func(a *layout.Arrangement) float64 {
		last = Evaluate(p, a, lib, last)
		sum := 0.0
		for i := range last.Findings {
			switch last.Findings[i].Severity {
			case Fails:
				sum += failWeighs
			case Warns:
				sum++
			}
		}
		return sum
	}
}
