package layout

import "stowbay/vehicles"

// Settings is what the checks need to know besides the layout. A zero field means the default named in its doc.
type Settings struct {
	Units     string    `yaml:"units,omitempty" rule:"oneof=mm_kg|in_lb" doc:"units on screen and in the report; files always hold mm and kg"`
	Code      string    `yaml:"local_code,omitempty" rule:"maxlen=200" doc:"the local vehicle code that the designer works to, as they name it"`
	Money     string    `yaml:"money,omitempty" rule:"maxlen=8" doc:"currency of prices"`
	Inverter  string    `yaml:"inverter,omitempty" rule:"maxlen=64" doc:"gear id of the inverter whose window counts"`
	Charger   string    `yaml:"charger,omitempty" rule:"maxlen=64" doc:"gear id of the charger whose window counts"`
	Electric  Electric  `yaml:"electric,omitempty" doc:"pack electrics, insulation and protection"`
	Mass      Mass      `yaml:"mass,omitempty" doc:"load cases and limits of mass and stability"`
	Restraint Restraint `yaml:"restraint,omitempty" doc:"what the boxes are held against"`
	Assembly  Assembly  `yaml:"assembly,omitempty" doc:"assembly and service"`
	Cooling   Cooling   `yaml:"cooling,omitempty" doc:"coolant and heat"`
	Range     Range     `yaml:"range,omitempty" doc:"road load and range"`
	Sheet     Sheet     `yaml:"sheet,omitempty" doc:"sheet metal of the boxes"`
	Search    Search    `yaml:"search,omitempty" doc:"search over arrangements"`
}

// Electric settings.
type Electric struct {
	ContinuousA     float64 `yaml:"continuous_a,omitempty" rule:"min=0,max=10000" doc:"continuous battery current; 0: from the inverter's rated power at the pack's nominal voltage"`
	PeakA           float64 `yaml:"peak_a,omitempty" rule:"min=0,max=20000" doc:"peak battery current; 0: from the inverter's peak power"`
	SOCPct          float64 `yaml:"soc_pct,omitempty" rule:"min=0,max=100" doc:"state of charge for readings; 0 means 50"`
	UsableLowPct    float64 `yaml:"usable_low_pct,omitempty" rule:"min=0,max=100" doc:"lower end of the usable charge; 0 means 10"`
	UsableHighPct   float64 `yaml:"usable_high_pct,omitempty" rule:"min=0,max=100" doc:"upper end of the usable charge; 0 means 95"`
	ColdC           float64 `yaml:"cold_c,omitempty" rule:"min=-60,max=60" doc:"cold temperature for the sag check; 0 means 0 C"`
	HotC            float64 `yaml:"hot_c,omitempty" rule:"min=0,max=100" doc:"hot ambient for ampacity; 0 means 45 C"`
	AltitudeM       float64 `yaml:"altitude_m,omitempty" rule:"min=0,max=20000" doc:"highest altitude in use; 0 means 2000 m"`
	Pollution       int     `yaml:"pollution_degree,omitempty" rule:"min=0,max=3" doc:"pollution degree inside the boxes (IEC 60664-1); 0 means 3"`
	MaterialGroup   string  `yaml:"material_group,omitempty" rule:"oneof=I|II|IIIa|IIIb" doc:"insulating material group; IIIa where absent"`
	Overvoltage     int     `yaml:"overvoltage_category,omitempty" rule:"min=0,max=4" doc:"overvoltage category; 0 means II"`
	Insulation      string  `yaml:"insulation,omitempty" rule:"oneof=basic|reinforced" doc:"insulation between live parts and chassis; reinforced where absent"`
	CableMM2        float64 `yaml:"cable_mm2,omitempty" rule:"min=0,max=1000" doc:"section of traction cables; 0: chosen from the current"`
	CableInsulation string  `yaml:"cable_insulation,omitempty" rule:"oneof=PVC70|XLPE90|rubber60|rubber85|silicone" doc:"cable insulation; silicone where absent"`
	LinkMM2         float64 `yaml:"link_mm2,omitempty" rule:"min=0,max=1000" doc:"section of the links between modules; 0: chosen from the current"`
	FaultMS         float64 `yaml:"fault_ms,omitempty" rule:"min=0,max=5000" doc:"time in which the fuse must clear for the adiabatic check; 0 means 100"`
	ExternalUF      float64 `yaml:"external_uf,omitempty" rule:"min=0,max=1000000" doc:"capacitance on the traction bus besides the gear placed"`
}

