package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// rig is a package's tests with all its changes built in, of which one at a time can be switched on: one build in the place
// of one for each change. It knows which tests come by which change and what each takes, so that a change is shown the quick
// ones first, and no test that never reaches it.
type rig struct {
	dir      string // of the package
	work     string // holds what is built
	flags    []string
	changes  []change
	inside   map[int]bool // the changes that can be switched
	wrong    map[int]bool // those that do not compile
	tests    []probe      // quick ones first
	recorder string
	binary   string
}

// probe is one test: its name, what it takes without any change and the changes it comes by.
type probe struct {
	name    string
	takes   time.Duration
	reaches map[int]bool
}

// newRig builds a package's tests and runs each of them by itself. Close removes what it has built.
func newRig(ctx context.Context, p pkg, changes []change, flags []string) (*rig, error) {
	work, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return nil, err
	}
	r := &rig{dir: p.Dir, work: work, changes: changes, inside: map[int]bool{}, wrong: map[int]bool{}, recorder: filepath.Join(work, "record"), binary: filepath.Join(work, "try")}
	for _, f := range flags {
		r.flags = append(r.flags, strings.Replace(f, "-", "-test.", 1))
	}
	if err := r.prepare(ctx, p); err != nil {
		r.Close()
		return nil, err
	}
	return r, nil
}

// Close removes what was built.
func (r *rig) Close() { os.RemoveAll(r.work) }

func (r *rig) prepare(ctx context.Context, p pkg) error {
	t, err := checked(ctx, p)
	if err != nil {
		return err
	}
	for i, c := range r.changes {
		r.wrong[i] = t.joins(c)
	}
	if err := r.built(ctx, p, t); err != nil {
		return err
	}
	return r.recorded(ctx)
}

// built builds both programs. Changes on lines that do not compile with their switches are left out, until all do.
func (r *rig) built(ctx context.Context, p pkg, t *typed) error {
	out := map[string]bool{}
	for range 20 {
		r.inside = map[int]bool{}
		message, err := r.build(ctx, p, t, out, r.binary, false)
		if err == nil {
			_, err = r.build(ctx, p, t, out, r.recorder, true)
			return err
		}
		lines := faultyLines(message)
		if len(lines) == 0 {
			return fmt.Errorf("the package with its switches does not compile: %w\n%s", err, message)
		}
		for _, l := range lines {
			out[l] = true
		}
	}
	return errors.New("the package with its switches does not compile")
}

var faulty = regexp.MustCompile(`(?m)^[^ :]*?([^/ :]+\.go):(\d+):\d+: `)

// faultyLines returns the lines that the compiler complains of, as file:line.
func faultyLines(message []byte) []string {
	var all []string
	for _, m := range faulty.FindAllSubmatch(message, -1) {
		all = append(all, string(m[1])+":"+string(m[2]))
	}
	return all
}

// build writes the package with the switches that are not on lines left out and builds its tests.
func (r *rig) build(ctx context.Context, p pkg, t *typed, out map[string]bool, binary string, recording bool) ([]byte, error) {
	replaced := map[string]string{}
	changes := map[int]change{}
	for i, c := range r.changes {
		if !r.wrong[i] {
			changes[i] = c
		}
	}
	twins := t.wholly(changes, out)
	for _, list := range twins {
		for _, w := range list {
			r.inside[w.change] = true
		}
	}
	for path := range t.files {
		text, done := t.switched(path, changes, twins, out)
		for _, i := range done {
			r.inside[i] = true
		}
		if err := r.put(replaced, path, text); err != nil {
			return nil, err
		}
	}
	added := filepath.Join(p.Dir, "mutate_switches.go")
	if err := r.put(replaced, added, switches(t.pkg.Name(), len(r.changes), recording)); err != nil {
		return nil, err
	}
	list, err := json.Marshal(map[string]any{"Replace": replaced})
	if err != nil {
		return nil, err
	}
	overlay := filepath.Join(r.work, "overlay.json")
	if err := os.WriteFile(overlay, list, 0o600); err != nil {
		return nil, err
	}
	cmd := exec.CommandContext(ctx, "go", "test", "-c", "-vet=off", "-gcflags=-e", "-overlay", overlay, "-o", binary, p.ImportPath)
	return cmd.CombinedOutput()
}

