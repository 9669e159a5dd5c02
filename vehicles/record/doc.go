// Package record reads and writes YAML records strictly, driven by the tags of the Go structs that hold them.
//
// A field is described by three tags:
//
//	LengthMM float64 `yaml:"length_mm,omitempty" rule:"required,min=10,max=3000" doc:"longest edge"`
//
// yaml gives its name (and omitempty, or ",inline" for an embedded struct whose fields belong to the record
// itself). doc explains it. rule says what is allowed, as a comma-separated list:
//
//	required      the field must be there; a text must not be empty
//	min=, max=    limits of a number, both included
//	minlen=, maxlen=  limits of a list's length, or of a text's in characters
//	oneof=a|b|c   the only texts allowed
//	id            lower-case letters, digits, dash and underscore, 1 to 64 of them
//	polygon       corners of a simple polygon: at least three, nothing crossing or touching, with an area
//
// On a list or a fixed array, min, max, oneof and id apply to the elements. Structs, pointers to structs and scalars, lists and fixed
// arrays nest freely. A pointer or omitempty marks what may be absent. A struct may add checks of its own by implementing [Checker].
//
// A record's top struct may have a field named "format": its rule's max is the current format number. See [Register] for
// older formats.
//
// Reading is strict: an unknown or repeated field, a wrong type, a value that is not allowed, anchors, aliases,
// tags, merge keys and a second document are problems. All of them come back at once as [Problems], each with its place.
package record
