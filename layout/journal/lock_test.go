package journal

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

func planFile(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "plan.yaml")
	if err := os.WriteFile(file, []byte("one"), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestSecondWindowIsTold(t *testing.T) {
	file := planFile(t)
	l, err := TryLock(file)
	if err != nil {
		t.Fatal(err)
	}
	var held *Held
	if _, err := TryLock(file); !errors.As(err, &held) || held.Owner.PID != os.Getpid() || !strings.Contains(err.Error(), "is open in another window") {
		t.Errorf("got %v", err)
	}
	link := filepath.Join(t.TempDir(), "link.yaml")
	if err := os.Symlink(file, link); err != nil {
		t.Fatal(err)
	}
	if _, err := TryLock(link); !errors.As(err, &held) {
		t.Errorf("by another name: %v", err)
	}
	if err := l.Release(); err != nil {
		t.Fatal(err)
	}
	if l, err = TryLock(file); err != nil {
		t.Fatalf("after it was closed: %v", err)
	}
	taken, err := TakeLock(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Release(); err != nil {
		t.Fatal(err)
	}
	if _, err := TryLock(file); !errors.As(err, &held) {
		t.Error("the first one released the lock of the one that took it over")
	}
	if err := taken.Release(); err != nil {
		t.Fatal(err)
	}
	if entries, _ := os.ReadDir(filepath.Dir(file)); len(entries) != 1 {
		t.Errorf("something is left: %v", entries)
	}
}

func TestStaleLocks(t *testing.T) {
	host, _ := os.Hostname()
	for name, c := range map[string]struct {
		owner Owner
		stale bool
	}{
		"no such process":          {Owner{PID: 1 << 30, Host: host}, true},
		"number used again":        {Owner{PID: os.Getpid(), Host: host, Started: "another boot/1"}, startOf(os.Getpid()) != ""},
		"number 1 used again":      {Owner{PID: 1, Host: host, Started: "another boot/1"}, startOf(1) != ""},
		"this very process":        {self(), false},
		"start not known":          {Owner{PID: os.Getpid(), Host: host}, false},
		"process of another host":  {Owner{PID: 1 << 30, Host: host + "-other"}, false},
		"number 1 of another host": {Owner{PID: 1, Host: host + "-other"}, false},
		"nonsense":                 {Owner{}, true},
		"nonsense on another host": {Owner{Host: "other", PID: -4}, true},
	} {
		file := planFile(t)
		data, err := json.Marshal(c.owner)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(lockPath(file), data, 0o644); err != nil {
			t.Fatal(err)
		}
		l, err := TryLock(file)
		if (err == nil) != c.stale {
			t.Errorf("%s: got %v, stale is %v", name, err, c.stale)
		}
		l.Release()
	}
	file := planFile(t)
	if err := os.WriteFile(lockPath(file), []byte("torn {"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := TryLock(file); err != nil {
		t.Errorf("a torn lock: %v", err)
	}
}

func TestOneOfManyGetsTheLock(t *testing.T) {
	for range 200 {
		file := planFile(t)
		if err := os.WriteFile(lockPath(file), []byte("{}"), 0o644); err != nil { // left behind
			t.Fatal(err)
		}
		var got atomic.Int32
		var wg sync.WaitGroup
		for range 8 {
			wg.Go(func() {
				if _, err := TryLock(file); err == nil {
					got.Add(1)
				}
			})
		}
		wg.Wait()
		if got.Load() != 1 {
			t.Fatalf("%d got the lock, want 1", got.Load())
		}
	}
}

func TestStamps(t *testing.T) {
	file := planFile(t)
	s, err := Take(file)
	if err != nil {
		t.Fatal(err)
	}
	check := func(when string, want State) {
		t.Helper()
		if got, err := s.Now(); err != nil || got != want {
			t.Errorf("%s: %v, %v; want %v", when, got, err, want)
		}
	}
	check("untouched", Same)
	if err := os.Chtimes(file, time.Time{}, time.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	check("touched", Same)
	if err := os.WriteFile(file, []byte("two"), 0o666); err != nil {
		t.Fatal(err)
	}
	check("changed", Changed)
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	check("removed", Gone)
	if s, err = Take(file); err != nil {
		t.Fatal(err)
	}
	check("never there", Same)
	if err := os.WriteFile(file, []byte("new"), 0o666); err != nil {
		t.Fatal(err)
	}
	check("came up", Changed)
}

// Where size and time of a file are as they were, its contents are not read; where its size is another one they are, though
// its time was set back.
func TestStampOfAFileWhoseTimeWasSetBack(t *testing.T) {
	file := planFile(t)
	s, err := Take(file)
	if err != nil {
		t.Fatal(err)
	}
	for contents, want := range map[string]State{"two": Same, "three": Changed} {
		if err := errors.Join(os.WriteFile(file, []byte(contents), 0o666), os.Chtimes(file, time.Time{}, s.ModTime)); err != nil {
			t.Fatal(err)
		}
		if got, err := s.Now(); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", contents, got, err, want)
		}
	}
}

// Whose a mark is can be read by every user of the machine, whatever way it was made; the journal is its owner's alone.
func TestWhoMayReadWhat(t *testing.T) {
	mode := func(path string) os.FileMode {
		t.Helper()
		st, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		return st.Mode().Perm()
	}
	file, d, j := opened(t)
	l, err := TryLock(file)
	if err != nil {
		t.Fatal(err)
	}
	if got := mode(l.path); got != 0o644 {
		t.Errorf("a mark has the mode %o, want 644", got)
	}
	plain := Lock{path: l.path + "2", own: []byte("{}")}
	if err := plain.createPlainly(); err != nil {
		t.Fatal(err)
	}
	if got := mode(plain.path); got&^0o044 != 0o600 {
		t.Errorf("a mark made without links has the mode %o, want 644 less what the system takes off", got)
	}
	if err := plain.createPlainly(); !errors.Is(err, os.ErrExist) {
		t.Errorf("a mark was made where there is one: %v", err)
	}
	moved(t, d)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	if got := mode(j.Path()); got != 0o600 {
		t.Errorf("a journal has the mode %o, want 600", got)
	}
}
