package assembly

import (
	"fmt"
	"strings"

	"stowbay/layout"
)

// CheckSheet is a box's sheet, filled in at the bench and signed.
type CheckSheet struct {
	Box        *layout.BoxScene
	Mechanical []TorqueRow
	Electrical []TorqueRow
	Tests      []TestRow
	Photos     []layout.Photo
}

// TorqueRow is one bolt or terminal. Tightened, Checked and Date are blank until the build record has them.
type TorqueRow struct {
	ID                       string // as in the build record
	What, Thread             string
	TorqueNm                 float64 // 0: not known
	Source                   string  // where the torque comes from
	DoneNm                   float64 // as entered; 0: not entered
	Tightened, Checked, Date string
}

// TestRow is one test or look at the finished box.
type TestRow struct {
	Kind   string // of layout.Test; empty: looked at, not measured
	Words  string
	Result string // blank until the build record has it
	By     string
	Date   string
}

// FootTorque is the torque in N m of the bolts of a box's foot, counted from 0, and where it comes from; 0: not known.
type FootTorque func(box string, foot int) (nm float64, source string)

// CheckSheets are the sheets of all boxes. They come from the plan, so that no joint can be forgotten: there is a row
// for every terminal of a module or of gear and for every bolt of a foot. torque gives the torque of a foot's bolts
// where the plan leaves it open, by box and number of the foot, and says where it comes from; it may be nil.
func CheckSheets(s *layout.Scene, torque FootTorque) []CheckSheet {
	done := map[string]layout.Signed{}
	if b := s.Plan.Build; b != nil {
		for _, x := range b.Signed {
			done[x.Joint] = x
		}
	}
	var out []CheckSheet
	for _, b := range s.Boxes {
		c := CheckSheet{Box: b, Mechanical: footRows(b, torque), Electrical: terminalRows(b), Tests: testRows(s.Plan.Build, b)}
		sign(c.Mechanical, done)
		sign(c.Electrical, done)
		c.Photos = photosOf(s.Plan.Build, b.Box.ID)
		out = append(out, c)
	}
	return out
}

func sign(rows []TorqueRow, done map[string]layout.Signed) {
	for i := range rows {
		s := done[rows[i].ID]
		rows[i].DoneNm, rows[i].Tightened, rows[i].Checked, rows[i].Date = s.TorqueNm, s.Tightened, s.Checked, s.Date
	}
}

func footRows(b *layout.BoxScene, torque FootTorque) []TorqueRow {
	var out []TorqueRow
	for i := range b.Box.Feet {
		f := &b.Box.Feet[i]
		n := max(f.Bolts, 1)
		for k := range n {
			r := TorqueRow{ID: b.Box.ID + "/" + f.ID, What: "foot bolt", Thread: f.Bolt + " " + f.Class}
			if n > 1 {
				r.ID += fmt.Sprintf("/%d", k+1)
			}
			if r.TorqueNm, r.Source = f.TorqueNm, "plan"; f.TorqueNm <= 0 {
				r.Source = ""
				if torque != nil {
					r.TorqueNm, r.Source = torque(b.Box.ID, i)
				}
			}
			out = append(out, r)
		}
	}
	return out
}

func terminalRows(b *layout.BoxScene) []TorqueRow {
	var out []TorqueRow
	row := func(of, what, source string, t *layout.TerminalAt) {
		r := TorqueRow{ID: of + "/" + t.ID, What: what, Thread: t.Bolt, TorqueNm: t.TorqueNm, Source: source}
		if t.TorqueNm <= 0 {
			r.Source = ""
		}
		out = append(out, r)
	}
	for _, m := range b.Modules {
		for i := range m.Terminals {
			row(m.ID, "module terminal, "+m.Terminals[i].Polarity, "module maker's data as entered", &m.Terminals[i])
		}
	}
	for _, g := range b.Gear {
		for i := range g.Terminals {
			row(g.ID, GearWords(g.Gear.Kind)+" terminal", "gear maker's data as entered", &g.Terminals[i])
		}
	}
	return out
}

// GearWords are a kind of gear in plain words.
func GearWords(kind string) string {
	out := []rune(kind)
	for i, r := range out {
		if r == '_' {
			out[i] = ' '
		}
	}
	return string(out)
}

// looks are what is tested and looked at on every box with modules. Common practice, no source.
var looks = []TestRow{
	{Kind: "insulation", Words: "Insulation resistance between each pole and the box"},
	{Kind: "bonding", Words: "Bonding of lid and box to the chassis"},
	{Kind: "seal", Words: "Lid seal whole, all lid bolts in"},
	{Kind: "vent", Words: "Vent clear and led outside"},
	{Kind: "drain", Words: "Drain clear"},
	{Kind: "pilot", Words: "Pilot loop opens with the lid and with each connector"},
	{Words: "Every terminal and bolt head covered; no tool or loose part left inside"},
	{Words: "Warning label (yellow, black border and arrow) on the lid and on every cover over live parts"},
}

func testRows(b *layout.Build, box *layout.BoxScene) []TestRow {
	out := append([]TestRow(nil), looks...)
	for _, g := range box.Gear {
		if g.Gear.Kind == "service_disconnect" {
			out = append(out, TestRow{Words: "Service disconnect " + g.ID + ": opens by hand, stays out, leaves nothing bare that a finger reaches"})
		}
	}
	if b == nil {
		return out
	}
	for i := range out {
		for _, t := range b.Tests {
			if out[i].Kind != "" && t.Kind == out[i].Kind && t.Box == box.Box.ID {
				out[i].Result, out[i].By, out[i].Date = resultWords(t), t.By, t.Date
			}
		}
	}
	return out
}

func resultWords(t layout.Test) string {
	words := "not passed"
	if t.Passed {
		words = "called passed"
	}
	if t.Unit == "" && t.Value == 0 {
		return words
	}
	return strings.TrimSpace(fmt.Sprintf("%g %s", t.Value, t.Unit)) + ", " + words
}

func photosOf(b *layout.Build, box string) []layout.Photo {
	var out []layout.Photo
	if b != nil {
		for _, p := range b.Photos {
			if p.Box == box {
				out = append(out, p)
			}
		}
	}
	return out
}
