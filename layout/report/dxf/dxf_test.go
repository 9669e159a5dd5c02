package dxf

import (
	"bufio"
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// scene is an invented van with one turned box of six invented modules.
func scene() *layout.Scene {
	donor := &vehicles.Donor{ID: "van", Invented: true, WheelbaseMM: 2400, TrackFrontMM: 1380, TrackRearMM: 1370, WheelRadiusMM: 310, GroundClearMM: 190,
		PlanOutline: []vehicles.XY{{-1000, -800}, {3200, -800}, {3200, 800}, {-1000, 800}},
		SideOutline: []vehicles.XY{{-1000, 350}, {3200, 350}, {3200, 1900}, {-600, 1900}},
		KeepOuts:    []vehicles.KeepOut{{ID: "pipe", Name: "brake pipe, 5 mm ± 1", Kind: "hot", Outline: []vehicles.XY{{0, 600}, {900, 600}, {900, 640}}, FloorMM: 200, CeilingMM: 300}},
	}
	module := &vehicles.Module{ID: "block", Invented: true, LengthMM: 355, WidthMM: 152, HeightMM: 108, Series: 4, Parallel: 3, Terminals: []vehicles.Terminal{
		{ID: "+", Polarity: "positive", Face: vehicles.Front, At: vehicles.XYZ{0, 38, 85}, StripMM: 35},
		{ID: "-", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 114, 85}, StripMM: 35}}}
	box := &layout.Box{ID: "middle", At: vehicles.XYZ{600, -300, 200}, TurnDeg: 7.5,
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {900, 0}, {900, 500}, {200, 500}, {0, 420}}, FloorMM: 0, CeilingMM: 130}}}
	for i := range 6 {
		box.Modules = append(box.Modules, layout.Placement{ID: strconv.Itoa(i + 1), Module: "block", Posture: vehicles.Flat,
			At: vehicles.XYZ{45 + float64(i%2)*400, 6 + float64(i/2)*157, 4}})
	}
	a := &layout.Arrangement{ID: "a", Name: "Größe", Boxes: []*layout.Box{box}}
	p := &layout.Plan{Donor: "van", Arrangements: []*layout.Arrangement{a}}
	return layout.Resolve(p, a, vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{donor}, Modules: []*vehicles.Module{module}}), nil)
}

func write(t *testing.T, l *drawing.List) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, l, Sheet{Scale: 20}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func views(s *layout.Scene) []*drawing.List {
	kg := [4]float64{400, 410, 500, 520}
	o := drawing.Options{GridMM: 500, WheelKg: &kg, Dimensions: true, Marks: map[string]drawing.Mark{"middle/1": drawing.Selected, "middle/2": drawing.Breached}}
	return []*drawing.List{drawing.Plan(s, o), drawing.Side(s, o), drawing.Rear(s, o)}
}

// closed reads a DXF file's closed polylines by layer: an own reader, apart from the writer.
func closed(t *testing.T, file []byte) map[string][]geometry.Ring {
	t.Helper()
	out := map[string][]geometry.Ring{}
	sc := bufio.NewScanner(bytes.NewReader(file))
	var kind, layer string
	var ring geometry.Ring
	var isClosed bool
	var x float64
	for sc.Scan() {
		code := strings.TrimSpace(sc.Text())
		sc.Scan()
		value := strings.TrimSpace(sc.Text())
		switch {
		case code == "0":
			if value == "SEQEND" && isClosed {
				out[layer] = append(out[layer], ring)
			}
			if value == "POLYLINE" {
				ring, isClosed = nil, false
			}
			kind = value
		case code == "8":
			layer = value
		case code == "70" && kind == "POLYLINE":
			isClosed = value == "1"
		case code == "10" && kind == "VERTEX":
			x = parse(t, value)
		case code == "20" && kind == "VERTEX":
			ring = append(ring, r2.Point{X: x, Y: parse(t, value)})
		}
	}
	return out
}

func parse(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func has(rings []geometry.Ring, want geometry.Ring) bool {
	for _, r := range rings {
		if len(r) != len(want) {
			continue
		}
		same := true
		for i := range r {
			same = same && math.Abs(r[i].X-want[i].X) < 0.01 && math.Abs(r[i].Y-want[i].Y) < 0.01
		}
		if same {
			return true
		}
	}
	return false
}

func TestPolygonsComeBackToAHundredthOfAMillimetre(t *testing.T) {
	s := scene()
	got := closed(t, write(t, drawing.Plan(s, drawing.Options{})))
	if len(s.Boxes[0].Modules) != 6 {
		t.Fatalf("the scene has %d modules: %v", len(s.Boxes[0].Modules), s.Missing)
	}
	for _, m := range s.Boxes[0].Modules {
		if !has(got["MODULE"], m.Prism.Base.Outer) {
			t.Errorf("module %s is not in the file", m.ID)
		}
	}
	if !has(got["BOX"], s.Boxes[0].Outer.Solids[0].Base.Outer) {
		t.Error("the box's outline is not in the file")
	}
	if !has(got["KEEP-OUT"], s.KeepOuts[0].Prism.Base.Outer) {
		t.Error("the keep-out's outline is not in the file")
	}
}

func TestSameListSameBytes(t *testing.T) {
	s := scene()
	if !bytes.Equal(write(t, views(s)[0]), write(t, views(s)[0])) {
		t.Error("two writings of the same list differ")
	}
}

func TestLayersAreNamedInWords(t *testing.T) {
	if got := LayerName(drawing.RoleCGDonor); got != "DONORS_CENTRE_OF_GRAVITY" {
		t.Errorf("layer %q", got)
	}
	for _, l := range views(scene()) {
		for _, it := range l.Items {
			if n := LayerName(it.Tag().Role) + hatchSuffix; len(n) > 31 {
				t.Errorf("layer name %q is longer than the 31 letters of release 12", n)
			}
		}
	}
}

const audit = `
import sys, ezdxf
from ezdxf import recover
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    assert doc.dxfversion == "AC1009", doc.dxfversion
    a = doc.audit()
    found = [e.message for e in a.errors] + [e.message for e in a.fixes]
    assert not found, (name, found)
    assert len(doc.modelspace()) > 20, len(doc.modelspace())
    doc, a = recover.readfile(name)
    assert not a.has_errors, a.errors
    print(len(doc.modelspace()), any("\u00b1" in t.dxf.text for t in doc.modelspace().query("TEXT")))
`

// An independent library reads the files and finds nothing to fix.
func TestAuditFindsNothingToFix(t *testing.T) {
	python := "/usr/bin/python3"
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		t.Skip("python3-ezdxf is not installed")
	}
	dir := t.TempDir()
	args := []string{"-c", audit}
	for i, l := range views(scene()) {
		name := filepath.Join(dir, strconv.Itoa(i)+".dxf")
		if err := os.WriteFile(name, write(t, l), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, name)
	}
	out, err := exec.Command(python, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if !strings.Contains(string(out), "True") {
		t.Errorf("the sign ± did not come back: %s", out)
	}
}
