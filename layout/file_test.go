package layout

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"

	"stowbay/internal/inputs"
	"stowbay/vehicles"
	"stowbay/vehicles/record"
	"stowbay/vehicles/record/recordtest"
)

func TestTagsOfThePlan(t *testing.T) {
	for _, typ := range []reflect.Type{reflect.TypeFor[Plan](), reflect.TypeFor[head](), reflect.TypeFor[boxHead](), reflect.TypeFor[arrangementHead]()} {
		if err := record.CheckType(typ); err != nil {
			t.Error(err)
		}
	}
}

// The heads that edits work on have the very fields and rules of what they are the heads of.
func TestHeadsHaveTheRulesOfTheirOwners(t *testing.T) {
	for _, c := range []struct{ head, owner reflect.Type }{
		{reflect.TypeFor[head](), reflect.TypeFor[Plan]()},
		{reflect.TypeFor[boxHead](), reflect.TypeFor[Box]()},
		{reflect.TypeFor[arrangementHead](), reflect.TypeFor[Arrangement]()},
	} {
		for i := range c.head.NumField() {
			f := c.head.Field(i)
			of, ok := c.owner.FieldByName(f.Name)
			if !ok || of.Type != f.Type || of.Tag.Get("rule") != f.Tag.Get("rule") || of.Tag.Get("yaml") != f.Tag.Get("yaml") {
				t.Errorf("%v.%s is not as in %v", c.head, f.Name, c.owner)
			}
		}
	}
}

// Every list and every value of a plan is reached by some kind of edit.
func TestDiffReachesEveryField(t *testing.T) {
	p := testPlan()
	lib := testLibrary()
	full := *p
	full.Library = Library{Donors: []*vehicles.Donor{testDonor()}, Modules: []*vehicles.Module{testModule()}, Gear: []*vehicles.Gear{testGear()}}
	full.Underlays = []Underlay{{ID: "u", View: "plan", File: "x.png", MMPerPx: 1}}
	full.Build = &Build{Tests: []Test{{Kind: "seal"}}}
	a := *full.Arrangements[0]
	a.Parts = []vehicles.Part{{ID: "p", Known: "guess"}}
	a.KeepOuts = []vehicles.KeepOut{{ID: "k", Outline: rectangle(0, 0, 9, 9), CeilingMM: 9}}
	a.Mirrors = []Mirror{{Of: "one", Box: "two"}}
	full.Arrangements = []*Arrangement{&a}
	_, start, err := Settle(&full, Together("nothing"), lib)
	if err != nil {
		t.Fatal(err)
	}
	check := func(owner any, where string, put func(field int) *Plan) {
		typ := reflect.TypeOf(owner)
		for i := range typ.NumField() {
			name := typ.Field(i).Name
			if name == "ID" || name == "Format" || name == "Arrangements" || name == "Boxes" || name == "Build" {
				continue
			}
			e, err := Diff(start, put(i), "x")
			if err != nil || IsEmpty(e) {
				t.Errorf("%s.%s: an edit of it is lost (%v)", where, name, err)
			}
		}
	}
	check(*start, "Plan", func(i int) *Plan { q := *start; spoil(reflect.ValueOf(&q).Elem().Field(i)); return &q })
	check(a, "Arrangement", func(i int) *Plan {
		b := *start.Arrangements[0]
		spoil(reflect.ValueOf(&b).Elem().Field(i))
		return start.WithArrangement(&b)
	})
	check(*a.Boxes[0], "Box", func(i int) *Plan {
		b := *start.Arrangements[0].Boxes[0]
		spoil(reflect.ValueOf(&b).Elem().Field(i))
		return start.withBox("a", &b)
	})
}

// spoil changes a value somewhere.
func spoil(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(v.String() + "x")
	case reflect.Bool:
		v.SetBool(!v.Bool())
	case reflect.Int:
		v.SetInt(v.Int() + 1)
	case reflect.Float64:
		v.SetFloat(v.Float() + 1)
	case reflect.Array:
		spoil(v.Index(0))
	case reflect.Slice:
		if v.Len() > 0 {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Field(i); f.Kind() != reflect.Slice || f.Len() > 0 {
				spoil(f)
				return
			}
		}
	}
}

func TestEncodeIsStable(t *testing.T) {
	one, err := Encode(testPlan())
	if err != nil {
		t.Fatal(err)
	}
	two, err := Encode(reread(t, testPlan()))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(one, two) {
		t.Error("a plan read back is written differently")
	}
}

