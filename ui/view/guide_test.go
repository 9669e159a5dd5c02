package view

import (
	"testing"

	"stowbay/layout"
	"stowbay/ui/paint"
)

// The stages follow the plan: nothing but the survey with a new plan, boxes and modules as they come, the findings
// when nothing fails, the report when it is written.
func TestStagesFollowThePlan(t *testing.T) {
	done := func(m *Model, reported bool) (out [5]bool) {
		for i, s := range m.Stages(reported) {
			out[i] = s.Done
		}
		return out
	}
	m := testModel(t, 2)
	if err := m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return layout.Remove(p, a, "low") }); err != nil {
		t.Fatal(err)
	}
	if got := done(m, false); got != [5]bool{true} {
		t.Errorf("a new plan: %v", got)
	}
	_ = m.Undo()
	if got := done(m, true); !got[1] || !got[2] || !got[4] {
		t.Errorf("with a box and modules, reported: %v", got)
	}
	if d := demoModel(t); done(d, false) != [5]bool{true, true, true, true, false} {
		t.Errorf("the demonstration, where nothing fails: %v", done(d, false))
	}
}

func TestGuideIsClickable(t *testing.T) {
	m := testModel(t, 1)
	p := m.Guide(240, paint.NewFonts(), false)
	n := 0
	for _, s := range m.Stages(false) {
		n += len(s.Acts)
	}
	if len(p.Rows) != n {
		t.Errorf("%d rows for %d things to do", len(p.Rows), n)
	}
}
