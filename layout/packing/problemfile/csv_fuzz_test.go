package problemfile

import (
	"strings"
	"testing"
)

func FuzzReadCSV(f *testing.F) {
	f.Add("X,Y,a,b\n4,4,2,1\n")
	f.Add("b,note,a,Y,X\n1,hello,2,2,2.5\n")
	f.Add("X,Y,a,b\n1e308,NaN,-1,0x1p3\n4,4\n\"4,4,2,1\n")
	f.Add("\ufeffX,Y,a,b\r\n\r\n1,2,3,4")
	f.Fuzz(func(t *testing.T, in string) {
		rows, err := ReadCSV(strings.NewReader(in))
		if err != nil && rows != nil {
			t.Error("rows beside an error")
		}
		for _, r := range rows {
			p := r.Problem()
			if err := p.Validate(); err != nil {
				t.Fatalf("%v is read but not valid: %v", r, err)
			}
		}
	})
}
