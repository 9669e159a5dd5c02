package problemfile

import (
	"bytes"
	"testing"

	"stowbay/internal/inputs"
)

var rectangleTables = []string{
	"X,Y,a,b\n4,4,2,1\n",
	"b,note,a,Y,X\n1,hello,2,2,2.5\n",
	"X,Y,a,b\n1e308,NaN,-1,0x1p3\n4,4\n\"4,4,2,1\n",
	"\ufeffX,Y,a,b\r\n\r\n1,2,3,4",
}

func FuzzReadCSV(f *testing.F) {
	for _, s := range rectangleTables {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, in string) { _ = tryCSV(t, []byte(in)) })
}

func TestFloodOfRectangles(t *testing.T) {
	inputs.Flood{Target: "FuzzReadCSV", Most: 200, Words: inputs.CSVWords, Examples: inputs.Texts(rectangleTables), Read: tryCSV}.Run(t)
}

func tryCSV(t inputs.T, in []byte) error {
	rows, err := ReadCSV(bytes.NewReader(in))
	if err != nil && rows != nil {
		t.Error("rows beside an error")
	}
	for _, r := range rows {
		p := r.Problem()
		if err := p.Validate(); err != nil {
			t.Fatalf("%v is read but not valid: %v", r, err)
		}
	}
	return err
}
