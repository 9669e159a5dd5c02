package journal

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/golang/geo/r3"

	"stowbay/layout"
)

// moved moves the first box by a millimetre.
func moved(t *testing.T, d *layout.Document) layout.Edit {
	t.Helper()
	e, err := layout.Move(d.Plan(), "a", []string{"b1"}, r3.Vector{X: 1})
	if err == nil {
		err = d.Do(e)
	}
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// written is how many edits a journal holds on the disk.
func written(t *testing.T, j *Journal) int {
	t.Helper()
	r, err := Recover(j.Path())
	if errors.Is(err, ErrNone) {
		return 0
	}
	if err != nil {
		t.Fatal(err)
	}
	return r.Edits
}

// By a clock of the test's own: what a gesture that goes on does waits for the delay and no longer; an edit by itself takes it along at
// once, and so does the gesture's end.
func TestAnEditIsOnTheDiskWithinTheDelay(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		_, followed, j := opened(t)
		d := layout.NewDocument(followed.Plan(), nil)
		expect := func(n int, when string) {
			t.Helper()
			synctest.Wait()
			if got := written(t, j); got != n {
				t.Errorf("%s: %d edits on the disk, want %d", when, got, n)
			}
		}
		j.Append(moved(t, d), true)
		time.Sleep(Delay - time.Nanosecond)
		expect(0, "just before the delay is over")
		time.Sleep(time.Nanosecond)
		expect(1, "after the delay")
		j.Append(moved(t, d), true)
		j.Append(moved(t, d), false)
		expect(2, "an edit by itself, joined to that of the gesture")
		j.Append(moved(t, d), true)
		j.EndGesture()
		expect(3, "one edit and the gesture's end")
		if Delay != 500*time.Millisecond {
			t.Errorf("the delay is %v, half a second is promised", Delay)
		}
	})
}

// An edit that is whole but cannot be made is lost with all after it; those before stay.
func TestEditsAfterOneThatCannotBeMadeAreLost(t *testing.T) {
	p := smallPlan()
	base, err := layout.Encode(p)
	if err != nil {
		t.Fatal(err)
	}
	d := layout.NewDocument(p, nil)
	var good []line
	for range 3 {
		data, err := layout.MarshalEdit(moved(t, d))
		if err != nil {
			t.Fatal(err)
		}
		good = append(good, line{Edit: data})
	}
	bad := line{Edit: []byte(strings.ReplaceAll(string(good[0].Edit), `"b1"`, `"b9"`))}
	for n, lines := range [][]line{{bad}, {good[0], bad}, {good[0], good[1], bad, good[2], bad}, good} {
		path := filepath.Join(t.TempDir(), "j.journal")
		var all []byte
		for _, l := range append([]line{{Journal: version, Base: string(base)}}, lines...) {
			one, err := seal(l)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, one...)
		}
		if err := os.WriteFile(path, all, 0o600); err != nil {
			t.Fatal(err)
		}
		r, err := Recover(path)
		if want := [][2]int{{0, 1}, {1, 1}, {2, 3}, {3, 0}}[n]; err != nil || [2]int{r.Edits, r.Lost} != want {
			t.Errorf("%d: %+v, %v; want %v made and lost", n, r, err, want)
		}
	}
}

// After a line that was changed nothing is believed any more, though it is whole and could be made.
func TestWholeLinesAfterAChangedOneAreLost(t *testing.T) {
	file, d, j := opened(t)
	for range 2 {
		moved(t, d)
		if err := j.Flush(); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(data), "\n")
	if err := os.WriteFile(j.Path(), []byte(lines[0]+lines[1]+"01234567 {}\n"+lines[2]), 0o600); err != nil {
		t.Fatal(err)
	}
	if r, err := Recover(j.Path()); err != nil || r.Edits != 1 || r.Lost != 2 || r.File != file {
		t.Errorf("%+v, %v; want one edit made and two lines lost", r, err)
	}
}

// Killed between the plan's renaming and the journal's new start, where the journal held no edit but the plan it began with.
func TestKilledWhileARecoveredPlanIsSaved(t *testing.T) {
	file, d, j := opened(t)
	moved(t, d)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	other := Start(j.Path(), file, d.Plan())
	data := announce(t, other, d)
	if r := recovered(t, j.Path(), d.Plan(), 0); !r.Unsaved || r.Other {
		t.Errorf("before the renaming: %+v", r)
	}
	if err := layout.ReplaceFile(file, data); err != nil {
		t.Fatal(err)
	}
	if r := recovered(t, j.Path(), d.Plan(), 0); r.Unsaved || r.Other {
		t.Errorf("after the renaming: %+v", r)
	}
}

func TestAJournalOfANewerVersionIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "j.journal")
	header, err := seal(line{Journal: version + 1, Base: "anything"})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, header, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Recover(path); err == nil || !strings.Contains(err.Error(), "newer version") {
		t.Errorf("got %v", err)
	}
}

// Journals that cannot be read are all kept, under names of their own.
func TestJournalsSetAsideAreAllKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "j.journal")
	for n, want := range []string{path + ".kept", path + ".kept2", path + ".kept3", path + ".kept4"} {
		if err := os.WriteFile(path, fmt.Append(nil, n), 0o600); err != nil {
			t.Fatal(err)
		}
		if name, err := SetAside(path); err != nil || name != want {
			t.Errorf("%s, %v; want %s", name, err, want)
		}
		if data, err := os.ReadFile(want); err != nil || string(data) != fmt.Sprint(n) {
			t.Errorf("%s holds %q, %v", want, data, err)
		}
	}
}
