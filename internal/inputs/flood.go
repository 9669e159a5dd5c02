package inputs

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"hash/maphash"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// T is what the body of a fuzz target needs: *testing.T has it, and so has the flood's own.
type T interface {
	Helper()
	Error(args ...any)
	Errorf(format string, args ...any)
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// Flood is a reader to be flooded.
type Flood struct {
	Words [][]byte // that have a meaning in its files, among them those of this package
	Most  int      // greatest length of an input in bytes; 0: 400
	// Examples are good and bad files beside the corpus of the fuzz target that Target names, in testdata/fuzz.
	Examples [][]byte
	Target   string
	// Read takes an input and checks what comes of it. It returns the reader's error, by which the flood tells inputs that bring
	// the reader to something new, to spoil them further. It must not keep the input.
	Read func(t T, input []byte) error
}

// OneIn tells for one input in n, always the same ones, that it is to be looked at more closely than the others.
func OneIn(n int, input []byte) bool { return n <= 1 || crc32.ChecksumIEEE(input)%uint32(n) == 0 }

// Limits of a run.
const (
	few       = 2000             // inputs of a run where nothing else is said
	longest   = 20 * time.Second // for one input, on a machine that others use too
	maxFailed = 20               // then the run ends
)

// Count is how many tries a test makes: the usual number, or what a variable of the environment says.
func Count(variable string, usual int) int {
	if n, err := strconv.Atoi(os.Getenv(variable)); err == nil && n > 0 {
		return n
	}
	return usual
}

// Texts are examples written as texts.
func Texts(all []string) [][]byte {
	out := make([][]byte, len(all))
	for i, s := range all {
		out[i] = []byte(s)
	}
	return out
}

// Run floods the reader. An input that makes it panic, hang or break a promise is printed and, in a long run, left in the
// target's corpus.
func (f Flood) Run(t *testing.T) {
	t.Helper()
	if f.Most == 0 {
		f.Most = 400
	}
	n := Count("STOWBAY_INPUTS", few)
	if n > few { // a run for hours may take memory to go faster
		defer debug.SetGCPercent(debug.SetGCPercent(2000))
	}
	began := time.Now()
	all, good := f.sorted(corpus(t, f.Target))
	if len(all) == 0 {
		t.Fatal("no examples to spoil")
	}
	r := run{flood: f, t: t, left: int64(n), heard: map[uint64]bool{}, dir: filepath.Join("testdata", "fuzz", f.Target)}
	done := make(chan struct{})
	r.watch(done)
	var wg sync.WaitGroup
	for i := range hands(n) {
		seed := uint64(i)
		if n > few { // other inputs every time
			seed += uint64(began.UnixNano())
		}
		s := newSpoiler(seed, all, good, slices.Concat(f.Words, numbers), f.Most)
		wg.Go(func() { r.work(&r.hands[i], s) })
	}
	wg.Wait()
	close(done)
	took := time.Since(began)
	t.Logf("%s: %d inputs, %d accepted, %d kinds of outcome, %d failed, slowest %v, %.1f s, %.1f µs an input", f.Target, r.made.Load(), r.accepted.Load(), len(r.heard),
		r.failed.Load(), time.Duration(r.slowest.Load()).Round(time.Microsecond), took.Seconds(), 1e6*took.Seconds()/float64(r.made.Load()))
}

// sorted gives the examples that are short enough, and those of them that the reader accepts.
func (f Flood) sorted(corpus [][]byte) (all, good [][]byte) {
	for _, e := range slices.Concat(f.Examples, corpus) {
		if len(e) > f.Most {
			continue
		}
		all = append(all, e)
		if accepts(f.Read, e) {
			good = append(good, e)
		}
	}
	return all, good
}

func accepts(read func(T, []byte) error, input []byte) bool {
	var p probe
	defer func() { _ = recover() }() // the fuzz target tries the corpus, and tells
	return read(&p, input) == nil
}

// hands is how many inputs are tried at a time.
func hands(n int) int {
	if n <= few {
		return 1
	}
	return min(runtime.GOMAXPROCS(0), maxHands)
}

const maxHands = 16

// run is a flood under way.
type run struct {
	flood    Flood
	t        *testing.T
	dir      string
	left     int64
	made     atomic.Int64
	accepted atomic.Int64
	failed   atomic.Int64
	slowest  atomic.Int64
	hands    [maxHands]hand
	lock     sync.Mutex
	heard    map[uint64]bool // kinds of outcome so far
}

// hand is one of those that try inputs: what it is at, and since when.
type hand struct {
	lock  sync.Mutex
	input []byte
	since time.Time
}

func (r *run) work(h *hand, s *spoiler) {
	for atomic.AddInt64(&r.left, -1) >= 0 && r.failed.Load() < maxFailed {
		input := s.next()
		h.lock.Lock()
		h.input, h.since = input, time.Now()
		h.lock.Unlock()
		err, ok := r.try(input)
		took := time.Since(h.since)
		h.lock.Lock()
		h.input = nil
		h.lock.Unlock()
		r.made.Add(1)
		accepted := err == nil && ok
		if accepted {
			r.accepted.Add(1)
		}
		for old := r.slowest.Load(); int64(took) > old && !r.slowest.CompareAndSwap(old, int64(took)); old = r.slowest.Load() {
		}
		if took < 5*time.Millisecond && (r.isNew(err) || accepted && s.r.IntN(4) == 0) {
			s.keep(accepted, input)
		}
	}
}

// try hands an input to the reader.
func (r *run) try(input []byte) (err error, ok bool) {
	var p probe
	ok = tried(&p, func(t T) error {
		err = r.flood.Read(t, input)
		return err
	})
	if !ok {
		r.fail(input, strings.Join(p.says, "\n"))
	}
	return err, ok
}

// tried calls read and notes in p what is wrong, a panic among it.
func tried(p *probe, read func(T) error) (ok bool) {
	defer func() {
		if x := recover(); x != nil {
			if _, ended := x.(fatal); !ended {
				p.says = append(p.says, fmt.Sprintf("panic: %v\n%s", x, debug.Stack()))
			}
		}
		ok = len(p.says) == 0
	}()
	_ = read(p)
	return true
}

func (r *run) fail(input []byte, why string) {
	r.failed.Add(1)
	r.t.Errorf("%s\nfor %q", why, input)
	if Count("STOWBAY_INPUTS", few) > few {
		keepFound(r.t, r.dir, input)
	}
}

var hashSeed = maphash.MakeSeed()

// isNew tells whether the reader never said such a thing before. Only the letters of the first problem count, what is in quotes
// left out. A long run asks about few of its inputs once it has begun.
func (r *run) isNew(err error) bool {
	if made := r.made.Load(); made > 200_000 && made%16 > 0 {
		return false
	}
	sum := kind(err)
	r.lock.Lock()
	defer r.lock.Unlock()
	if r.heard[sum] || len(r.heard) > 200_000 {
		return false
	}
	r.heard[sum] = true
	return true
}

func kind(err error) uint64 {
	if err == nil {
		return 0
	}
	letters := make([]byte, 0, 200)
	quoted := false
	for _, c := range []byte(err.Error()) {
		if c == '\n' || len(letters) == cap(letters) {
			break
		}
		if c == '"' {
			quoted = !quoted
		}
		if !quoted && (c >= 'a' && c <= 'z' || c == '_') {
			letters = append(letters, c)
		}
	}
	return maphash.Bytes(hashSeed, letters)
}

// watch ends the program where an input takes too long: a reader that hangs cannot be stopped otherwise. Every minute it says
// how far a long run is.
func (r *run) watch(done chan struct{}) {
	go func() {
		tick := time.NewTicker(time.Second)
		defer tick.Stop()
		for seconds := 1; ; seconds++ {
			select {
			case <-done:
				return
			case <-tick.C:
			}
			for i := range r.hands {
				r.overdue(&r.hands[i])
			}
			if seconds%60 == 0 {
				r.t.Logf("%s: %d inputs so far", r.flood.Target, r.made.Load())
			}
		}
	}()
}

func (r *run) overdue(h *hand) {
	h.lock.Lock()
	defer h.lock.Unlock()
	if h.input != nil && time.Since(h.since) > longest {
		keepFound(r.t, r.dir, h.input)
		panic(fmt.Sprintf("%s takes longer than %v for %q", r.flood.Target, longest, h.input))
	}
}

// fatal ends the reading of one input.
type fatal struct{}

// probe notes what a reader does wrong with one input.
type probe struct{ says []string }

func (p *probe) Helper()           {}
func (p *probe) Error(args ...any) { p.says = append(p.says, fmt.Sprintln(args...)) }
func (p *probe) Errorf(format string, args ...any) {
	p.says = append(p.says, fmt.Sprintf(format, args...))
}
func (p *probe) Fatal(args ...any)                 { p.Error(args...); panic(fatal{}) }
func (p *probe) Fatalf(format string, args ...any) { p.Errorf(format, args...); panic(fatal{}) }

// corpus reads the inputs of a fuzz target.
func corpus(t *testing.T, target string) [][]byte {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join("testdata", "fuzz", target, "*"))
	var out [][]byte
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		input, err := unpack(data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out = append(out, input)
	}
	return out
}

