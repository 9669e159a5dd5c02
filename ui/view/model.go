package view

import (
	"fmt"
	"maps"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/vehicles"
)

// What says what changed in a model. Whats can be combined.
type What uint

// What can change.
const (
	ThePlan      What = 1 << iota // the plan, by an edit, undo or redo
	ThePreview                    // what is shown while a drag goes on
	TheSelection                  // what is picked
	TheHover                      // what is under the pointer
	TheTool                       // the tool or what it shows
	TheStatus                     // the status line
	TheView                       // arrangement, units, layers
	TheReadings                   // readings and findings of what a drag shows
)

// Model is the state of one window on a plan. It is for one goroutine.
type Model struct {
	doc         *layout.Document
	arrangement string
	plan        *layout.Plan // as shown: the document's, or the preview of a drag
	scene       *layout.Scene
	eval        *check.Evaluation            // of what is shown; while a drag goes on it may be a step behind
	running     bool                         // an evaluation goes on in the background
	turn        int                          // counts what was shown for good, so that late evaluations are dropped
	starts      map[string]*check.Evaluation // by arrangement: as it was when it was opened

	Selection Selection
	hover     string
	tool      Tool
	status    string
	preview   bool

	// Background has work done on another goroutine, and what the work returns on the model's own. Nil: at once.
	Background func(work func() (then func()))

	Display   Display
	listeners []func(What)
}

// NewModel returns the model of a window on a document.
func NewModel(doc *layout.Document) *Model {
	m := &Model{doc: doc, starts: map[string]*check.Evaluation{}}
	m.Display = Display{Snap: true, GridMM: 100}
	m.tool = NewSelect(m)
	m.Sync()
	return m
}

// Listen calls f after every change, on the goroutine that makes it.
func (m *Model) Listen(f func(What)) { m.listeners = append(m.listeners, f) }

func (m *Model) tell(w What) {
	for _, f := range m.listeners {
		f(w)
	}
}

// Document returns the document.
func (m *Model) Document() *layout.Document { return m.doc }

// Plan returns the plan as shown: during a drag, as it would be.
func (m *Model) Plan() *layout.Plan { return m.plan }

// Arrangement returns the arrangement shown.
func (m *Model) Arrangement() *layout.Arrangement { return m.plan.Arrangement(m.arrangement) }

// Kept returns the arrangement shown as the document has it, without what a drag or a tool shows.
func (m *Model) Kept() *layout.Arrangement { return m.doc.Plan().Arrangement(m.arrangement) }

// Library returns the records that the plan can use.
func (m *Model) Library() *vehicles.Library { return m.doc.Library() }

// Eval returns the arrangement shown with its readings and findings.
func (m *Model) Eval() *check.Evaluation { return m.eval }

// Scene returns the arrangement shown with every place found.
func (m *Model) Scene() *layout.Scene { return m.scene }

// Start returns the arrangement shown as it was when it was opened or marked last.
func (m *Model) Start() *check.Evaluation { return m.starts[m.arrangement] }

// MarkStart makes the arrangement as it is now what later changes are compared with.
func (m *Model) MarkStart() {
	m.starts[m.arrangement] = m.eval
	m.tell(TheView)
}

// Units returns the units that figures are shown in.
func (m *Model) Units() Units { return UnitsOf(m.plan.Settings.Units) }

// Sync takes over the document's plan after it changed.
func (m *Model) Sync() {
	m.preview = false
	m.show(m.doc.Plan())
	m.Selection.Keep(m.exists)
	m.tell(ThePlan | TheSelection)
}

// show evaluates a plan and makes it the one shown.
func (m *Model) show(p *layout.Plan) {
	if p.Arrangement(m.arrangement) == nil && len(p.Arrangements) > 0 {
		m.arrangement = p.Arrangements[0].ID
	}
	m.turn++
	m.plan = p
	m.read(check.Evaluate(p, m.Arrangement(), m.Library(), m.eval))
	m.scene = m.eval.Scene
	if !m.exists(m.hover) {
		m.hover = ""
	}
	maps.DeleteFunc(m.starts, func(id string, _ *check.Evaluation) bool { return p.Arrangement(id) == nil })
	if m.starts[m.arrangement] == nil {
		m.starts[m.arrangement] = m.eval
	}
}

// read takes over readings and findings. The finding looked at stays the same one, though its number changes.
func (m *Model) read(e *check.Evaluation) {
	if f := &m.Display.Focus; *f > 0 {
		*f = refound(*f, m.eval, e)
	}
	m.eval = e
}

func (m *Model) exists(ref string) bool {
	return !PlanBounds(m.scene, ref).IsEmpty()
}

// SetArrangement shows another arrangement.
func (m *Model) SetArrangement(id string) {
	if id == m.arrangement || m.plan.Arrangement(id) == nil {
		return
	}
	m.tool.Cancel()
	m.arrangement = id
	m.Selection.Set()
	m.show(m.plan)
	m.tell(ThePlan | TheSelection | TheView)
}

// Act makes an edit from a plan.
type Act func(p *layout.Plan, arrangement string) (layout.Edit, error)

