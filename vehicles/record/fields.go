package record

import (
	"reflect"
	"strconv"
	"strings"
)

// Field is the reference of one field, for documentation and editors.
type Field struct {
	Name     string
	Type     string // "number", "text", "list of [x, y]", "record", "list of records" ...
	Unit     string // from the name's ending; "" for none
	Allowed  string // "500 to 12000", "flat, side or end", ...; "" where anything of the type goes
	Required bool
	Doc      string

	Record reflect.Type // struct type of a record or of a list's records, else nil
}

// Fields describes the fields of a struct type, a pointer to one, or a list of them, in the order of the file.
func Fields(t reflect.Type) []Field {
	t = structIn(t)
	if t == nil {
		return nil
	}
	s, err := schemaOf(t)
	if err != nil {
		return nil
	}
	out := make([]Field, len(s.fields))
	for i, f := range s.fields {
		out[i] = Field{
			Name: f.name, Type: typeName(f.typ), Unit: Unit(f.name), Allowed: allowed(&f),
			Required: f.rules.required, Doc: f.doc, Record: structIn(f.typ),
		}
	}
	return out
}

func structIn(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Array {
		t = t.Elem()
	}
	if t.Kind() == reflect.Struct {
		return t
	}
	return nil
}

func typeName(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Pointer:
		return typeName(t.Elem())
	case reflect.Struct:
		return "record"
	case reflect.Array:
		return arrayForm(t)
	case reflect.Slice:
		return "list of " + plural(typeName(t.Elem()))
	}
	return strings.TrimPrefix(scalarName(t.Kind()), "a ")
}

func plural(s string) string {
	if strings.HasPrefix(s, "[") {
		return s
	}
	return s + "s"
}

// allowed says what a field's rules let through.
func allowed(f *field) string {
	r := f.rules
	var parts []string
	if r.id {
		parts = append(parts, "a-z, 0-9, - and _, 1 to 64 of them")
	}
	if len(r.oneOf) > 0 {
		parts = append(parts, oneOf(r.oneOf))
	}
	if text := bounds(r); text != "" {
		parts = append(parts, text)
	}
	if r.polygon {
		parts = append(parts, "simple polygon")
	}
	if text := lengths(f); text != "" {
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

func bounds(r rules) string {
	switch {
	case r.min != nil && r.max != nil && *r.min == *r.max:
		return formatNumber(*r.min)
	case r.min != nil && r.max != nil:
		return formatNumber(*r.min) + " to " + formatNumber(*r.max)
	case r.min != nil:
		return "from " + formatNumber(*r.min)
	case r.max != nil:
		return "up to " + formatNumber(*r.max)
	}
	return ""
}

func lengths(f *field) string {
	unit := "entries"
	if f.typ.Kind() == reflect.String {
		unit = "characters"
	}
	lo, hi := f.rules.minLen, f.rules.maxLen
	switch {
	case lo >= 0 && hi >= 0:
		return strconv.Itoa(lo) + " to " + strconv.Itoa(hi) + " " + unit
	case lo >= 0:
		return "at least " + count(lo, unit)
	case hi >= 0:
		return "at most " + count(hi, unit)
	}
	return ""
}

// units by the ending of a field's name; the longest ending that fits counts.
var units = map[string]string{
	"mm": "mm", "m2": "m²", "mm2": "mm²", "m": "m", "kg": "kg", "deg": "°", "pct": "%",
	"v": "V", "a": "A", "ka": "kA", "a2s": "A²s", "ah": "Ah", "wh": "Wh", "kwh": "kWh", "w": "W", "kw": "kW", "j": "J",
	"ohm": "Ω", "milliohm": "mΩ", "mohm": "MΩ", "uf": "µF", "c": "°C", "k": "K", "s": "s", "ms": "ms", "h": "h",
	"n": "N", "nm": "Nm", "mpa": "MPa", "kpa": "kPa", "l": "l", "g": "g", "km": "km", "kmh": "km/h", "wh_per_km": "Wh/km",
	"n_per_mm": "N/mm", "w_per_k": "W/K", "j_per_k": "J/K", "l_per_min": "l/min", "kg_per_m": "kg/m", "kg_per_m3": "kg/m³", "kg_m3": "kg/m³", "mm_per_pixel": "mm/px",
	"wh_per_kg": "Wh/kg", "ohm_per_v": "Ω/V", "m_per_s2": "m/s²", "w_per_m2k": "W/m²K", "w_per_mk": "W/mK",
}

// unitless are names that end like a unit but are none.
var unitless = map[string]bool{"loss_k": true}

// Unit returns the unit that a field's name ends with: "mm" for "length_mm"; "" where there is none.
func Unit(name string) string {
	if unitless[name] {
		return ""
	}
	rest := name
	for {
		if u, ok := units[rest]; ok {
			return u
		}
		_, after, ok := strings.Cut(rest, "_")
		if !ok {
			return ""
		}
		rest = after
	}
}
