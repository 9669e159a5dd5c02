package cooling

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// Heat is what the modules give off, as the electrics work it out.
type Heat struct {
	CurrentA float64            // of the battery, that the heat is stated at
	W        map[string]float64 // by box/module id
}

// Result is how an arrangement is cooled. It is never changed once made.
type Result struct {
	Scene    *layout.Scene
	Coolant  Coolant
	InletC   float64
	CurrentA float64
	HeatW    float64 // of all modules

	Cooled int  // modules with a coolant plate
	Flows  bool // the network is solved: Plates, Branches and the figures after them hold
	// Stopped says in words why nothing flows, where there are plates and no flow.
	Stopped string

	Pump, Radiator *layout.GearBody
	FlowLPM        float64 // of the pump
	HeadKPa        float64
	LoopW          float64 // all heat given to the coolant: modules and gear
	OutC           float64 // where the branches join again
	Branches       []Branch
	Plates         []Plate // modules in the order in which coolant passes them
	Worst          int     // index of the hottest in Plates; -1: unknown
	SpreadK        float64 // between the hottest and the coolest module
	VolumeL        float64 // hoses and plates; radiator and gear are not in it
	HoseMM         float64 // length of all hoses
	Routes         []Route
	Sensors        []Sensor
	Warm           WarmUp

	Outside []*layout.Body // modules with a plate that no branch passes
	Unsized []*layout.Body // modules whose plate states no channel: taken to have no resistance
	Air     []AirCooled
	Assumed []string // what is taken where nothing is stated, in words
}

// Branch is one branch of the loop.
type Branch struct {
	ID      string
	FlowLPM float64
	OutC    float64
	Modules int
}

// Plate is a module with a coolant plate at its place in the loop.
type Plate struct {
	Body      *layout.Body
	Branch    string
	HeatW     float64
	FlowLPM   float64
	Re        float64
	DropKPa   float64
	InC, OutC float64
	CellC     float64 // mean coolant plus heat over the plate's conductance
	Known     bool    // the conductance is stated, so that CellC holds
}

// Route is a hose's run along the axes.
type Route struct {
	From, To string
	Path     []r3.Vector
	LengthMM float64
}

// Sensor is a place for a temperature sensor: at the coolant inlet of the first module of a branch, at the outlet of
// its last, and at the hottest module.
type Sensor struct {
	Branch, Kind string // kind: inlet, outlet, hottest
	Module       string
	Place        r3.Vector
}

// WarmUp is heating the modules with the heaters in the vehicle, without losses.
type WarmUp struct {
	FromC, ToC float64
	JPerK      float64 // modules with plates and the coolant
	HeaterW    float64 // 0: there is none
	Seconds    float64
	Estimated  bool // some module states no heat capacity
}

// AirCooled is a module without a plate.
type AirCooled struct {
	Body   *layout.Body
	HeatW  float64
	LimitW float64 // as its maker states it; 0: nothing is stated
}
