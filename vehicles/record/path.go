package record

import (
	"fmt"
	"strconv"
	"strings"
)

// trail is a path under construction: a field's name or, where the name is empty, an index below a parent.
// The nil trail is the record itself.
type trail struct {
	parent *trail
	name   string
	index  int
}

func (t *trail) field(name string) *trail { return &trail{parent: t, name: name} }
func (t *trail) item(i int) *trail        { return &trail{parent: t, index: i} }

// String gives the path as "bays[0].levels[1].floor_mm".
func (t *trail) String() string {
	if t == nil {
		return ""
	}
	if t.name == "" {
		return t.parent.String() + "[" + strconv.Itoa(t.index) + "]"
	}
	return joinPath(t.parent.String(), t.name)
}

// joinPath puts a path relative to a base behind it.
func joinPath(base, rel string) string {
	if base == "" || rel == "" || strings.HasPrefix(rel, "[") {
		return base + rel
	}
	return base + "." + rel
}

// within reports whether path is base or lies inside it.
func within(path, base string) bool {
	if base == "" || path == base {
		return true
	}
	rest, ok := strings.CutPrefix(path, base)
	return ok && (rest[0] == '.' || rest[0] == '[')
}

// step is one link of a parsed path.
type step struct {
	name  string // field name; empty for an index
	index int
}

// parsePath splits "bays[0].floor_mm" into its steps.
func parsePath(path string) ([]step, error) {
	var steps []step
	rest := path
	for rest != "" {
		if rest[0] == '[' {
			s, tail, err := parseIndex(rest, path)
			if err != nil {
				return nil, err
			}
			steps, rest = append(steps, s), strings.TrimPrefix(tail, ".")
			continue
		}
		end := strings.IndexAny(rest, ".[")
		if end < 0 {
			end = len(rest)
		}
		if end == 0 {
			return nil, fmt.Errorf("path %q has an empty name", path)
		}
		steps = append(steps, step{name: rest[:end]})
		rest = strings.TrimPrefix(rest[end:], ".")
	}
	return steps, nil
}

func parseIndex(rest, path string) (step, string, error) {
	inner, tail, ok := strings.Cut(rest[1:], "]")
	n, err := strconv.Atoi(inner)
	if !ok || err != nil || n < 0 {
		return step{}, "", fmt.Errorf("path %q has a bad index", path)
	}
	return step{index: n}, tail, nil
}
