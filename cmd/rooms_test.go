// Package cmd holds the two commands and the test that keeps the rooms of the repository in order.
package cmd

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// rooms lists the folders from the ground up: a room imports only rooms above it in this list. Rooms with the
// same rank never import one another. A folder below a room belongs to it.
var rooms = []struct {
	folder string
	rank   int
}{
	{"internal/inputs", 0},
	{"geometry", 0},
	{"vehicles", 1},
	{"layout/packing", 1},
	{"layout", 2},
	{"layout/journal", 3},
	{"layout/demo", 3},
	{"layout/fill", 3},
	{"layout/mass", 3},
	{"layout/electric", 3},
	{"layout/assembly", 3},
	{"layout/restraint", 3},
	{"layout/cooling", 3},
	{"layout/roadload", 3},
	{"layout/check", 4},
	{"layout/search", 5},
	{"layout/drawing", 6},
	{"layout/report", 7},
	{"ui", 8},
	{"cmd", 9},
}

func roomOf(pkg string) (string, int) {
	best, rank := "", -1
	for _, r := range rooms {
		if (pkg == r.folder || strings.HasPrefix(pkg, r.folder+"/")) && len(r.folder) > len(best) {
			best, rank = r.folder, r.rank
		}
	}
	return best, rank
}

func TestRoomsImportOnlyRoomsAboveThem(t *testing.T) {
	files := 0
	eachImport(t, func(file, pkg, imported string) {
		files++
		from, rank := roomOf(pkg)
		if from == "" {
			t.Errorf("%s: package %s belongs to no room", file, pkg)
			return
		}
		to, ok := strings.CutPrefix(imported, "stowbay/")
		if !ok {
			return
		}
		above, r := roomOf(to)
		if above == from || r < rank || strings.HasSuffix(file, "_test.go") {
			return
		}
		t.Errorf("%s: room %s may not import %s", file, from, to)
	})
	if files == 0 {
		t.Fatal("no imports were read")
	}
}

func TestOnlyTheDesktopOpensWindows(t *testing.T) {
	eachImport(t, func(file, pkg, imported string) {
		if strings.HasPrefix(imported, "fyne.io/") && !strings.HasPrefix(pkg, "ui") && pkg != "cmd/stowbay" {
			t.Errorf("%s: only ui and cmd/stowbay may import %s", file, imported)
		}
		if imported == "fyne.io/fyne/v2/app" && pkg != "cmd/stowbay" {
			t.Errorf("%s: only cmd/stowbay may import %s", file, imported)
		}
	})
}

// eachImport calls f for every import of every Go file of the repository.
func eachImport(t *testing.T, f func(file, pkg, imported string)) {
	t.Helper()
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	err = fs.WalkDir(os.DirFS(root), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != "." || d.Name() == "testdata" || d.Name() == "bin" || d.Name() == "out") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, path), nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, i := range parsed.Imports {
			name, _ := strconv.Unquote(i.Path.Value)
			f(path, filepath.ToSlash(filepath.Dir(path)), name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
