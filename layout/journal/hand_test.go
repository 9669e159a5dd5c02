package journal

import (
	"errors"
	"fmt"
	"hash/crc32"
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

// A journal beside its plan finds it when both were moved together; one elsewhere finds it where it was.
func TestJournalFindsItsPlan(t *testing.T) {
	file, d, beside := opened(t)
	apart := Start(filepath.Join(t.TempDir(), "j.journal"), file, d.Plan())
	apart.Follow(d)
	moved(t, d)
	if err := errors.Join(beside.Close(), apart.Close()); err != nil {
		t.Fatal(err)
	}
	for _, j := range []*Journal{beside, apart} {
		if r, err := Recover(j.Path()); err != nil || r.File != file || r.Other {
			t.Errorf("%s: %+v, %v", j.Path(), r, err)
		}
	}
	folder := filepath.Join(t.TempDir(), "moved")
	if err := os.Rename(filepath.Dir(file), folder); err != nil {
		t.Fatal(err)
	}
	if r, err := Recover(filepath.Join(folder, filepath.Base(beside.Path()))); err != nil || r.File != filepath.Join(folder, filepath.Base(file)) || r.Other {
		t.Errorf("moved together: %+v, %v", r, err)
	}
}

// A journal as the first version of the format writes it, byte by byte: the sum of a line is the CRC-32 of its text.
func TestFormatOfAJournal(t *testing.T) {
	data, err := seal(line{Journal: version, Plan: "p.yaml", Base: "b"})
	text := `{"stowbay_journal":1,"plan":"p.yaml","base":"b"}`
	if want := fmt.Sprintf("%08x %s\n", crc32.ChecksumIEEE([]byte(text)), text); err != nil || string(data) != want {
		t.Errorf("%s, %v; want %s", data, err, want)
	}
}

// Of what is no journal nothing is lost, and nothing is read of it.
func TestWhatIsNoJournalLosesNothing(t *testing.T) {
	newer, err := seal(line{Journal: version + 1})
	if err != nil {
		t.Fatal(err)
	}
	edit, err := seal(line{Edit: []byte("{}")})
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string]string{"empty": "", "torn": "0123 {", "an edit first": string(edit) + "x\n", "newer": string(newer)} {
		path := filepath.Join(t.TempDir(), "j.journal")
		if err := os.WriteFile(path, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
		if header, lines, lost, err := read(path); err == nil || lost != 0 || lines != nil || header.Journal != 0 {
			t.Errorf("%s: %+v, %v, %d lost, %v", name, header, lines, lost, err)
		}
	}
	for _, path := range []string{filepath.Join(t.TempDir(), "none"), "no\x00name"} {
		if _, lines, lost, err := read(path); err == nil || lost != 0 || lines != nil {
			t.Errorf("%q: %v, %d lost, %v", path, lines, lost, err)
		}
	}
}
