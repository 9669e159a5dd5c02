package layout

// Build is the build record: what came in, where it went, who tightened what. Entries are only appended.
type Build struct {
	Received []Received `yaml:"received,omitempty" rule:"maxlen=5000" doc:"modules as they arrived"`
	Slots    []Slot     `yaml:"slots,omitempty" rule:"maxlen=20000" doc:"which module sits in which slot; a replacement is a later entry for the same slot"`
	Signed   []Signed   `yaml:"signed,omitempty" rule:"maxlen=50000" doc:"joints tightened and checked"`
	Photos   []Photo    `yaml:"photos,omitempty" rule:"maxlen=5000" doc:"photographs"`
	Tests    []Test     `yaml:"tests,omitempty" rule:"maxlen=5000" doc:"insulation and other tests"`
}

// Received is one module at incoming inspection.
type Received struct {
	Shop       string    `yaml:"shop_number" rule:"required,maxlen=64" doc:"the workshop's own number"`
	Serial     string    `yaml:"serial,omitempty" rule:"maxlen=200" doc:"the maker's serial number"`
	Module     string    `yaml:"module" rule:"required,id" doc:"module type"`
	Date       string    `yaml:"date,omitempty" rule:"maxlen=40" doc:"date of inspection"`
	By         string    `yaml:"by,omitempty" rule:"maxlen=200" doc:"who inspected it"`
	CellsV     []float64 `yaml:"cells_v,omitempty" rule:"maxlen=400,min=0,max=6" doc:"voltage of every cell, from negative to positive"`
	MilliOhm   float64   `yaml:"milliohm,omitempty" rule:"min=0,max=10000" doc:"resistance, where measured"`
	CapacityAh float64   `yaml:"capacity_ah,omitempty" rule:"min=0,max=10000" doc:"capacity, where measured"`
	Note       string    `yaml:"note,omitempty" rule:"maxlen=2000" doc:"damage, dents, swelling"`
	Refused    bool      `yaml:"refused,omitempty" doc:"true where it must not be used"`
}

// Slot says which received module sits in which place of the layout.
type Slot struct {
	Arrangement string `yaml:"arrangement" rule:"required,id" doc:"arrangement id"`
	Slot        string `yaml:"slot" rule:"required,maxlen=200" doc:"box/module id"`
	Shop        string `yaml:"shop_number" rule:"required,maxlen=64" doc:"the workshop's number of the module"`
	Date        string `yaml:"date,omitempty" rule:"maxlen=40" doc:"date"`
	By          string `yaml:"by,omitempty" rule:"maxlen=200" doc:"who put it in"`
	Reason      string `yaml:"reason,omitempty" rule:"maxlen=2000" doc:"why it replaced the one before"`
}

// Signed is one joint tightened and checked.
type Signed struct {
	Joint     string  `yaml:"joint" rule:"required,maxlen=300" doc:"joint id as on the check sheet"`
	TorqueNm  float64 `yaml:"torque_nm,omitempty" rule:"min=0,max=2000" doc:"torque applied"`
	Tightened string  `yaml:"tightened_by,omitempty" rule:"maxlen=200" doc:"who tightened it"`
	Checked   string  `yaml:"checked_by,omitempty" rule:"maxlen=200" doc:"who checked it"`
	Date      string  `yaml:"date,omitempty" rule:"maxlen=40" doc:"date"`
}

// Photo is a photograph that goes with the vehicle's papers.
type Photo struct {
	Box  string `yaml:"box,omitempty" rule:"maxlen=64" doc:"box it shows"`
	File string `yaml:"file" rule:"required,maxlen=1000" doc:"file, relative to the plan's folder"`
	Note string `yaml:"note,omitempty" rule:"maxlen=2000" doc:"what it shows"`
}

// Test is one test of a box or the pack.
type Test struct {
	Box    string  `yaml:"box,omitempty" rule:"maxlen=64" doc:"box, or empty for the pack"`
	Kind   string  `yaml:"kind" rule:"required,oneof=insulation|bonding|seal|vent|drain|pilot" doc:"what was tested"`
	Value  float64 `yaml:"value,omitempty" rule:"min=0,max=1000000000000" doc:"result"`
	Unit   string  `yaml:"unit,omitempty" rule:"maxlen=20" doc:"its unit"`
	Passed bool    `yaml:"passed,omitempty" doc:"true where the tester called it passed"`
	By     string  `yaml:"by,omitempty" rule:"maxlen=200" doc:"who tested"`
	Date   string  `yaml:"date,omitempty" rule:"maxlen=40" doc:"date"`
}
