package layout

import "stowbay/vehicles"

// Box is a battery box: a welded or folded sheet enclosure. All its geometry is in its own frame.
type Box struct {
	ID       string           `yaml:"id" rule:"required,id" doc:"short name, unique in the arrangement"`
	Name     string           `yaml:"name,omitempty" rule:"maxlen=200" doc:"name shown"`
	Bay      string           `yaml:"bay,omitempty" rule:"maxlen=64" doc:"id of the bay it stands in; absent: none"`
	At       vehicles.XYZ     `yaml:"at_mm" rule:"required,min=-10000,max=20000" doc:"where the box's origin stands in the vehicle"`
	TurnDeg  float64          `yaml:"turn_deg,omitempty" rule:"min=-360,max=360" doc:"turn about the vertical, from x towards y"`
	Levels   []vehicles.Level `yaml:"levels" rule:"required,minlen=1,maxlen=50" doc:"its outer shape in its own frame, without flange and feet"`
	Shell    Shell            `yaml:"shell" doc:"what it is made of"`
	Modules  []Placement      `yaml:"modules,omitempty" rule:"maxlen=5000" doc:"the modules inside"`
	Gear     []PlacedGear     `yaml:"gear,omitempty" rule:"maxlen=200" doc:"gear inside, in the box's frame"`
	Feet     []Foot           `yaml:"feet,omitempty" rule:"maxlen=100" doc:"mounting feet"`
	Openings []Opening        `yaml:"openings,omitempty" rule:"maxlen=100" doc:"cut-outs for connectors, vent and drain"`
	Barriers []Barrier        `yaml:"barriers,omitempty" rule:"maxlen=200" doc:"insulating sheets standing inside"`
	Locked   bool             `yaml:"locked,omitempty" doc:"true where it must not be moved"`
	Sealed   bool             `yaml:"sealed,omitempty" doc:"true for a sealed lid and a vent led outside, as the passenger space needs"`
}

// Shell is the box's own make.
type Shell struct {
	Material string  `yaml:"material,omitempty" rule:"oneof=steel|stainless|aluminium" doc:"sheet material; steel where absent"`
	WallMM   float64 `yaml:"wall_mm,omitempty" rule:"min=0,max=20" doc:"wall thickness; 0 means 1.5"`
	FloorMM  float64 `yaml:"floor_mm,omitempty" rule:"min=0,max=20" doc:"floor thickness; 0: as the wall"`
	LidMM    float64 `yaml:"lid_mm,omitempty" rule:"min=0,max=20" doc:"lid thickness; 0: as the wall"`
	LinerMM  float64 `yaml:"liner_mm,omitempty" rule:"min=0,max=50" doc:"thickness of the insulating liner on walls and floor; 0: none"`
	FlangeMM float64 `yaml:"flange_mm,omitempty" rule:"min=0,max=200" doc:"width of the lid flange, outward; 0 means 20"`
	Join     string  `yaml:"join,omitempty" rule:"oneof=fold|weld" doc:"edges folded up or welded; fold where absent"`
	BendMM   float64 `yaml:"bend_radius_mm,omitempty" rule:"min=0,max=50" doc:"inner bend radius; 0: as the wall"`
	LidSide  string  `yaml:"lid_side,omitempty" rule:"oneof=top|bottom" doc:"where the lid is; top where absent"`
}

// Placement is one module in a box. At is the least corner of the posed and turned body in the box's frame.
type Placement struct {
	ID      string           `yaml:"id" rule:"required,id" doc:"short name, unique in the box"`
	Module  string           `yaml:"module" rule:"required,id" doc:"the module, by its id"`
	At      vehicles.XYZ     `yaml:"at_mm" rule:"required,min=-20000,max=20000" doc:"least corner of the posed and turned body in the box's frame"`
	Posture vehicles.Posture `yaml:"posture" rule:"required,oneof=flat|side|end" doc:"how it stands"`
	Turn    int              `yaml:"turn_deg,omitempty" rule:"oneof=0|90|180|270" doc:"turn about the vertical, from x towards y"`
	Locked  bool             `yaml:"locked,omitempty" doc:"true where packing and dragging must leave it"`
}

// PlacedGear is a piece of gear at a place.
type PlacedGear struct {
	ID      string           `yaml:"id" rule:"required,id" doc:"short name, unique in its box or arrangement"`
	Gear    string           `yaml:"gear" rule:"required,id" doc:"the gear, by its id"`
	At      vehicles.XYZ     `yaml:"at_mm" rule:"required,min=-20000,max=20000" doc:"least corner of the posed and turned body"`
	Posture vehicles.Posture `yaml:"posture,omitempty" rule:"oneof=flat|side|end" doc:"how it stands; flat where absent"`
	Turn    int              `yaml:"turn_deg,omitempty" rule:"oneof=0|90|180|270" doc:"turn about the vertical"`
	Role    string           `yaml:"role,omitempty" rule:"oneof=positive|negative|middle|box" doc:"what it serves: the pack's positive or negative pole, the middle of the string, or its own box"`
	Locked  bool             `yaml:"locked,omitempty" doc:"true where it must not be moved"`
}

