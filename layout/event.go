package layout

// Event says that a document's plan changed from Before to After by Edit, undo and redo included. The end of a
// gesture comes as an event of its own, without an edit, in which the plan does not change.
type Event struct {
	Before, After *Plan
	Edit          Edit
	GestureEnded  bool
}

// Settings tells whether the settings changed.
func (e Event) Settings() bool {
	return e.Before != e.After && !alike(&e.Before.Settings, &e.After.Settings)
}

// Heading tells whether the title block or the choice of donor changed.
func (e Event) Heading() bool { return e.Before.head() != e.After.head() }

// Library tells whether the plan's own records changed.
func (e Event) Library() bool { return !sameLibrary(&e.Before.Library, &e.After.Library) }

// Underlays tells whether the pictures under the views changed.
func (e Event) Underlays() bool {
	a, b := e.Before.Underlays, e.After.Underlays
	return len(a) != len(b) || len(a) > 0 && &a[0] != &b[0] && !equalLists(a, b)
}

func equalLists[T comparable](a, b []T) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// Build tells whether entries were added to the build record.
func (e Event) Build() bool { return e.Before.Build != e.After.Build }

// Arrangements returns the ids of the arrangements that were put in, taken out or changed in any way.
func (e Event) Arrangements() []string {
	return different(e.Before.Arrangements, e.After.Arrangements, func(a *Arrangement) string { return a.ID })
}

// Boxes returns the ids of the boxes of an arrangement that were put in, taken out or changed in any way.
func (e Event) Boxes(arrangement string) []string {
	var before, after []*Box
	if a := e.Before.Arrangement(arrangement); a != nil {
		before = a.Boxes
	}
	if a := e.After.Arrangement(arrangement); a != nil {
		after = a.Boxes
	}
	return different(before, after, func(b *Box) string { return b.ID })
}

// different returns the ids of what is in one list only, taken out first.
func different[T any](before, after []*T, id func(*T) string) []string {
	var out []string
	seen := map[string]*T{}
	for _, v := range after {
		seen[id(v)] = v
	}
	for _, v := range before {
		if seen[id(v)] == v {
			delete(seen, id(v))
		} else if seen[id(v)] == nil {
			out = append(out, id(v))
		}
	}
	for _, v := range after {
		if seen[id(v)] != nil {
			out = append(out, id(v))
		}
	}
	return out
}
