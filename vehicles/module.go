package vehicles

import "github.com/golang/geo/r3"

// Module is a battery module: a rigid block. Its own frame has its origin at the least corner as it lies
// flat: x along the length, y along the width, z along the height.
type Module struct {
	Format   int    `yaml:"format" rule:"required,min=1,max=1" doc:"number of this file format"`
	ID       string `yaml:"id" rule:"required,id" doc:"short name"`
	Name     string `yaml:"name" rule:"required" doc:"name shown"`
	Note     string `yaml:"note,omitempty" doc:"anything worth saying"`
	Invented bool   `yaml:"invented,omitempty" doc:"true for demonstration data that describes no real module"`

	LengthMM    float64 `yaml:"length_mm" rule:"required,min=10,max=3000" doc:"longest horizontal edge as it lies flat"`
	WidthMM     float64 `yaml:"width_mm" rule:"required,min=10,max=3000" doc:"other horizontal edge as it lies flat"`
	HeightMM    float64 `yaml:"height_mm" rule:"required,min=5,max=2000" doc:"height as it lies flat"`
	MassKg      float64 `yaml:"mass_kg" rule:"required,min=0.05,max=2000" doc:"mass"`
	PlusMinusKg float64 `yaml:"plus_minus_kg,omitempty" rule:"min=0,max=100" doc:"half width of the mass's uncertainty"`
	CGAt        *XYZ    `yaml:"cg_at_mm,omitempty" rule:"min=0,max=3000" doc:"centre of gravity in the module's frame; the middle where absent"`
	Case        string  `yaml:"case,omitempty" rule:"oneof=metal|plastic" doc:"material of the outer faces"`

	Series   int       `yaml:"cells_in_series" rule:"required,min=1,max=400" doc:"cells in series"`
	Parallel int       `yaml:"cells_in_parallel" rule:"required,min=1,max=400" doc:"cells in parallel"`
	Cell     Cell      `yaml:"cell" rule:"required" doc:"one cell"`
	Ohmic    Ohmic     `yaml:"resistance" rule:"required" doc:"resistance of the whole module"`
	Current  Currents  `yaml:"current" rule:"required" doc:"current limits of the whole module"`
	TempMinC float64   `yaml:"temperature_min_c,omitempty" rule:"min=-60,max=60" doc:"lowest permitted cell temperature"`
	TempMaxC float64   `yaml:"temperature_max_c,omitempty" rule:"min=0,max=120" doc:"highest permitted cell temperature"`
	Postures []Posture `yaml:"postures" rule:"required,minlen=1,maxlen=3,oneof=flat|side|end" doc:"postures the maker allows: flat, on its long side, on its end"`

	Terminals []Terminal `yaml:"terminals" rule:"required,minlen=2,maxlen=8" doc:"power terminals"`
	Ports     []Port     `yaml:"ports,omitempty" rule:"maxlen=8" doc:"coolant ports and sockets that need free space"`
	Gaps      Gaps       `yaml:"gaps,omitempty" doc:"gaps to keep; between two modules the larger of the two applies"`
	Swelling  Swelling   `yaml:"swelling,omitempty" doc:"growth over life"`
	Cooling   Cooling    `yaml:"cooling,omitempty" doc:"how heat leaves the module"`
	Price     float64    `yaml:"price,omitempty" rule:"min=0,max=1000000" doc:"price of one, in the plan's money"`
}

// Posture is how a module stands.
type Posture string

// The postures. Flat: the height is vertical. Side: it stands on its long side, the width is vertical.
// End: it stands on its end, the length is vertical.
const (
	Flat Posture = "flat"
	Side Posture = "side"
	End  Posture = "end"
)