// Foot is a mounting foot with its bolts, in the box's frame.
type Foot struct {
	ID          string       `yaml:"id" rule:"required,id" doc:"short name"`
	At          vehicles.XYZ `yaml:"at_mm" rule:"required,min=-20000,max=20000" doc:"centre of the bolt pattern on the mounting face"`
	Normal      string       `yaml:"normal,omitempty" rule:"oneof=up|down|left|right|front|rear" doc:"direction in which the bolts point, from the box into the vehicle; down where absent"`
	Bolt        string       `yaml:"bolt" rule:"required,oneof=M6|M8|M10|M12|M14|M16|M20" doc:"thread"`
	Class       string       `yaml:"class" rule:"required,oneof=8.8|10.9|12.9" doc:"property class (ISO 898-1)"`
	Bolts       int          `yaml:"bolts,omitempty" rule:"min=0,max=20" doc:"bolts in the foot; 0 means 1"`
	PlateMM     float64      `yaml:"plate_mm,omitempty" rule:"min=0,max=50" doc:"thickness of the foot's plate; 0 means 5"`
	EdgeMM      float64      `yaml:"edge_mm,omitempty" rule:"min=0,max=200" doc:"bolt centre to the plate's edge in the load's direction; 0 means 2 bolt diameters"`
	ArmMM       float64      `yaml:"arm_mm,omitempty" rule:"min=0,max=500" doc:"bolt centre to the box's wall; 0 means 25"`
	WidthMM     float64      `yaml:"width_mm,omitempty" rule:"min=0,max=500" doc:"width of the foot; 0 means 50"`
	WeldMM      float64      `yaml:"weld_mm,omitempty" rule:"min=0,max=1000" doc:"length of weld that joins the foot to the box; 0 means twice its width"`
	ThroatMM    float64      `yaml:"throat_mm,omitempty" rule:"min=0,max=20" doc:"throat of that weld; 0 means 3"`
	FrameMM     float64      `yaml:"frame_mm,omitempty" rule:"min=0,max=50" doc:"thickness of the vehicle's metal at the bolts; 0: the rail's, or unknown"`
	StrengthMPa float64      `yaml:"strength_mpa,omitempty" rule:"min=0,max=2000" doc:"tensile strength of plate and frame; 0 means 360 (an assumption)"`
	TorqueNm    float64      `yaml:"torque_nm,omitempty" rule:"min=0,max=2000" doc:"torque; 0: computed from the bolt"`
}

// Opening is a hole in a wall or the lid, in the box's frame.
type Opening struct {
	ID         string       `yaml:"id" rule:"required,id" doc:"short name"`
	Kind       string       `yaml:"kind" rule:"required,oneof=connector|vent|drain|gland|hose" doc:"what it is for"`
	Face       string       `yaml:"face" rule:"required,oneof=front|rear|left|right|top|bottom" doc:"the box's face it is in"`
	At         vehicles.XYZ `yaml:"at_mm" rule:"required,min=-20000,max=20000" doc:"its centre"`
	DiameterMM float64      `yaml:"diameter_mm,omitempty" rule:"min=0,max=500" doc:"diameter of a round hole"`
	WidthMM    float64      `yaml:"width_mm,omitempty" rule:"min=0,max=1000" doc:"width of a rectangular hole"`
	HeightMM   float64      `yaml:"height_mm,omitempty" rule:"min=0,max=1000" doc:"height of a rectangular hole"`
	Gear       string       `yaml:"gear,omitempty" rule:"maxlen=64" doc:"the connector that sits in it"`
}

// Barrier is an insulating sheet standing in the box, in the box's frame.
type Barrier struct {
	ID        string        `yaml:"id" rule:"required,id" doc:"short name"`
	Outline   []vehicles.XY `yaml:"outline" rule:"required,polygon,minlen=3,maxlen=100" doc:"corners in plan, as thick as the sheet"`
	FloorMM   float64       `yaml:"floor_mm" rule:"required,min=-5000,max=10000" doc:"lower edge"`
	CeilingMM float64       `yaml:"ceiling_mm" rule:"required,min=-5000,max=10000" doc:"upper edge"`
	Name      string        `yaml:"name,omitempty" rule:"maxlen=200" doc:"material"`
}

// Wall returns the wall's thickness in mm, with the default put in.
func (s Shell) Wall() float64 { return orDefault(s.WallMM, 1.5) }

// Floor returns the floor's thickness in mm, with the default put in.
func (s Shell) Floor() float64 { return orDefault(s.FloorMM, s.Wall()) }

// Lid returns the lid's thickness in mm, with the default put in.
func (s Shell) Lid() float64 { return orDefault(s.LidMM, s.Wall()) }

// Flange returns the lid flange's width in mm, with the default put in.
func (s Shell) Flange() float64 { return orDefault(s.FlangeMM, 20) }

// Bend returns the inner bend radius in mm, with the default put in.
func (s Shell) Bend() float64 { return orDefault(s.BendMM, s.Wall()) }

// DensityKgM3 returns the sheet's density: steel 7850, stainless 7900, aluminium 2700 (from memory, not
// checked against a standard's text).
func (s Shell) DensityKgM3() float64 {
	switch s.Material {
	case "aluminium":
		return 2700
	case "stainless":
		return 7900
	}
	return 7850
}

func orDefault(v, d float64) float64 {
	if v == 0 {
		return d
	}
	return v
}
