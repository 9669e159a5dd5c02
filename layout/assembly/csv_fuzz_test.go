package assembly

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"stowbay/internal/inputs"
	"stowbay/layout"
	"stowbay/vehicles/record"
)

var receivedTables = []string{
	"shop_number,module,serial,date,by,cells_v,milliohm,capacity_ah,note,refused\r\nW1,four,s,2026-01-02,me,3.3 3.31,1.5,37,\"a, b\",yes\r\n",
	"module,shop_number\nfour,W1\n\nfour,W1\n",
	"shop_number,module,cells_v\nW1,four,NaN -Inf 1e308\n",
	"\xef\xbb\xbfshop_number;module\n\"W1",
}

func FuzzImportReceived(f *testing.F) {
	for _, s := range receivedTables {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) { _ = tryReceived(t, data) })
}

func TestFloodOfReceivedModules(t *testing.T) {
	inputs.Flood{Target: "FuzzImportReceived", Words: inputs.CSVWords, Examples: inputs.Texts(receivedTables), Read: tryReceived}.Run(t)
}

// tryReceived reads an arbitrary table. It is refused with problems or comes back from being written and read.
func tryReceived(t inputs.T, data []byte) error {
	have := &layout.Build{Received: []layout.Received{{Shop: "W9", Module: "four"}}}
	got, err := ImportReceived("in.csv", data, have)
	if err != nil {
		var ps record.Problems
		if !errors.As(err, &ps) || len(ps) == 0 || got != nil {
			t.Fatalf("want problems alone, got %v and %T: %v", got, err, err)
		}
		return err
	}
	for i := range got {
		if ps := record.Check(&got[i]); len(ps) > 0 {
			t.Fatalf("read, yet Check finds %v", ps)
		}
		for _, v := range append(got[i].CellsV, got[i].MilliOhm, got[i].CapacityAh) {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%v was let in", v)
			}
		}
	}
	written, err := ExportReceived(got)
	if err != nil {
		t.Fatal(err)
	}
	again, err := ImportReceived("again.csv", written, nil)
	if err != nil || !reflect.DeepEqual(got, again) {
		t.Fatalf("written but read otherwise: %v\n%s", err, written)
	}
	return nil
}