// Mass settings.
type Mass struct {
	OccupantKg     float64    `yaml:"occupant_kg,omitempty" rule:"min=0,max=200" doc:"mass of an occupant by the regulation chosen: 75 (EU) or 68 (US); 0 means 75"`
	SplitBandPct   float64    `yaml:"split_band_pct,omitempty" rule:"min=0,max=50" doc:"band about the donor's front share, in percentage points; 0 means 3 (common practice)"`
	SideBandPct    float64    `yaml:"side_band_pct,omitempty" rule:"min=0,max=50" doc:"largest left-right difference from even; 0 means 2 (common practice)"`
	CGRiseMM       float64    `yaml:"cg_rise_mm,omitempty" rule:"min=0,max=500" doc:"how far the centre of gravity may rise above the donor's; 0 (common practice: no higher)"`
	FrontTargetPct float64    `yaml:"front_target_pct,omitempty" rule:"min=0,max=100" doc:"front-axle share aimed at, in per cent; 0: the donor's"`
	BrakingG       float64    `yaml:"braking_g,omitempty" rule:"min=0,max=2" doc:"deceleration for the load transfer; 0 means 0.5"`
	WeighedPct     float64    `yaml:"weighed_pct,omitempty" rule:"min=0,max=50" doc:"half width of a weighed mass that states none, in per cent; 0 means 1 (an assumption)"`
	DatasheetPct   float64    `yaml:"datasheet_pct,omitempty" rule:"min=0,max=50" doc:"half width of a datasheet mass that states none; 0 means 3 (an assumption)"`
	GuessPct       float64    `yaml:"guess_pct,omitempty" rule:"min=0,max=100" doc:"half width of a guessed mass that states none; 0 means 10 (an assumption)"`
	SheetPct       float64    `yaml:"sheet_pct,omitempty" rule:"min=0,max=50" doc:"half width of a box's own computed mass: sheet tolerance, welds, bolts, sealant; 0 means 5 (an assumption)"`
	PlaceMM        float64    `yaml:"place_mm,omitempty" rule:"min=0,max=500" doc:"half width of each coordinate of a part's centre of gravity; 0 means 20 (an assumption)"`
	Cases          []LoadCase `yaml:"load_cases,omitempty" rule:"maxlen=50" doc:"the user's own load cases besides kerb, driver, full seats and gross"`
}

// LoadCase is a user's own load case.
type LoadCase struct {
	ID    string          `yaml:"id" rule:"required,id" doc:"short name"`
	Name  string          `yaml:"name,omitempty" rule:"maxlen=200" doc:"name shown"`
	Seats []int           `yaml:"seats,omitempty" rule:"maxlen=100,min=1,max=100" doc:"numbers of the seats taken, from 1"`
	Loads []vehicles.Part `yaml:"loads,omitempty" rule:"maxlen=100" doc:"loads: tools in the back, roof load, trailer nose weight"`
}

// Restraint settings.
type Restraint struct {
	Set      string  `yaml:"set,omitempty" rule:"maxlen=64" doc:"id of the set of accelerations; none is assumed"`
	ForwardG float64 `yaml:"forward_g,omitempty" rule:"min=0,max=200" doc:"the user's own set: forward"`
	RearG    float64 `yaml:"rearward_g,omitempty" rule:"min=0,max=200" doc:"the user's own set: rearward"`
	SideG    float64 `yaml:"lateral_g,omitempty" rule:"min=0,max=200" doc:"the user's own set: to either side"`
	UpG      float64 `yaml:"up_g,omitempty" rule:"min=0,max=200" doc:"the user's own set: upward"`
	DownG    float64 `yaml:"down_g,omitempty" rule:"min=0,max=200" doc:"the user's own set: downward"`
	FrontMM  float64 `yaml:"crush_front_mm,omitempty" rule:"min=0,max=3000" doc:"least distance of a box from the vehicle's front; 0 means 420 (UN R100)"`
	RearMM   float64 `yaml:"crush_rear_mm,omitempty" rule:"min=0,max=3000" doc:"least distance from the vehicle's rear; 0 means 300 (UN R100)"`
	SideMM   float64 `yaml:"crush_side_mm,omitempty" rule:"min=0,max=2000" doc:"least distance from the vehicle's side; 0 means 100 (common practice)"`
}

