// Command mutate is for developers: it asks whether the tests would notice a wrong formula. It changes one constant, one
// sign or one comparison at a time in the code of the packages named, runs the package's tests against the change and
// reports the changes that no test noticed.
//
//	go run ./cmd/mutate [-sample N] [-seed N] [-also PACKAGES] ./geometry ./layout/electric ...
//
// The working tree is never touched: the go command is told to read the changed file from elsewhere (go test -overlay).
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
	"strings"
	"time"
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
	verbose bool
}

func main() {
	var o options
	flag.IntVar(&o.sample, "sample", 0, "try only this many changes a package, chosen at random; 0: all")
	flag.Uint64Var(&o.seed, "seed", 1, "seed of the choice")
	flag.DurationVar(&o.timeout, "timeout", 3*time.Minute, "time limit for the tests of one change; a change that makes them hang counts as noticed")
	flag.StringVar(&o.also, "also", "", "packages, separated by commas, whose tests are asked too where the package's own notice nothing")
	flag.StringVar(&o.flags, "testflags", "-short", "flags for go test, separated by blanks")
	flag.StringVar(&o.known, "known", "cmd/mutate/known.txt", "file of changes that are known to change nothing, with the reasons")
	flag.StringVar(&o.only, "only", "", "try only the changes whose description has one of these texts, separated by |")
	flag.BoolVar(&o.list, "list", false, "only list the changes, with -sample those drawn")
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
	t := tally{of: len(sites)}
	known, err := readKnown(o.known)
	if err != nil {
		return t, err
	}
	lab := trial{timeout: o.timeout, flags: strings.Fields(o.flags), also: split(o.also), known: known}
	if err := lab.sound(ctx, p); err != nil {
		fmt.Fprintf(w, "%-28s left out: its tests do not pass as it is: %v\n", p.ImportPath, err)
		return tally{}, nil
	}
	for _, c := range chosen(sites, o.sample, o.seed) {
		v, err := lab.try(ctx, p, c)
		if err != nil {
			fmt.Fprintf(w, "%-28s cut short: %s\n", p.ImportPath, t)
			return t, err
		}
		t.count(v)
		if v == survived || o.verbose {
			fmt.Fprintf(w, "%-9s %s\n          %s\n", v, c, c.key())
		}
	}
	fmt.Fprintf(w, "%-28s %s\n", p.ImportPath, t)
	return t, nil
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
