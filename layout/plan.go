package layout

import "stowbay/vehicles"

// Format is the number of the plan format that this version writes.
const Format = 1

// Plan is one document: a donor and the arrangements tried in it.
type Plan struct {
	Format   int    `yaml:"format" rule:"required,min=1,max=1" doc:"number of this file format"`
	Name     string `yaml:"name" rule:"required,maxlen=200" doc:"name of the plan"`
	Revision string `yaml:"revision,omitempty" rule:"maxlen=40" doc:"revision shown in the report's title block"`
	Date     string `yaml:"date,omitempty" rule:"maxlen=40" doc:"date shown in the report's title block, year-month-day"`
	Author   string `yaml:"author,omitempty" rule:"maxlen=200" doc:"who drew it"`
	Note     string `yaml:"note,omitempty" rule:"maxlen=20000" doc:"anything worth saying"`

	Donor        string         `yaml:"donor" rule:"required,id" doc:"the donor, by its id in the library below or the catalogue"`
	Library      Library        `yaml:"library,omitempty" doc:"the plan's own donors, modules and gear; they come before the catalogue's"`
	Settings     Settings       `yaml:"settings,omitempty" doc:"what the checks need to know"`
	Underlays    []Underlay     `yaml:"underlays,omitempty" rule:"maxlen=20" doc:"pictures laid under the views"`
	Arrangements []*Arrangement `yaml:"arrangements" rule:"required,minlen=1,maxlen=50" doc:"the arrangements tried"`
	Build        *Build         `yaml:"build,omitempty" doc:"the build record: modules received, measured and placed, joints tightened"`
}

// Library holds records that the plan carries itself.
type Library struct {
	Donors  []*vehicles.Donor  `yaml:"donors,omitempty" rule:"maxlen=50" doc:"donors"`
	Modules []*vehicles.Module `yaml:"modules,omitempty" rule:"maxlen=200" doc:"modules"`
	Gear    []*vehicles.Gear   `yaml:"gear,omitempty" rule:"maxlen=500" doc:"gear"`
}

// Underlay is a picture laid under a view to draw over. Picture pixel (u, v), v downward, lands at
// At + Scale*(u cos t - v sin t, u sin t + v cos t) in the view's plane as drawn (right, down).
type Underlay struct {
	ID       string      `yaml:"id" rule:"required,id" doc:"short name"`
	View     string      `yaml:"view" rule:"required,oneof=plan|side|rear" doc:"the view it lies under"`
	File     string      `yaml:"file" rule:"required,maxlen=1000" doc:"PNG or JPEG, relative to the plan's folder"`
	MMPerPx  float64     `yaml:"mm_per_pixel" rule:"required,min=0.001,max=1000" doc:"scale"`
	TurnDeg  float64     `yaml:"turn_deg,omitempty" rule:"min=-360,max=360" doc:"turn, clockwise as drawn"`
	At       vehicles.XY `yaml:"at_mm" rule:"required,min=-100000,max=100000" doc:"where the picture's top left corner lies, in the view's plane"`
	FadePct  float64     `yaml:"fade_pct,omitempty" rule:"min=0,max=100" doc:"how far it is faded"`
	Hidden   bool        `yaml:"hidden,omitempty" doc:"true while it is not shown"`
	Unlocked bool        `yaml:"unlocked,omitempty" doc:"true while it can be moved"`
}

