package record

import "reflect"

// A Checker has checks of its own beyond the rules of its fields. It reports each problem with a path relative to itself
// ("ceiling_mm", "levels[0]", or "" for itself) and must bear any value of itself.
type Checker interface {
	Problems(report func(path, msg string))
}

// Check applies to a value in memory the rules that Read applies to a file. v is a struct or a pointer to one.
// The problems have a path but no line. A required number may be zero where its range allows it.
func Check(v any) []Problem {
	rv := reflect.Indirect(reflect.ValueOf(v))
	if rv.Kind() != reflect.Struct {
		return []Problem{{Msg: "there is nothing to check"}}
	}
	c := &checker{}
	c.structure(rv, nil)
	checkStructs(rv, nil, c.report)
	return c.problems
}

type checker struct{ problems []Problem }

func (c *checker) add(p *trail, msg string) {
	if msg != "" {
		c.problems = append(c.problems, Problem{Path: p.String(), Msg: msg})
	}
}

func (c *checker) report(path, msg string) {
	for _, p := range c.problems {
		if p.Path != "" && (within(p.Path, path) || within(path, p.Path)) {
			return
		}
	}
	c.problems = append(c.problems, Problem{Path: path, Msg: msg})
}

func (c *checker) structure(v reflect.Value, p *trail) {
	s, err := schemaOf(v.Type())
	if err != nil {
		c.add(p, err.Error())
		return
	}
	for i := range s.fields {
		f := &s.fields[i]
		if fv := v.FieldByIndex(f.index); !f.optional() || !isEmpty(fv) {
			c.value(fv, f, p.field(f.name))
		}
	}
}

func (c *checker) value(v reflect.Value, f *field, p *trail) {
	switch v.Kind() {
	case reflect.Pointer:
		c.pointer(v, f, p)
	case reflect.Struct:
		c.structure(v, p)
	case reflect.Slice:
		c.list(v, f, p)
	case reflect.Array:
		c.elements(v, f, p)
	default:
		c.add(p, scalarProblem(v, f))
	}
}

func (c *checker) pointer(v reflect.Value, f *field, p *trail) {
	switch {
	case !v.IsNil():
		c.value(v.Elem(), f, p)
	case f.rules.required:
		c.add(p, "is missing; want "+wanted(f))
	}
}

func (c *checker) list(v reflect.Value, f *field, p *trail) {
	if msg := lengthProblem(v.Len(), f.rules, "entries", maxList); msg != "" {
		c.add(p, msg)
		return
	}
	before := len(c.problems)
	c.elements(v, f, p)
	if !f.rules.polygon || len(c.problems) > before {
		return
	}
	for _, fault := range polygonFaults(v) {
		at := p
		if fault.corner >= 0 {
			at = p.item(fault.corner)
		}
		c.add(at, fault.msg)
	}
}

func (c *checker) elements(v reflect.Value, f *field, p *trail) {
	for i := range v.Len() {
		c.value(v.Index(i), f, p.item(i))
	}
}

// checkStructs runs the own checks of every struct in v, outermost first. Optional structs that are absent have none.
func checkStructs(v reflect.Value, p *trail, report func(path, msg string)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			checkStructs(v.Elem(), p, report)
		}
	case reflect.Slice:
		if !mayHoldStructs(v.Type().Elem()) {
			return
		}
		for i := range v.Len() {
			checkStructs(v.Index(i), p.item(i), report)
		}
	case reflect.Struct:
		checkStruct(v, p, report)
	}
}

func checkStruct(v reflect.Value, p *trail, report func(path, msg string)) {
	if c, ok := asChecker(v); ok {
		base := p.String()
		c.Problems(func(path, msg string) { report(joinPath(base, path), msg) })
	}
	s, err := schemaOf(v.Type())
	if err != nil {
		return
	}
	for i := range s.fields {
		f := &s.fields[i]
		if fv := v.FieldByIndex(f.index); mayHoldStructs(f.typ) && !(f.optional() && isEmpty(fv)) {
			checkStructs(fv, p.field(f.name), report)
		}
	}
}

func asChecker(v reflect.Value) (Checker, bool) {
	if v.CanAddr() {
		c, ok := v.Addr().Interface().(Checker)
		return c, ok
	}
	copied := reflect.New(v.Type())
	copied.Elem().Set(v)
	c, ok := copied.Interface().(Checker)
	return c, ok
}

func mayHoldStructs(t reflect.Type) bool {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Array {
		t = t.Elem()
	}
	return t.Kind() == reflect.Struct
}

// isEmpty reports whether omitempty leaves v out.
func isEmpty(v reflect.Value) bool {
	if v.Kind() == reflect.Slice {
		return v.Len() == 0
	}
	if v.Kind() == reflect.Struct {
		return emptyStruct(v)
	}
	return v.IsZero()
}

func emptyStruct(v reflect.Value) bool {
	s, err := schemaOf(v.Type())
	if err != nil {
		return v.IsZero()
	}
	for i := range s.fields {
		if !isEmpty(v.FieldByIndex(s.fields[i].index)) {
			return false
		}
	}
	return true
}
