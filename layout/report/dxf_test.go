package report_test

import (
	"context"
	"encoding/json"
	"math"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/report"
	"stowbay/layout/report/fabricate"
)

// reread reads every DXF of a folder with an independent library, audits it, and prints what is in it.
const reread = `
import sys, json, glob, ezdxf
out = {}
for name in sorted(glob.glob(sys.argv[1] + "/**/*.dxf", recursive=True)):
    doc = ezdxf.readfile(name)
    a = doc.audit()
    m = doc.modelspace()
    out[name[len(sys.argv[1]) + 1:]] = {
        "faults": [e.message for e in a.errors] + [e.message for e in a.fixes],
        "rings": [[[v.dxf.location.x, v.dxf.location.y] for v in p.vertices] for p in m.query("POLYLINE") if p.is_closed],
        "circles": [[c.dxf.center.x, c.dxf.center.y, c.dxf.radius] for c in m.query("CIRCLE")],
        "bends": [l.dxf.layer for l in m.query("LINE") if l.dxf.layer.startswith("BEND")],
    }
print(json.dumps(out))
`

type dxfFile struct {
	Faults  []string
	Rings   [][][2]float64
	Circles [][3]float64
	Bends   []string
}

// An independent library reads every drawing of the report and finds nothing to fix; flat patterns have the
// blanks' outlines, round holes and bend lines.
func TestDrawingsAreReadByAnIndependentLibrary(t *testing.T) {
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		t.Skip("python3-ezdxf is not installed")
	}
	p, es := demonstration(t)
	dir := t.TempDir()
	if _, err := report.WriteAll(context.Background(), dir, p, es[:1], report.Options{Sections: []string{"cautions"}}); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "-c", reread, dir).Output()
	if err != nil {
		t.Fatal(err)
	}
	var files map[string]dxfFile
	if err := json.Unmarshal(out, &files); err != nil {
		t.Fatal(err)
	}
	for name, f := range files {
		if len(f.Faults) > 0 {
			t.Errorf("%s: %v", name, f.Faults)
		}
	}
	for _, m := range es[0].Mass.Boxes {
		x := fabricate.Flatten(es[0].Scene.Box(m.ID).Box, m.Panels, p.Settings.Sheet)
		for i := range x.Blanks {
			name := filepath.ToSlash(filepath.Join("flat", strings.ReplaceAll(x.Blanks[i].ID, "/", "-")+".dxf"))
			compareBlank(t, &x.Blanks[i], files[name])
		}
	}
}

func compareBlank(t *testing.T, b *fabricate.Blank, f dxfFile) {
	t.Helper()
	found := false
	for _, r := range f.Rings {
		ring := make(geometry.Ring, len(r))
		for i, q := range r {
			ring[i] = r2.Point{X: q[0], Y: q[1]}
		}
		found = found || sameRing(ring, b.Outline.Outer)
	}
	if !found {
		t.Errorf("%s: its outline is not in the file", b.ID)
	}
	if len(f.Bends) != len(b.Bends) {
		t.Errorf("%s: %d bend lines in the file, want %d", b.ID, len(f.Bends), len(b.Bends))
	}
	for _, h := range b.Holes {
		if h.DiameterMM > 0 && !hasCircle(f.Circles, h) {
			t.Errorf("%s: the hole for %s is not in the file", b.ID, h.For)
		}
	}
}

func hasCircle(cs [][3]float64, h fabricate.Hole) bool {
	for _, c := range cs {
		if math.Hypot(c[0]-h.At.X, c[1]-h.At.Y) < 0.01 && math.Abs(c[2]-h.DiameterMM/2) < 0.01 {
			return true
		}
	}
	return false
}