func TestEncodeRefusesWhatCannotBeReadBack(t *testing.T) {
	p := testPlan()
	p.Name = ""
	if _, err := Encode(p); err == nil {
		t.Error("a plan without a name was encoded")
	}
	path := filepath.Join(t.TempDir(), "plan.yaml")
	if err := Save(path, p); err == nil {
		t.Error("a plan without a name was saved")
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a file was made for it")
	}
}

// Each file in testdata/plans/wrong says in its comments which problems Load finds: the line of the comment, or the one above a comment that
// stands alone, and a part of the text.
func TestWrongPlans(t *testing.T) {
	files, err := filepath.Glob("../testdata/plans/wrong/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			_, err = ParseOver(f, data, testLibrary())
			var ps record.Problems
			if !errors.As(err, &ps) {
				t.Fatalf("got %v, want problems", err)
			}
			want := wanted(string(data))
			if len(want) == 0 {
				t.Fatal("the file says no problem")
			}
			for _, p := range ps {
				i := claimed(want, p)
				if i < 0 {
					t.Errorf("not in the file's comments: %v", p)
					continue
				}
				want = append(want[:i], want[i+1:]...)
			}
			for _, w := range want {
				t.Errorf("line %d: no problem with %q", w.line, w.text)
			}
		})
	}
}

type want struct {
	line int
	text string
}

func wanted(data string) []want {
	var out []want
	for i, line := range strings.Split(data, "\n") {
		before, text, ok := strings.Cut(line, "# wrong: ")
		if !ok {
			continue
		}
		w := want{i + 1, text}
		if strings.TrimSpace(before) == "" {
			w.line--
		}
		out = append(out, w)
	}
	return out
}

func claimed(want []want, p record.Problem) int {
	for i, w := range want {
		if w.line == p.Line && strings.Contains(p.String(), w.text) && p.Column > 0 {
			return i
		}
	}
	return -1
}

func TestRightPlans(t *testing.T) {
	files, err := filepath.Glob("../testdata/plans/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, f := range files {
		p, err := Load(f)
		if err != nil {
			t.Error(err)
			continue
		}
		if d := cmp.Diff(p, reread(t, p), sameContents); d != "" {
			t.Errorf("%s: read back differently:\n%s", f, d)
		}
	}
}

// A format made up for the test: format 0 had the donor's name under "vehicle". The file format has no older number yet; this shows that a
// step given in the table is taken and that lines still point into the file.
func TestMigration(t *testing.T) {
	type note struct {
		Format int    `yaml:"format" rule:"required,min=1,max=3" doc:"format"`
		Donor  string `yaml:"donor" rule:"required,id" doc:"donor"`
		Kg     int    `yaml:"mass_kg" rule:"required,min=1,max=10" doc:"mass"`
	}
	rename := func(from, to string) func(*yaml.Node) error {
		return func(top *yaml.Node) error {
			for i := 0; i < len(top.Content); i += 2 {
				if top.Content[i].Value == from {
					top.Content[i].Value = to
					return nil
				}
			}
			return fmt.Errorf("there is no %q", from)
		}
	}
	record.Register(record.Kind{Name: "note", Type: reflect.TypeFor[note](), Migrations: map[int]func(*yaml.Node) error{
		1: rename("vehicle", "donor"), 2: rename("mass", "mass_kg"),
	}})
	var n note
	if err := record.Read("n.yaml", []byte("format: 1\nvehicle: dory\nmass: 4\n"), &n); err != nil || n != (note{3, "dory", 4}) {
		t.Errorf("from format 1: %v, %v", n, err)
	}
	if err := record.Read("n.yaml", []byte("format: 2\ndonor: dory\nmass: 5\n"), &n); err != nil || n != (note{3, "dory", 5}) {
		t.Errorf("from format 2: %v, %v", n, err)
	}
	err := record.Read("n.yaml", []byte("format: 1\nvehicle: dory\nmass: 40\n"), &n)
	if err == nil || !strings.Contains(err.Error(), "n.yaml:3:7: mass_kg: 40 is out of range") {
		t.Errorf("a wrong number in an older file: %v", err)
	}
	if err := record.Read("n.yaml", []byte("format: 1\nmass: 4\n"), &n); err == nil || !strings.Contains(err.Error(), "cannot be brought from format 1 to 2") {
		t.Errorf("a step that fails: %v", err)
	}
}

func TestNewerFormatIsRefused(t *testing.T) {
	data, err := Encode(testPlan())
	if err != nil {
		t.Fatal(err)
	}
	data = bytes.Replace(data, []byte("format: 1"), []byte("format: 2\nfancy_new_field: 7"), 1)
	_, err = Parse("new.yaml", data)
	if err == nil || !strings.Contains(err.Error(), "new.yaml:1:9: format: format 2 is newer than this program knows") {
		t.Errorf("got %v", err)
	}
}

