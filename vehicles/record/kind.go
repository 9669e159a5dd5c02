package record

import (
	"fmt"
	"reflect"
	"sort"
	"strings"

	"gopkg.in/yaml.v3"
)

// A Kind is a sort of record file: donor, module, gear, plan.
type Kind struct {
	Name string       // as a user would say it: "donor"
	Type reflect.Type // its top struct

	// Migrations turn an older file's top mapping into the next format: Migrations[n] takes format n to n+1.
	// They change the mapping in place and need not touch its "format" field. Lines keep pointing into the file.
	Migrations map[int]func(top *yaml.Node) error
}

var kinds = map[reflect.Type]Kind{}

// Register makes a kind known, so that a file of another kind is called by its name and older formats are migrated.
// It is to be called from a package's init only.
func Register(k Kind) { kinds[k.Type] = k }

// kindName is what a file of type t is called.
func kindName(t reflect.Type) string {
	if k, ok := kinds[t]; ok {
		return k.Name
	}
	return strings.ToLower(t.Name())
}

// otherKind returns the name of the registered kind that a file's top fields fit clearly better than t,
// or "" where t fits best.
func otherKind(names []string, t reflect.Type) string {
	own := fit(names, t)
	best, name := own+1, ""
	for _, k := range sortedKinds() {
		if n := fit(names, k.Type); k.Type != t && n > best {
			best, name = n, k.Name
		}
	}
	return name
}

func sortedKinds() []Kind {
	var ks []Kind
	for _, k := range kinds {
		ks = append(ks, k)
	}
	sort.Slice(ks, func(i, j int) bool { return ks[i].Name < ks[j].Name })
	return ks
}

// fit counts the names that are fields of t.
func fit(names []string, t reflect.Type) int {
	s, err := schemaOf(t)
	if err != nil {
		return 0
	}
	n := 0
	for _, name := range names {
		if _, ok := s.byName[name]; ok {
			n++
		}
	}
	return n
}

// currentFormat is the format number that the struct's "format" field allows at most; 0 where there is no such field.
func currentFormat(s *schema) int {
	i, ok := s.byName["format"]
	if !ok || s.fields[i].rules.max == nil {
		return 0
	}
	return int(*s.fields[i].rules.max)
}

// migrate brings an older file's mapping to the current format. It returns a problem's text, or "".
func migrate(top *yaml.Node, from, to int, k Kind) string {
	for n := from; n < to; n++ {
		step := k.Migrations[n]
		if step == nil {
			return fmt.Sprintf("format %d is older than this program can read; it reads from format %d on", from, oldest(k, to))
		}
		if err := step(top); err != nil {
			return fmt.Sprintf("cannot be brought from format %d to %d: %v", n, n+1, err)
		}
	}
	return ""
}

// oldest is the first format from which an unbroken row of migrations leads to the current one.
func oldest(k Kind, current int) int {
	n := current
	for k.Migrations[n-1] != nil {
		n--
	}
	return n
}
