package journal

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Owner says who has a plan open.
type Owner struct {
	PID     int       `json:"pid"`
	Host    string    `json:"host"`
	Started string    `json:"started"` // when the process started, as its system counts it; empty where that is not known
	Since   time.Time `json:"since"`   // when it opened the plan
}

// Lock marks a plan as open.
type Lock struct {
	path string
	own  []byte
}

// Held is the error that TryLock gives where another window has the plan open.
type Held struct {
	Plan  string
	Owner Owner
}

// Error implements error.
func (h *Held) Error() string {
	return fmt.Sprintf("%s is open in another window (process %d on %s, since %s)", h.Plan, h.Owner.PID, h.Owner.Host, h.Owner.Since.Local().Format("2 Jan 15:04"))
}

// lockPath is where the lock of a plan is. A plan that is opened by a symbolic link has the lock beside the real file.
func lockPath(plan string) string {
	if real, err := filepath.EvalSymlinks(plan); err == nil {
		plan = real
	}
	return filepath.Join(filepath.Dir(plan), "."+filepath.Base(plan)+".lock")
}

// TryLock marks a plan as open. Where another window has it open the error is a [*Held]. A mark left behind by a process
// that is no more is taken over. The mark is advice: it keeps nobody from writing the file.
func TryLock(plan string) (*Lock, error) {
	l := &Lock{path: lockPath(plan)}
	owner := self()
	l.own, _ = json.Marshal(owner)
	for range 100 {
		err := l.create()
		if err == nil {
			return l, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, fmt.Errorf("%s cannot be marked as open: %w", plan, err)
		}
		if other, left := leftBehind(l.path); !left {
			return nil, &Held{Plan: plan, Owner: other}
		}
		l.clear()
	}
	return nil, fmt.Errorf("%s cannot be marked as open: others keep opening it", plan)
}

// TakeLock marks a plan as open even where another window has it open: for a user who says that it has not.
func TakeLock(plan string) (*Lock, error) {
	if err := os.Remove(lockPath(plan)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	return TryLock(plan)
}

// Release takes the mark away, unless somebody else has taken it over meanwhile. l may be nil.
func (l *Lock) Release() error {
	if l == nil {
		return nil
	}
	if data, err := os.ReadFile(l.path); err != nil || string(data) != string(l.own) {
		return nil
	}
	return os.Remove(l.path)
}

// create makes the lock's file with its contents in one step, so that nobody reads half of them.
func (l *Lock) create() error {
	f, err := os.CreateTemp(filepath.Dir(l.path), filepath.Base(l.path)+".*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(l.own)
	if err = errors.Join(err, f.Chmod(0o644), f.Close()); err != nil {
		return err
	}
	err = os.Link(f.Name(), l.path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return l.createPlainly() // a file system without links
}

func (l *Lock) createPlainly() error {
	f, err := os.OpenFile(l.path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(l.own)
	return errors.Join(err, f.Close())
}

// clearing is how long the taking away of a mark can last at the very most; whoever was at it longer is no more.
const clearing = 10 * time.Second

// clear takes away a mark that was left behind. Only one process at a time may do that, and looks again first: another
// one may have cleared it and made its own mark meanwhile. Where there is no mark it takes none away: another one may be
// making its own at this moment.
func (l *Lock) clear() {
	guard := l.path + ".clearing"
	f, err := os.OpenFile(guard, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		if st, err := os.Stat(guard); err == nil && time.Since(st.ModTime()) > clearing {
			os.Remove(guard)
		}
		time.Sleep(5 * time.Millisecond)
		return
	}
	f.Close()
	defer os.Remove(guard)
	if data, err := os.ReadFile(l.path); err == nil {
		if _, left := abandoned(data); left {
			os.Remove(l.path)
		}
	}
}

// leftBehind tells whether a mark is of no process any more, or cannot be read as one; else whose it is. A mark that is
// not there counts as left behind.
func leftBehind(path string) (Owner, bool) {
	data, err := os.ReadFile(path)
	if err != nil {
		return Owner{}, true
	}
	return abandoned(data)
}

// abandoned is leftBehind for the contents of a mark.
func abandoned(data []byte) (Owner, bool) {
	var o Owner
	if json.Unmarshal(data, &o) != nil {
		return Owner{}, true
	}
	return o, stale(o)
}

func self() Owner {
	host, _ := os.Hostname()
	return Owner{PID: os.Getpid(), Host: host, Started: startOf(os.Getpid()), Since: time.Now()}
}

// stale tells whether an owner is surely no more. Of a process on another machine nothing is sure.
func stale(o Owner) bool {
	host, _ := os.Hostname()
	if o.Host != host || o.PID <= 0 {
		return o.PID <= 0
	}
	if !alive(o.PID) {
		return true
	}
	now := startOf(o.PID)
	return o.Started != "" && now != "" && o.Started != now
}
