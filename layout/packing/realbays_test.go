package packing

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// Boxes of the demonstration donors as the desktop hands them over: stepped levels, gear that stands on the floor,
// free strips of gear (forbidden to bodies, not to strips), two postures, several layers. This is what designers
// press the button on, so that the solver has to obey its limit here, return a good count fast and a bound that is
// worth reading. Every placement goes through the verifier.
func TestRealBoxes(t *testing.T) {
	files, err := filepath.Glob("../../testdata/packing/real/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no problems in testdata/packing/real: ", err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			var p Problem
			if err := json.Unmarshal(data, &p); err != nil {
				t.Fatal(err)
			}
			p.Limit = time.Second
			ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
			defer cancel()
			r, err := Solve(ctx, p, nil)
			if err != nil {
				t.Fatal(err)
			}
			verify(t, p, r)
			t.Logf("%d, bound %d, proved %v, %v: %s", r.Count, r.Bound, r.Proved, r.Elapsed.Round(time.Millisecond), r.Argument)
		})
	}
}
