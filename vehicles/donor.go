package vehicles

// Donor is a road vehicle as surveyed before the conversion, in kerb condition.
type Donor struct {
	Format   int    `yaml:"format" rule:"required,min=1,max=1" doc:"number of this file format"`
	ID       string `yaml:"id" rule:"required,id" doc:"short name"`
	Name     string `yaml:"name" rule:"required" doc:"name shown"`
	Note     string `yaml:"note,omitempty" doc:"anything worth saying"`
	Invented bool   `yaml:"invented,omitempty" doc:"true for demonstration data that describes no real vehicle"`
	Category string `yaml:"category,omitempty" rule:"oneof=M1|M2|M3|N1|N2|N3" doc:"vehicle category of the UN regulations (M passengers, N goods)"`

	WheelbaseMM     float64 `yaml:"wheelbase_mm" rule:"required,min=500,max=12000" doc:"front axle centre line to rear axle centre line"`
	TrackFrontMM    float64 `yaml:"track_front_mm" rule:"required,min=300,max=3500" doc:"distance between the front wheels' centre planes"`
	TrackRearMM     float64 `yaml:"track_rear_mm" rule:"required,min=300,max=3500" doc:"distance between the rear wheels' centre planes"`
	WheelRadiusMM   float64 `yaml:"wheel_radius_mm" rule:"required,min=100,max=800" doc:"wheel centre's height above the ground, loaded"`
	TyreWidthMM     float64 `yaml:"tyre_width_mm,omitempty" rule:"min=0,max=600" doc:"width of a tyre, for drawing"`
	TwinRearTyres   bool    `yaml:"twin_rear_tyres,omitempty" doc:"true where the rear axle has two tyres a side"`
	GroundClearMM   float64 `yaml:"ground_clearance_mm" rule:"required,min=0,max=1000" doc:"lowest height at which a box may end, between the axles"`
	RideFrontMM     float64 `yaml:"ride_height_front_mm,omitempty" rule:"min=0,max=2000" doc:"height of the marked body point at the front, at kerb mass"`
	RideRearMM      float64 `yaml:"ride_height_rear_mm,omitempty" rule:"min=0,max=2000" doc:"height of the marked body point at the rear, at kerb mass"`
	ApproachDeg     float64 `yaml:"approach_deg,omitempty" rule:"min=0,max=90" doc:"approach angle before the conversion"`
	DepartureDeg    float64 `yaml:"departure_deg,omitempty" rule:"min=0,max=90" doc:"departure angle before the conversion"`
	RampDeg         float64 `yaml:"ramp_deg,omitempty" rule:"min=0,max=180" doc:"ramp (breakover) angle before the conversion"`
	PlanOutline     []XY    `yaml:"plan_outline" rule:"required,polygon,minlen=3,maxlen=2000" doc:"body seen from above, [x, y]"`
	SideOutline     []XY    `yaml:"side_outline" rule:"required,polygon,minlen=3,maxlen=2000" doc:"body seen from its left side, [x, z]"`
	RearOutline     []XY    `yaml:"rear_outline,omitempty" rule:"polygon,maxlen=2000" doc:"body seen from behind, [y, z]"`
	Scales          Scales  `yaml:"scales" rule:"required" doc:"the four wheel loads on corner scales"`
	CentreOfGravity CGRise  `yaml:"centre_of_gravity" rule:"required" doc:"height of the centre of gravity and how it was found"`
	Ratings         Ratings `yaml:"ratings" rule:"required" doc:"plated limits"`
	Tyres           Tyres   `yaml:"tyres,omitempty" doc:"load indices of the tyres fitted"`
	Springs         Springs `yaml:"springs,omitempty" doc:"spring rates at the wheels, where known"`

	RollShareFront float64 `yaml:"roll_share_front,omitempty" rule:"min=0,max=1" doc:"front axle's share of the roll stiffness; 0 or absent: each axle takes the share of its static load (an assumption)"`
	Road           Road    `yaml:"road,omitempty" doc:"drag and rolling resistance"`

	Seats      []Seat      `yaml:"seats,omitempty" rule:"maxlen=100" doc:"seat places"`
	LoadPlaces []LoadPlace `yaml:"load_places,omitempty" rule:"maxlen=50" doc:"where goods, roof load or a trailer's nose weight sit"`
	Removed    []Part      `yaml:"removed,omitempty" rule:"maxlen=500" doc:"parts taken out"`
	Added      []Part      `yaml:"added,omitempty" rule:"maxlen=500" doc:"parts put in besides the boxes: motor, reduction gear, brackets"`
	Bays       []Bay       `yaml:"bays,omitempty" rule:"maxlen=100" doc:"survey bays"`
	KeepOuts   []KeepOut   `yaml:"keep_outs,omitempty" rule:"maxlen=500" doc:"volumes where nothing may stand"`
	Zones      []Zone      `yaml:"zones,omitempty" rule:"maxlen=100" doc:"passenger space and parts that a collision crushes first"`
	Rails      []Rail      `yaml:"rails,omitempty" rule:"maxlen=100" doc:"frame members that boxes can be bolted to"`
}

