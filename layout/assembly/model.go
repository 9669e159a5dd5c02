package assembly

import (
	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// Model is every conductor of an arrangement with its place, and how conductors are joined. It is never changed once
// made.
type Model struct {
	Scene      *layout.Scene
	Circuit    Circuit
	Limits     Limits
	Conductors []Conductor
	Joints     []Joint

	tracks []track
	byID   map[string]int
}

// Limits are the settings of the subject with their defaults put in.
type Limits struct {
	ToolMM   float64 // length of a dropped tool or part; 250 mm is common practice
	TouchV   float64 // above it work is hazardous: 60 V DC (UN Regulation 100; 49 CFR 571.305 S3)
	SegmentV float64 // a maintenance segment stays below it: 120 V DC (race-car rule EV.5.1.2)
	SegmentJ float64 // and holds no more: 6 MJ (the same)
}

// LimitsOf are the limits that a plan's settings ask for.
func LimitsOf(s layout.Assembly) Limits {
	l := Limits{ToolMM: 250, TouchV: 60, SegmentV: 120, SegmentJ: 6e6}
	if s.ToolMM > 0 {
		l.ToolMM = s.ToolMM
	}
	if s.TouchV > 0 {
		l.TouchV = s.TouchV
	}
	if s.SegmentV > 0 {
		l.SegmentV = s.SegmentV
	}
	return l
}

// Conductor is a terminal of a module or of a piece of gear.
type Conductor struct {
	ID       string // box/module/terminal or box/gear/terminal
	Of       string // the module's or gear's id
	Box      *layout.BoxScene
	At       r3.Vector
	RadiusMM float64 // of the bare metal; assumed 8 where no diameter is stated
	V        float64 // against the string's negative end with everything closed
	String   int     // -1: in no string, potential not known
	Bolt     string
	TorqueNm float64 // 0: not stated

	index int // in Model.Conductors
	mate  int // the conductor that a joint inside the box ties it to; -1: none
	piece int // in its string's track; -1: none
}

// JointKind says what joins two conductors.
type JointKind string

// The kinds of joints.
const (
	LinkJoint  JointKind = "link"  // between two modules
	GearJoint  JointKind = "lead"  // from a module to fuse, contactor, service link or connector
	CableJoint JointKind = "cable" // bolted on in two boxes
)

// Joint is a conductor bolted between two others. A is on the side of the string's negative end.
type Joint struct {
	Kind   JointKind
	A, B   int // conductors
	String int
	Box    *layout.BoxScene // where it is made; nil for a cable from box to box
}

// seamKind says how two neighbouring pieces of a track are joined.
type seamKind uint8

const (
	bolted seamKind = iota
	contactor
	disconnect
	plug // a touch-proof connector from box to box
)

// piece is a part of a string without a place to open in it: a module, a fuse, one side of a contactor.
type piece struct {
	lo, hi           int // conductors at its negative and positive side
	volts, ohm, joul float64
	body             *layout.Body
	member           int // of the string, where it is a module
	gear             *layout.GearBody
	box              *layout.BoxScene
}

// seam joins piece i to piece i+1.
type seam struct {
	kind  seamKind
	joint int // of Model.Joints where it is bolted, else -1
	gear  *layout.GearBody
}

// track is a string as pieces and seams.
type track struct {
	pieces []piece
	seams  []seam
	volts  []float64 // sums over the pieces before each
	ohms   []float64
}

// plainRadius stands in for bare metal whose diameter is not stated, mm (an assumption).
const plainRadius = 8

// New makes the model of an arrangement.
func New(s *layout.Scene, c Circuit) *Model {
	m := &Model{Scene: s, Circuit: c, Limits: LimitsOf(s.Plan.Settings.Assembly)}
	m.collect()
	for i := range c.Strings {
		m.lay(i)
	}
	return m
}

// collect takes every terminal in the boxes, in the order of the plan.
func (m *Model) collect() {
	n := m.count()
	m.Conductors, m.byID = make([]Conductor, 0, n), make(map[string]int, n)
	for _, b := range m.Scene.Boxes {
		for _, x := range b.Modules {
			m.terminals(b, x.ID, x.Terminals)
		}
		for _, g := range b.Gear {
			m.terminals(b, g.ID, g.Terminals)
		}
	}
}

// count is how many terminals there are in the boxes.
func (m *Model) count() (n int) {
	for _, b := range m.Scene.Boxes {
		for _, x := range b.Modules {
			n += len(x.Terminals)
		}
		for _, g := range b.Gear {
			n += len(g.Terminals)
		}
	}
	return n
}

func (m *Model) terminals(b *layout.BoxScene, of string, ts []layout.TerminalAt) {
	for i := range ts {
		t := &ts[i]
		m.add(Conductor{ID: of + "/" + t.ID, Of: of, Box: b, At: t.Place, RadiusMM: radiusOf(t), Bolt: t.Bolt, TorqueNm: t.TorqueNm})
	}
}

func radiusOf(t *layout.TerminalAt) float64 {
	if t.DiameterMM > 0 {
		return t.DiameterMM / 2
	}
	return plainRadius
}

func (m *Model) add(c Conductor) int {
	c.String, c.piece, c.index = -1, -1, len(m.Conductors)
	c.mate = -1
	m.byID[c.ID] = len(m.Conductors)
	m.Conductors = append(m.Conductors, c)
	return len(m.Conductors) - 1
}

// Conductor returns a conductor by its id, or nil.
func (m *Model) Conductor(id string) *Conductor {
	if i, ok := m.byID[id]; ok {
		return &m.Conductors[i]
	}
	return nil
}

// ID names a joint by its two ends.
func (m *Model) ID(j Joint) string { return m.Conductors[j.A].ID + " to " + m.Conductors[j.B].ID }
