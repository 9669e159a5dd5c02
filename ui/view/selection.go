package view

import (
	"slices"
	"strings"
)

// Selection is the set of things picked, by reference, in the order in which they were. Its zero value is empty.
type Selection struct {
	refs []string
}

// Refs returns the references in the order in which they were picked.
func (s *Selection) Refs() []string { return slices.Clone(s.refs) }

// Len returns how many things are picked.
func (s *Selection) Len() int { return len(s.refs) }

// Has reports whether a thing is picked.
func (s *Selection) Has(ref string) bool { return slices.Contains(s.refs, ref) }

// Last returns the thing picked last, or "".
func (s *Selection) Last() string {
	if len(s.refs) == 0 {
		return ""
	}
	return s.refs[len(s.refs)-1]
}

// Set picks these things and no others.
func (s *Selection) Set(refs ...string) {
	s.refs = s.refs[:0]
	for _, r := range refs {
		s.Add(r)
	}
}

// Add picks a thing as well.
func (s *Selection) Add(ref string) {
	if ref != "" && !s.Has(ref) {
		s.refs = append(s.refs, ref)
	}
}

// Toggle picks a thing or lets go of it.
func (s *Selection) Toggle(ref string) {
	if i := slices.Index(s.refs, ref); i >= 0 {
		s.refs = slices.Delete(s.refs, i, i+1)
		return
	}
	s.Add(ref)
}

// Keep lets go of everything for which ok says no.
func (s *Selection) Keep(ok func(ref string) bool) {
	s.refs = slices.DeleteFunc(s.refs, func(r string) bool { return !ok(r) })
}

// Split returns the box and the module or gear of a reference; inner is "" for a box itself.
func Split(ref string) (box, inner string) {
	box, inner, _ = strings.Cut(ref, "/")
	return box, inner
}
