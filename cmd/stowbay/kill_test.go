package main

import (
	"errors"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"stowbay/internal/inputs"
	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/layout/journal"
)

// mostKeys is how many keys are pressed in a round at most: each moves everything by a millimetre, or saves.
const mostKeys = 60

// The real program is killed at random moments of editing and saving, 4 times or as often as STOWBAY_KILLS says. The steps
// that were in its journal or its file just before are there afterwards, whole, and no others.
func TestRealProgramKilled(t *testing.T) {
	rounds := inputs.Count("STOWBAY_KILLS", 4)
	d := newDesk(t, 1280, 800)
	path := filepath.Join(d.dir, "Fährplan, killed.yaml")
	plan, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(9, 11))
	steps, unsaved := 0, 0
	for round := range rounds {
		if err := layout.Save(path, plan); err != nil {
			t.Fatal(err)
		}
		began := along(plan)
		d.start(path)
		d.key("ctrl+a")
		sent := d.press(r)
		time.Sleep(time.Duration(200+r.IntN(1500)) * time.Millisecond)
		_, before := stood(t, path)
		d.kill()
		sent()
		file, after := stood(t, path)
		saved, kept := along(file)-began, along(after)-began
		if saved < 0 || kept < saved || kept > mostKeys || kept != float64(int(kept)) || saved != float64(int(saved)) {
			t.Fatalf("round %d: the file is %g steps on, with the journal %g", round, saved, kept)
		}
		if was := along(before) - began; kept < was {
			t.Fatalf("round %d: %g steps were on the disk, %g are left", round, was, kept)
		}
		steps += int(kept)
		if kept > saved {
			unsaved++
		}
		plan = after
		if err := os.Remove(journal.PathFor(path)); err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
	}
	t.Logf("%d steps were kept; in %d of %d rounds some were in the journal only", steps, unsaved, rounds)
	if steps == 0 || rounds >= 20 && unsaved == 0 {
		t.Error("too little was edited to show anything")
	}
}

// press presses keys one after the other while the test goes on; the function returned waits until it is over.
func (d *desk) press(r *rand.Rand) (wait func()) {
	keys := []string{"key", "--delay", "15"}
	for range mostKeys {
		k := "Right"
		if r.IntN(8) == 0 {
			k = "ctrl+s"
		}
		keys = append(keys, k)
	}
	cmd := exec.Command("xdotool", keys...)
	cmd.Env = d.env()
	if err := cmd.Start(); err != nil {
		d.t.Fatal(err)
	}
	return func() { _ = cmd.Wait() } // it fails once the window is gone
}

// stood reads what is on the disk: the plan's file, and that with what its journal holds beyond it.
func stood(t *testing.T, path string) (file, all *layout.Plan) {
	t.Helper()
	file, err := layout.Load(path)
	if err != nil {
		t.Fatalf("the plan cannot be read: %v", err)
	}
	rec, err := journal.Recover(journal.PathFor(path))
	switch {
	case errors.Is(err, journal.ErrNone):
		return file, file
	case err != nil:
		t.Fatalf("the journal cannot be read: %v", err)
	}
	return file, rec.Plan
}

// along is how far the first module stands along its box, mm.
func along(p *layout.Plan) float64 { return p.Arrangements[0].Boxes[0].Modules[0].At[0] }
