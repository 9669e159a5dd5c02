package assembly

import (
	"fmt"
	"math"

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

// CheckSheets are the sheets of all boxes. They come from the plan, so that no joint can be forgotten: there is a row
// for every terminal of a module or of gear and for every bolt of a foot.
func CheckSheets(s *layout.Scene) []CheckSheet {
	done := map[string]layout.Signed{}
	if b := s.Plan.Build; b != nil {
		for _, x := range b.Signed {
			done[x.Joint] = x
		}
	}
	var out []CheckSheet
	for _, b := range s.Boxes {
		c := CheckSheet{Box: b, Mechanical: footRows(b), Electrical: terminalRows(b), Tests: testRows(s.Plan.Build, b)}
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

func footRows(b *layout.BoxScene) []TorqueRow {
	var out []TorqueRow
	for i := range b.Box.Feet {
		f := &b.Box.Feet[i]
		n := max(f.Bolts, 1)
		for k := range n {
			r := TorqueRow{ID: b.Box.ID + "/" + f.ID, What: "foot bolt", Thread: f.Bolt + " " + f.Class}
			if n > 1 {
				r.ID += fmt.Sprintf("/%d", k+1)
			}
			r.TorqueNm, r.Source = footTorque(f)
			out = append(out, r)
		}
	}
	return out
}

func footTorque(f *layout.Foot) (float64, string) {
	if f.TorqueNm > 0 {
		return f.TorqueNm, "plan"
	}
	t, ok := BoltTorqueNm(f.Bolt, f.Class)
	if !ok {
		return 0, ""
	}
	return math.Round(t), "T = K d F, F = 75 % of proof load, K = 0.2 (plain, dry)"
}

// stressMM2 and the proof stresses in MPa are those of ISO 898-1 (areas of M6, M8, M10 and M14 from memory; they
// reproduce a published torque table within 1.5 %).
var stressMM2 = map[string]struct{ d, area float64 }{
	"M6": {6, 20.1}, "M8": {8, 36.6}, "M10": {10, 58.0}, "M12": {12, 84.3}, "M14": {14, 115}, "M16": {16, 157}, "M20": {20, 245},
}

// BoltTorqueNm is the torque of a plain dry bolt by T = K d F with K = 0.2 and F = 75 % of the proof load, the common
// rule of handbooks. Oil, zinc or a locking compound change it: the maker of the bolt has the last word.
func BoltTorqueNm(bolt, class string) (float64, bool) {
	b, ok := stressMM2[bolt]
	proof := map[string]float64{"8.8": 580, "10.9": 830, "12.9": 970}[class]
	if class == "8.8" && b.d > 16 {
		proof = 600
	}
	if !ok || proof == 0 {
		return 0, false
	}
	return 0.2 * b.d / 1000 * 0.75 * proof * b.area, true
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
	return fmt.Sprintf("%g %s, %s", t.Value, t.Unit, words)
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