// Scales holds the four wheel loads as read from corner scales, in kilograms, with the vehicle in kerb condition.
type Scales struct {
	FrontLeftKg  float64 `yaml:"front_left_kg" rule:"required,min=0,max=20000" doc:"front left wheel"`
	FrontRightKg float64 `yaml:"front_right_kg" rule:"required,min=0,max=20000" doc:"front right wheel"`
	RearLeftKg   float64 `yaml:"rear_left_kg" rule:"required,min=0,max=20000" doc:"rear left wheel"`
	RearRightKg  float64 `yaml:"rear_right_kg" rule:"required,min=0,max=20000" doc:"rear right wheel"`
	ResolutionKg float64 `yaml:"resolution_kg,omitempty" rule:"min=0,max=100" doc:"smallest step the scales show"`
	KerbMassKg   float64 `yaml:"kerb_mass_kg,omitempty" rule:"min=0,max=60000" doc:"kerb mass from the papers, for comparison with the scales"`
}

// CGRise is the height of the donor's centre of gravity above the ground and how it was found.
type CGRise struct {
	HeightMM    float64 `yaml:"height_mm,omitempty" rule:"min=0,max=4000" doc:"height above the ground; absent where axle lifts are given"`
	How         string  `yaml:"how" rule:"required,oneof=axle_lift|pendulum|maker|estimate" doc:"how the height was found"`
	PlusMinusMM float64 `yaml:"plus_minus_mm,omitempty" rule:"min=0,max=1000" doc:"half width of the height's uncertainty"`
	Lifts       []Lift  `yaml:"lifts,omitempty" rule:"maxlen=50" doc:"readings of an axle-lift weighing (ISO 10392)"`
}

// Lift is one reading of an axle-lift weighing: one axle raised, the other axle's load read.
type Lift struct {
	Raised   string  `yaml:"raised" rule:"required,oneof=front|rear" doc:"the axle that is raised"`
	RaisedMM float64 `yaml:"raised_mm" rule:"required,min=0,max=3000" doc:"how far its wheels stand above the other axle's"`
	AxleKg   float64 `yaml:"axle_kg" rule:"required,min=0,max=40000" doc:"load on the axle that stays on the scales"`
}

// Ratings are the plated limits of the vehicle.
type Ratings struct {
	FrontAxleKg float64 `yaml:"front_axle_kg" rule:"required,min=50,max=40000" doc:"front axle rating"`
	RearAxleKg  float64 `yaml:"rear_axle_kg" rule:"required,min=50,max=40000" doc:"rear axle rating"`
	GrossKg     float64 `yaml:"gross_kg" rule:"required,min=100,max=60000" doc:"gross vehicle mass"`
}

// Tyres gives the load index of the tyres on each axle.
type Tyres struct {
	FrontLoadIndex int `yaml:"front_load_index,omitempty" rule:"min=0,max=200" doc:"load index of the front tyres"`
	RearLoadIndex  int `yaml:"rear_load_index,omitempty" rule:"min=0,max=200" doc:"load index of the rear tyres"`
}

// Springs are wheel rates per wheel.
type Springs struct {
	FrontNPerMM float64 `yaml:"front_n_per_mm,omitempty" rule:"min=0,max=2000" doc:"wheel rate of a front wheel"`
	RearNPerMM  float64 `yaml:"rear_n_per_mm,omitempty" rule:"min=0,max=2000" doc:"wheel rate of a rear wheel"`
}

// Road is the donor's resistance to motion.
type Road struct {
	DragAreaM2        float64 `yaml:"drag_area_m2,omitempty" rule:"min=0,max=20" doc:"drag coefficient times frontal area"`
	RollingResistance float64 `yaml:"rolling_resistance,omitempty" rule:"min=0,max=0.2" doc:"rolling resistance coefficient"`
	Estimate          bool    `yaml:"estimate,omitempty" doc:"true where these are estimates"`
}

// Seat is one place for an occupant.
type Seat struct {
	Name string `yaml:"name" rule:"required" doc:"driver, front passenger, second row left and so on"`
	At   XYZ    `yaml:"at_mm" rule:"required,min=-10000,max=20000" doc:"centre of gravity of the seated occupant"`
}

// LoadPlace is a place that carries goods.
type LoadPlace struct {
	ID    string  `yaml:"id" rule:"required,id" doc:"short name"`
	Name  string  `yaml:"name,omitempty" doc:"load floor, roof rack, tow ball"`
	At    XYZ     `yaml:"at_mm" rule:"required,min=-10000,max=20000" doc:"centre of gravity of the load"`
	MaxKg float64 `yaml:"max_kg,omitempty" rule:"min=0,max=40000" doc:"most that may be put there"`
}

// Rail is a frame member that feet can be bolted to.
type Rail struct {
	ID          string  `yaml:"id" rule:"required,id" doc:"short name"`
	Name        string  `yaml:"name,omitempty" doc:"left frame rail, second cross-member"`
	Outline     []XY    `yaml:"outline" rule:"required,polygon,minlen=3,maxlen=200" doc:"corners in plan"`
	FloorMM     float64 `yaml:"floor_mm" rule:"required,min=-5000,max=10000" doc:"height of its lower face"`
	CeilingMM   float64 `yaml:"ceiling_mm" rule:"required,min=-5000,max=10000" doc:"height of its upper face"`
	ThicknessMM float64 `yaml:"thickness_mm,omitempty" rule:"min=0,max=50" doc:"wall thickness at the bolts"`
	StrengthMPa float64 `yaml:"strength_mpa,omitempty" rule:"min=0,max=2000" doc:"tensile strength of its steel; an estimate unless the maker states it"`
}
