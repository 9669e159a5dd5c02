package cmd

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// readers are what the program reads from outside, with the fuzz target of each.
var readers = map[string]string{
	"plan":                         "layout:FuzzParse",
	"donor":                        "vehicles:FuzzDonor",
	"module":                       "vehicles:FuzzModule",
	"gear":                         "vehicles:FuzzGear",
	"any record":                   "vehicles/record:FuzzRead",
	"DXF outline":                  "geometry/outline:FuzzReadDXF",
	"SVG drawing":                  "geometry/outline:FuzzReadSVG",
	"path of an SVG drawing":       "geometry/outline:FuzzParseSVGPath",
	"rectangle problems as CSV":    "layout/packing/problemfile:FuzzReadCSV",
	"packing problem as JSON":      "layout/packing/problemfile:FuzzReadJSON",
	"received modules as CSV":      "layout/assembly:FuzzImportReceived",
	"picture under a view":         "ui/paint:FuzzDecodePicture",
	"journal":                      "layout/journal:FuzzRecover",
	"edit in a line of a journal":  "layout:FuzzUnmarshalEdit",
	"expression in a number field": "ui/view:FuzzEvaluate",
}

// Every reader has a fuzz target, every target a corpus beside it; make fuzz runs each of them, and a test floods each.
func TestEveryReaderIsFuzzed(t *testing.T) {
	makefile, err := os.ReadFile("../Makefile")
	if err != nil {
		t.Fatal(err)
	}
	run := strings.Fields(string(makefile))
	found := fuzzTargets(t)
	for what, target := range readers {
		if !slices.Contains(found, target) {
			t.Errorf("nothing fuzzes the %s: no %s", what, target)
		}
	}
	for _, target := range found {
		if !slices.Contains(run, target) {
			t.Errorf("%s is not in the Makefile's list", target)
		}
		pkg, name, _ := strings.Cut(target, ":")
		if !flooded(t, pkg, name) {
			t.Errorf("no test floods the reader of %s", target)
		}
		corpus, _ := filepath.Glob(filepath.Join("..", pkg, "testdata", "fuzz", name, "*"))
		if len(corpus) == 0 {
			t.Errorf("%s has no corpus in testdata", target)
		}
	}
}

// fuzzTargets lists all fuzz targets of the repository as package:name.
func fuzzTargets(t *testing.T) []string {
	var out []string
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv == nil && strings.HasPrefix(fn.Name.Name, "Fuzz") {
				pkg, _ := filepath.Rel("..", filepath.Dir(path))
				out = append(out, filepath.ToSlash(pkg)+":"+fn.Name.Name)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// flooded tells whether a test of the package names the target to inputs.Flood.
func flooded(t *testing.T, pkg, target string) bool {
	files, _ := filepath.Glob(filepath.Join("..", pkg, "*_test.go"))
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), `Target: "`+target+`"`) || strings.Contains(string(text), `.flood(t, "`+target+`"`) {
			return true
		}
	}
	return false
}