// Arrangement is one idea of where everything goes.
type Arrangement struct {
	ID       string             `yaml:"id" rule:"required,id" doc:"short name"`
	Name     string             `yaml:"name" rule:"required,maxlen=200" doc:"name shown"`
	Note     string             `yaml:"note,omitempty" rule:"maxlen=20000" doc:"notes"`
	Bays     []vehicles.Bay     `yaml:"bays,omitempty" rule:"maxlen=100" doc:"the bays, as surveyed in the donor or redrawn"`
	KeepOuts []vehicles.KeepOut `yaml:"keep_outs,omitempty" rule:"maxlen=500" doc:"more volumes where nothing may stand, besides the donor's"`
	Boxes    []*Box             `yaml:"boxes,omitempty" rule:"maxlen=200" doc:"the boxes"`
	Gear     []PlacedGear       `yaml:"gear,omitempty" rule:"maxlen=500" doc:"gear outside the boxes, in the vehicle's frame: inverter, charger, pump"`
	Strings  []String           `yaml:"strings,omitempty" rule:"maxlen=200" doc:"the series strings; absent: routed automatically from the counts below"`
	Series   int                `yaml:"series,omitempty" rule:"min=0,max=2000" doc:"modules in series in a string; 0: as many as there are, over the parallel strings"`
	Parallel int                `yaml:"parallel,omitempty" rule:"min=0,max=200" doc:"strings in parallel; 0 means 1"`
	Cables   []Cable            `yaml:"cables,omitempty" rule:"maxlen=500" doc:"cable runs between boxes and gear that are not left to the defaults"`
	Loop     Loop               `yaml:"coolant_loop,omitempty" doc:"the coolant loop"`
	Parts    []vehicles.Part    `yaml:"parts,omitempty" rule:"maxlen=500" doc:"other parts put in with this arrangement only"`
	Mirrors  []Mirror           `yaml:"mirrors,omitempty" rule:"maxlen=100" doc:"boxes that follow another one as its mirror image across the centre plane"`
}

// String is one series string, from its most negative module to its most positive.
type String struct {
	ID      string   `yaml:"id" rule:"required,id" doc:"short name"`
	Modules []string `yaml:"modules" rule:"required,minlen=1,maxlen=2000" doc:"box/module ids in order from pack negative to pack positive"`
	Pinned  bool     `yaml:"pinned,omitempty" doc:"true where the automatic routing must leave the order alone"`
}

// Cable is a traction cable between two places.
type Cable struct {
	ID         string         `yaml:"id" rule:"required,id" doc:"short name"`
	From       string         `yaml:"from" rule:"required,maxlen=200" doc:"box or gear id"`
	To         string         `yaml:"to" rule:"required,maxlen=200" doc:"box or gear id"`
	SectionMM2 float64        `yaml:"section_mm2,omitempty" rule:"min=0,max=1000" doc:"conductor section; 0: the settings'"`
	Via        []vehicles.XYZ `yaml:"via_mm,omitempty" rule:"maxlen=100" doc:"points it passes; absent: along the axes"`
}

// Loop is the order in which coolant passes the boxes and gear.
type Loop struct {
	Pump     string       `yaml:"pump,omitempty" rule:"maxlen=200" doc:"gear id of the pump placed"`
	Radiator string       `yaml:"radiator,omitempty" rule:"maxlen=200" doc:"gear id of the radiator placed"`
	Branches []LoopBranch `yaml:"branches,omitempty" rule:"maxlen=50" doc:"branches in parallel; absent: every box in one branch, modules in series"`
	HoseMM   float64      `yaml:"hose_mm,omitempty" rule:"min=0,max=100" doc:"inner diameter of the hoses; 0 means 16"`
}

// LoopBranch is one branch of the coolant loop.
type LoopBranch struct {
	ID      string   `yaml:"id" rule:"required,id" doc:"short name"`
	Boxes   []string `yaml:"boxes" rule:"required,minlen=1,maxlen=200" doc:"boxes or gear in the order in which coolant passes them"`
	Modules string   `yaml:"modules,omitempty" rule:"oneof=series|parallel" doc:"how the modules inside each box are joined; series where absent"`
}

// Mirror ties one box to another as its mirror image across the vehicle's centre plane.
type Mirror struct {
	Of  string `yaml:"of" rule:"required,id" doc:"the box that is edited"`
	Box string `yaml:"box" rule:"required,id" doc:"the box that follows"`
}
