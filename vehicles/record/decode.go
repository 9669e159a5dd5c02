package record

import (
	"fmt"
	"reflect"
	"strconv"

	"gopkg.in/yaml.v3"
)

// Longest lists and texts where the field's rule states no maxlen.
const (
	maxList = 100_000
	maxText = 4000
)

// decoder walks a file's nodes alongside the struct they fill.
type decoder struct {
	top      *yaml.Node
	problems Problems
}

func (d *decoder) problem(n *yaml.Node, p *trail, format string, args ...any) {
	d.problems = append(d.problems, Problem{Line: n.Line, Column: n.Column, Path: p.String(), Msg: fmt.Sprintf(format, args...)})
}

// enough reports whether so much is wrong that reading on would help nobody.
func (d *decoder) enough() bool { return len(d.problems) >= enoughProblems }

// record reads the whole file into v.
func (d *decoder) record(v reflect.Value) {
	if d.top.Kind != yaml.MappingNode {
		if d.plain(d.top, nil) {
			d.problem(d.top, nil, "want a %s: fields and values, found %s", kindName(v.Type()), describe(d.top))
		}
		return
	}
	s, _ := schemaOf(v.Type())
	if !d.kindAndFormat(v.Type(), s) {
		return
	}
	d.mapping(d.top, v, nil)
	if !d.enough() {
		checkStructs(v, nil, d.report)
	}
}

// report places a problem found by a struct's own checks, unless its field is known to be wrong already.
func (d *decoder) report(path, msg string) {
	for _, p := range d.problems {
		if p.Path != "" && (within(p.Path, path) || within(path, p.Path)) {
			return
		}
	}
	n := locate(d.top, path)
	d.problems = append(d.problems, Problem{Line: n.Line, Column: n.Column, Path: path, Msg: msg})
}

// kindAndFormat finds out whether this is the right sort of file in a format that can be read, and migrates an older one.
func (d *decoder) kindAndFormat(t reflect.Type, s *schema) bool {
	if other := otherKind(keys(d.top), t); other != "" {
		d.problem(d.top, nil, "this is a %s file; a %s file is wanted", other, kindName(t))
		return false
	}
	current := currentFormat(s)
	n := child(d.top, "format")
	if current == 0 || n == nil {
		return true
	}
	number, err := strconv.Atoi(n.Value)
	if err != nil || n.Kind != yaml.ScalarNode || number < 1 {
		return true // the field's own rules report it
	}
	p := (*trail)(nil).field("format")
	if number > current {
		d.problem(n, p, "format %d is newer than this program knows; it reads up to format %d: use a newer version", number, current)
		return false
	}
	if msg := migrate(d.top, number, current, kinds[t]); msg != "" {
		d.problem(n, p, "%s", msg)
		return false
	}
	if n = child(d.top, "format"); n != nil {
		n.Value = strconv.Itoa(current)
	}
	return true
}

// plain refuses what YAML offers beyond plain values.
func (d *decoder) plain(n *yaml.Node, p *trail) bool {
	switch {
	case n.Kind == yaml.AliasNode:
		d.problem(n, p, "aliases (here %q) are not allowed; write the value out", shorten("*"+n.Value))
	case n.Anchor != "":
		d.problem(n, p, "anchors (here %q) are not allowed; write the value out wherever it is needed", shorten("&"+n.Anchor))
	case n.Style&yaml.TaggedStyle != 0:
		d.problem(n, p, "tags (here %q) are not allowed; write the value alone", shorten(n.Tag))
	default:
		return true
	}
	return false
}

// value reads n into v.
func (d *decoder) value(n *yaml.Node, v reflect.Value, f *field, p *trail) {
	if !d.plain(n, p) {
		return
	}
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		d.problem(n, p, "has no value; give one or leave the field out")
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		d.value(n, v.Elem(), f, p)
	case reflect.Struct:
		d.mapping(n, v, p)
	case reflect.Slice:
		d.list(n, v, f, p)
	case reflect.Array:
		d.array(n, v, f, p)
	default:
		d.scalar(n, v, f, p)
	}
}

func (d *decoder) scalar(n *yaml.Node, v reflect.Value, f *field, p *trail) {
	msg := setScalar(n, v)
	if msg == "" {
		msg = scalarProblem(v, f)
	}
	if msg != "" {
		d.problem(n, p, "%s", msg)
	}
}

// list reads a sequence. Beyond the greatest length nothing is read.
func (d *decoder) list(n *yaml.Node, v reflect.Value, f *field, p *trail) {
	if n.Kind != yaml.SequenceNode {
		d.problem(n, p, "want a list, found %s", describe(n))
		return
	}
	if msg := lengthProblem(len(n.Content), f.rules, "entries", maxList); msg != "" {
		d.problem(n, p, "%s", msg)
		return
	}
	before := len(d.problems)
	v.Set(reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content)))
	for i, c := range n.Content {
		if d.enough() {
			return
		}
		d.value(c, v.Index(i), f, p.item(i))
	}
	if !f.rules.polygon || len(d.problems) > before {
		return
	}
	for _, fault := range polygonFaults(v) {
		d.corner(n, p, fault)
	}
}

func (d *decoder) corner(n *yaml.Node, p *trail, fault cornerFault) {
	if i := fault.corner; i >= 0 && i < len(n.Content) {
		n, p = n.Content[i], p.item(i)
	}
	d.problem(n, p, "%s", fault.msg)
}

func (d *decoder) array(n *yaml.Node, v reflect.Value, f *field, p *trail) {
	if n.Kind != yaml.SequenceNode {
		d.problem(n, p, "want %s, found %s", arrayForm(v.Type()), describe(n))
		return
	}
	if len(n.Content) != v.Len() {
		d.problem(n, p, "has %s, want %s", count(len(n.Content), "numbers"), arrayForm(v.Type()))
		return
	}
	for i, c := range n.Content {
		d.value(c, v.Index(i), f, p.item(i))
	}
}

// mapping reads a struct's fields.
func (d *decoder) mapping(n *yaml.Node, v reflect.Value, p *trail) {
	if n.Kind != yaml.MappingNode {
		d.problem(n, p, "want fields and values, found %s", describe(n))
		return
	}
	s, _ := schemaOf(v.Type())
	seen := make([]int, len(s.fields))
	for i := 0; i+1 < len(n.Content) && !d.enough(); i += 2 {
		d.entry(n.Content[i], n.Content[i+1], v, s, seen, p)
	}
	for i := range s.fields {
		if f := &s.fields[i]; seen[i] == 0 && f.rules.required && !d.enough() {
			d.problem(n, p.field(f.name), "is missing; want %s", wanted(f))
		}
	}
}

func (d *decoder) entry(key, value *yaml.Node, v reflect.Value, s *schema, seen []int, p *trail) {
	if key.Kind != yaml.ScalarNode {
		d.problem(key, p, "a field's name must be plain text, as in name: value")
		return
	}
	if key.Value == "<<" {
		d.problem(key, p, "merge keys (<<) are not allowed; write the fields out")
		return
	}
	if !d.plain(key, p) {
		return
	}
	i, ok := s.byName[key.Value]
	if !ok {
		d.problem(key, p.field(shorten(key.Value)), "unknown field%s", suggestion(key.Value, s))
		return
	}
	f := &s.fields[i]
	if seen[i] > 0 {
		d.problem(key, p.field(f.name), "is given twice; the first is in line %d", seen[i])
		return
	}
	seen[i] = max(key.Line, 1)
	d.value(value, v.FieldByIndex(f.index), f, p.field(f.name))
}
