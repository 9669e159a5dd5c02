// Package demo holds the demonstration plan: an invented haulage cooperative on a ferry island converts a
// forward-control van with three bays, in two arrangements worth comparing. Nothing in it describes a real vehicle.
package demo

import (
	_ "embed"

	"stowbay/layout"
	"stowbay/vehicles"
)

// FileName is the name under which the plan is written out.
const FileName = "plan.yaml"

//go:embed ferry.yaml
var ferry []byte

// File returns the demonstration plan as its file.
func File() []byte { return append([]byte(nil), ferry...) }

// Plan returns the demonstration plan.
func Plan() (*layout.Plan, error) { return layout.ParseOver(FileName, ferry, vehicles.Catalogue()) }
