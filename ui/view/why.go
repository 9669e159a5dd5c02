package view

import (
	"fmt"
	"math"
	"strings"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/layout/mass"
	"stowbay/ui/paint"
)

// Explanation is a reading laid open: what it is now, at the start and in the donor, and how it was worked out.
type Explanation struct {
	Reading layout.Reading
	Why     layout.Why
	Start   *float64 // as it was when the arrangement was opened or marked; nil where nothing is known of it
	Donor   *float64 // the donor's; nil where the donor has no such figure
	More    []string // what else is worth saying
	units   Units
}

// Explain lays open the reading with that key; of is the box, string or load case it belongs to, "" for the whole
// arrangement. It reports whether there is such a reading.
func (m *Model) Explain(key, of string) (*Explanation, bool) {
	r, ok := find(m.eval.Readings, key, of)
	if !ok {
		return nil, false
	}
	x := &Explanation{Reading: r, units: m.Units()}
	if r.Why != nil {
		x.Why = r.Why()
	}
	if s := m.Start(); s != nil {
		if was, ok := find(s.Readings, key, of); ok {
			x.Start = &was.Value
		}
	}
	if v, ok := donorFigure(m.eval.Mass, key, of); ok {
		x.Donor = &v
	}
	if strings.HasPrefix(key, "voltage_v") {
		x.More = m.windowLines()
	}
	return x, true
}

func find(rs []layout.Reading, key, of string) (layout.Reading, bool) {
	for _, r := range rs {
		if r.Key == key && r.Of == of {
			return r, true
		}
	}
	return layout.Reading{}, false
}

// donorFigure is the donor's figure for a reading of masses, loads or stability in a load case, "" for the kerb case.
func donorFigure(r *mass.Result, key, of string) (float64, bool) {
	if r == nil {
		return 0, false
	}
	for i := range r.Cases {
		c := &r.Cases[i]
		if c.ID == of || of == "" && i == 0 {
			f, ok := stateFigures(&c.Donor)[key]
			return f.Value, ok
		}
	}
	return 0, false
}

func stateFigures(s *mass.State) map[string]mass.Figure {
	return map[string]mass.Figure{
		"mass_kg": s.Body.Kg, "cg_mm.x": s.Body.X, "cg_mm.y": s.Body.Y, "cg_mm.z": s.Body.Z,
		"axles_kg.front": s.Front, "axles_kg.rear": s.Rear,
		WheelKeys[0]: s.FrontLeft, WheelKeys[1]: s.FrontRight, WheelKeys[2]: s.RearLeft, WheelKeys[3]: s.RearRight,
		"front_share_pct": s.FrontSharePct, "side_pct": s.SidePct, "ssf": s.SSF, "tilt_deg": s.TiltDeg,
		"climb_deg": s.ClimbDeg, "descend_deg": s.DescendDeg, "braking_kg.front": s.BrakingFront, "braking_kg.rear": s.BrakingRear,
	}
}

// windowLines say what the converters take and whether the pack's voltage stays within it.
func (m *Model) windowLines() []string {
	lo, hi := m.eval.Value("voltage_v.min"), m.eval.Value("voltage_v.max")
	var out []string
	for _, w := range m.windows() {
		verdict := "the pack stays within"
		switch {
		case lo < w.lo && hi > w.hi:
			verdict = "the pack goes below and above"
		case lo < w.lo:
			verdict = "the pack goes below"
		case hi > w.hi:
			verdict = "the pack goes above"
		}
		out = append(out, fmt.Sprintf("The %s takes %s to %s: %s.", w.name, m.Units().Text(w.lo, "V"), m.Units().Text(w.hi, "V"), verdict))
	}
	if len(out) == 0 {
		out = append(out, "No inverter or charger is chosen yet, so there is no window to compare with: Edit, Plan settings.")
	}
	return out
}

// Name is the reading's name in the units shown.
func (x *Explanation) Name() string { return x.units.Prose(x.Reading.Label) }

// figure writes a value of the reading with its unit.
func (x *Explanation) figure(v float64) string {
	if x.Reading.Unit == "" {
		return Number(v, x.decimals(v))
	}
	return x.units.Text(v, x.Reading.Unit)
}

// decimals is how many decimals a bare number is shown with: counts have none.
func (x *Explanation) decimals(v float64) int {
	if v == math.Round(v) && x.Reading.Value == math.Round(x.Reading.Value) {
		return 0
	}
	return 2
}

// delta writes by how much the reading differs from another value.
func (x *Explanation) delta(from float64) string {
	d := x.Reading.Value - from
	if x.Reading.Unit == "" {
		if s := signed(d, x.decimals(d)); s != "" {
			return s
		}
		return "no change"
	}
	if s := x.units.Delta(d, x.Reading.Unit); !strings.HasPrefix(s, "±") {
		return s
	}
	return "no change"
}

// basis says what the figure rests on where that is not data alone.
func (x *Explanation) basis() string {
	if b := x.Reading.Basis; b != "" && b != layout.Computed {
		return fmt.Sprintf("It rests on an %s somewhere: see what went in.", b)
	}
	return ""
}

// input writes one figure that went in.
func (x *Explanation) input(in layout.Input) string {
	v, unit := x.units.Show(in.Value, in.Unit)
	s := threeFigures(v)
	if unit != "" {
		s += " " + unit
	}
	return s
}