func FuzzParse(f *testing.F) {
	for _, data := range planFiles(f) {
		f.Add(data)
	}
	f.Add([]byte(strings.Repeat("[", 3000)))
	f.Fuzz(func(t *testing.T, data []byte) { _ = tryPlan(t, data, 1) })
}

func TestFloodOfPlans(t *testing.T) {
	inputs.Flood{Target: "FuzzParse", Most: 500, Words: inputs.YAMLWords, Examples: planFiles(t), Read: func(t inputs.T, data []byte) error { return tryPlan(t, data, 10) }}.Run(t)
}

// planFiles are good and bad plans; among them small ones that have every part of a plan between them.
func planFiles(t testing.TB) (out [][]byte) {
	files, _ := filepath.Glob("../testdata/plans/*.yaml")
	wrong, _ := filepath.Glob("../testdata/plans/wrong/*.yaml")
	small, _ := filepath.Glob("testdata/parts/*.yaml")
	for _, name := range slices.Concat(files, wrong, small) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, data)
	}
	return append(out,
		[]byte("format: 1\nname: x\ndonor: d\narrangements: [{id: a, name: A, boxes: [{id: b, at_mm: [0,0,.inf], levels: [], shell: {}}]}]\n"),
		[]byte("a: &a [*a]\n"))
}

// The small plans are meant to be good ones: spoiling them is to begin from what is accepted.
func TestSmallPlansAreRead(t *testing.T) {
	small, _ := filepath.Glob("testdata/parts/*.yaml")
	if len(small) < 6 {
		t.Errorf("%d small plans", len(small))
	}
	for _, name := range small {
		if _, err := Load(name); err != nil {
			t.Error(err)
		}
	}
}

// tryPlan reads an arbitrary file. What is accepted must come back from being written and read; that is looked at for one
// file in so many.
func tryPlan(t inputs.T, data []byte, oneIn int) error {
	p, err := Parse("fuzz.yaml", data)
	if err != nil {
		recordtest.Refused(t, err, inputs.OneIn(oneIn, data))
		return err
	}
	if !inputs.OneIn(oneIn, data) {
		return nil
	}
	out, err := Encode(p)
	if err != nil {
		t.Fatalf("read but not written: %v", err)
	}
	q, err := Parse("again.yaml", out)
	if err != nil {
		t.Fatalf("written but not read: %v", err)
	}
	if !alike(p, q) {
		t.Fatalf("read back differently:\n%s", cmp.Diff(p, q, sameContents))
	}
	return nil
}

func TestSaveAndLoad(t *testing.T) {
	for _, name := range []string{"plan.yaml", "a plan with spaces.yaml", "Fährplan ✓ 計画.yaml", "'quoted' & $odd.yaml", strings.Repeat("l", 200) + ".yaml"} {
		path := filepath.Join(t.TempDir(), "folder with späces", name)
		if err := os.Mkdir(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		p := testPlan()
		for i := range 3 {
			p.Note = strconv.Itoa(i)
			if err := Save(path, p); err != nil {
				t.Fatal(err)
			}
		}
		got, err := Load(path)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(p, got, sameContents); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		old, err := Load(path + BackupSuffix)
		if err != nil || old.Note != "1" {
			t.Errorf("%s: backup %v, %v; want the one before", name, old, err)
		}
		onlyFiles(t, filepath.Dir(path), name, name+BackupSuffix)
	}
}

// onlyFiles checks that nothing else was left in a folder.
func onlyFiles(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != len(names) {
		t.Errorf("%d files in the folder, want %d: %v", len(entries), len(names), entries)
	}
}

func TestSaveKeepsPermissionsAndLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has neither")
	}
	dir := t.TempDir()
	real, link, link2 := filepath.Join(dir, "real.yaml"), filepath.Join(dir, "link.yaml"), filepath.Join(dir, "link2.yaml")
	for _, err := range []error{os.WriteFile(real, []byte("old"), 0o640), os.Chmod(real, 0o640), os.Symlink("real.yaml", link), os.Symlink(link, link2)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := ReplaceFile(link2, []byte("new")); err != nil {
		t.Fatal(err)
	}
	if st, err := os.Lstat(link); err != nil || st.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link became a file")
	}
	st, err := os.Stat(real)
	if err != nil || st.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v; want -rw-r-----", st.Mode(), err)
	}
	if data, _ := os.ReadFile(real); string(data) != "new" {
		t.Errorf("the file holds %q", data)
	}
	if data, _ := os.ReadFile(real + BackupSuffix); string(data) != "old" {
		t.Errorf("the backup holds %q", data)
	}
	dangling := filepath.Join(dir, "dangling.yaml")
	if err := os.Symlink("made.yaml", dangling); err != nil {
		t.Fatal(err)
	}
	if err := ReplaceFile(dangling, []byte("made")); err != nil {
		t.Fatal(err)
	}
	if data, _ := os.ReadFile(filepath.Join(dir, "made.yaml")); string(data) != "made" {
		t.Error("a link to a file that is not there yet does not lead to it")
	}
}

func TestSaveSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, []byte("x"), 0o666); err != nil {
		t.Fatal(err)
	}
	loop := filepath.Join(dir, "loop")
	if err := os.Symlink("loop", loop); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		filepath.Join(dir, "gone", "plan.yaml"):              "the folder " + filepath.Join(dir, "gone") + " is not there",
		filepath.Join(file, "plan.yaml"):                     "part of its path is a file",
		filepath.Join(dir, strings.Repeat("x", 300)+".yaml"): "the name is too long",
		filepath.Join(dir, "nul\x00.yaml"):                   "characters that this system does not allow",
		dir:                                                  "no ordinary file",
		loop:                                                 "circle",
	} {
		err := Save(path, testPlan())
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", path, err, want)
		}
	}
	onlyFiles(t, dir, "file", "loop")
}

func TestReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser may write anywhere")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "plan.yaml")
	if err := Save(path, testPlan()); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o777)
	err := Save(path, testPlan())
	if err == nil || !strings.Contains(err.Error(), "you may not write in this folder") {
		t.Errorf("got %v", err)
	}
	if _, err := Load(path); err != nil {
		t.Errorf("the plan is gone: %v", err)
	}
}

func TestWordsForTheSystemsErrors(t *testing.T) {
	for err, want := range map[syscall.Errno]string{
		syscall.ENOSPC: "the disk is full", syscall.EROFS: "the disk is read-only", syscall.EACCES: "you may not write in this folder",
		syscall.ENAMETOOLONG: "the name is too long", syscall.EIO: "input/output error",
	} {
		wrapped := &fs.PathError{Op: "write", Path: "plan.yaml", Err: err}
		got := explain("save", "plan.yaml", wrapped)
		if !strings.Contains(got.Error(), "cannot save plan.yaml: "+want) || !errors.Is(got, err) {
			t.Errorf("%v: %v", err, got)
		}
	}
}

func TestLoadSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{
		filepath.Join(dir, "none.yaml"):      "there is no such file",
		filepath.Join(dir, "no", "way.yaml"): "the folder " + filepath.Join(dir, "no") + " is not there",
		dir:                                  "is a folder",
	} {
		if _, err := Load(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %q", path, err, want)
		}
	}
}

func TestOpenBesideStaysInTheFolder(t *testing.T) {
	dir := t.TempDir()
	plan := filepath.Join(dir, "in", "plan.yaml")
	for name, text := range map[string]string{"in/pic/a.png": "a", "secret": "s"} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("../secret", filepath.Join(dir, "in", "link.png")); err != nil {
		t.Fatal(err)
	}
	f, err := OpenBeside(plan, "pic/a.png")
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	names := []string{"../secret", "link.png", "/etc/passwd", `..\secret`, "pic/../../secret", "", ".", `C:\x.png`, "pic"}
	for _, name := range names {
		if f, err := OpenBeside(plan, name); err == nil {
			f.Close()
			t.Errorf("%q was opened", name)
		}
	}
}

// A file is read up to one byte more than a record may have, so that the readers see that it is too long.
func TestReadFileStopsBehindTheLimit(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.yaml")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, size := range []int{0, record.MaxBytes, record.MaxBytes + 1, record.MaxBytes + 9} {
		if err := os.Truncate(path, int64(size)); err != nil {
			t.Fatal(err)
		}
		data, err := ReadFile(path, "a plan file")
		if err != nil || len(data) != min(size, record.MaxBytes+1) {
			t.Errorf("%d bytes: %d read, %v", size, len(data), err)
		}
	}
}

// A new file can be executed by nobody, and its temporary name stays short where its own is long.
func TestNewFilesAndTheirTemporaryNames(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.yaml")
	if err := ReplaceFile(path, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if st, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && st.Mode()&0o111 != 0 {
		t.Errorf("%v, %v", st.Mode(), err)
	}
	for n, want := range map[int]int{5: 5, 100: 100, 101: 100, 200: 100} {
		if got := shortBase(strings.Repeat("x", n)); len(got) != want {
			t.Errorf("a name of %d bytes becomes one of %d", n, len(got))
		}
	}
	if got := shortBase(strings.Repeat("x", 99) + "ä"); got != strings.Repeat("x", 99) {
		t.Errorf("cut inside a letter: %q", got)
	}
}
