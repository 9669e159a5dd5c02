package gltf

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

func scene() *layout.Scene {
	donor := &vehicles.Donor{ID: "van", Invented: true, WheelbaseMM: 2400, TrackFrontMM: 1380, TrackRearMM: 1370, WheelRadiusMM: 310,
		PlanOutline: []vehicles.XY{{-1000, -800}, {3200, -800}, {3200, 800}, {-1000, 800}},
		SideOutline: []vehicles.XY{{-1000, 350}, {3200, 350}, {3200, 1900}, {-600, 1900}, {-900, 1000}},
		KeepOuts:    []vehicles.KeepOut{{ID: "pipe", Outline: []vehicles.XY{{0, 600}, {900, 600}, {900, 640}}, FloorMM: 200, CeilingMM: 300}},
	}
	module := &vehicles.Module{ID: "block", Invented: true, LengthMM: 355, WidthMM: 152, HeightMM: 108}
	box := &layout.Box{ID: "middle", At: vehicles.XYZ{600, -300, 200}, TurnDeg: 30,
		Levels: []vehicles.Level{{Outline: []vehicles.XY{{0, 0}, {900, 0}, {900, 500}, {200, 500}, {0, 420}}, FloorMM: 0, CeilingMM: 130}}}
	for i := range 3 {
		box.Modules = append(box.Modules, layout.Placement{ID: strconv.Itoa(i + 1), Module: "block", Posture: vehicles.Flat, At: vehicles.XYZ{45, 6 + float64(i)*157, 4}})
	}
	a := &layout.Arrangement{ID: "a", Boxes: []*layout.Box{box}}
	p := &layout.Plan{Donor: "van", Arrangements: []*layout.Arrangement{a}}
	return layout.Resolve(p, a, vehicles.Catalogue().With(vehicles.Records{Donors: []*vehicles.Donor{donor}, Modules: []*vehicles.Module{module}}), nil)
}

func read(t *testing.T, s *layout.Scene) *gltf.Document {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s); err != nil {
		t.Fatal(err)
	}
	doc := new(gltf.Document)
	if err := gltf.NewDecoder(&b).Decode(doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

// volume is the volume inside a mesh by the divergence theorem: the sum over its triangles of a·(b×c)/6. It is
// right only where the surface is closed and all its faces look outward.
func volume(t *testing.T, doc *gltf.Document, mesh *gltf.Mesh) float64 {
	t.Helper()
	p := mesh.Primitives[0]
	places, err := modeler.ReadPosition(doc, doc.Accessors[p.Attributes[gltf.POSITION]], nil)
	if err != nil {
		t.Fatal(err)
	}
	corners, err := modeler.ReadIndices(doc, doc.Accessors[*p.Indices], nil)
	if err != nil {
		t.Fatal(err)
	}
	at := func(i uint32) r3.Vector {
		return r3.Vector{X: float64(places[i][0]), Y: float64(places[i][1]), Z: float64(places[i][2])}
	}
	sum := 0.0
	for i := 0; i < len(corners); i += 3 {
		sum += at(corners[i]).Dot(at(corners[i+1]).Cross(at(corners[i+2]))) / 6
	}
	return sum
}

func TestBodiesHaveTheModelsVolumes(t *testing.T) {
	s := scene()
	doc := read(t, s)
	want := map[string]float64{
		"module middle/1": 355 * 152 * 108e-9, "module middle/3": 355 * 152 * 108e-9,
		"walls of middle": s.Boxes[0].Outer.Volume() * 1e-9,
		"keep-out pipe":   s.KeepOuts[0].Prism.Volume() * 1e-9,
		"body":            geometry.Ring(vehicles.Points(s.Donor.SideOutline)).Area() * 1600 * 1e-9,
	}
	for _, m := range doc.Meshes {
		if v, ok := want[m.Name]; ok {
			if got := volume(t, doc, m); math.Abs(got-v) > 2e-5*v {
				t.Errorf("%s: %v m3, want %v", m.Name, got, v)
			}
			delete(want, m.Name)
		}
	}
	for name := range want {
		t.Errorf("no mesh %q", name)
	}
}

// The front of a glTF model looks along +z with y up and its right side at -x (Khronos glTF 2.0, 3.4; from
// memory, not checked against the text).
func TestFrontLooksAlongZ(t *testing.T) {
	got := metres([]r3.Vector{{X: -1000}, {Y: 1000}, {Z: 1000}})
	want := [][3]float32{{0, 0, 1}, {-1, 0, 0}, {0, 1, 0}}
	for i := range want {
		for k := range 3 {
			if got[i][k] != want[i][k] {
				t.Errorf("axis %d: %v, want %v", i, got[i], want[i])
			}
		}
	}
}

func TestSameSceneSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	if Write(&a, scene()) != nil || Write(&b, scene()) != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two writings of the same scene differ")
	}
}

func TestNodesAreNamed(t *testing.T) {
	n := 0
	for _, node := range read(t, scene()).Nodes {
		if strings.HasPrefix(node.Name, "module middle/") {
			n++
		}
	}
	if n != 3 {
		t.Errorf("%d modules named, want 3", n)
	}
}

// A star-shaped ring is cut into triangles that cover its area once.
func TestTrianglesCoverTheRing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 20).Draw(t, "n")
		ring := make(geometry.Ring, n)
		for i := range ring {
			r := rapid.Float64Range(20, 100).Draw(t, "r")
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			ring[i] = r2.Point{X: r * cos, Y: r * sin}
		}
		checkCover(t, ring, ring.Area())
	})
}

func TestHolesAreCutOut(t *testing.T) {
	a := geometry.Polygon{Outer: geometry.NewRect(0, 0, 100, 60).Outer,
		Holes: []geometry.Ring{geometry.NewRect(10, 10, 30, 50).Outer, geometry.NewRect(60, 20, 90, 30).Outer}}.Normalised()
	ring := oneRing(a)
	if got := ring.Area(); math.Abs(got-a.Area()) > 1e-9 {
		t.Fatalf("the joined ring has area %v, want %v", got, a.Area())
	}
	sum := 0.0
	for _, tr := range triangles(ring) {
		v := side(ring[tr[0]], ring[tr[1]], ring[tr[2]]) / 2
		if v < -1e-9 {
			t.Errorf("triangle %v is turned over", tr)
		}
		sum += v
	}
	if math.Abs(sum-a.Area()) > 1e-9 {
		t.Errorf("triangles cover %v, want %v", sum, a.Area())
	}
}

func checkCover(t *rapid.T, ring geometry.Ring, want float64) {
	sum := 0.0
	for _, tr := range triangles(ring) {
		v := side(ring[tr[0]], ring[tr[1]], ring[tr[2]]) / 2
		if v < -1e-9 {
			t.Fatalf("triangle %v is turned over", tr)
		}
		sum += v
	}
	if math.Abs(sum-want) > 1e-6*want {
		t.Fatalf("triangles cover %v, want %v", sum, want)
	}
}
