package electric

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/vehicles"
)

// Result is everything electrical about one arrangement. It is never changed once made.
type Result struct {
	Scene     *layout.Scene
	Series    int // modules in the longest string
	Parallel  int // strings
	WantS     int // modules in series asked for; 0: not stated
	WantP     int // strings asked for; at least 1
	Automatic bool
	Strings   []String
	Leftover  []*layout.Body // modules in no string
	Problems  []Problem

	Load       Load
	Window     Window
	Energy     Energy
	Faults     Faults
	Sections   Sections
	Fuses      []FuseCheck
	Contactors []ContactorCheck
	Rated      []Rated
	Precharge  Precharge
	Insulation Insulation
	Isolation  Isolation
	Touch      []Touch
	Protection Protection
	Cables     []Run

	facts map[*layout.BoxScene]*boxFacts
}

// String is one series string from its negative to its positive end.
type String struct {
	ID       string
	Pinned   bool
	Modules  []Member  // from negative to positive
	Links    []Link    // Links[i] joins Modules[i] to Modules[i+1]
	Negative *Link     // from the pack's negative side to the first module; nil where there is no inverter placed
	Positive *Link     // from the last module to the pack's positive side
	Passes   []Passage // maximal runs of modules in one box, in order

	MinV, NominalV, MaxV float64 // sums of the cells' limits
	OpenV, LowV, FullV   float64 // at rest: at the charge for readings, at the lower and upper end of use
	CapacityAh           float64 // of its smallest module
	Ohm                  float64 // modules, links, leads and gear in the path at 25 C
	ColdOhm, HotOhm      float64 // the same cold and hot
	ContinuousA, PeakA   float64 // what its weakest module allows
	ChargeA, RegenA      float64 // the same for charging; 0: unknown
	ShareA               float64 // its share of the pack's continuous current, at the charge for readings
	LinkMM               float64 // length of all its links and leads
	Crossings            int     // pairs of its links that cross in plan inside a box
}

// Member is a module in a string.
type Member struct {
	*layout.Body
	Box        *layout.BoxScene
	Neg, Pos   *layout.TerminalAt // the terminals used
	NegV, PosV float64            // their potentials
}

// Passage is one run of a string through one box.
type Passage struct {
	Box        *layout.BoxScene
	String     int // index of the string
	From, To   int // Modules[From:To] of the string
	NegV, PosV float64
}

// Link is a conductor between two terminals of the string.
type Link struct {
	From, To   string // module or gear ids
	FromBox    string // "" where it starts outside the boxes
	ToBox      string
	Path       []r3.Vector // in the vehicle; not to be changed
	LengthMM   float64
	OutsideMM  float64 // of that, between the boxes
	SectionMM2 float64
	Ohm        float64 // at 20 C
	V          float64 // potential, cells at their highest voltage
}

// Between tells whether the link leaves its box.
func (l Link) Between() bool { return l.FromBox != l.ToBox }

// Problem is something that keeps modules from making a pack, to be turned into a finding.
type Problem struct {
	Kind       string // see the constants
	Of         string // string, module, cable or gear id
	Refs       []string
	Text       string
	Want, Have float64
}

// The kinds of problems.
const (
	UnknownModule  = "unknown module"    // a string names a module that is not there
	TwiceUsed      = "used twice"        // a module stands in two strings, or twice in one
	ShortString    = "short string"      // a string has fewer modules than asked for
	UnequalStrings = "unequal strings"   // strings differ in voltage
	MixedChemistry = "mixed chemistry"   // cells of different chemistry or voltage window
	MixedCapacity  = "mixed capacity"    // modules of different capacity in one string
	MixedTypes     = "mixed types"       // different types with like cells
	NoTerminal     = "no terminal"       // a module lacks a positive or a negative terminal
	UnknownEnd     = "unknown cable end" // a cable names a box or gear that is not there
)

// Load is the current asked of the pack.
type Load struct {
	ContinuousA, PeakA float64
	PeakS              float64
	RegenA, ChargeA    float64
	Basis              layout.Basis
	How                string // where the currents come from
	Inverter, Charger  *vehicles.Gear
	InverterAt         *layout.GearBody // where it is placed; nil: not placed
	ChargerAt          *layout.GearBody
}

// Window is the pack's voltage window.
type Window struct {
	MinV, NominalV, MaxV float64 // at the cells' limits; with unequal strings the narrowest
	SOCPct, LowPct       float64
	OpenV, LowV, FullV   float64 // at rest: at SOCPct, at the lower and at the upper end of use
	Ohm                  float64 // of the pack at 25 C
	ColdOhm, HotOhm      float64 // the same cold and hot
	ColdC, HotC          float64
	Sags                 []Sag
	RegenV               float64 // at the upper end of use with the regenerative current
	RegenRoomA           float64 // charging current that lifts a pack at the upper end of use to the window's top
	LowPowerKW           float64 // peak power at the lower end of use
	LowColdPowerKW       float64
	CirculatingA         float64 // largest current between the strings at no load
	CurveAssumed         bool    // some module has no open-circuit curve
}

// Sag is the pack's voltage under a current.
type Sag struct {
	Name   string // "continuous", "peak"
	SOCPct float64
	TempC  float64
	A, V   float64
}

// Energy is what the pack holds.
type Energy struct {
	GrossKWh, UsableKWh float64
	CapacityAh          float64
	LowPct, HighPct     float64
	CRate, PeakCRate    float64 // continuous and peak current over capacity, 1/h
	HeatW, PeakHeatW    float64 // ohmic heat of modules, links and gear
	ModuleHeatW         float64 // of that, in the modules at continuous current
	MassKg              float64 // of the modules in strings
}

// Find returns the string that a module is in and its position there, or nil.
func (r *Result) Find(id string) (s *String, at int) {
	for i := range r.Strings {
		for k := range r.Strings[i].Modules {
			if r.Strings[i].Modules[k].ID == id {
				return &r.Strings[i], k
			}
		}
	}
	return nil, -1
}
