package layout

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// shortList is a length that every list may have.
const shortList = 10

// lengths reports the lists of a plan, an arrangement or a box that are longer than their rule allows: an edit that puts
// one entry in is judged entry by entry and does not see it.
func (r reporter) lengths(v any) {
	s := reflect.Indirect(reflect.ValueOf(v))
	for i := range s.NumField() {
		if s.Field(i).Kind() != reflect.Slice || s.Field(i).Len() <= shortList {
			continue
		}
		tag := s.Type().Field(i).Tag
		if most, ok := maxLen(tag.Get("rule")); ok && s.Field(i).Len() > most {
			name, _, _ := strings.Cut(tag.Get("yaml"), ",")
			r(name, fmt.Sprintf("has %d entries; at most %d allowed", s.Field(i).Len(), most))
		}
	}
}

func maxLen(rule string) (int, bool) {
	_, rest, ok := strings.Cut(rule, "maxlen=")
	if !ok {
		return 0, false
	}
	number, _, _ := strings.Cut(rest, ",")
	n, err := strconv.Atoi(number)
	return n, err == nil
}
