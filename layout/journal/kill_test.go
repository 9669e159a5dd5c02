package journal

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"stowbay/layout"
)

// The kill test runs this test binary again as a window that works on a plan and is killed at a random moment, a hundred times on
// one plan. What the window has been told is on the disk must be there afterwards.

// worker is the environment variable that makes the test binary a window on a plan: "file seed".
const worker = "STOWBAY_JOURNAL_WORKER"

func TestMain(m *testing.M) {
	if job := os.Getenv(worker); job != "" {
		seed, file, _ := strings.Cut(job, " ")
		if err := work(seed, file, os.Stdout); err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// open gives a plan as a window opens it: what the journal holds, or the file.
func open(file string) (*layout.Document, *Journal, error) {
	p, err := layout.Load(file)
	r, rerr := Recover(PathFor(file))
	switch {
	case err != nil:
		return nil, nil, fmt.Errorf("the saved plan: %w", err)
	case rerr == nil && r.Other:
		return nil, nil, errors.New("the journal builds on another file")
	case rerr == nil && r.Unsaved:
		p = r.Plan
	case rerr != nil && !errors.Is(rerr, ErrNone):
		return nil, nil, rerr
	}
	d := layout.NewDocument(p, nil)
	j := Start(PathFor(file), file, p)
	j.Follow(d)
	return d, j, nil
}

// work edits and saves until it is killed. It says "flushed n" and "saved n" after n edits are on the disk.
func work(seedText, file string, say io.Writer) error {
	seed, err := strconv.ParseUint(seedText, 10, 64)
	if err != nil {
		return err
	}
	if _, err := TryLock(file); err != nil {
		return err
	}
	d, j, err := open(file)
	if err != nil {
		return err
	}
	fmt.Fprintln(say, "flushed 0")
	r, when := rand.New(rand.NewPCG(seed, 1)), rand.New(rand.NewPCG(seed, 2))
	for n := 0; ; {
		changed, err := randomStep(d, r)
		if err != nil {
			return err
		}
		if !changed {
			continue
		}
		n++
		switch when.IntN(6) {
		case 0:
			err = j.Save(file, d.Plan())
			fmt.Fprintln(say, "saved", n)
		case 1, 2:
			err = j.Flush()
			fmt.Fprintln(say, "flushed", n)
		}
		if err != nil {
			return err
		}
	}
}

func TestKilledAHundredTimes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	file := filepath.Join(t.TempDir(), "Fährplan of the day.yaml")
	if err := layout.Save(file, smallPlan()); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(20, 26))
	edits, unsaved := 0, 0
	for round := range 100 {
		start, _, err := open(file)
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		seed := r.Uint64()
		saved, kept := killed(t, file, seed, time.Duration(r.IntN(120_000))*time.Microsecond)
		gotSaved, gotAll := found(t, file)
		n := replay(t, start.Plan(), seed, gotAll, kept)
		if n < 0 {
			t.Fatalf("round %d: %d edits were on the disk, and are not", round, kept)
		}
		if m := replay(t, start.Plan(), seed, gotSaved, saved); saved > 0 && m < 0 {
			t.Fatalf("round %d: the plan saved after %d edits is not in the file", round, saved)
		}
		edits += n
		if n > saved {
			unsaved++
		}
	}
	t.Logf("%d edits were kept; in %d of 100 rounds some were in the journal only", edits, unsaved)
	if edits < 100 || unsaved < 10 {
		t.Errorf("%d edits, %d rounds with unsaved ones: too few to show anything", edits, unsaved)
	}
}

// killed runs a window on the plan, kills it a while after it has begun and gives the numbers of edits that it last knew to be saved and to be on the disk.
func killed(t *testing.T, file string, seed uint64, after time.Duration) (saved, kept int) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%d %s", worker, seed, file))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	for first := true; lines.Scan(); first = false {
		if first {
			time.AfterFunc(after, func() { cmd.Process.Kill() })
		}
		word, number, _ := strings.Cut(lines.Text(), " ")
		n, err := strconv.Atoi(number)
		if err != nil {
			if strings.HasPrefix(lines.Text(), "error") || word == "panic:" {
				t.Fatalf("the window ended by itself: %s", lines.Text())
			}
			continue // cut off by the kill
		}
		if kept = max(kept, n); word == "saved" {
			saved = n
		}
	}
	if cmd.Wait() == nil {
		t.Fatal("the window ended by itself")
	}
	return saved, kept
}

// found gives the sums of the plan in the file and of the plan that a window would open now. The lock that the killed one left must not be in the way.
func found(t *testing.T, file string) (saved, all string) {
	t.Helper()
	l, err := TryLock(file)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Release()
	p, err := layout.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	d, _, err := open(file)
	if err != nil {
		t.Fatal(err)
	}
	return sumOf(t, p), sumOf(t, d.Plan())
}

// replay makes the same edits as the window and gives the first number of edits, from least on, after which the plan has the sum
// wanted; -1 if there is none. A window that was killed can be at most a few edits ahead of what it told.
func replay(t *testing.T, start *layout.Plan, seed uint64, want string, least int) int {
	t.Helper()
	const ahead = 60
	d := layout.NewDocument(start, nil)
	r := rand.New(rand.NewPCG(seed, 1))
	for n := 0; n <= least+ahead; {
		if n >= least && sumOf(t, d.Plan()) == want {
			return n
		}
		changed, err := randomStep(d, r)
		if err != nil {
			t.Fatal(err)
		}
		if changed {
			n++
		}
	}
	return -1
}
