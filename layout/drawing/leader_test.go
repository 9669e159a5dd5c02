package drawing

import (
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// balancedOptions puts both centres of gravity into the middle of the left box's modules.
func balancedOptions() Options {
	now, donor := r3.Vector{X: 900, Y: -670, Z: 330}, r3.Vector{X: 880, Y: -660, Z: 330}
	return Options{CG: &now, CGDonor: &donor, NameScale: 2}
}

func texts(l *List) map[string]r2.Rect {
	out := map[string]r2.Rect{}
	for _, it := range l.Items {
		if t, ok := it.(Text); ok {
			out[t.S] = t.extent()
		}
	}
	return out
}

func TestNamesOfCentresOfGravityKeepOffModulesWithALeader(t *testing.T) {
	s := inventedScene(3, 2)
	l := PlanView.Draw(s, balancedOptions())
	got := texts(l)
	for _, name := range []string{"CG now", "CG donor"} {
		r, ok := got[name]
		if !ok {
			t.Errorf("%s is not named", name)
			continue
		}
		for _, b := range s.Boxes {
			for _, m := range b.Modules {
				if m.Prism.Base.Bounds().Intersects(r) {
					t.Errorf("%s at %v lies over %s", name, r, m.ID)
				}
			}
		}
	}
	leaders := 0
	for _, it := range l.Items {
		if it.Tag().Role == RoleLeader {
			leaders++
		}
	}
	if leaders < 2 {
		t.Errorf("%d leaders, want one for each name", leaders)
	}
}

func TestDonorsRingIsSeenRoundTheOneThatCoincides(t *testing.T) {
	at := r3.Vector{X: 1300, Y: 0, Z: 500}
	rings := map[Role]float64{}
	for _, it := range PlanView.Draw(inventedScene(1, 1), Options{CG: &at, CGDonor: &at}).Items {
		if st, ok := it.(Stroke); ok && st.Closed {
			rings[st.Of.Role] = r2.RectFromPoints(st.Points...).Size().X
		}
	}
	if rings[RoleCGDonor] <= rings[RoleCG] || rings[RoleCG] == 0 {
		t.Errorf("the donor's ring is %v mm wide, the present one %v", rings[RoleCGDonor], rings[RoleCG])
	}
}

func TestNamesStayWithinWhatIsSeen(t *testing.T) {
	s := inventedScene(3, 2)
	for _, v := range views {
		o := balancedOptions()
		kg := [4]float64{412, 405, 518, 530}
		o.WheelKg = &kg
		o.Within = v.Draw(s, Options{Off: LayerLabels}).Bounds
		for name, r := range texts(v.Draw(s, o)) {
			if (name == "CG now" || name == "Left box" || name == "shaft swing") && !o.Within.Contains(r) {
				t.Errorf("%v: %s at %v leaves %v", v, name, r, o.Within)
			}
		}
	}
}

func TestWheelLoadsBehindAreShortWhereTheyWouldCollide(t *testing.T) {
	s := inventedScene(1, 1)
	kg := [4]float64{412, 405, 518, 530}
	if _, ok := texts(RearView.Draw(s, Options{WheelKg: &kg}))["rear left 518 kg"]; !ok {
		t.Error("no wheel's name though there is room")
	}
	got := texts(RearView.Draw(s, Options{WheelKg: &kg, NameScale: 4}))
	if _, ok := got["518 kg"]; !ok {
		t.Errorf("loads %v, want them short", got)
	}
	if got["518 kg"].Intersects(got["530 kg"]) {
		t.Error("the loads of the rear wheels lie over one another")
	}
}

func TestScreenShowsBarAndFrontItself(t *testing.T) {
	for _, v := range views {
		for _, it := range v.Draw(inventedScene(1, 1), Options{OnScreen: true}).Items {
			if r := it.Tag().Role; r == RoleScaleBar || r == RoleFront {
				t.Errorf("%v: %v drawn though the screen shows it", v, r)
			}
		}
	}
}

// A gap narrower than its figure is dimensioned with the figure beside it: none of the figures lies over another.
func TestFiguresOfNarrowGapsDoNotCollide(t *testing.T) {
	s := inventedScene(3, 2)
	o := Options{Dimensions: true, NameScale: 2, Marks: map[string]Mark{"left/1": Selected}}
	var rects []r2.Rect
	for _, it := range PlanView.Draw(s, o).Items {
		if x, ok := it.(Text); ok && x.Of.Role == RoleDimension {
			for _, r := range rects {
				if r.Intersects(x.extent()) {
					t.Errorf("%q lies over another figure", x.S)
				}
			}
			rects = append(rects, x.extent())
		}
	}
	if len(rects) == 0 {
		t.Error("no figure of a narrow gap")
	}
}

// A picture under the view has to be seen inside the vehicle too.
func TestHollowVehicleHasOutlinesOnly(t *testing.T) {
	c := &Cache{}
	for _, v := range views {
		for _, hollow := range []bool{false, true} {
			fills, lines := 0, 0
			for _, it := range v.Draw(inventedScene(1, 1), Options{Hollow: hollow, Cache: c}).Items {
				if r := it.Tag().Role; r == RoleBody || r == RoleWheel {
					if _, ok := it.(Fill); ok {
						fills++
					} else {
						lines++
					}
				}
			}
			if (fills == 0) != hollow || lines < 3 {
				t.Errorf("%v, hollow %v: %d fills, %d lines", v, hollow, fills, lines)
			}
		}
	}
}