// corpusHead is the first line of a file of a corpus, as package testing writes and reads it.
const corpusHead = "go test fuzz v1\n"

// unpack takes the input out of a file of a corpus with one value, a text or bytes.
func unpack(file []byte) ([]byte, error) {
	rest, ok := bytes.CutPrefix(file, []byte(corpusHead))
	text := strings.TrimSpace(string(rest))
	for _, kind := range []string{"[]byte(", "string("} {
		if quoted, is := strings.CutPrefix(text, kind); is && ok {
			s, err := strconv.Unquote(strings.TrimSuffix(quoted, ")"))
			return []byte(s), err
		}
	}
	return nil, fmt.Errorf("no input of a corpus: %.40q", file)
}

// keepFound leaves an input in the corpus, as the kind of value that its other files hold.
func keepFound(t *testing.T, dir string, input []byte) {
	kind := "[]byte"
	if files, _ := filepath.Glob(filepath.Join(dir, "*")); len(files) > 0 {
		if data, err := os.ReadFile(files[0]); err == nil && strings.HasPrefix(string(data), corpusHead+"string(") {
			kind = "string"
		}
	}
	name := filepath.Join(dir, fmt.Sprintf("found-%016x", maphash.Bytes(hashSeed, input)))
	if err := os.MkdirAll(dir, 0o777); err != nil {
		t.Log(err)
	}
	if err := os.WriteFile(name, fmt.Appendf(nil, "%s%s(%q)\n", corpusHead, kind, input), 0o666); err != nil {
		t.Log(err)
	}
}
