// Command mutate is for developers: it asks whether the tests would notice a wrong formula. It changes one constant, one
// sign or one comparison at a time in the code of the packages named, runs the package's tests against the change and
// reports the changes that no test noticed.
//
//	go run ./cmd/mutate [-sample N] [-seed N] [-also PACKAGES] ./geometry ./layout/electric ...
//
// All changes of a package are built into one program, in which one at a time is switched on and shown to the tests that come
// by it, quick ones first. What cannot be switched, a declared constant for example, is built by itself. The working tree is
// never touched: the go command is told to read the changed files from elsewhere (go test -overlay).
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"
)

// options are the command's flags.
type options struct {
	sample  int
	seed    uint64
	timeout time.Duration
	also    string
	flags   string
	known   string
	only    string
	list    bool
	jobs    int
	verbose bool
}

func main() {
	var o options
	flag.IntVar(&o.sample, "sample", 0, "try only this many changes a package, chosen at random; 0: all")
	flag.Uint64Var(&o.seed, "seed", 1, "seed of the choice")
	flag.DurationVar(&o.timeout, "timeout", 3*time.Minute, "time limit for the tests of one change; a change that makes them hang counts as noticed")
	flag.StringVar(&o.also, "also", "", "packages, separated by commas, whose tests are asked too where the package's own notice nothing")
	flag.StringVar(&o.flags, "testflags", "", "flags for go test, separated by blanks")
	flag.StringVar(&o.known, "known", "cmd/mutate/known.txt", "file of changes that are known to change nothing, with the reasons")
	flag.StringVar(&o.only, "only", "", "try only the changes whose description has one of these texts, separated by |")
	flag.BoolVar(&o.list, "list", false, "only list the changes, with -sample those drawn")
	flag.IntVar(&o.jobs, "jobs", runtime.NumCPU(), "how many changes are tried at a time")
	flag.BoolVar(&o.verbose, "v", false, "print every change as it is tried, not only those that survive")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := o.run(ctx, os.Stdout, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func (o *options) run(ctx context.Context, w io.Writer, patterns []string) error {
	if len(patterns) == 0 {
		return errors.New("which packages? for example: go run ./cmd/mutate -sample 20 ./geometry ./layout/electric")
	}
	pkgs, err := packages(ctx, patterns)
	if err != nil {
		return err
	}
	var all tally
	for _, p := range pkgs {
		t, err := o.one(ctx, w, p)
		if err != nil {
			return err
		}
		all.add(t)
	}
	if len(pkgs) > 1 && !o.list {
		fmt.Fprintf(w, "%-28s %s\n", "all", all)
	}
	return ctx.Err()
}

// one tries the changes of one package and prints its line.
func (o *options) one(ctx context.Context, w io.Writer, p pkg) (tally, error) {
	sites, err := p.changes()
	sites = matching(sites, o.only)
	if err != nil || len(sites) == 0 {
		return tally{}, err
	}
	if o.list {
		if o.sample > 0 {
			sites = chosen(sites, o.sample, o.seed)
		}
		for _, c := range sites {
			fmt.Fprintln(w, c)
		}
		return tally{}, nil
	}
	return o.tried(ctx, w, p, sites)
}

// tried tries those of a package's changes that are drawn and prints what became of them.
func (o *options) tried(ctx context.Context, w io.Writer, p pkg, sites []change) (tally, error) {
	t := tally{of: len(sites)}
	known, err := readKnown(o.known)
	if err != nil {
		return t, err
	}
	flags := strings.Fields(o.flags)
	lab := trial{timeout: o.timeout, flags: flags, also: split(o.also), known: known}
	if lab.rig, err = newRig(ctx, p, chosen(sites, o.sample, o.seed), flags); err == nil {
		defer lab.rig.Close()
		err = lab.sound(ctx)
	}
	if ctx.Err() != nil {
		return t, ctx.Err()
	}
	if err != nil {
		fmt.Fprintf(w, "%-28s left out: its tests do not pass as it is: %v\n", p.ImportPath, err)
		return tally{}, nil
	}
	err = o.sideBySide(ctx, lab, p, func(r result) {
		t.count(r.verdict)
		if r.verdict == survived || o.verbose {
			fmt.Fprintf(w, "%-9s %s %s\n          %s\n", r.verdict, r.change, r.by, r.key())
		}
	})
	if err != nil {
		fmt.Fprintf(w, "%-28s cut short: %s\n", p.ImportPath, t)
		return t, err
	}
	fmt.Fprintf(w, "%-28s %s\n", p.ImportPath, t)
	return t, nil
}

// sideBySide tries a rig's changes, several at a time, and hands on each result, one at a time.
func (o *options) sideBySide(ctx context.Context, lab trial, p pkg, done func(result)) error {
	var group errgroup.Group
	group.SetLimit(max(1, o.jobs))
	var one sync.Mutex
	for i := range lab.rig.changes {
		group.Go(func() error {
			r, err := lab.try(ctx, p, i)
			if err == nil {
				one.Lock()
				defer one.Unlock()
				done(r)
			}
			return err
		})
	}
	return group.Wait()
}

// chosen draws n of the changes, the same ones for the same seed, in the order of the draw, so that what was tried of a run
// cut short is a fair sample, too; all where n is 0. A longer draw begins with the shorter one.
func chosen(all []change, n int, seed uint64) []change {
	if n <= 0 || n > len(all) {
		n = len(all)
	}
	r := rand.New(rand.NewPCG(seed, 0))
	out := make([]change, n)
	for i, j := range r.Perm(len(all))[:n] {
		out[i] = all[j]
	}
	return out
}

// matching are the changes whose key has one of the texts; all where there is none.
func matching(all []change, texts string) []change {
	if texts == "" {
		return all
	}
	var out []change
	for _, c := range all {
		for text := range strings.SplitSeq(texts, "|") {
			if strings.Contains(c.key(), text) {
				out = append(out, c)
				break
			}
		}
	}
	return out
}

func split(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ',' })
}
