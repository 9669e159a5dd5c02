package layout

import "stowbay/vehicles"

// head is what a plan says of itself.
type head struct {
	Name     string `yaml:"name" rule:"required,maxlen=200" json:"name"`
	Revision string `yaml:"revision,omitempty" rule:"maxlen=40" json:"revision,omitempty"`
	Date     string `yaml:"date,omitempty" rule:"maxlen=40" json:"date,omitempty"`
	Author   string `yaml:"author,omitempty" rule:"maxlen=200" json:"author,omitempty"`
	Note     string `yaml:"note,omitempty" rule:"maxlen=20000" json:"note,omitempty"`
	Donor    string `yaml:"donor" rule:"required,id" json:"donor"`
}

func (p *Plan) head() head {
	return head{p.Name, p.Revision, p.Date, p.Author, p.Note, p.Donor}
}

func (p *Plan) withHead(h head) *Plan {
	q := *p
	q.Name, q.Revision, q.Date, q.Author, q.Note, q.Donor = h.Name, h.Revision, h.Date, h.Author, h.Note, h.Donor
	return &q
}

// arrangementHead is what an arrangement says of itself besides its lists.
type arrangementHead struct {
	Name     string `yaml:"name" rule:"required,maxlen=200" json:"name"`
	Note     string `yaml:"note,omitempty" rule:"maxlen=20000" json:"note,omitempty"`
	Series   int    `yaml:"series,omitempty" rule:"min=0,max=2000" json:"series,omitempty"`
	Parallel int    `yaml:"parallel,omitempty" rule:"min=0,max=200" json:"parallel,omitempty"`
	Loop     Loop   `yaml:"coolant_loop,omitempty" json:"coolant_loop"`
}

func (a *Arrangement) head() *arrangementHead {
	return &arrangementHead{a.Name, a.Note, a.Series, a.Parallel, a.Loop}
}

func getArrangementHead(p *Plan, at where) (*Plan, *arrangementHead, error) {
	a, err := p.find(at.Arrangement)
	if err != nil {
		return nil, nil, err
	}
	return p, a.head(), nil
}

func setArrangementHead(p *Plan, at where, h *arrangementHead) *Plan {
	a := *p.Arrangement(at.Arrangement)
	a.Name, a.Note, a.Series, a.Parallel, a.Loop = h.Name, h.Note, h.Series, h.Parallel, h.Loop
	return p.WithArrangement(&a)
}

// boxHead is what a box is and where it stands, without what is in and on it.
type boxHead struct {
	Name    string           `yaml:"name,omitempty" rule:"maxlen=200" json:"name,omitempty"`
	Bay     string           `yaml:"bay,omitempty" rule:"maxlen=64" json:"bay,omitempty"`
	At      vehicles.XYZ     `yaml:"at_mm" rule:"required,min=-10000,max=20000" json:"at_mm"`
	TurnDeg float64          `yaml:"turn_deg,omitempty" rule:"min=-360,max=360" json:"turn_deg,omitempty"`
	Levels  []vehicles.Level `yaml:"levels" rule:"required,minlen=1,maxlen=50" json:"levels"`
	Shell   Shell            `yaml:"shell" json:"shell"`
	Locked  bool             `yaml:"locked,omitempty" json:"locked,omitempty"`
	Sealed  bool             `yaml:"sealed,omitempty" json:"sealed,omitempty"`
}

func (b *Box) head() *boxHead {
	return &boxHead{b.Name, b.Bay, b.At, b.TurnDeg, b.Levels, b.Shell, b.Locked, b.Sealed}
}

func getBoxHead(p *Plan, at where) (*Plan, *boxHead, error) {
	b, err := p.findBox(at)
	if err != nil {
		return nil, nil, err
	}
	return p, b.head(), nil
}

func setBoxHead(p *Plan, at where, h *boxHead) *Plan {
	b := *p.Arrangement(at.Arrangement).Box(at.Box)
	b.Name, b.Bay, b.At, b.TurnDeg, b.Levels, b.Shell, b.Locked, b.Sealed = h.Name, h.Bay, h.At, h.TurnDeg, h.Levels, h.Shell, h.Locked, h.Sealed
	return p.withBox(at.Arrangement, &b)
}