// Cell is one cell's chemistry and window.
type Cell struct {
	Chemistry  string     `yaml:"chemistry" rule:"required,oneof=LCO|LMO|NMC|NCA|LFP|LTO" doc:"chemistry"`
	NominalV   float64    `yaml:"nominal_v" rule:"required,min=0.5,max=6" doc:"nominal voltage"`
	MinV       float64    `yaml:"min_v" rule:"required,min=0.5,max=6" doc:"lowest voltage in use"`
	MaxV       float64    `yaml:"max_v" rule:"required,min=0.5,max=6" doc:"highest voltage when charging"`
	CapacityAh float64    `yaml:"capacity_ah" rule:"required,min=0.1,max=2000" doc:"capacity"`
	OpenV      []OpenVolt `yaml:"open_circuit,omitempty" rule:"maxlen=101" doc:"open-circuit voltage against state of charge, rising"`
}

// OpenVolt is a point of the open-circuit voltage curve.
type OpenVolt struct {
	SOCPct float64 `yaml:"soc_pct" rule:"required,min=0,max=100" doc:"state of charge"`
	V      float64 `yaml:"v" rule:"required,min=0.5,max=6" doc:"voltage at rest"`
}

// Ohmic is a module's direct-current resistance.
type Ohmic struct {
	MilliOhm   float64 `yaml:"milliohm" rule:"required,min=0.001,max=10000" doc:"at 25 C and half charge"`
	ColdFactor float64 `yaml:"cold_factor,omitempty" rule:"min=0,max=20" doc:"times this at 0 C; 1 where absent"`
}

// Currents are a module's current limits in amperes.
type Currents struct {
	ContinuousA float64 `yaml:"continuous_a" rule:"required,min=0.1,max=10000" doc:"discharge, continuous"`
	PeakA       float64 `yaml:"peak_a,omitempty" rule:"min=0,max=20000" doc:"discharge, for peak_s seconds"`
	PeakS       float64 `yaml:"peak_s,omitempty" rule:"min=0,max=600" doc:"how long the peak may last"`
	ChargeA     float64 `yaml:"charge_a,omitempty" rule:"min=0,max=10000" doc:"charge, continuous"`
	RegenA      float64 `yaml:"regen_a,omitempty" rule:"min=0,max=10000" doc:"charge, for peak_s seconds"`
}

// Face is one of a module's six faces as it lies flat.
type Face string

// The faces: front is at x = 0, back at x = length, left at y = 0, right at y = width, bottom and top along z.
const (
	Front  Face = "front"
	Back   Face = "back"
	Left   Face = "left"
	Right  Face = "right"
	Top    Face = "top"
	Bottom Face = "bottom"
)

// Terminal is a power terminal of a module or of a piece of gear.
type Terminal struct {
	ID         string  `yaml:"id" rule:"required,maxlen=20" doc:"name: +, -, 1, 2"`
	Polarity   string  `yaml:"polarity" rule:"required,oneof=positive|negative|none" doc:"polarity"`
	Face       Face    `yaml:"face" rule:"required,oneof=front|back|left|right|top|bottom" doc:"the face it sits on, as the module lies flat"`
	At         XYZ     `yaml:"at_mm" rule:"required,min=-100,max=3000" doc:"its centre in the module's frame"`
	StripMM    float64 `yaml:"strip_mm,omitempty" rule:"min=0,max=500" doc:"depth of the free strip in front of that face, for links, lugs and a hand with a spanner"`
	DiameterMM float64 `yaml:"diameter_mm,omitempty" rule:"min=0,max=100" doc:"diameter of the bare metal"`
	Bolt       string  `yaml:"bolt,omitempty" rule:"maxlen=10" doc:"thread: M5, M6, M8"`
	TorqueNm   float64 `yaml:"torque_nm,omitempty" rule:"min=0,max=500" doc:"torque from the maker's data"`
}

