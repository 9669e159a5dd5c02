package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"stowbay/layout"
)

// Delay is how long an edit of a gesture that is still going on may wait before it is written.
const Delay = 500 * time.Millisecond

// Journal writes the edits of one document to a file. It may be used from several goroutines. Edits are written by a
// goroutine of its own, so that a slow disk does not hold up the screen.
type Journal struct {
	path string

	mu      sync.Mutex
	base    *layout.Plan
	plan    string // the plan's file; empty where it has no name
	hash    string // of that file
	pending []layout.Edit
	open    bool // the last pending edit belongs to a gesture that goes on
	file    *os.File
	size    int64 // of what is well written
	err     error
	timer   *time.Timer
	closed  bool
}

// PathFor is where the journal of a plan file is: beside it, hidden.
func PathFor(plan string) string {
	return filepath.Join(filepath.Dir(plan), "."+filepath.Base(plan)+".journal")
}

// Unnamed gives a new path in a folder for the journal of a plan that has no file yet. [Left] finds it again.
func Unnamed(dir string) string {
	return filepath.Join(dir, fmt.Sprintf("unnamed-%s-%d.journal", time.Now().UTC().Format("20060102-150405.000"), os.Getpid()))
}

// Left lists the journals of plans without a name in a folder, oldest first.
func Left(dir string) []string {
	found, err := filepath.Glob(filepath.Join(dir, "unnamed-*.journal"))
	if err != nil {
		return nil
	}
	return found
}

// Start begins a journal of edits that build on a plan. plan is the file that holds it, or empty where it has none. An older journal of
// the same path is overwritten by the first edit: call [Recover] first. Nothing is written before there is an edit.
func Start(path, plan string, base *layout.Plan) *Journal {
	j := &Journal{path: path}
	j.rebase(plan, base)
	return j
}

func (j *Journal) rebase(plan string, base *layout.Plan) {
	j.plan, j.base, j.hash = plan, base, ""
	if plan == "" {
		return
	}
	if data, err := os.ReadFile(plan); err == nil {
		j.hash = hashOf(data)
	}
}

// Path returns the journal's own file.
func (j *Journal) Path() string { return j.path }

// Follow writes every edit of a document to the journal from now on, until the function returned is called.
func (j *Journal) Follow(d *layout.Document) (stop func()) {
	return d.Subscribe(func(e layout.Event) {
		if e.Edit != nil {
			j.Append(e.Edit, d.InGesture())
		}
		if e.GestureEnded {
			j.EndGesture()
		}
	})
}

// Append takes an edit into the journal. It is written soon: at once, or within [Delay] where it belongs to a gesture that goes on; edits of such a
// gesture are joined where they can be. Append does not wait for the disk.
func (j *Journal) Append(e layout.Edit, gesture bool) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return
	}
	j.take(e)
	j.open = gesture
	if gesture {
		j.later(Delay)
	} else {
		j.later(0)
	}
}

func (j *Journal) take(e layout.Edit) {
	if n := len(j.pending); n > 0 && j.open {
		if m, ok := j.pending[n-1].Merge(e); ok {
			j.pending[n-1] = m
			return
		}
	}
	j.pending = append(j.pending, e)
}

// later has the pending edits written after a while, or sooner where that was planned already.
func (j *Journal) later(d time.Duration) {
	if j.timer != nil && d > 0 {
		return
	}
	if j.timer != nil {
		j.timer.Stop()
	}
	j.timer = time.AfterFunc(d, func() { j.Flush() })
}

// EndGesture has what is pending written at once.
func (j *Journal) EndGesture() {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.open = false
	if len(j.pending) > 0 && !j.closed {
		j.later(0)
	}
}

// Flush writes all pending edits and waits until they are on the disk. After an error the edits stay pending and the next Flush
// tries again.
func (j *Journal) Flush() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.flush()
}

func (j *Journal) flush() error {
	j.timer, j.open = nil, false
	if len(j.pending) == 0 || j.closed {
		return j.err
	}
	var lines []byte
	for _, e := range j.pending {
		data, err := layout.MarshalEdit(e)
		if err != nil {
			return j.fail(err)
		}
		l, err := seal(line{Edit: data})
		if err != nil {
			return j.fail(err)
		}
		lines = append(lines, l...)
	}
	if err := j.write(lines); err != nil {
		return j.fail(err)
	}
	j.pending, j.err = nil, nil
	return nil
}

