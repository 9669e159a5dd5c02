package packing

import "time"

// Point is a place in plan, in mm.
type Point struct{ X, Y float64 }

// Region is a free-form area in plan: a simple polygon of either direction, less
// the keep-outs. The closing corner is not repeated. Keep-outs may touch or cross
// one another and the outline.
type Region struct {
	Outline  []Point
	KeepOuts [][]Point
}

// Level is a part of a bay with one floor and one ceiling, heights in mm. A
// stepped bay is several levels side by side. A module never straddles two levels
// of different floors; levels of equal floor and unequal ceiling join where a
// module is low enough for both.
type Level struct {
	Region             Region
	FloorMM, CeilingMM float64
}

// Forbidden is a region in which no body may stand between two heights, in mm.
// Both heights zero means at every height. No gap is kept from it, and strips may
// lie in it.
type Forbidden struct {
	Region       Region
	FromMM, ToMM float64
}

// Bay is one space to fill.
type Bay struct {
	ID        string
	Levels    []Level
	Forbidden []Forbidden
}

// Face is a face of a module in its posture at turn 0.
type Face int

// The faces of a module: the ends look along x, the sides along y.
const (
	PlusX Face = iota
	PlusY
	MinusX
	MinusY
	Top
)

// Strip is space before a face that no other body may enter, DepthMM deep and as
// high as the module. FromMM and ToMM bound it along the face, measured from the
// corner of least x or y at turn 0; both zero means the whole face. On Top it is
// head room over the whole module and FromMM, ToMM are not used.
type Strip struct {
	Face         Face
	DepthMM      float64
	FromMM, ToMM float64
}

// Gaps are the clearances of a posture in mm: at its sides (faces along y), its
// ends (faces along x), its top, and to walls. Between two facing faces the larger
// of the two gaps holds; above a module its top gap.
type Gaps struct{ SideMM, EndMM, TopMM, WallMM float64 }

// Posture is one way of standing a module: its body at turn 0 has LengthMM along
// x, WidthMM along y and HeightMM up.
type Posture struct {
	Name                        string
	LengthMM, WidthMM, HeightMM float64
	// EndsDiffer allows all four turns; otherwise 0 and 90 are enough.
	EndsDiffer bool
	// Turns, when not empty, are the only turns allowed: any of 0, 90, 180, 270.
	Turns []int
	// Strips stay free; Terminals name the faces for the goal of short links.
	Strips    []Strip
	Terminals []Face
	Gaps      Gaps
}

// Placement is one module in place. X, Y, Z are the least corner of the turned
// body in mm. Layer counts from 0 on the floor.
type Placement struct {
	Bay     string
	X, Y, Z float64
	Posture string
	Turn    int
	Layer   int
	Fixed   bool
}

// Goal is what to prefer among packings of the greatest count; it never lowers
// the count. Low, Forward (small x), Rearward (large x) and Centre (small |y-MirrorYMM|)
// push; Rows keeps modules in line; FacingTerminals turns terminals towards each
// other for short links; Mirror seeks left and right alike about y = MirrorYMM.
type Goal struct {
	Low, Forward, Rearward, Centre bool
	Rows, FacingTerminals, Mirror  bool
	MirrorYMM                      float64
}

// Problem is what to solve.
type Problem struct {
	Bays     []Bay
	Postures []Posture
	// Fixed modules stay where they are and count.
	Fixed []Placement
	// Target stops at that many modules, the fixed ones among them; 0 means the most.
	Target int
	Goal   Goal
	// Limit bounds the time spent; 0 means ten seconds.
	Limit time.Duration
	// Hundredths keeps placements to whole hundredths of a millimetre (or to the
	// decimals of the input, if it has more); otherwise modules may stand on a finer
	// lattice where slanted walls meet only there.
	Hundredths bool
	// Workers bounds the goroutines at work; 0 means one a core.
	Workers int
}

// Progress is a report from a running [Solve]: the best so far, each with more
// modules than the one before. Bound is the bound of what is being solved and
// rises with each bay; Placements are all those found so far, fixed ones too.
type Progress struct {
	Bay          string
	Count, Bound int
	Elapsed      time.Duration
	Placements   []Placement
}

// BayResult is the part of a result that concerns one bay.
type BayResult struct {
	ID           string
	Count, Bound int
	LayeredBound int
	Proved       bool
	Argument     string
	arguments    []string // the parts of Argument
}

// Result is what [Solve] found. Count is len(Placements), the fixed ones among
// them, and never above Bound.
type Result struct {
	Placements   []Placement
	Count, Bound int
	// Proved is set when no packing of the stated model, at any position, holds
	// more than Count modules (or when the target is met).
	Proved bool
	// GridProved is set, in a bay with slanted walls that is not Proved, when no
	// packing with all positions on a grid of GridMM does better.
	GridProved bool
	GridMM     float64
	// Layered is set when modules stand in layers and the count is the best found of
	// layered packings; Bound holds for modules at any heights.
	Layered bool
	// LayeredBound is what no packing in whole layers exceeds, in which each module
	// stands on a floor or on a layer of modules of one height. Bound, never less, holds
	// for modules at any heights; the two are equal where nothing stacks.
	LayeredBound int
	// Argument says in words what proved the count or how far the bound is; Reason is
	// its part without the counts.
	Argument, Reason string
	// Stopped is set when time ran out or the context was cancelled.
	Stopped bool
	Elapsed time.Duration
	Bays    []BayResult
}