// Port is a coolant port or a socket with the free strip it needs.
type Port struct {
	ID      string  `yaml:"id" rule:"required,maxlen=20" doc:"in, out, sense"`
	Kind    string  `yaml:"kind" rule:"required,oneof=coolant_in|coolant_out|sense" doc:"what connects there"`
	Face    Face    `yaml:"face" rule:"required,oneof=front|back|left|right|top|bottom" doc:"the face it sits on, as the module lies flat"`
	At      XYZ     `yaml:"at_mm" rule:"required,min=-100,max=3000" doc:"its centre in the module's frame"`
	StripMM float64 `yaml:"strip_mm,omitempty" rule:"min=0,max=500" doc:"depth of the free strip for the hose bend or plug"`
}

// Gaps are distances to keep from a module's faces.
type Gaps struct {
	SideMM float64 `yaml:"side_mm,omitempty" rule:"min=0,max=200" doc:"from the long sides (left, right) to the next module"`
	EndMM  float64 `yaml:"end_mm,omitempty" rule:"min=0,max=200" doc:"from the ends (front, back) to the next module"`
	TopMM  float64 `yaml:"top_mm,omitempty" rule:"min=0,max=300" doc:"above, to the lid or the next layer"`
	WallMM float64 `yaml:"wall_mm,omitempty" rule:"min=0,max=200" doc:"from any upright face to the box's wall or liner"`
}

// Swelling is the growth of a stack of cells over life.
type Swelling struct {
	Axis string  `yaml:"axis,omitempty" rule:"oneof=length|width|height" doc:"the direction cells are stacked in"`
	MM   float64 `yaml:"mm,omitempty" rule:"min=0,max=100" doc:"whole growth along it, to be left free in total"`
}

// Cooling describes the module's coolant plate, or its limit where air alone cools it.
type Cooling struct {
	Kind         string  `yaml:"kind,omitempty" rule:"oneof=none|air|plate" doc:"none, air or a liquid plate"`
	ChannelMM    float64 `yaml:"channel_mm,omitempty" rule:"min=0,max=100" doc:"hydraulic diameter of the plate's channel"`
	ChannelLenMM float64 `yaml:"channel_length_mm,omitempty" rule:"min=0,max=50000" doc:"length of the channel"`
	Channels     int     `yaml:"channels,omitempty" rule:"min=0,max=200" doc:"channels side by side in the plate"`
	LossK        float64 `yaml:"loss_k,omitempty" rule:"min=0,max=500" doc:"sum of the loss coefficients of bends and ports"`
	VolumeL      float64 `yaml:"volume_l,omitempty" rule:"min=0,max=100" doc:"coolant inside"`
	WPerK        float64 `yaml:"w_per_k,omitempty" rule:"min=0,max=10000" doc:"heat flow from cells to coolant a kelvin"`
	JPerK        float64 `yaml:"j_per_k,omitempty" rule:"min=0,max=10000000" doc:"heat capacity of the module"`
	AirLimitW    float64 `yaml:"air_limit_w,omitempty" rule:"min=0,max=10000" doc:"heat that air alone may be asked to carry away, as the maker states it"`
}

// CG returns the module's centre of gravity in its own frame: as stated, or the middle of the block.
func (m *Module) CG() r3.Vector {
	if m.CGAt != nil {
		return m.CGAt.Vector()
	}
	return r3.Vector{X: m.LengthMM / 2, Y: m.WidthMM / 2, Z: m.HeightMM / 2}
}

// NominalV returns the module's nominal voltage in volts.
func (m *Module) NominalV() float64 { return float64(m.Series) * m.Cell.NominalV }

// MinV returns the module's lowest voltage in use, in volts.
func (m *Module) MinV() float64 { return float64(m.Series) * m.Cell.MinV }

// MaxV returns the module's highest voltage, in volts.
func (m *Module) MaxV() float64 { return float64(m.Series) * m.Cell.MaxV }

// CapacityAh returns the module's capacity in ampere hours.
func (m *Module) CapacityAh() float64 { return float64(m.Parallel) * m.Cell.CapacityAh }

// EnergyKWh returns the module's nominal energy in kilowatt hours.
func (m *Module) EnergyKWh() float64 { return m.NominalV() * m.CapacityAh() / 1000 }
