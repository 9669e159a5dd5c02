package report

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/drawing"
	"stowbay/layout/report/dxf"
	"stowbay/layout/report/gltf"
	"stowbay/layout/report/svg"
)

// file is one file of a report, built when its turn comes.
type file struct {
	name  string // with slashes, inside the report's folder
	build func() ([]byte, error)
}

// WriteAll writes a report as a folder: report.pdf, the plan, each view and box as SVG and DXF, tables as CSV and
// all readings as JSON. It returns the names written, in order, with slashes. Each file is replaced as a whole or
// left as it was; nothing is written outside the folder, and other files in it stay. Where the context ends, the
// files written so far stand and the error says so.
func WriteAll(ctx context.Context, dir string, p *layout.Plan, es []*check.Evaluation, o Options) ([]string, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	files := allFiles(p, es, o)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, layout.Explain("save", dir, err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, layout.Explain("open", dir, err)
	}
	defer root.Close()
	var done []string
	for i, f := range files {
		if err := ctx.Err(); err != nil {
			return done, fmt.Errorf("stopped after %d of %d files: %w", i, len(files), err)
		}
		o.progress(float64(i)/float64(len(files)), f.name)
		if err := write(root, f); err != nil {
			return done, layout.Explain("save", filepath.Join(dir, filepath.FromSlash(f.name)), err)
		}
		done = append(done, f.name)
	}
	o.progress(1, "")
	return done, nil
}

// Listing condenses the names of files written for reading: those at the top one by one, the rest by folder.
func Listing(files []string) []string {
	var out []string
	n := map[string]int{}
	for _, f := range files {
		dir := path.Dir(f)
		if dir == "." {
			out = append(out, f)
			continue
		}
		if n[dir] == 0 {
			out = append(out, dir)
		}
		n[dir]++
	}
	for i, s := range out {
		if n[s] > 0 {
			out[i] = fmt.Sprintf("%s/ (files: %d)", s, n[s])
		}
	}
	return out
}

// write builds a file and puts it in place at once.
func write(root *os.Root, f file) error {
	data, err := f.build()
	if err != nil {
		return err
	}
	if d := filepath.Dir(filepath.FromSlash(f.name)); d != "." {
		if err := root.MkdirAll(d, 0o755); err != nil {
			return err
		}
	}
	name := filepath.FromSlash(f.name)
	part := name + ".part"
	err = writeSynced(root, part, data)
	if err == nil {
		err = root.Rename(part, name)
	}
	if err != nil {
		root.Remove(part)
	}
	return err
}

func writeSynced(root *os.Root, name string, data []byte) error {
	w, err := root.Create(name)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	if err == nil {
		err = w.Sync()
	}
	if closed := w.Close(); err == nil {
		err = closed
	}
	return err
}

// allFiles are the files of a report.
func allFiles(p *layout.Plan, es []*check.Evaluation, o Options) []file {
	inner := o
	inner.Progress = nil
	out := []file{
		{"report.pdf", func() ([]byte, error) { return PDF(p, es, inner) }},
		{"plan.yaml", func() ([]byte, error) { return source(p, o) }},
		{"readings.json", func() ([]byte, error) { return JSON(es...) }},
	}
	for _, e := range es {
		folder := ""
		if len(es) > 1 {
			folder = safe(e.Arrangement.ID) + "/"
		}
		out = append(out, drawingFiles(folder+"drawings/", p, e, o)...)
		out = append(out, tableFiles(folder+"tables/", e)...)
		out = append(out, flatFiles(folder, e)...)
	}
	return out
}

func source(p *layout.Plan, o Options) ([]byte, error) {
	if o.Source != nil {
		return o.Source, nil
	}
	return layout.Encode(p)
}

// safe makes a file's name of an id.
func safe(id string) string {
	s := strings.Map(func(r rune) rune {
		if r < 128 && (r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') {
			return r
		}
		return '_'
	}, id)
	return or(s, "unnamed")
}

// drawingFiles are the views and boxes of an arrangement as SVG and DXF.
func drawingFiles(folder string, p *layout.Plan, e *check.Evaluation, o Options) []file {
	b := &book{plan: p, e: e, units: unitsOf(p, o)}
	look := b.look()
	var out []file
	for name, v := range views {
		out = append(out, drawingPair(folder+name, func() *drawing.List { return v.Draw(e.Scene, look) })...)
	}
	sortFiles(out)
	out = append(out, file{folder + "model.glb", func() ([]byte, error) {
		var w bytes.Buffer
		err := gltf.Write(&w, e.Scene)
		return w.Bytes(), err
	}})
	out = append(out, drawingPair(folder+"view", func() *drawing.List { return b.picture() })...)
	if len(e.Electric.Strings) > 0 {
		out = append(out, drawingPair(folder+"single-line", func() *drawing.List { return drawing.SingleLine(e.Electric) })...)
	}
	for _, box := range e.Scene.Boxes {
		out = append(out, drawingPair(folder+"box-"+safe(box.Box.ID), func() *drawing.List { return b.boxSheet(box) })...)
	}
	return out
}

var views = map[string]drawing.View{"plan": drawing.PlanView, "side": drawing.SideView, "rear": drawing.RearView}

// A drawing is written for a sheet of A3 on its side, 420 x 297 mm (ISO 216), with an edge all round and a note beneath it.
const (
	sheetEdge = 10.0
	sheetWide = 420 - 2*sheetEdge
	sheetHigh = 297 - 2*sheetEdge - svg.NoteMM
)

func drawingPair(name string, list func() *drawing.List) []file {
	return []file{
		{name + ".svg", func() ([]byte, error) {
			l := list()
			n := drawing.StandardScale(l.Bounds, sheetWide, sheetHigh)
			var b bytes.Buffer
			err := svg.Write(&b, l, svg.Sheet{Scale: n, MarginMM: sheetEdge, Note: fmt.Sprintf("%s, scale 1:%g", l.Title, n)})
			return b.Bytes(), err
		}},
		{name + ".dxf", func() ([]byte, error) {
			l := list()
			var b bytes.Buffer
			err := dxf.Write(&b, l, dxf.Sheet{Scale: drawing.StandardScale(l.Bounds, sheetWide, sheetHigh)})
			return b.Bytes(), err
		}},
	}
}

// WriteFile writes one file of a report, as a whole or not at all, without keeping what was there before.
func WriteFile(path string, data []byte) error {
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return layout.Explain("save", path, err)
	}
	defer root.Close()
	err = write(root, file{filepath.Base(path), func() ([]byte, error) { return data, nil }})
	return layout.Explain("save", path, err)
}
