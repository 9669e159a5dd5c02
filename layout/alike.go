package layout

import "reflect"

// alike tells whether two values hold the same, where an empty list counts as an absent one: that is how a
// file keeps it.
func alike[T any](a, b *T) bool {
	return a == b || alikeValues(reflect.ValueOf(a), reflect.ValueOf(b))
}

func alikeValues(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() || a.Pointer() == b.Pointer() {
			return a.IsNil() == b.IsNil()
		}
		return alikeValues(a.Elem(), b.Elem())
	case reflect.Struct:
		for i := range a.NumField() {
			if !alikeValues(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Len() == b.Len() && a.Len() > 0 && a.Pointer() == b.Pointer() {
			return true
		}
		return alikeLists(a, b)
	case reflect.Array:
		return alikeLists(a, b)
	}
	return a.Equal(b)
}

func alikeLists(a, b reflect.Value) bool {
	if a.Len() != b.Len() {
		return false
	}
	for i := range a.Len() {
		if !alikeValues(a.Index(i), b.Index(i)) {
			return false
		}
	}
	return true
}