func (j *Journal) fail(err error) error {
	j.err = fmt.Errorf("the journal, which keeps changes safe until they are saved, cannot be written; save the plan: %w", layout.Explain("save", j.path, err))
	return j.err
}

// Err gives why edits could not be written, or nil. It is to be shown: a crash would lose what is not written.
func (j *Journal) Err() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.err
}

// write adds lines to the file and waits until they are on the disk. A line that could only be written in part is cut off again.
func (j *Journal) write(lines []byte) error {
	if j.file == nil {
		if err := j.create(); err != nil {
			return err
		}
	}
	_, err := j.file.WriteAt(lines, j.size)
	if err == nil {
		err = j.file.Sync()
	}
	if err != nil {
		j.file.Truncate(j.size)
		return err
	}
	j.size += int64(len(lines))
	return nil
}

// create makes the file with its header. An older journal of the same path stays until the new one is whole.
func (j *Journal) create() error {
	base, err := layout.Encode(j.base)
	if err != nil {
		return err
	}
	header, err := seal(line{Journal: version, Plan: j.planName(), Hash: j.hash, Base: string(base)})
	if err != nil {
		return err
	}
	temp := fmt.Sprintf("%s.%d.tmp", j.path, os.Getpid())
	if err := writeSynced(temp, header); err != nil {
		os.Remove(temp)
		return err
	}
	if err := os.Rename(temp, j.path); err != nil {
		os.Remove(temp)
		return err
	}
	if err := layout.SyncFolder(filepath.Dir(j.path)); err != nil {
		return err
	}
	if j.file, err = os.OpenFile(j.path, os.O_RDWR, 0); err != nil {
		return err
	}
	j.size = int64(len(header))
	return nil
}

func writeSynced(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}

// planName is the plan's file as the journal names it: without its folder where it lies beside the journal, so that both can be moved together.
func (j *Journal) planName() string {
	if j.plan == "" {
		return ""
	}
	if filepath.Dir(j.plan) == filepath.Dir(j.path) {
		return filepath.Base(j.plan)
	}
	if abs, err := filepath.Abs(j.plan); err == nil {
		return abs
	}
	return j.plan
}

// Save saves a plan, which has all the edits of the journal in it, to a file, and begins the journal anew from there. Killed at any
// moment, either the old file and the journal are there, or the new file. Where the plan has another file than before the journal moves
// beside it.
func (j *Journal) Save(file string, p *layout.Plan) error {
	data, err := layout.Encode(p)
	if err != nil {
		return fmt.Errorf("the plan cannot be saved: %w", err)
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	// A disk too full for the journal may still have room for the plan, so a failure here must not keep it from being saved.
	if j.flush() == nil && exists(j.path) {
		mark, err := seal(line{Saving: hashOf(data)})
		if err != nil {
			return err
		}
		if err := j.write(mark); err != nil {
			j.fail(err)
		}
	}
	if err := layout.ReplaceFile(file, data); err != nil {
		return err
	}
	j.remove()
	j.pending, j.err = nil, nil
	j.path = PathFor(file)
	j.plan, j.base, j.hash = file, p, hashOf(data)
	return nil
}

// Discard ends the journal and removes its file: the plan is saved, or its changes are not wanted.
func (j *Journal) Discard() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.closed, j.pending = true, nil
	return j.remove()
}

// Close ends the journal, writes what is pending and leaves its file for [Recover].
func (j *Journal) Close() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	err := j.flush()
	j.closed = true
	if j.file != nil {
		err = errors.Join(err, j.file.Close())
		j.file = nil
	}
	return err
}

// SetAside gives a journal that cannot be read another name, so that a new one does not take its place.
func SetAside(path string) (name string, err error) {
	name = path + ".kept"
	for n := 2; exists(name); n++ {
		name = fmt.Sprintf("%s.kept%d", path, n)
	}
	return name, os.Rename(path, name)
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// remove takes the file away, and one that was there before this journal began.
func (j *Journal) remove() error {
	if j.file != nil {
		j.file.Close()
		j.file, j.size = nil, 0
	}
	if err := os.Remove(j.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
