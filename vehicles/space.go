package vehicles

// Level is a part of a bay or box with one floor and one ceiling. A stepped bay is several levels side by side.
type Level struct {
	Outline   []XY    `yaml:"outline" rule:"required,polygon,minlen=3,maxlen=2000" doc:"corners in plan, in order, without repeating the first"`
	FloorMM   float64 `yaml:"floor_mm" rule:"required,min=-5000,max=10000" doc:"height of the floor"`
	CeilingMM float64 `yaml:"ceiling_mm" rule:"required,min=-5000,max=10000" doc:"height of the ceiling; above the floor"`
}

// Bay is a space in the chassis where boxes may go: where the old driveline, tank, exhaust or seat box was.
type Bay struct {
	ID          string    `yaml:"id" rule:"required,id" doc:"short name, unique among the bays"`
	Name        string    `yaml:"name,omitempty" doc:"name shown on drawings"`
	Levels      []Level   `yaml:"levels" rule:"required,minlen=1,maxlen=50" doc:"the parts of the bay, each with one floor and one ceiling, in the vehicle's frame"`
	KeepOuts    []KeepOut `yaml:"keep_outs,omitempty" rule:"maxlen=200" doc:"volumes inside the bay where nothing may stand"`
	ClearanceMM float64   `yaml:"clearance_mm" rule:"min=0,max=200" doc:"clearance from the bay's walls to a box; 5 to 15 mm is common practice"`
	Access      string    `yaml:"access,omitempty" rule:"oneof=below|above|left|right|front|rear" doc:"the side a box is brought in from"`
	InCabin     bool      `yaml:"in_cabin,omitempty" doc:"true where the bay opens to the passenger space, so that boxes must be sealed and vented outside"`
}

// KeepOut is a volume where nothing may stand.
type KeepOut struct {
	ID        string  `yaml:"id" rule:"required,id" doc:"short name, unique among the keep-outs of its list"`
	Name      string  `yaml:"name,omitempty" doc:"what is there: propeller shaft swing, bump travel, brake pipe, jacking point"`
	Kind      string  `yaml:"kind,omitempty" rule:"oneof=fixed|moving|hot|path|structure" doc:"fixed part, moving part, hot part, path needed to take a box out, structure"`
	Outline   []XY    `yaml:"outline" rule:"required,polygon,minlen=3,maxlen=2000" doc:"corners in plan"`
	FloorMM   float64 `yaml:"floor_mm" rule:"required,min=-5000,max=10000" doc:"height of the lower face"`
	CeilingMM float64 `yaml:"ceiling_mm" rule:"required,min=-5000,max=10000" doc:"height of the upper face"`
	MarginMM  float64 `yaml:"margin_mm,omitempty" rule:"min=0,max=1000" doc:"distance that has to be kept from it all round"`
}

// Zone is a volume of the vehicle in which a box is allowed only under conditions.
type Zone struct {
	ID        string  `yaml:"id" rule:"required,id" doc:"short name"`
	Name      string  `yaml:"name,omitempty" doc:"name shown on drawings"`
	Kind      string  `yaml:"kind" rule:"required,oneof=passenger|luggage|crush_front|crush_rear|crush_side" doc:"passenger or luggage space (sealed, vented outside), or a part of the body that a collision crushes first"`
	Outline   []XY    `yaml:"outline" rule:"required,polygon,minlen=3,maxlen=2000" doc:"corners in plan"`
	FloorMM   float64 `yaml:"floor_mm" rule:"required,min=-5000,max=10000" doc:"height of the lower face"`
	CeilingMM float64 `yaml:"ceiling_mm" rule:"required,min=-5000,max=10000" doc:"height of the upper face"`
}

// Part is a thing with a mass and a place: taken out of the donor, put in, or carried.
type Part struct {
	ID          string  `yaml:"id" rule:"required,id" doc:"short name, unique in its list"`
	Name        string  `yaml:"name,omitempty" doc:"name shown in the mass ledger"`
	MassKg      float64 `yaml:"mass_kg" rule:"required,min=0,max=20000" doc:"mass"`
	PlusMinusKg float64 `yaml:"plus_minus_kg,omitempty" rule:"min=0,max=5000" doc:"half width of the mass's uncertainty; when absent it follows from how the mass is known"`
	At          XYZ     `yaml:"at_mm" rule:"required,min=-10000,max=20000" doc:"centre of gravity [x, y, z]"`
	Known       string  `yaml:"known" rule:"required,oneof=weighed|datasheet|guess" doc:"how the mass is known"`
	SizeMM      *XYZ    `yaml:"size_mm,omitempty" rule:"min=0,max=10000" doc:"length, width, height of its envelope, for its own inertia and for drawing"`
}
