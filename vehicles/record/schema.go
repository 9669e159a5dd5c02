package record

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// rules is what a rule tag allows.
type rules struct {
	required       bool
	min, max       *float64
	minLen, maxLen int // -1: none stated
	oneOf          []string
	id, polygon    bool
}

// field is one field of a record's struct.
type field struct {
	name      string
	doc       string
	index     []int
	typ       reflect.Type
	omitEmpty bool
	rules     rules
}

// optional reports whether the field's zero value means that it is absent.
func (f *field) optional() bool { return !f.rules.required && f.omitEmpty }

// schema is a struct's fields in the order of the file.
type schema struct {
	fields []field
	byName map[string]int
}

var schemas sync.Map // reflect.Type -> *schema; a cache of what the tags say

// schemaOf reads the tags of a struct type. An error is a mistake in the program, not in a file.
func schemaOf(t reflect.Type) (*schema, error) {
	if s, ok := schemas.Load(t); ok {
		return s.(*schema), nil
	}
	s := &schema{byName: map[string]int{}}
	if err := s.add(t, nil); err != nil {
		return nil, err
	}
	schemas.Store(t, s)
	return s, nil
}

func (s *schema) add(t reflect.Type, index []int) error {
	for i := range t.NumField() {
		sf := t.Field(i)
		name, opts, _ := strings.Cut(sf.Tag.Get("yaml"), ",")
		at := append(slices.Clone(index), i)
		switch {
		case name == "-" || !sf.IsExported():
		case opts == "inline" && sf.Type.Kind() == reflect.Struct:
			if err := s.add(sf.Type, at); err != nil {
				return err
			}
		case name == "":
			return fmt.Errorf("record: %v.%s has no yaml name", t, sf.Name)
		default:
			r, err := parseRules(sf.Tag.Get("rule"))
			if err != nil {
				return fmt.Errorf("record: %v.%s: %w", t, sf.Name, err)
			}
			if _, twice := s.byName[name]; twice {
				return fmt.Errorf("record: %v has two fields named %q", t, name)
			}
			s.byName[name] = len(s.fields)
			s.fields = append(s.fields, field{name, sf.Tag.Get("doc"), at, sf.Type, opts == "omitempty", r})
		}
	}
	return nil
}

func parseRules(tag string) (rules, error) {
	r := rules{minLen: -1, maxLen: -1}
	for part := range strings.SplitSeq(tag, ",") {
		if err := r.parse(strings.TrimSpace(part)); err != nil {
			return r, fmt.Errorf("rule %q: %w", part, err)
		}
	}
	return r, nil
}

func (r *rules) parse(part string) (err error) {
	key, value, _ := strings.Cut(part, "=")
	switch key {
	case "":
	case "required":
		r.required = true
	case "id":
		r.id = true
	case "polygon":
		r.polygon = true
	case "min":
		r.min, err = limit(value)
	case "max":
		r.max, err = limit(value)
	case "minlen":
		r.minLen, err = strconv.Atoi(value)
	case "maxlen":
		r.maxLen, err = strconv.Atoi(value)
	case "oneof":
		r.oneOf = strings.Split(value, "|")
	default:
		err = fmt.Errorf("unknown")
	}
	return err
}

func limit(s string) (*float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	return &v, err
}

// CheckType reports a mistake in the tags of t, a struct type, or of any struct inside it: meant for tests.
func CheckType(t reflect.Type) error {
	if _, ok := sound.Load(t); ok {
		return nil
	}
	err := checkType(t, map[reflect.Type]bool{})
	if err == nil {
		sound.Store(t, true)
	}
	return err
}

var sound sync.Map // reflect.Type -> true where CheckType found nothing; tags never change

func checkType(t reflect.Type, seen map[reflect.Type]bool) error {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array:
		return checkType(t.Elem(), seen)
	case reflect.Struct:
	case reflect.String, reflect.Bool, reflect.Int, reflect.Int64, reflect.Float64:
		return nil
	default:
		return fmt.Errorf("record: type %v is not supported", t)
	}
	if seen[t] {
		return nil
	}
	seen[t] = true
	s, err := schemaOf(t)
	if err != nil {
		return err
	}
	for _, f := range s.fields {
		if f.rules.required && f.omitEmpty {
			return fmt.Errorf("record: %v.%s is both required and left out when empty", t, f.name)
		}
		if f.rules.polygon && !isOutline(f.typ) {
			return fmt.Errorf("record: %v.%s is no list of pairs of numbers, yet a polygon", t, f.name)
		}
		if err := checkType(f.typ, seen); err != nil {
			return fmt.Errorf("%v.%s: %w", t, f.name, err)
		}
	}
	return nil
}

// isOutline reports whether t is a list of pairs of numbers.
func isOutline(t reflect.Type) bool {
	return t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Array && t.Elem().Len() == 2 && t.Elem().Elem().Kind() == reflect.Float64
}