// Do makes one step of the history. What goes wrong is said in the status line too.
func (m *Model) Do(act Act) error {
	edit, err := act(m.doc.Plan(), m.arrangement)
	if err == nil {
		err = m.doc.Do(edit)
	}
	m.Sync()
	if err != nil {
		m.Say("Not done: " + m.Units().Problem(err))
	}
	return err
}

// Undo takes back the last step.
func (m *Model) Undo() error { return m.stepSaying("Taken back: ", m.doc.Undo, 0) }

// Redo makes the step again that was taken back last.
func (m *Model) Redo() error { return m.stepSaying("Done again: ", m.doc.Redo, -1) }

// JumpTo goes back or forward until n steps are in the plan.
func (m *Model) JumpTo(n int) error { return m.step(func() error { return m.doc.JumpTo(n) }) }

// MarkRepaint has everything painted again after what is displayed changed.
func (m *Model) MarkRepaint() { m.tell(TheView) }

// stepSaying takes a step and says which: that at an offset from the last one done after it.
func (m *Model) stepSaying(what string, f func() error, at int) error {
	err := m.step(f)
	if steps, done := m.doc.History(); err == nil && done+at >= 0 && done+at < len(steps) {
		m.Say(what + steps[done+at].Label + ".")
	}
	return err
}

func (m *Model) step(f func() error) error {
	m.tool.Cancel()
	err := f()
	m.Sync()
	return err
}

// Preview shows what an edit would make of the plan, without a step in the history.
func (m *Model) Preview(act Act) error {
	base := m.doc.Plan()
	edit, err := act(base, m.arrangement)
	var p *layout.Plan
	if err == nil {
		_, p, err = layout.Settle(base, edit, m.Library())
	}
	if err != nil {
		m.Say(m.Units().Problem(err))
		return err
	}
	m.preview, m.plan = true, p
	m.scene = layout.Resolve(p, m.Arrangement(), m.Library(), m.scene)
	m.tell(ThePreview)
	m.evaluate()
	return nil
}

// evaluate works out what a drag shows. In the background one evaluation follows the other, each of what is shown
// when it begins, so that a slow one never holds up the drag.
func (m *Model) evaluate() {
	if m.running {
		return
	}
	m.running = true
	p, a, lib, prev, turn := m.plan, m.Arrangement(), m.Library(), m.eval, m.turn
	work := func() func() {
		e := check.Evaluate(p, a, lib, prev)
		return func() { m.evaluated(e, p, turn) }
	}
	if m.Background == nil {
		work()()
		return
	}
	m.Background(work)
}

func (m *Model) evaluated(e *check.Evaluation, p *layout.Plan, turn int) {
	m.running = false
	if turn == m.turn {
		m.read(e)
		m.tell(TheReadings)
	}
	if m.preview && m.plan != p {
		m.evaluate()
	}
}

// Previewing reports whether what is shown is not yet in the plan.
func (m *Model) Previewing() bool { return m.preview }

// Drop goes back to the document's plan.
func (m *Model) Drop() {
	if m.preview {
		m.Sync()
	}
}

// Say puts a sentence into the status line.
func (m *Model) Say(s string) {
	if m.status != s {
		m.status = s
		m.tell(TheStatus)
	}
}

// Status returns the sentence in the status line.
func (m *Model) Status() string { return m.status }

// Pick picks these things and no others.
func (m *Model) Pick(refs ...string) {
	m.Selection.Set(refs...)
	if t, ok := m.tool.(*Select); ok {
		t.waits() // lets go of a grip of something else
	}
	m.tell(TheSelection)
}

// Hover returns what is under the pointer, or "".
func (m *Model) Hover() string { return m.hover }

// SetHover says what is under the pointer.
func (m *Model) SetHover(ref string) {
	if m.hover != ref {
		m.hover = ref
		m.tell(TheHover)
	}
}

// Tool returns the tool in hand.
func (m *Model) Tool() Tool { return m.tool }

// SetTool takes another tool in hand.
func (m *Model) SetTool(t Tool) {
	m.tool.Cancel()
	m.tool = t
	m.Say("")
	m.tell(TheTool)
}

// Things says how many things in words: "3 modules", "box left".
func (m *Model) Things(refs []string) string {
	n, boxes, other := 0, 0, 0
	for _, r := range refs {
		switch {
		case m.scene.Body(r) != nil:
			n++
		case m.scene.Box(r) != nil:
			boxes++
		default:
			other++
		}
	}
	switch {
	case len(refs) == 1:
		return refs[0]
	case n == len(refs):
		return fmt.Sprintf("%d modules", n)
	case boxes == len(refs):
		return fmt.Sprintf("%d boxes", boxes)
	}
	return fmt.Sprintf("%d things", len(refs))
}

// Nudge moves the things picked by mm in the vehicle's frame.
func (m *Model) Nudge(by r3.Vector) error {
	refs := m.Selection.Refs()
	if t, ok := m.tool.(*Select); len(refs) == 0 || ok && t.nudge(by) {
		return nil
	}
	return m.Do(func(p *layout.Plan, a string) (layout.Edit, error) { return MoveThings(p, a, refs, by) })
}
