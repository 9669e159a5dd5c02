package layout

import (
	"errors"
	"slices"

	"stowbay/vehicles"
)

// Document is a plan being worked on, with its history. It is the only truth about the plan: whoever shows it asks it
// or listens to its events. It starts no goroutines and is not safe for concurrent use; the plans it gives out are,
// since they are never changed.
type Document struct {
	plan      *Plan
	catalogue *vehicles.Library
	library   *vehicles.Library // the plan's own records over the catalogue
	records   Library           // what library was made from

	steps []Edit // all steps, those undone included
	done  int    // how many of them are in the plan
	saved int    // how many were in the plan when it was saved; -1: no number leads back there
	grown bool   // entries were added to the build record since

	gesture *gesture
	hearers map[int]func(Event)
	next    int
}

// gesture is a drag or the like that becomes one step.
type gesture struct {
	label string
	start *Plan
}

// NewDocument returns a document that holds a plan as it was read, with nothing to undo and nothing unsaved. The
// catalogue holds the records that the plan does not carry itself; it may be nil.
func NewDocument(p *Plan, catalogue *vehicles.Library) *Document {
	d := &Document{plan: p, catalogue: catalogue, records: p.Library, hearers: map[int]func(Event){}}
	d.library = p.LibraryOver(catalogue)
	return d
}

// Plan returns the plan as it is now. It must not be changed in place.
func (d *Document) Plan() *Plan { return d.plan }

// Library returns the plan's own records over the catalogue. It stays the same one while the plan's records do.
func (d *Document) Library() *vehicles.Library { return d.library }

// Do makes an edit, with what follows from it, as one step. What was undone before is forgotten. Where the edit cannot
// be made nothing changes. An [Append] is no step and no part of one: entries of the build record stand, cannot be undone and
// are not made again.
func (d *Document) Do(e Edit) error {
	if IsEmpty(e) {
		return nil
	}
	made, plan, err := Settle(d.plan, e, d.library)
	if err != nil {
		return err
	}
	step, added := withoutAppends(made)
	d.grown = d.grown || added
	if d.gesture == nil && !IsEmpty(step) {
		d.push(step)
	}
	d.become(plan, made)
	return nil
}

// never stands for the number of the step that was saved where none was.
const never = -1

func (d *Document) push(e Edit) {
	if d.saved > d.done {
		d.saved = never
	}
	d.steps = append(d.steps[:d.done:d.done], e)
	d.done++
}

// BeginGesture opens a gesture: the edits up to EndGesture become one step with the label given. A gesture that is open
// already is ended first.
func (d *Document) BeginGesture(label string) {
	d.EndGesture()
	d.gesture = &gesture{label: label, start: d.plan}
}

// InGesture tells whether a gesture is open.
func (d *Document) InGesture() bool { return d.gesture != nil }

// EndGesture closes the gesture. A gesture that left everything as it was is no step.
func (d *Document) EndGesture() {
	g := d.gesture
	if g == nil {
		return
	}
	d.gesture = nil
	// What was added to the build record meanwhile is no part of the step.
	start := *g.start
	start.Build = d.plan.Build
	e, err := Diff(&start, d.plan, g.label)
	if err == nil && !IsEmpty(e) {
		d.push(e)
	}
	d.tell(Event{Before: d.plan, After: d.plan, GestureEnded: true})
}

// CancelGesture takes back what the gesture did.
func (d *Document) CancelGesture() {
	g := d.gesture
	if g == nil {
		return
	}
	d.gesture = nil
	back := *g.start
	back.Build = d.plan.Build
	e, err := Diff(d.plan, &back, g.label)
	if err == nil && !IsEmpty(e) {
		d.become(&back, e)
	}
	d.tell(Event{Before: d.plan, After: d.plan, GestureEnded: true})
}

// CanUndo tells whether there is a step to undo.
func (d *Document) CanUndo() bool { return d.done > 0 || d.gesture != nil }

// CanRedo tells whether there is a step to redo.
func (d *Document) CanRedo() bool { return d.done < len(d.steps) && d.gesture == nil }

// errNothing is what undo and redo give where there is no step.
var (
	errNoUndo = errors.New("there is nothing to undo")
	errNoRedo = errors.New("there is nothing to redo")
)

// Undo takes back the last step. A gesture that is open is ended first.
func (d *Document) Undo() error {
	d.EndGesture()
	if d.done == 0 {
		return errNoUndo
	}
	return d.step(d.steps[d.done-1].Inverse(), -1)
}

// Redo makes the step again that was undone last.
func (d *Document) Redo() error {
	d.EndGesture()
	if d.done == len(d.steps) {
		return errNoRedo
	}
	return d.step(d.steps[d.done], 1)
}

func (d *Document) step(e Edit, by int) error {
	plan, err := e.Apply(d.plan)
	if err != nil {
		return err
	}
	d.done += by
	d.become(plan, e)
	return nil
}

// Step is one line of the history list.
type Step struct {
	Label string
	Done  bool // in the plan; false once undone
	Saved bool // the plan was saved after this step
}

// History returns all steps, oldest first, those undone included, and how many of them are in the plan.
func (d *Document) History() (steps []Step, done int) {
	for i, e := range d.steps {
		steps = append(steps, Step{Label: e.Label(), Done: i < d.done, Saved: i+1 == d.saved})
	}
	return steps, d.done
}

// JumpTo undoes or redoes steps until the first n of the history are in the plan.
func (d *Document) JumpTo(n int) error {
	d.EndGesture()
	n = max(0, min(n, len(d.steps)))
	for d.done > n {
		if err := d.Undo(); err != nil {
			return err
		}
	}
	for d.done < n {
		if err := d.Redo(); err != nil {
			return err
		}
	}
	return nil
}

// Saved tells the document that its plan, as it is now, has been saved.
func (d *Document) Saved() {
	d.EndGesture()
	d.saved, d.grown = d.done, false
}

// MarkDirty tells the document that its plan is not in any file: after recovering it, or for a new one.
func (d *Document) MarkDirty() { d.saved = never }

// Dirty tells whether the plan differs from what was saved last. While a gesture is open it counts as a change.
func (d *Document) Dirty() bool {
	return d.saved != d.done || d.grown || d.gesture != nil && d.gesture.start != d.plan
}

func (d *Document) become(p *Plan, e Edit) {
	before := d.plan
	d.plan = p
	if !sameLibrary(&before.Library, &p.Library) && !sameLibrary(&d.records, &p.Library) {
		d.records = p.Library
		d.library = p.LibraryOver(d.catalogue)
	}
	d.tell(Event{Before: before, After: p, Edit: e})
}

func sameLibrary(a, b *Library) bool {
	return slices.Equal(a.Donors, b.Donors) && slices.Equal(a.Modules, b.Modules) && slices.Equal(a.Gear, b.Gear)
}

// Subscribe calls f after every change until the function returned is called. f may ask the document but must not change it.
func (d *Document) Subscribe(f func(Event)) (cancel func()) {
	id := d.next
	d.next++
	d.hearers[id] = f
	return func() { delete(d.hearers, id) }
}

func (d *Document) tell(e Event) {
	for id := range d.next {
		if f := d.hearers[id]; f != nil {
			f(e)
		}
	}
}