// threeFigures writes a number with as many decimals as three figures take, none for large ones.
func threeFigures(v float64) string {
	if v == math.Round(v) || math.Abs(v) >= 100 {
		return Number(v, 0)
	}
	d := 2 - int(math.Floor(math.Log10(math.Abs(v))))
	s := Number(v, min(max(d, 1), 8))
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Text is the explanation as plain text, for the clipboard.
func (x *Explanation) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", x.Name(), x.figure(x.Reading.Value))
	if x.Reading.Of != "" {
		fmt.Fprintf(&b, " (%s)", x.Reading.Of)
	}
	if x.Reading.PlusMinus > 0 {
		fmt.Fprintf(&b, " ± %s", x.figure(x.Reading.PlusMinus))
	}
	if x.Start != nil {
		fmt.Fprintf(&b, "\nAt the start: %s (%s)", x.figure(*x.Start), x.delta(*x.Start))
	}
	if x.Donor != nil {
		fmt.Fprintf(&b, "\nDonor: %s (%s)", x.figure(*x.Donor), x.delta(*x.Donor))
	}
	for _, s := range append([]string{x.basis()}, x.More...) {
		if s != "" {
			b.WriteString("\n" + s)
		}
	}
	if x.Why.Formula != "" {
		fmt.Fprintf(&b, "\nFormula: %s", x.Why.Formula)
	}
	for _, in := range x.Why.Inputs {
		fmt.Fprintf(&b, "\n- %s: %s", in.Name, x.input(in))
		if in.Note != "" {
			fmt.Fprintf(&b, " (%s)", x.units.Prose(in.Note))
		}
	}
	if x.Why.Source != "" {
		fmt.Fprintf(&b, "\nSource: %s", x.Why.Source)
	}
	if x.Why.Remark != "" {
		b.WriteString("\n" + x.units.Prose(x.Why.Remark))
	}
	return b.String()
}

// Page sets the explanation.
func (x *Explanation) Page(width float64, fonts *paint.Fonts) *Page {
	w := newWriter(width, fonts)
	w.y = 8
	w.standing(x)
	for _, s := range append([]string{x.basis()}, x.More...) {
		if s != "" {
			w.wrapped(w.pad, w.w-w.pad, RoleBody, 12.5, s, 0)
			w.y += 2
		}
	}
	w.section("Formula", x.Why.Formula)
	w.inputs(x)
	w.section("Source", x.Why.Source)
	w.section("Where it holds", x.units.Prose(x.Why.Remark))
	w.y += 4
	w.wrapped(w.pad, w.w-w.pad, RoleFaint, 10.5, Caution, 0)
	w.y += 8
	return w.done()
}

// standing sets the figure now, at the start and of the donor side by side.
func (w *writer) standing(x *Explanation) {
	now := x.figure(x.Reading.Value)
	if x.Reading.PlusMinus > 0 {
		now += " ± " + x.figure(x.Reading.PlusMinus)
	}
	cells := [][3]string{{"Now", now, ""}}
	if x.Start != nil {
		cells = append(cells, [3]string{"At the start", x.figure(*x.Start), x.delta(*x.Start)})
	}
	if x.Donor != nil {
		cells = append(cells, [3]string{"Donor", x.figure(*x.Donor), x.delta(*x.Donor)})
	}
	cell := (w.w - 2*w.pad) / 3
	for i, c := range cells {
		left := w.pad + float64(i)*cell
		w.text(left, w.y+7, RoleFaint, 11, drawing.West, c[0])
		w.text(left, w.y+26, RoleBig, 16, drawing.West, w.fonts.Cut(c[1], 16, cell-8, true))
		if c[2] != "" {
			change := "changed by " + c[2]
			if c[2] == "no change" {
				change = c[2]
			}
			w.text(left, w.y+44, RoleFaint, 11, drawing.West, change)
		}
	}
	w.y += 56
}

// section sets a heading and a text; nothing where the text is empty.
func (w *writer) section(title, text string) {
	if text == "" {
		return
	}
	w.y += 4
	w.head(title)
	w.wrapped(w.pad, w.w-w.pad, RoleBody, 12.5, text, 0)
	w.y += 2
}

// inputs sets what went in as a table: name, figure, where it comes from.
func (w *writer) inputs(x *Explanation) {
	ins := x.Why.Inputs
	if len(ins) == 0 {
		return
	}
	w.y += 4
	w.head(fmt.Sprintf("What went in (%d)", len(ins)))
	figureAt := w.pad + 0.56*(w.w-2*w.pad)
	noteAt := figureAt + 14
	for _, in := range ins {
		top := w.y
		w.wrapped(w.pad, figureAt-84, RoleBody, 12, in.Name, 0)
		named := w.y
		w.text(figureAt, top+8.6, RoleFigure, 12, drawing.East, x.input(in))
		w.y = top
		w.wrapped(noteAt, w.w-w.pad, RoleFaint, 11, x.units.Prose(in.Note), 0)
		w.y = max(w.y, named, top+17)
		w.fill(w.pad, w.y, w.w-w.pad, w.y+0.6, RoleRule)
		w.y += 3
	}
}
