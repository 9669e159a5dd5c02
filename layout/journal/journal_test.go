package journal

import (
	"bytes"
	crand "crypto/rand"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/golang/geo/r3"

	"stowbay/internal/inputs"
	"stowbay/layout"
)

// opened is a plan saved in a folder of its own, with a document and a journal that follows it.
func opened(t *testing.T) (string, *layout.Document, *Journal) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "a plan.yaml")
	p := smallPlan()
	if err := layout.Save(file, p); err != nil {
		t.Fatal(err)
	}
	d := layout.NewDocument(p, nil)
	j := Start(PathFor(file), file, p)
	j.Follow(d)
	return file, d, j
}

func edit(t *testing.T, d *layout.Document, r *rand.Rand, n int) {
	t.Helper()
	for made := 0; made < n; {
		ok, err := randomStep(d, r)
		if err != nil {
			t.Fatal(err)
		}
		if ok {
			made++
		}
	}
}

func recovered(t *testing.T, path string, want *layout.Plan, edits int) *Recovery {
	t.Helper()
	r, err := Recover(path)
	if err != nil {
		t.Fatal(err)
	}
	if r.Edits != edits || sumOf(t, r.Plan) != sumOf(t, want) {
		t.Errorf("%d edits recovered, want %d; the plan is the same: %v", r.Edits, edits, sumOf(t, r.Plan) == sumOf(t, want))
	}
	return r
}

func TestRecoverGivesAllEdits(t *testing.T) {
	_, d, j := opened(t)
	r := rand.New(rand.NewPCG(1, 2))
	for n := 1; n <= 30; n++ {
		edit(t, d, r, 1)
		if err := j.Flush(); err != nil {
			t.Fatal(err)
		}
		if got := recovered(t, j.Path(), d.Plan(), n); got.Lost != 0 || got.Other {
			t.Errorf("%+v", got)
		}
	}
}

func TestNothingIsWrittenBeforeAnEdit(t *testing.T) {
	_, _, j := opened(t)
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	if _, err := Recover(j.Path()); !errors.Is(err, ErrNone) {
		t.Errorf("got %v, want ErrNone", err)
	}
}

