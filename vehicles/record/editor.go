package record

import (
	"fmt"
	"reflect"
)

// CheckField returns the problems of Check that lie at path or inside it.
func CheckField(v any, path string) []Problem {
	var out []Problem
	for _, p := range Check(v) {
		if within(p.Path, path) {
			out = append(out, p)
		}
	}
	return out
}

// Text returns the scalar field at path as a user would type it. v is a struct or a pointer to one.
func Text(v any, path string) (string, error) {
	fv, _, err := reach(reflect.ValueOf(v), path)
	if err != nil {
		return "", err
	}
	switch fv.Kind() {
	case reflect.Float64:
		return formatNumber(fv.Float()), nil
	case reflect.String, reflect.Bool, reflect.Int, reflect.Int64:
		return fmt.Sprint(fv.Interface()), nil
	}
	return "", fmt.Errorf("%s: is not a single value", path)
}

// CheckText says what is wrong with text as the value of the scalar field at path, or "". Nothing is changed.
// It applies the field's own rules, not the checks that look at several fields.
func CheckText(v any, path, text string) string {
	fv, f, err := reach(reflect.ValueOf(v), path)
	if err != nil {
		return err.Error()
	}
	return assign(reflect.New(fv.Type()).Elem(), f, text)
}

// SetText sets the scalar field at path from text as a user would type it. Where text is not allowed nothing
// changes and the error says why. v is a pointer to a struct.
func SetText(v any, path, text string) error {
	rv := reflect.ValueOf(v)
	if rv.Kind() != reflect.Pointer {
		return fmt.Errorf("record: SetText needs a pointer, not %T", v)
	}
	fv, f, err := reach(rv, path)
	if err != nil {
		return err
	}
	fresh := reflect.New(fv.Type()).Elem()
	if msg := assign(fresh, f, text); msg != "" {
		return fmt.Errorf("%s: %s", path, msg)
	}
	fv.Set(fresh)
	return nil
}

// assign sets a scalar from text and applies its rules; an empty text empties an optional field.
func assign(v reflect.Value, f *field, text string) string {
	if text == "" && f.optional() {
		return ""
	}
	if mayHoldStructs(v.Type()) || v.Kind() == reflect.Slice || v.Kind() == reflect.Array {
		return "is not a single value"
	}
	if msg := setText(text, v); msg != "" {
		return msg
	}
	return scalarProblem(v, f)
}

// reach finds the value at path and the field whose rules govern it.
func reach(v reflect.Value, path string) (reflect.Value, *field, error) {
	steps, err := parsePath(path)
	if err != nil {
		return v, nil, err
	}
	f := &field{}
	for _, s := range steps {
		for v.Kind() == reflect.Pointer && !v.IsNil() {
			v = v.Elem()
		}
		if v, err = follow(v, s, &f); err != nil {
			return v, nil, fmt.Errorf("%s: %w", path, err)
		}
	}
	for v.Kind() == reflect.Pointer && !v.IsNil() {
		v = v.Elem()
	}
	return v, f, nil
}

func follow(v reflect.Value, s step, f **field) (reflect.Value, error) {
	switch {
	case s.name != "" && v.Kind() == reflect.Struct:
		sc, err := schemaOf(v.Type())
		if err != nil {
			return v, err
		}
		i, ok := sc.byName[s.name]
		if !ok {
			return v, fmt.Errorf("no field %q", s.name)
		}
		*f = &sc.fields[i]
		return v.FieldByIndex(sc.fields[i].index), nil
	case s.name == "" && (v.Kind() == reflect.Slice || v.Kind() == reflect.Array):
		if s.index >= v.Len() {
			return v, fmt.Errorf("no entry %d", s.index)
		}
		return v.Index(s.index), nil
	}
	return v, fmt.Errorf("leads nowhere")
}
