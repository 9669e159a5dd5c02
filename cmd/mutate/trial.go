package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"time"
)

// pkg is a package as the go command lists it.
type pkg struct {
	ImportPath, Dir string
	GoFiles         []string
	TestGoFiles     []string
	XTestGoFiles    []string
}

// packages returns the packages that the patterns name and that have tests of their own.
func packages(ctx context.Context, patterns []string) ([]pkg, error) {
	out, err := exec.CommandContext(ctx, "go", append([]string{"list", "-json=ImportPath,Dir,GoFiles,TestGoFiles,XTestGoFiles"}, patterns...)...).Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", explained(err))
	}
	var all []pkg
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var p pkg
		if err := d.Decode(&p); err != nil {
			return nil, err
		}
		if len(p.TestGoFiles)+len(p.XTestGoFiles) > 0 {
			all = append(all, p)
		}
	}
	return all, nil
}

func explained(err error) error {
	var e *exec.ExitError
	if errors.As(err, &e) {
		return fmt.Errorf("%w: %s", err, bytes.TrimSpace(e.Stderr))
	}
	return err
}

// changes returns the changes of all the package's files.
func (p pkg) changes() ([]change, error) {
	sort.Strings(p.GoFiles)
	var all []change
	for _, f := range p.GoFiles {
		cs, err := changesIn(filepath.Join(p.Dir, f))
		if err != nil {
			return nil, err
		}
		all = append(all, cs...)
	}
	return all, nil
}

// verdict says what became of a change.
type verdict string

const (
	noticed  verdict = "noticed"
	outlast  verdict = "time-out" // the tests did not come to an end in time: noticed as well
	survived verdict = "SURVIVED"
	unbuilt  verdict = "unbuilt" // the changed code does not compile: no change worth counting
	same     verdict = "same"    // known to compute the same as before
)

// trial runs tests against changes.
type trial struct {
	timeout time.Duration
	flags   []string
	also    []string
	known   map[string]string // changes that change nothing, with the reason: see readKnown
	rig     *rig
}

// result is what became of a change and the test that noticed.
type result struct {
	change
	verdict
	by string
}

// sound runs the tests without any change. What they take bounds what they may take with one: four times as long, and a while
// for building.
func (t *trial) sound(ctx context.Context) error {
	began := time.Now()
	if out, err := t.rig.command(ctx, t.rig.binary).CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	for _, target := range t.also {
		if v, err := t.test(ctx, target, ""); err != nil || v != survived {
			return errors.Join(err, fmt.Errorf("%s: %s", target, v))
		}
	}
	t.timeout = min(t.timeout, 4*time.Since(began)+20*time.Second)
	return nil
}

// try runs the tests against one of the rig's changes: the package's own, then those of the packages asked too.
func (t *trial) try(ctx context.Context, p pkg, i int) (result, error) {
	c := t.rig.changes[i]
	r := result{change: c, verdict: same}
	switch {
	case t.rig.wrong[i]:
		r.verdict = unbuilt
		return r, nil
	case t.known[c.key()] != "":
		return r, nil
	}
	targets := t.also
	if t.rig.inside[i] {
		var err error
		if r.verdict, r.by, err = t.rig.try(ctx, i, t.timeout); err != nil || r.verdict != survived {
			return r, err
		}
	} else {
		targets = append([]string{p.ImportPath}, t.also...)
	}
	if len(targets) == 0 {
		return r, nil
	}
	var err error
	r.verdict, err = t.built(ctx, c, targets)
	return r, err
}

// built runs the tests of packages against a change that is compiled into them.
func (t *trial) built(ctx context.Context, c change, targets []string) (verdict, error) {
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	overlay, err := overlaid(dir, c)
	if err != nil {
		return "", err
	}
	for _, target := range targets {
		if v, err := t.test(ctx, target, overlay); err != nil || v != survived {
			return v, err
		}
	}
	return survived, nil
}

// overlaid writes the changed file and the list that makes the go command read it in the place of the true one.
func overlaid(dir string, c change) (string, error) {
	src, err := os.ReadFile(c.pos.Filename)
	if err != nil {
		return "", err
	}
	changed := filepath.Join(dir, "changed.go")
	if err := os.WriteFile(changed, c.applied(src), 0o600); err != nil {
		return "", err
	}
	list, err := json.Marshal(map[string]any{"Replace": map[string]string{c.pos.Filename: changed}})
	if err != nil {
		return "", err
	}
	overlay := filepath.Join(dir, "overlay.json")
	return overlay, os.WriteFile(overlay, list, 0o600)
}

// test runs the tests of a package. Tests that outlast the limit count as having noticed, and are told apart.
func (t *trial) test(ctx context.Context, target, overlay string) (verdict, error) {
	args := append([]string{"test", "-count=1", "-failfast", "-vet=off", "-ldflags=-s -w", "-timeout", t.timeout.String()}, t.flags...)
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	run, cancel := context.WithTimeout(ctx, t.timeout+time.Minute)
	defer cancel()
	cmd := exec.CommandContext(run, "go", append(args, target)...)
	cmd.WaitDelay = 5 * time.Second
	out, err := cmd.CombinedOutput()
	switch {
	case ctx.Err() != nil:
		return "", ctx.Err()
	case err == nil:
		return survived, nil
	case strings.Contains(string(out), "[build failed]") || strings.Contains(string(out), "[setup failed]"):
		return unbuilt, nil
	case run.Err() != nil || strings.Contains(string(out), "panic: test timed out"):
		return outlast, nil
	}
	return noticed, nil
}

// tally counts what became of the changes.
type tally struct{ of, noticed, outlast, survived, unbuilt, same int }

func (t *tally) count(v verdict) {
	switch v {
	case noticed:
		t.noticed++
	case outlast:
		t.noticed++
		t.outlast++
	case survived:
		t.survived++
	case same:
		t.same++
	default:
		t.unbuilt++
	}
}

func (t *tally) add(u tally) {
	t.of += u.of
	t.noticed += u.noticed
	t.outlast += u.outlast
	t.survived += u.survived
	t.unbuilt += u.unbuilt
	t.same += u.same
}

func (t tally) String() string {
	tried := t.noticed + t.survived
	if tried == 0 {
		return "nothing to change"
	}
	return fmt.Sprintf("%d of %d noticed (%.0f %%), %d of them by a time-out, %d change nothing, %d did not compile, out of %d possible changes", t.noticed, tried, 100*float64(t.noticed)/float64(tried), t.outlast, t.same, t.unbuilt, t.of)
}
