package check_test

import (
	"math"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/layout/restraint"
	"stowbay/vehicles"
)

// demonstration evaluates the demonstration plan's first arrangement after changes.
func demonstration(t *testing.T, change func(*layout.Plan)) *check.Evaluation {
	t.Helper()
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(p)
	}
	return check.Evaluate(p, p.Arrangements[0], vehicles.Catalogue(), nil)
}

// of returns the findings of one rule.
func of(e *check.Evaluation, rule string) []check.Finding {
	var out []check.Finding
	for _, f := range e.Findings {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

// about returns the finding of a rule about a subject.
func about(t *testing.T, e *check.Evaluation, rule, subject string) check.Finding {
	t.Helper()
	for _, f := range of(e, rule) {
		if f.Subject == subject || strings.HasPrefix(f.Subject, subject+"/") {
			return f
		}
	}
	t.Fatalf("no finding %s about %s in %+v", rule, subject, of(e, rule))
	return check.Finding{}
}

func TestNoAccelerationIsAssumed(t *testing.T) {
	e := demonstration(t, nil)
	f := only(t, of(e, "restraint.set"), check.Notes)
	if !strings.Contains(f.Text, "none is assumed") {
		t.Error(f.Text)
	}
	for _, rule := range []string{"restraint.bolt", "restraint.bearing", "restraint.bending", "restraint.weld"} {
		if got := of(e, rule); len(got) > 0 {
			t.Errorf("%s speaks without a set: %+v", rule, got)
		}
	}
	if got := about(t, e, "restraint.feet", "mid-box"); got.Severity != check.Passes {
		t.Errorf("%+v", got)
	}
}

func TestUnknownSetFails(t *testing.T) {
	e := demonstration(t, func(p *layout.Plan) { p.Settings.Restraint.Set = "nothing-such" })
	only(t, of(e, "restraint.set"), check.Fails)
}

// The set's own weaknesses are said: numbers from memory, directions without a number, the wrong category.
func TestSetSaysWhatWeakensIt(t *testing.T) {
	e := demonstration(t, func(p *layout.Plan) { p.Settings.Restraint.Set = "r100-m3n3" })
	f := only(t, of(e, "restraint.set"), check.Notes)
	for _, want := range []string{"from memory", "up, down", "M3 and N3"} {
		if !strings.Contains(f.Text, want) {
			t.Errorf("%q is not in %q", want, f.Text)
		}
	}
	e = demonstration(t, func(p *layout.Plan) {
		p.Settings.Restraint = layout.Restraint{Set: restraint.Own, ForwardG: 20, RearG: 10, SideG: 15, UpG: 10, DownG: 10}
	})
	only(t, of(e, "restraint.set"), check.Passes)
}

// Shears of all feet add up to mass times acceleration, whatever the layout (Newton's second law).
func TestShearAddsUpToTheLoad(t *testing.T) {
	e := demonstration(t, func(p *layout.Plan) { p.Settings.Restraint.Set = "iso12991-m1n1" })
	if len(e.Restraint.Boxes) != 3 {
		t.Fatal("want three boxes")
	}
	for i, b := range e.Restraint.Boxes {
		if kg := e.Mass.Boxes[i].Body.Kg.Value; b.Kg != kg {
			t.Errorf("%s: %g kg held, %g kg weighed", b.Scene.Box.ID, b.Kg, kg)
		}
		for _, c := range b.Cases {
			sum := c.Force
			for _, l := range c.Feet {
				sum = sum.Add(l.Force)
			}
			if sum.Norm() > 1e-6*c.Force.Norm() {
				t.Errorf("%s %s: %v N left over", b.Scene.Box.ID, c.Direction, sum)
			}
			if want := b.Kg * c.G * restraint.Gravity; math.Abs(c.Force.Norm()-want) > 1e-6*want {
				t.Errorf("%s %s: %g N, want %g", b.Scene.Box.ID, c.Direction, c.Force.Norm(), want)
			}
		}
	}
}

// A bolt that fails says what size would do, and that size does.
func TestRemedyDoes(t *testing.T) {
	weak := func(thread string) *check.Evaluation {
		return demonstration(t, func(p *layout.Plan) {
			p.Settings.Restraint.Set = "racing-40g"
			for _, b := range p.Arrangements[0].Boxes {
				for i := range b.Feet {
					b.Feet[i].Bolt = thread
				}
			}
		})
	}
	f := about(t, weak("M6"), "restraint.bolt", "mid-box")
	if f.Severity != check.Fails {
		t.Fatalf("%+v", f)
	}
	t.Log(f.Text)
	words := strings.Fields(f.Text[strings.LastIndex(strings.TrimSuffix(f.Text, "."), ".")+1:])
	if g := about(t, weak(words[0]), "restraint.bolt", "mid-box"); g.Actual >= f.Actual {
		t.Errorf("%s uses %.0f %%, M6 %.0f %%", words[0], g.Actual, f.Actual)
	}
}

func TestFeetOnALineAreNoHold(t *testing.T) {
	e := demonstration(t, func(p *layout.Plan) {
		b := p.Arrangements[0].Boxes[0]
		b.Feet = b.Feet[:3] // along its left side
		p.Arrangements[0].Boxes[1].Feet = nil
	})
	if f := about(t, e, "restraint.feet", "mid-box"); f.Severity != check.Fails {
		t.Errorf("%+v", f)
	}
	if f := about(t, e, "restraint.feet", "engine-box"); f.Severity != check.Fails || !strings.Contains(f.Text, "no feet") {
		t.Errorf("%+v", f)
	}
}

func TestTorqueBeyondProof(t *testing.T) {
	e := demonstration(t, func(p *layout.Plan) { p.Arrangements[0].Boxes[0].Feet[0].TorqueNm = 90 })
	f := about(t, e, "restraint.torque", "mid-box")
	if f.Severity != check.Warns || !strings.Contains(f.Text, "50 N m give 75 %") {
		t.Errorf("%+v", f)
	}
}

// An edit elsewhere leaves a box's result as it was, and the same plan gives the same findings without the one before.
func TestRestraintIsTakenOver(t *testing.T) {
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	p.Settings.Restraint.Set = "iso12991-m1n1"
	first := check.Evaluate(p, p.Arrangements[0], vehicles.Catalogue(), nil)
	second := check.Evaluate(p, p.Arrangements[0], vehicles.Catalogue(), first)
	for i := range first.Restraint.Boxes {
		if first.Restraint.Boxes[i] != second.Restraint.Boxes[i] {
			t.Errorf("box %d was worked out again", i)
		}
	}
}
