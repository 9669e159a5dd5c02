package recordtest_test

import (
	"testing"

	"stowbay/vehicles/record"
	"stowbay/vehicles/record/recordtest"
)

func TestForm(t *testing.T) {
	good := record.Problem{File: "a.yaml", Line: 3, Column: 7, Path: "mass_kg", Msg: `want a number, found "0x1 %!"`}
	if got := recordtest.Form(good); got != "" {
		t.Errorf("%s: %s", good, got)
	}
	whole := record.Problem{File: "a.yaml", Msg: "the file is empty"}
	if got := recordtest.Form(whole); got != "" {
		t.Errorf("%s: %s", whole, got)
	}
	for _, p := range []record.Problem{
		{Path: "mass_kg", Msg: "want a number"},
		{File: "a.yaml", Line: 3, Msg: "want a number"},
		{File: "a.yaml", Line: 3, Column: 1},
		{File: "a.yaml", Line: 3, Column: 1, Msg: "Want a number"},
		{File: "a.yaml", Line: 3, Column: 1, Msg: "want a number."},
		{File: "a.yaml", Line: 3, Column: 1, Msg: "want\na number"},
		{File: "a.yaml", Line: 3, Column: 1, Msg: "want %!d(string=a)"},
	} {
		if recordtest.Form(p) == "" {
			t.Errorf("%q is let through", p)
		}
	}
}