// put writes a text to be read in a file's place.
func (r *rig) put(replaced map[string]string, path, text string) error {
	replaced[path] = filepath.Join(r.work, filepath.Base(path))
	return os.WriteFile(replaced[path], []byte(text), 0o600)
}

// recorded runs each test by itself. One that does not pass alone and unchanged is an error.
func (r *rig) recorded(ctx context.Context) error {
	list := r.command(ctx, r.recorder, "-test.list", ".")
	out, err := list.Output()
	if err != nil {
		return explained(err)
	}
	for _, name := range strings.Fields(string(out)) {
		if strings.HasPrefix(name, "Benchmark") {
			continue
		}
		p, err := r.record(ctx, name)
		if err != nil {
			return err
		}
		r.tests = append(r.tests, p)
	}
	slices.SortStableFunc(r.tests, func(a, b probe) int { return cmp.Compare(a.takes, b.takes) })
	return nil
}

func (r *rig) record(ctx context.Context, name string) (probe, error) {
	reached := filepath.Join(r.work, "reached")
	if err := os.WriteFile(reached, nil, 0o600); err != nil {
		return probe{}, err
	}
	cmd := r.command(ctx, r.recorder, "-test.run", "^"+name+"$")
	cmd.Env = append(os.Environ(), "MUTATE_REACHED="+reached)
	began := time.Now()
	if out, err := cmd.CombinedOutput(); err != nil {
		return probe{}, fmt.Errorf("%s does not pass by itself: %w\n%s", name, err, out)
	}
	p := probe{name: name, takes: time.Since(began), reaches: map[int]bool{}}
	data, err := os.ReadFile(reached)
	if err != nil {
		return probe{}, err
	}
	for line := range strings.Lines(string(data)) {
		if i, err := strconv.Atoi(strings.TrimSpace(line)); err == nil {
			p.reaches[i] = true
		}
	}
	return p, nil
}

func (r *rig) command(ctx context.Context, binary string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, binary, append(args, r.flags...)...)
	cmd.Dir = r.dir
	cmd.WaitDelay = 5 * time.Second
	return cmd
}

// try switches one change on and shows it to the tests that come by it, in bundles that take longer and longer. It returns
// the test that noticed.
func (r *rig) try(ctx context.Context, i int, most time.Duration) (verdict, string, error) {
	var names []string
	var takes time.Duration
	bundle := 100 * time.Millisecond
	for k, p := range r.tests {
		if p.reaches[i] {
			names = append(names, p.name)
			takes += p.takes
		}
		if len(names) > 0 && (takes > bundle || k == len(r.tests)-1) {
			if v, by, err := r.ask(ctx, i, names, min(most, 8*takes+5*time.Second)); err != nil || v != survived {
				return v, by, err
			}
			names, takes, bundle = nil, 0, 3*bundle
		}
	}
	return survived, "", nil
}

var failed = regexp.MustCompile(`(?m)^--- FAIL: (\S+)`)

// ask runs the tests named against a change.
func (r *rig) ask(ctx context.Context, i int, names []string, limit time.Duration) (verdict, string, error) {
	run, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	cmd := r.command(run, r.binary, "-test.failfast", "-test.run", "^("+strings.Join(names, "|")+")$")
	cmd.Env = append(os.Environ(), "MUTATE_ON="+strconv.Itoa(i))
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	err := cmd.Run()
	switch {
	case ctx.Err() != nil:
		return "", "", ctx.Err()
	case err == nil:
		return survived, "", nil
	case run.Err() != nil:
		return outlast, names[0], nil
	}
	if m := failed.FindSubmatch(out.Bytes()); m != nil {
		return noticed, string(m[1]), nil
	}
	return noticed, "it ended early", nil
}
