package report

import (
	"reflect"
	"strings"

	"stowbay/layout"
	"stowbay/layout/report/page"
)

// settingsInUse lists the settings that the plan leaves to their defaults, with the defaults as the file format
// states them.
func (b *book) settingsInUse() {
	b.Heading("Settings that the plan leaves open, and what is taken instead")
	t := page.Table{Pt: 6.8, Columns: []page.Column{{Head: "group", MM: 20}, {Head: "setting", MM: 38}, {Head: "what it is, and the default taken"}}}
	t.Rows = openSettings(t.Rows, "", reflect.ValueOf(b.plan.Settings))
	if len(t.Rows) == 0 {
		b.Para("None: the plan states every setting.")
		return
	}
	b.Table(t)
}

func openSettings(rows [][]page.Cell, group string, v reflect.Value) [][]page.Cell {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
		doc := f.Tag.Get("doc")
		switch {
		case f.Type.Kind() == reflect.Struct && f.Type.PkgPath() == reflect.TypeFor[layout.Settings]().PkgPath():
			rows = openSettings(rows, name, v.Field(i))
		case v.Field(i).IsZero() && statesDefault(doc):
			rows = append(rows, page.Row(group, name, doc))
		}
	}
	return rows
}

// statesDefault tells whether a field's doc says what is taken where the field is empty.
func statesDefault(doc string) bool {
	return strings.Contains(doc, "0 means") || strings.Contains(doc, "0:") || strings.Contains(doc, "where absent")
}
