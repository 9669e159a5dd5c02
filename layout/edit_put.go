package layout

import (
	"fmt"
	"slices"

	"stowbay/vehicles/record"
)

// where names one list of a plan.
type where struct {
	Kind        string `json:"kind"`
	Arrangement string `json:"arrangement,omitempty"`
	Box         string `json:"box,omitempty"`
}

// change is one entry of a list put in at Index (no Before), taken out (no After) or replaced.
type change[T any] struct {
	Index  int `json:"index"`
	Before *T  `json:"before,omitempty"`
	After  *T  `json:"after,omitempty"`
}

// put changes entries of one list of the plan, one change after the other.
type put[T any] struct {
	at      where
	changes []change[T]
	text    string
}

func (e *put[T]) Label() string { return e.text }
func (e *put[T]) where() where  { return e.at }

func (e *put[T]) Apply(p *Plan) (*Plan, error) {
	s, err := slotFor[T](e.at.Kind)
	if err != nil {
		return nil, err
	}
	list, err := s.get(p, e.at)
	if err != nil {
		return nil, err
	}
	for _, c := range e.changes {
		if list, err = c.apply(list, s); err != nil {
			return nil, fmt.Errorf("%s: %w", e.at, err)
		}
	}
	return s.set(p, e.at, list)
}

func (w where) String() string {
	text := w.Kind
	if w.Box != "" {
		text += " of box " + w.Box
	}
	if w.Arrangement != "" {
		text += " in arrangement " + w.Arrangement
	}
	return text
}

// apply makes the change in a list that it owns.
func (c change[T]) apply(list []*T, s *slot[T]) ([]*T, error) {
	if c.After != nil {
		if ps := record.Check(c.After); len(ps) > 0 {
			return nil, record.Problems(ps)
		}
	}
	if c.Before == nil {
		return c.insert(list, s)
	}
	if c.Index < 0 || c.Index >= len(list) || !s.same(list[c.Index], c.Before) {
		return nil, fmt.Errorf("entry %d is not what this edit starts from", c.Index)
	}
	if c.After != nil {
		list[c.Index] = c.After
		return list, nil
	}
	if s.fixed {
		return nil, fmt.Errorf("this cannot be taken out")
	}
	return slices.Delete(list, c.Index, c.Index+1), nil
}

func (c change[T]) insert(list []*T, s *slot[T]) ([]*T, error) {
	if c.After == nil || s.fixed || c.Index < 0 || c.Index > len(list) {
		return nil, fmt.Errorf("nothing can be put in at %d", c.Index)
	}
	return slices.Insert(list, c.Index, c.After), nil
}

func (e *put[T]) Inverse() Edit {
	inv := &put[T]{at: e.at, text: e.text}
	for _, c := range slices.Backward(e.changes) {
		inv.changes = append(inv.changes, change[T]{c.Index, c.After, c.Before})
	}
	return inv
}

// Merge joins edits that only replace entries of the same list.
func (e *put[T]) Merge(next Edit) (Edit, bool) {
	n, ok := next.(*put[T])
	if !ok || n.at != e.at || !e.replaces() || !n.replaces() {
		return nil, false
	}
	out := &put[T]{at: e.at, text: e.text, changes: slices.Clone(e.changes)}
	at := map[int]int{}
	for i, c := range out.changes {
		at[c.Index] = i
	}
	for _, c := range n.changes {
		if i, ok := at[c.Index]; ok {
			out.changes[i].After = c.After
			continue
		}
		at[c.Index] = len(out.changes)
		out.changes = append(out.changes, c)
	}
	return out, true
}

// replaces tells whether the edit replaces entries only, each of them once.
func (e *put[T]) replaces() bool {
	seen := map[int]bool{}
	for _, c := range e.changes {
		if c.Before == nil || c.After == nil || seen[c.Index] {
			return false
		}
		seen[c.Index] = true
	}
	return true
}
