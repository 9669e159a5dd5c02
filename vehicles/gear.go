package vehicles

// Gear is anything electrical besides the modules: contactor, fuse, monitoring board, connector, inverter, charger.
// Its own frame is as a module's.
type Gear struct {
	Format   int    `yaml:"format" rule:"required,min=1,max=1" doc:"number of this file format"`
	ID       string `yaml:"id" rule:"required,id" doc:"short name"`
	Name     string `yaml:"name" rule:"required" doc:"name shown"`
	Note     string `yaml:"note,omitempty" doc:"anything worth saying"`
	Invented bool   `yaml:"invented,omitempty" doc:"true for demonstration data that describes no real part"`
	Kind     string `yaml:"kind" rule:"required,oneof=contactor|precharge|fuse|service_disconnect|monitoring_board|monitoring_master|connector|current_sensor|inertia_switch|isolation_monitor|inverter|charger|dc_dc|motor|heater|pump|radiator|junction" doc:"what it is"`

	LengthMM    float64    `yaml:"length_mm" rule:"required,min=1,max=3000" doc:"length"`
	WidthMM     float64    `yaml:"width_mm" rule:"required,min=1,max=3000" doc:"width"`
	HeightMM    float64    `yaml:"height_mm" rule:"required,min=1,max=2000" doc:"height"`
	MassKg      float64    `yaml:"mass_kg" rule:"required,min=0,max=2000" doc:"mass"`
	PlusMinusKg float64    `yaml:"plus_minus_kg,omitempty" rule:"min=0,max=100" doc:"half width of the mass's uncertainty"`
	Terminals   []Terminal `yaml:"terminals,omitempty" rule:"maxlen=16" doc:"power terminals"`

	VoltageMinV    float64 `yaml:"voltage_min_v,omitempty" rule:"min=0,max=2000" doc:"lowest direct voltage it works at (inverter, charger, converter)"`
	VoltageMaxV    float64 `yaml:"voltage_max_v,omitempty" rule:"min=0,max=2000" doc:"highest direct voltage it works at, or its rated voltage"`
	ContinuousA    float64 `yaml:"continuous_a,omitempty" rule:"min=0,max=10000" doc:"rated continuous current on the battery side"`
	PeakA          float64 `yaml:"peak_a,omitempty" rule:"min=0,max=20000" doc:"peak current"`
	PeakS          float64 `yaml:"peak_s,omitempty" rule:"min=0,max=600" doc:"how long the peak lasts"`
	PowerKW        float64 `yaml:"power_kw,omitempty" rule:"min=0,max=2000" doc:"rated power"`
	PeakPowerKW    float64 `yaml:"peak_power_kw,omitempty" rule:"min=0,max=4000" doc:"peak power"`
	EfficiencyPct  float64 `yaml:"efficiency_pct,omitempty" rule:"min=0,max=100" doc:"efficiency at rated power"`
	MakeA          float64 `yaml:"make_a,omitempty" rule:"min=0,max=100000" doc:"current a contactor may close on"`
	BreakA         float64 `yaml:"break_a,omitempty" rule:"min=0,max=100000" doc:"current a contactor may open at its rated voltage"`
	BreakingKA     float64 `yaml:"breaking_ka,omitempty" rule:"min=0,max=1000" doc:"breaking capacity of a fuse at its rated voltage"`
	MeltingA2S     float64 `yaml:"melting_a2s,omitempty" rule:"min=0,max=1000000000" doc:"melting integral of a fuse"`
	ClearingA2S    float64 `yaml:"clearing_a2s,omitempty" rule:"min=0,max=1000000000" doc:"total clearing integral of a fuse at its rated voltage"`
	MilliOhm       float64 `yaml:"milliohm,omitempty" rule:"min=0,max=100000" doc:"resistance in the power path"`
	PrechargeOhm   float64 `yaml:"precharge_ohm,omitempty" rule:"min=0,max=100000" doc:"resistance of the precharge resistor"`
	PrechargeJ     float64 `yaml:"precharge_j,omitempty" rule:"min=0,max=1000000" doc:"energy the precharge resistor takes once"`
	CapacitanceUF  float64 `yaml:"capacitance_uf,omitempty" rule:"min=0,max=1000000" doc:"capacitance across the battery terminals"`
	YCapacitanceUF float64 `yaml:"y_capacitance_uf,omitempty" rule:"min=0,max=1000" doc:"capacitance from each pole to the chassis"`
	IsolationMOhm  float64 `yaml:"isolation_mohm,omitempty" rule:"min=0,max=100000" doc:"isolation resistance to its case, in megohms"`
	Channels       int     `yaml:"channels,omitempty" rule:"min=0,max=1000" doc:"cells a monitoring board watches"`
	Sensors        int     `yaml:"sensors,omitempty" rule:"min=0,max=1000" doc:"temperature sensors a monitoring board reads"`
	HeatW          float64 `yaml:"heat_w,omitempty" rule:"min=0,max=100000" doc:"heat it gives to the coolant at rated power"`
	FlowLPerMin    float64 `yaml:"flow_l_per_min,omitempty" rule:"min=0,max=1000" doc:"pump: flow without resistance"`
	HeadKPa        float64 `yaml:"head_kpa,omitempty" rule:"min=0,max=1000" doc:"pump: pressure without flow; the curve between is a parabola"`
	Price          float64 `yaml:"price,omitempty" rule:"min=0,max=1000000" doc:"price of one, in the plan's money"`
}
