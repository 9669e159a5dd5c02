package assembly

import (
	"slices"
	"testing"

	"stowbay/layout"
	"stowbay/vehicles"
)

// 60 V DC is the hazardous voltage of UN Regulation 100 and 49 CFR 571.305 S3; 120 V and 6 MJ bound a maintenance segment of
// the race-car rule EV.5.1.2. What the plan says goes before them, however little it is.
func TestLimitsAndWhatThePlanSays(t *testing.T) {
	if got, want := LimitsOf(layout.Assembly{}), (Limits{250, 60, 120, 6e6}); got != want {
		t.Errorf("limits are %+v, want %+v", got, want)
	}
	if got, want := LimitsOf(layout.Assembly{ToolMM: 1, TouchV: 1, SegmentV: 1}), (Limits{1, 1, 1, 6e6}); got != want {
		t.Errorf("limits are %+v, want %+v", got, want)
	}
}

func TestBareMetalIsHalfTheDiameterOrTheAssumed(t *testing.T) {
	for mm, want := range map[float64]float64{0: 8, 1: 0.5, 12: 6} {
		near(t, "radius", radiusOf(&layout.TerminalAt{Terminal: &vehicles.Terminal{DiameterMM: mm}}), want)
	}
}

// Gear that no string runs through has no potential, and nothing can be at a voltage against it.
func TestWhatIsInNoStringHasNoPotential(t *testing.T) {
	m := modelOf(boxWith("b", "eight", 2, "inertia"))
	c := m.Conductor("b/inertia1/1")
	if c == nil || c.String != -1 || c.piece != -1 || c.mate >= 0 || c.index != m.byID[c.ID] {
		t.Fatalf("%+v", c)
	}
	b := finished(m)
	if v, ohm := b.worst(c.index); v != 0 || ohm != 0 {
		t.Errorf("%v V and %v ohm in no string", v, ohm)
	}
	if _, _, joined := b.between(c.index, m.byID["b/m1/-"]); joined {
		t.Error("it is joined to a module")
	}
	if m.Conductor("b/m9/-") != nil {
		t.Error("a conductor that is not there was found")
	}
}

// Gear whose record states no terminals gets two at its middle, and the joints lead to them.
func TestGearWithoutTerminalsIsJoinedAtItsMiddle(t *testing.T) {
	s := sceneOf(boxWith("b", "eight", 2, "bare"))
	m := New(s, inOrder(s))
	var got []string
	for _, j := range m.Joints {
		got = append(got, m.ID(j))
	}
	if want := []string{"b/m1/+ to b/m2/-", "b/m2/+ to b/bare1/one end"}; !slices.Equal(got, want) {
		t.Errorf("joints %v, want %v", got, want)
	}
	for _, end := range []string{"one end", "other end"} {
		c := m.Conductor("b/bare1/" + end)
		if c == nil || c.At != s.Boxes[0].Gear[0].CG || c.RadiusMM != 8 || c.V != 58.4 {
			t.Errorf("%s is %+v", end, c)
		}
	}
}

// A connector joins the string by the terminal of its end's polarity, or by the first and the second where it states none.
func TestConnectorJoinsByPolarity(t *testing.T) {
	for stated, want := range map[bool][2]string{true: {"-", "+"}, false: {"+", "-"}} {
		s := sceneOf(boxWith("b", "eight", 2, "connector", "connector"))
		c := inOrder(s)
		p := &c.Strings[0].Passages[0]
		p.Negative, p.Positive = p.Box.Gear[:1], p.Box.Gear[1:]
		for _, g := range p.Box.Gear {
			for i := range g.Terminals {
				if x := *g.Terminals[i].Terminal; !stated {
					x.Polarity = "none"
					g.Terminals[i].Terminal = &x
				}
			}
		}
		m := New(s, c)
		first, last := m.Joints[0], m.Joints[len(m.Joints)-1]
		if a, b := m.Conductors[first.A].ID, m.Conductors[last.B].ID; a != "b/connector1/"+want[0] || b != "b/connector2/"+want[1] {
			t.Errorf("polarity stated %v: from %s to %s, want %v", stated, a, b, want)
		}
	}
}

// A service link splits the string after any number of modules of its box, also after the first and after the last.
func TestServiceLinkLiesWhereItSplits(t *testing.T) {
	for after := 1; after <= 3; after++ {
		s := sceneOf(boxWith("b1", "eight", 3, "link"), boxWith("b2", "eight", 2))
		c := inOrder(s)
		c.Strings[0].After = after
		m := New(s, c)
		parts := m.ServiceSegments()
		if len(parts) != 2 || len(parts[0].Members) != after || len(parts[1].Members) != 5-after {
			t.Errorf("after %d: %d parts", after, len(parts))
		}
		for i, x := range m.tracks[0].seams {
			if (x.kind == bolted) != (x.joint >= 0) || x.kind != bolted && x.joint != -1 {
				t.Errorf("after %d: seam %d is %+v", after, i, x)
			}
		}
	}
}

func TestPassageHoldsTheGearOfItsBox(t *testing.T) {
	s := sceneOf(boxWith("b1", "eight", 1, "fuse"), boxWith("b2", "eight", 1, "fuse"))
	p := Passage{Box: s.Boxes[0]}
	if !p.holds(s.Boxes[0].Gear[0]) || p.holds(s.Boxes[1].Gear[0]) {
		t.Error("a passage holds its own box's gear and no other")
	}
}

// Sums over stretches of a finished string, read off once, are those of its pieces one by one.
func TestSumsOfStretches(t *testing.T) {
	s := sceneOf(boxWith("b1", "eight", 3, "fuse", "link"), boxWith("b2", "four", 3, "contactor"))
	m := New(s, inOrder(s))
	b := finished(m)
	n := len(m.tracks[0].pieces)
	for from := range n {
		var volts, ohm float64
		for to := from; to < n; to++ {
			volts, ohm = volts+m.tracks[0].pieces[to].volts, ohm+m.tracks[0].pieces[to].ohm
			v, r := b.sum(0, from, to)
			near(t, "voltage", v, volts)
			near(t, "resistance", r, ohm)
		}
	}
}
