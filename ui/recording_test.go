package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowbay/layout"
	"stowbay/layout/assembly"
	"stowbay/ui/view"
)

// table writes a CSV of invented modules received, one for each slot and two more.
func table(t *testing.T, w *Window) (path string, n int) {
	t.Helper()
	var b strings.Builder
	b.WriteString("shop_number,module,capacity_ah,milliohm\n")
	w.model.Scene().Bodies(func(_ *layout.BoxScene, m *layout.Body) {
		n++
		fmt.Fprintf(&b, "A%02d,%s,%d,%.2f\n", n, m.Module.ID, 100-n%3, 1.5+0.01*float64(n%5))
	})
	for range 2 {
		n++
		fmt.Fprintf(&b, "A%02d,%s,,\n", n, w.model.Scene().Boxes[0].Modules[0].Module.ID)
	}
	path = filepath.Join(t.TempDir(), "received.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path, n
}

// A table with several mistakes is refused whole, every mistake named; the plan stays as it is.
func TestImportSaysAllThatIsWrong(t *testing.T) {
	w := demoWindow(t)
	path := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(path, []byte("shop_number,module,cells_v\nB1,lfp-8s,3.x\n,lfp-8s,3.2\nB1,lfp-8s,9\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	data, _ := readSome(path, 1<<20)
	_, err := assembly.ImportReceived("bad.csv", data, nil)
	for _, line := range []string{"bad.csv:2:", "bad.csv:3:", "bad.csv:4:"} {
		if err == nil || !strings.Contains(err.Error(), line) {
			t.Errorf("nothing said of %s in %v", line, err)
		}
	}
	r := w.showRecord()
	had := len(w.dialogs)
	r.importFrom(path)
	if len(w.dialogs) != had+1 || w.model.Plan().Build != nil {
		t.Errorf("%d dialogs more, build record %v", len(w.dialogs)-had, w.model.Plan().Build)
	}
}

// Modules come in, are matched and put in; a replacement is appended and the entry before it stands.
func TestReceiveMatchAndReplace(t *testing.T) {
	w := demoWindow(t)
	path, n := table(t, w)
	r := w.showRecord()
	data, _ := os.ReadFile(path)
	rs, err := assembly.ImportReceived("received.csv", data, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.append("Receive", layout.Build{Received: rs})
	if got := len(w.model.Plan().Build.Received); got != n {
		t.Fatalf("%d received, want %d", got, n)
	}
	x, err := assembly.Match(w.model.Eval().Assembly.Model)
	if err != nil {
		t.Fatal(err)
	}
	more, others := view.Proposed(x, w.model.Plan().Build, today(), "me")
	if _, err := time.Parse(time.DateOnly, more[0].Date); err != nil || others != 0 || len(more) != w.model.Scene().Count() {
		t.Fatalf("%d to put in, %d in place of others, %v", len(more), others, err)
	}
	r.append("Put in", layout.Build{Slots: more})
	if again, _ := view.Proposed(x, w.model.Plan().Build, "", ""); len(again) != 0 {
		t.Errorf("%d to put in once more", len(again))
	}
	slot := more[0]
	free := w.model.FreeFor(slot.Slot)
	if len(free) == 0 || strings.Contains(strings.Join(free, " "), slot.Shop) {
		t.Fatalf("free for %s are %v", slot.Slot, free)
	}
	before := len(w.model.Plan().Build.Slots)
	r.append("Replace", layout.Build{Slots: []layout.Slot{{Arrangement: slot.Arrangement, Slot: slot.Slot, Shop: free[0], Reason: "dented"}}})
	if sits, _ := w.model.Sits(slot.Slot); sits.Shop != free[0] || len(w.model.Plan().Build.Slots) != before+1 {
		t.Errorf("%s sits there, %d entries after %d", sits.Shop, len(w.model.Plan().Build.Slots), before)
	}
	if fs := w.model.FreeFor(slot.Slot); !strings.Contains(strings.Join(fs, " "), slot.Shop) {
		t.Errorf("%s was taken out and is not free: %v", slot.Shop, fs)
	}
	_, others = view.Proposed(x, w.model.Plan().Build, "", "")
	if others != 1 {
		t.Errorf("%d slots hold another one than proposed, want 1", others)
	}
}

// What is written as CSV reads back equal; the plan's own file is never written over.
func TestExportReceived(t *testing.T) {
	w := demoWindow(t)
	in, n := table(t, w)
	r := w.showRecord()
	data, _ := os.ReadFile(in)
	rs, err := assembly.ImportReceived("received.csv", data, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.append("Receive", layout.Build{Received: rs})
	out := filepath.Join(t.TempDir(), "out.csv")
	r.confirmExport(out)
	data, err = os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := assembly.ImportReceived("out.csv", data, nil); err != nil || len(back) != n {
		t.Errorf("%d of %d read back, %v", len(back), n, err)
	}
	w.path = out
	r.w.model.Plan().Build.Received = nil
	r.confirmExport(out)
	if now, _ := os.ReadFile(out); string(now) != string(data) {
		t.Error("the plan's own file was written over")
	}
}
