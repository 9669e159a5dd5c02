// Package fielddoc writes the reference of a record's fields as Markdown, from the tags that the reader works by, so that the
// two cannot differ.
package fielddoc

import (
	"fmt"
	"reflect"
	"strings"

	"stowbay/vehicles/record"
)

// Markdown returns the field reference of a record type: a heading with the title, a table of the record's fields, and a
// table for every record type inside it, each once, in the order in which they are met. t is a struct or a pointer to one.
func Markdown(title string, t reflect.Type) string {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	var b strings.Builder
	fmt.Fprintf(&b, "## %s\n\n", title)
	w := &writer{out: &b, anchors: anchors(t)}
	w.table(t)
	for _, inner := range w.anchors.order {
		fmt.Fprintf(&b, "\n### %s: %s\n\n", title, w.anchors.name[inner])
		w.table(inner)
	}
	return b.String()
}

type writer struct {
	out     *strings.Builder
	anchors names
}

func (w *writer) table(t reflect.Type) {
	w.out.WriteString("| Field | Type | Unit | Allowed | Required | Meaning |\n|---|---|---|---|---|---|\n")
	for _, f := range record.Fields(t) {
		required := ""
		if f.Required {
			required = "yes"
		}
		fmt.Fprintf(w.out, "| `%s` | %s | %s | %s | %s | %s |\n", f.Name, w.typeOf(f), f.Unit, cell(f.Allowed), required, cell(f.Doc))
	}
}

// typeOf names the field's type; a record's type names the table that describes it.
func (w *writer) typeOf(f record.Field) string {
	if f.Record == nil {
		return f.Type
	}
	return f.Type + ", see *" + w.anchors.name[f.Record] + "*"
}

// cell keeps a text inside its table cell.
func cell(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(s, "|", "\\|"), "\n", " ")
}

// names are the record types inside another, called by the field in which they are first met.
type names struct {
	order []reflect.Type
	name  map[reflect.Type]string
}

func anchors(top reflect.Type) names {
	n := names{name: map[reflect.Type]string{top: "the record itself"}}
	n.collect(top)
	return n
}

func (n *names) collect(t reflect.Type) {
	var fresh []reflect.Type
	for _, f := range record.Fields(t) {
		if f.Record == nil || n.name[f.Record] != "" {
			continue
		}
		n.name[f.Record] = f.Name
		n.order = append(n.order, f.Record)
		fresh = append(fresh, f.Record)
	}
	for _, r := range fresh {
		n.collect(r)
	}
}
