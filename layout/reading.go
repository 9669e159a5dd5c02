package layout

// Reading is one computed figure of an arrangement.
type Reading struct {
	Key       string // stable name in JSON and in tables: "energy_kwh", "axles_kg.front"
	Of        string // the box, string or load case it belongs to; empty for the whole arrangement
	Label     string // as shown
	Value     float64
	PlusMinus float64 // half width of its uncertainty in the same unit; 0 where none is known
	Unit      string
	Basis     Basis
	Why       func() Why // how it was computed; worked out only when somebody asks. May be nil.
}

// Basis says what a figure rests on.
type Basis string

// The bases: computed from given data; resting on an estimate or on an assumption somewhere.
const (
	Computed  Basis = "computed"
	Estimated Basis = "estimate"
	Assumed   Basis = "assumption"
)

// Why explains a reading.
type Why struct {
	Formula string  // in symbols or words
	Inputs  []Input // what went in
	Source  string  // standard, regulation, handbook; "common practice" or "from memory" where that is so
	Remark  string  // validity, assumptions
}

// Input is one figure that went into a reading.
type Input struct {
	Name  string
	Value float64
	Unit  string
	Note  string // where it comes from: "module datasheet", "estimate in the donor file"
}