// Every way in which the last write can be torn loses the edits of that write and nothing else.
func TestTornEnds(t *testing.T) {
	_, d, j := opened(t)
	r := rand.New(rand.NewPCG(3, 4))
	edit(t, d, r, 3)
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	before := d.Plan()
	edit(t, d, r, 1)
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	all, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	torn := filepath.Join(filepath.Dir(j.Path()), "torn.journal")
	write := func(data []byte) {
		t.Helper()
		if err := os.WriteFile(torn, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for cut := len(whole); cut < len(all)-1; cut += 1 + cut%3 {
		write(all[:cut])
		recovered(t, torn, before, 3)
		write(append(append([]byte{}, all[:cut]...), make([]byte, len(all)-cut)...)) // as some file systems leave it: zeros
		if got := recovered(t, torn, before, 3); cut > len(whole) && got.Lost != 1 {
			t.Fatalf("cut at %d: %d lines lost, want 1", cut, got.Lost)
		}
	}
	for cut := 0; cut < len(whole); cut += 1 + cut%11 {
		write(whole[:cut])
		if _, err := Recover(torn); err != nil && !errors.Is(err, ErrNone) {
			t.Fatalf("cut at %d: %v", cut, err)
		}
	}
}

func TestSaveBeginsAnew(t *testing.T) {
	file, d, j := opened(t)
	r := rand.New(rand.NewPCG(5, 6))
	edit(t, d, r, 5)
	if err := j.Save(file, d.Plan()); err != nil {
		t.Fatal(err)
	}
	d.Saved()
	if _, err := Recover(j.Path()); !errors.Is(err, ErrNone) {
		t.Errorf("a journal is left after saving: %v", err)
	}
	edit(t, d, r, 2)
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	recovered(t, j.Path(), d.Plan(), 2)
}

// announce writes what stands in a journal before the plan is saved, and returns the file that it tells of.
func announce(t *testing.T, j *Journal, d *layout.Document) []byte {
	t.Helper()
	data, err := layout.Encode(d.Plan())
	if err != nil {
		t.Fatal(err)
	}
	mark, err := seal(line{Saving: hashOf(data)})
	if err != nil {
		t.Fatal(err)
	}
	if err := j.write(mark); err != nil {
		t.Fatal(err)
	}
	return data
}

// Killed between the plan's renaming and the journal's new start: the mark of the saving tells that the edits are in the file.
func TestKilledBetweenSavingAndANewStart(t *testing.T) {
	file, d, j := opened(t)
	r := rand.New(rand.NewPCG(7, 8))
	edit(t, d, r, 5)
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	data := announce(t, j, d)
	if got := recovered(t, j.Path(), d.Plan(), 5); got.Other {
		t.Error("before the renaming the file counts as changed by others")
	}
	if err := layout.ReplaceFile(file, data); err != nil {
		t.Fatal(err)
	}
	if got := recovered(t, j.Path(), d.Plan(), 0); got.Other || got.Unsaved || got.Lost > 0 {
		t.Error("after the renaming there is something to recover")
	}
}

func TestRecoverWhenTheFileWasChangedByOthers(t *testing.T) {
	file, d, j := opened(t)
	edit(t, d, rand.New(rand.NewPCG(9, 9)), 4)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte("other"), 0o666); err != nil {
		t.Fatal(err)
	}
	if got := recovered(t, j.Path(), d.Plan(), 4); !got.Other || got.File != file {
		t.Errorf("%+v", got)
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	if got := recovered(t, j.Path(), d.Plan(), 4); !got.Other {
		t.Error("a file that is gone counts as the same")
	}
}

// A recovered plan that is worked on, and lost again, is recovered again.
func TestRecoverTwice(t *testing.T) {
	file, d, j := opened(t)
	r := rand.New(rand.NewPCG(10, 10))
	edit(t, d, r, 4)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	first := recovered(t, j.Path(), d.Plan(), 4)
	d2 := layout.NewDocument(first.Plan, nil)
	d2.MarkDirty()
	j2 := Start(j.Path(), file, first.Plan)
	j2.Follow(d2)
	recovered(t, j.Path(), d.Plan(), 4) // nothing done yet: the old journal stands
	edit(t, d2, r, 3)
	if err := j2.Close(); err != nil {
		t.Fatal(err)
	}
	if got := recovered(t, j.Path(), d2.Plan(), 3); !got.Unsaved || got.Other {
		t.Errorf("%+v", got)
	}
}

// A crash just after the journal of a recovered plan was begun: no edit is in it, but the plan is.
func TestRecoverFromAHeaderAlone(t *testing.T) {
	file, d, j := opened(t)
	edit(t, d, rand.New(rand.NewPCG(15, 10)), 4)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	j2 := Start(j.Path(), file, recovered(t, j.Path(), d.Plan(), 4).Plan)
	if err := j2.create(); err != nil {
		t.Fatal(err)
	}
	if got := recovered(t, j.Path(), d.Plan(), 0); !got.Unsaved {
		t.Error("there is nothing to recover, it says")
	}
	if err := layout.Save(file, d.Plan()); err != nil {
		t.Fatal(err)
	}
	if got := recovered(t, j.Path(), d.Plan(), 0); got.Unsaved || !got.Other {
		t.Errorf("saved meanwhile by another: %+v", got)
	}
}

// A line that still reads as JSON but is not what was written is not believed, nor is anything after it.
func TestChangedLines(t *testing.T) {
	_, d, j := opened(t)
	var plans []*layout.Plan
	for _, name := range []string{"one", "two", "three"} {
		plans = append(plans, d.Plan())
		e, err := layout.PutHeading(d.Plan(), layout.Heading{Name: name})
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Do(e); err != nil {
			t.Fatal(err)
		}
		if err := j.Flush(); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(j.Path(), bytes.ReplaceAll(data, []byte(`"two"`), []byte(`"twO"`)), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := recovered(t, j.Path(), plans[1], 1); got.Lost != 2 {
		t.Errorf("%d lines lost, want 2", got.Lost)
	}
}

func TestSaveOfARecoveredPlanTakesTheOldJournalAway(t *testing.T) {
	file, d, j := opened(t)
	edit(t, d, rand.New(rand.NewPCG(11, 10)), 4)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	first := recovered(t, j.Path(), d.Plan(), 4)
	j2 := Start(j.Path(), file, first.Plan)
	if err := j2.Save(file, first.Plan); err != nil {
		t.Fatal(err)
	}
	if _, err := Recover(j.Path()); !errors.Is(err, ErrNone) {
		t.Errorf("got %v, want ErrNone", err)
	}
}

func TestPlanWithoutAName(t *testing.T) {
	dir := t.TempDir()
	p := smallPlan()
	d := layout.NewDocument(p, nil)
	j := Start(Unnamed(dir), "", p)
	j.Follow(d)
	edit(t, d, rand.New(rand.NewPCG(12, 10)), 4)
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	left := Left(dir)
	if len(left) != 1 {
		t.Fatalf("%d journals left, want 1", len(left))
	}
	if got := recovered(t, left[0], d.Plan(), 4); got.File != "" || got.Other {
		t.Errorf("%+v", got)
	}
	file := filepath.Join(t.TempDir(), "named.yaml")
	if err := j.Save(file, d.Plan()); err != nil {
		t.Fatal(err)
	}
	if len(Left(dir)) != 0 || j.Path() != PathFor(file) {
		t.Error("the journal does not move beside the saved plan")
	}
	edit(t, d, rand.New(rand.NewPCG(13, 10)), 2)
	if err := j.Discard(); err != nil {
		t.Fatal(err)
	}
	if _, err := Recover(PathFor(file)); !errors.Is(err, ErrNone) {
		t.Errorf("a discarded journal is left: %v", err)
	}
}

func TestGesturesAreWrittenInTime(t *testing.T) {
	_, d, j := opened(t)
	d.BeginGesture("Drag")
	for range 50 {
		e, err := layout.Move(d.Plan(), "a", []string{"b1"}, r3.Vector{X: 1})
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Do(e); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := Recover(j.Path()); !errors.Is(err, ErrNone) {
		t.Error("written before the delay was over")
	}
	waitFor(t, func() bool {
		r, err := Recover(j.Path())
		return err == nil && sumOf(t, r.Plan) == sumOf(t, d.Plan()) && r.Edits == 1
	})
	e, err := layout.Move(d.Plan(), "a", []string{"b1"}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	d.EndGesture()
	waitFor(t, func() bool {
		r, err := Recover(j.Path())
		return err == nil && sumOf(t, r.Plan) == sumOf(t, d.Plan()) && r.Edits == 2
	})
	d.BeginGesture("Drag")
	if e, err = layout.Move(d.Plan(), "a", []string{"b1"}, r3.Vector{X: 9}); err != nil {
		t.Fatal(err)
	}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	d.CancelGesture()
	waitFor(t, func() bool {
		r, err := Recover(j.Path())
		return err == nil && sumOf(t, r.Plan) == sumOf(t, d.Plan())
	})
}

// waitFor waits for something that happens by itself. How long it takes is not what is tested.
func waitFor(t *testing.T, ok func() bool) {
	t.Helper()
	for range 3000 {
		if ok() {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("it did not come about")
}

func TestErrorsAreKeptAndEditsStay(t *testing.T) {
	_, d, j := opened(t)
	dir := filepath.Dir(j.Path())
	moved := dir + " moved"
	if err := os.Rename(dir, moved); err != nil {
		t.Fatal(err)
	}
	edit(t, d, rand.New(rand.NewPCG(14, 10)), 3)
	if err := j.Flush(); err == nil || j.Err() == nil || !strings.Contains(err.Error(), "cannot be written; save the plan") {
		t.Errorf("got %v", err)
	}
	if err := os.Rename(moved, dir); err != nil {
		t.Fatal(err)
	}
	if err := j.Flush(); err != nil || j.Err() != nil {
		t.Fatal(err)
	}
	recovered(t, j.Path(), d.Plan(), 3)
}

func FuzzRecover(f *testing.F) {
	for _, data := range journals(f) {
		f.Add(data)
	}
	path := filepath.Join(f.TempDir(), "j.journal")
	f.Fuzz(func(t *testing.T, data []byte) { _ = tryJournal(t, path, data) })
}

func TestFloodOfJournals(t *testing.T) {
	dir := t.TempDir()
	var files sync.Pool // a file for each of those that read at a time
	inputs.Flood{Target: "FuzzRecover", Words: inputs.JSONWords, Examples: journals(t), Read: func(t inputs.T, data []byte) error {
		path, _ := files.Get().(*string)
		if path == nil {
			name := filepath.Join(dir, crand.Text()+".journal")
			path = &name
		}
		defer files.Put(path)
		return tryJournal(t, *path, data)
	}}.Run(t)
}

// journals are good journals of two kinds and a bad one.
func journals(t testing.TB) [][]byte {
	header := sealedHeader()
	mark, err := seal(line{Edit: []byte(`{"kind":"batch","edits":[]}`), Saving: "x"})
	if err != nil {
		t.Fatal(err)
	}
	return [][]byte{header, append(bytes.Clone(header), mark...), []byte("00000000 {}\n"), []byte(`{"kind":"batch","edits":[]}`)}
}

// tryJournal recovers from an arbitrary file. Where the data may be an edit, it is sealed first: a checksum that fits leads past it.
func tryJournal(t inputs.T, path string, data []byte) error {
	if l, err := seal(line{Edit: data}); err == nil {
		data = append(sealedHeader(), l...)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := Recover(path)
	if err == nil && r.Plan == nil {
		t.Error("neither a plan nor an error")
	}
	return err
}

func sealedHeader() []byte {
	data, err := seal(line{Journal: version, Base: "format: 1\nname: x\ndonor: d\narrangements: [{id: a, name: A}]\n"})
	if err != nil {
		panic(err)
	}
	return data
}