// Assembly settings.
type Assembly struct {
	ToolMM   float64 `yaml:"tool_mm,omitempty" rule:"min=0,max=2000" doc:"length of a dropped tool or part that can bridge; 0 means 250"`
	TouchV   float64 `yaml:"hazardous_v,omitempty" rule:"min=0,max=1500" doc:"voltage above which work is hazardous; 0 means 60 V DC"`
	SegmentV float64 `yaml:"segment_v,omitempty" rule:"min=0,max=1500" doc:"largest voltage of a maintenance segment; 0 means 120"`
}

// Cooling settings.
type Cooling struct {
	GlycolPct float64 `yaml:"glycol_pct,omitempty" rule:"min=0,max=60" doc:"ethylene glycol by mass; 0 means 50"`
	InletC    float64 `yaml:"inlet_c,omitempty" rule:"min=-40,max=90" doc:"coolant temperature at the loop's inlet; 0 means 25"`
	HeatA     float64 `yaml:"heat_current_a,omitempty" rule:"min=0,max=10000" doc:"battery current that the heat is stated at; 0: the continuous current"`
	WarmFromC float64 `yaml:"warm_from_c,omitempty" rule:"min=-50,max=50" doc:"warm-up starts at; 0 means 0 C"`
	WarmToC   float64 `yaml:"warm_to_c,omitempty" rule:"min=-20,max=60" doc:"warm-up ends at; 0 means 15 C"`
}

// Range settings.
type Range struct {
	DragAreaM2        float64 `yaml:"drag_area_m2,omitempty" rule:"min=0,max=20" doc:"drag area; 0: the donor's"`
	RollingResistance float64 `yaml:"rolling_resistance,omitempty" rule:"min=0,max=0.2" doc:"rolling resistance coefficient; 0: the donor's"`
	DrivePct          float64 `yaml:"drive_efficiency_pct,omitempty" rule:"min=0,max=100" doc:"battery to wheels; 0 means 85 (an estimate)"`
	RegenPct          float64 `yaml:"regen_pct,omitempty" rule:"min=0,max=100" doc:"share of the braking energy at the wheels that comes back; 0 means 50 (an estimate)"`
	AuxiliaryW        float64 `yaml:"auxiliary_w,omitempty" rule:"min=0,max=50000" doc:"lights, pump, heater; 0 means 300 (an estimate)"`
	AirKgM3           float64 `yaml:"air_kg_m3,omitempty" rule:"min=0,max=2" doc:"air density; 0 means 1.2"`
	LoadKg            float64 `yaml:"load_kg,omitempty" rule:"min=0,max=40000" doc:"load carried besides the driver"`
}

// Sheet settings.
type Sheet struct {
	KFactor  float64 `yaml:"k_factor,omitempty" rule:"min=0,max=0.5" doc:"position of the neutral line in a bend; 0: from the radius (common practice)"`
	LengthMM float64 `yaml:"length_mm,omitempty" rule:"min=0,max=10000" doc:"length of the sheets bought; 0 means 2000"`
	WidthMM  float64 `yaml:"width_mm,omitempty" rule:"min=0,max=5000" doc:"width of the sheets bought; 0 means 1000"`
}

// Search settings.
type Search struct {
	Modules   []string `yaml:"modules,omitempty" rule:"maxlen=20" doc:"module types allowed; absent: those used in the plan"`
	EnergyKWh float64  `yaml:"energy_kwh,omitempty" rule:"min=0,max=2000" doc:"least energy wanted"`
}
