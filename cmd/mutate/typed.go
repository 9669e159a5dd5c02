package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
)

// typed is a package's source with the types of its expressions.
type typed struct {
	fset  *token.FileSet
	files map[string]*ast.File // by path
	src   map[string][]byte
	pkg   *types.Package
	info  *types.Info
	tests map[string]bool // the names that stand in its tests
}

// checked reads and type-checks a package. What it imports is taken from the compiler's own results.
func checked(ctx context.Context, p pkg) (*typed, error) {
	exports, err := exported(ctx, p)
	if err != nil {
		return nil, err
	}
	t := &typed{fset: token.NewFileSet(), files: map[string]*ast.File{}, src: map[string][]byte{}, info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}}
	if t.tests, err = namesIn(p.Dir, append(p.TestGoFiles, p.XTestGoFiles...)); err != nil {
		return nil, err
	}
	var files []*ast.File
	for _, name := range p.GoFiles {
		path := filepath.Join(p.Dir, name)
		if t.src[path], err = os.ReadFile(path); err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(t.fset, path, t.src[path], parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		t.files[path] = f
		files = append(files, f)
	}
	conf := types.Config{Importer: importer.ForCompiler(t.fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(exports[path])
	})}
	t.pkg, err = conf.Check(p.ImportPath, t.fset, files, t.info)
	return t, err
}

// namesIn returns the names that stand in files of a folder.
func namesIn(dir string, files []string) (map[string]bool, error) {
	names := map[string]bool{}
	for _, file := range files {
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(dir, file), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok {
				names[id.Name] = true
			}
			return true
		})
	}
	return names, nil
}

// exported returns for each package that another needs the file that holds its compiled declarations.
func exported(ctx context.Context, p pkg) (map[string]string, error) {
	cmd := exec.CommandContext(ctx, "go", "list", "-export", "-deps", "-json=ImportPath,Export", p.ImportPath)
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list -export: %w", explained(err))
	}
	files := map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var one struct{ ImportPath, Export string }
		if err := d.Decode(&one); err != nil {
			return nil, err
		}
		files[one.ImportPath] = one.Export
	}
	return files, nil
}
