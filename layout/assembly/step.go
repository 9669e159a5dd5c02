package assembly

// Kind is what is done in a step.
type Kind string

// The kinds of steps.
const (
	Place        Kind = "place"
	Uncover      Kind = "uncover"
	FitLink      Kind = "fit link"
	Torque       Kind = "torque"
	Cover        Kind = "cover"
	FitFuse      Kind = "fit fuse"
	CloseBox     Kind = "close box"
	OpenBox      Kind = "open box"
	ConnectBox   Kind = "connect box"
	Disconnect   Kind = "disconnect box"
	CloseService Kind = "close service link"
	OpenService  Kind = "open service link"
	Loosen       Kind = "loosen"
	TakeOffLink  Kind = "take off link"
	TakeOut      Kind = "take out"
	Measure      Kind = "measure"
)

// Sequence is an order of steps.
type Sequence struct {
	Title string
	Whole bool // it begins with a finished pack rather than with empty boxes
	Jobs  []Job
	Steps []Step

	HazardSteps  int     // steps with something bare in a circuit above the limit
	LeastSteps   int     // a bound: no order that keeps to what How names has fewer
	HighestV     float64 // highest of the steps' HighestV
	CoverChanges int     // covers taken off and put on
	LeastCovers  int     // a bound: every end of every joint that is made or opened is uncovered and covered once
	Proved       bool    // true where no order of the joints has fewer hazardous steps, or as few at a lower voltage
	How          string  // how far the claim goes
}

// Job is a run of steps that belong together: Steps[From:To].
type Job struct {
	Title    string
	Box      string
	From, To int
}

// Step is one thing done, and what is bare while it is done.
type Step struct {
	Kind Kind
	Job  int
	Box  string // where the work is
	Text string
	Refs []string // modules, gear and conductors concerned

	Bare        []Bare  // what is bare during the step
	CircuitV    float64 // voltage of the largest circuit that is worked on, bare or not
	HighestV    float64 // highest between a bare conductor and another or, after a first fault, metal
	WithinReach *Reach  // the worst pair within one tool's length; nil: none
	CurrentA    float64 // through a tool across that pair: that voltage over the modules' resistance
	Class       string  // "A" up to 60 V DC, "B" above (voltage classes of ISO 6469-3, from memory)
	Hazard      bool    // something is bare in a circuit above the limit
	Gloves      string
	Tools       string
}

// Bare is a bare conductor at a step.
type Bare struct {
	ID     string
	WorstV float64 // highest voltage to anything in its circuit
}

// Reach is a pair that a dropped tool can bridge.
type Reach struct {
	A, B       string // conductors; B is "metal" for the box
	DistanceMM float64
	V          float64
	Ohm        float64
}

// look works out what is bare on the bench.
func (b *bench) look(s *Step) {
	for _, i := range b.bare {
		b.lookAt(i, s)
	}
	for n, i := range b.bare {
		for _, k := range b.bare[n+1:] {
			b.lookBetween(i, k, s)
		}
	}
	if s.WithinReach != nil && s.WithinReach.Ohm > 0 {
		s.CurrentA = s.WithinReach.V / s.WithinReach.Ohm
	}
	s.Class = "A"
	if over(s.CircuitV, b.m.Limits.TouchV) {
		s.Class = "B"
		s.Hazard = len(b.bare) > 0
	}
	s.Gloves, s.Tools = glovesFor(s), toolsFor(s)
}

func (b *bench) lookAt(i int, s *Step) {
	x := &b.m.Conductors[i]
	v, ohm := b.worst(i)
	s.Bare = append(s.Bare, Bare{x.ID, v})
	s.HighestV = max(s.HighestV, v)
	if x.piece >= 0 {
		s.CircuitV = max(s.CircuitV, b.volts(b.around(x.String, x.piece)))
	}
	metal, ok := b.walls[i]
	if !ok {
		metal = metalNear(x)
		b.walls[i] = metal
	}
	if v > 0 && metal.mm <= b.m.Limits.ToolMM {
		s.reach(Reach{A: x.ID, B: "metal", DistanceMM: metal.mm, V: v, Ohm: ohm})
	}
}

func (b *bench) lookBetween(i, k int, s *Step) {
	v, ohm, joined := b.between(i, k)
	if !joined || v == 0 {
		return
	}
	s.HighestV = max(s.HighestV, v)
	x, y := &b.m.Conductors[i], &b.m.Conductors[k]
	if d := apart(x, y); x.Box == y.Box && d <= b.m.Limits.ToolMM {
		s.reach(Reach{A: x.ID, B: y.ID, DistanceMM: d, V: v, Ohm: ohm})
	}
}

func (s *Step) reach(r Reach) {
	if s.WithinReach == nil || r.V > s.WithinReach.V {
		s.WithinReach = &r
	}
}

// gloves of IEC 60903 by their highest direct voltage in use (restated table, not read in the standard's own text).
var gloves = []struct {
	class string
	maxV  float64
}{{"00", 750}, {"0", 1500}, {"1", 11250}, {"2", 25500}, {"3", 39750}, {"4", 54000}}

// GloveClass returns the lowest glove class of IEC 60903 whose highest direct voltage in use is at least v.
func GloveClass(v float64) (class string, ok bool) {
	for _, g := range gloves {
		if v <= g.maxV {
			return g.class, true
		}
	}
	return "", false
}

func glovesFor(s *Step) string {
	if s.Class == "A" {
		return "work gloves without metal; eye protection"
	}
	class, ok := GloveClass(s.CircuitV)
	if !ok {
		return "beyond the classes of IEC 60903"
	}
	return "insulating gloves of class " + class + " (IEC 60903), face shield"
}

// toolsFor names the tools: IEC 60900 reaches to 1500 V DC. Below the hazardous voltage insulated ones still keep a
// slip from becoming a short circuit (common practice).
func toolsFor(s *Step) string {
	if s.CircuitV > 1500 {
		return "beyond IEC 60900"
	}
	return "insulated (IEC 60900)"
}
