package gltf

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// surface is a mesh as a reader of glTF has it: its places and normals, three of each a triangle.
type surface struct {
	places, normals []r3.Vector
}

func surfaceOf(t *testing.T, doc *gltf.Document, mesh *gltf.Mesh) surface {
	t.Helper()
	p := mesh.Primitives[0]
	places, err := modeler.ReadPosition(doc, doc.Accessors[p.Attributes[gltf.POSITION]], nil)
	if err != nil {
		t.Fatal(err)
	}
	normals, err := modeler.ReadNormal(doc, doc.Accessors[p.Attributes[gltf.NORMAL]], nil)
	if err != nil {
		t.Fatal(err)
	}
	corners, err := modeler.ReadIndices(doc, doc.Accessors[*p.Indices], nil)
	if err != nil {
		t.Fatal(err)
	}
	vector := func(v [3]float32) r3.Vector {
		return r3.Vector{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])}
	}
	var s surface
	for _, c := range corners {
		s.places, s.normals = append(s.places, vector(places[c])), append(s.normals, vector(normals[c]))
	}
	return s
}

func (s surface) bounds() (lo, hi r3.Vector) {
	lo, hi = s.places[0], s.places[0]
	for _, p := range s.places {
		lo = r3.Vector{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
		hi = r3.Vector{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
	}
	return lo, hi
}

// The normals that a viewer lights a face by stand square to it, on the side from which its corners run anticlockwise (glTF 2.0,
// 3.7.2.1; from memory, not checked against the text), and are one long.
func TestNormalsStandOnTheirFaces(t *testing.T) {
	doc := read(t, scene())
	for _, m := range doc.Meshes {
		s := surfaceOf(t, doc, m)
		for i := 0; i < len(s.places); i += 3 {
			across := s.places[i+1].Sub(s.places[i]).Cross(s.places[i+2].Sub(s.places[i]))
			if across.Norm() < 1e-12 {
				continue // a corner on a straight line
			}
			for k := range 3 {
				n := s.normals[i+k]
				if math.Abs(n.Norm()-1) > 1e-5 || n.Dot(across.Normalize()) < 0.999 {
					t.Fatalf("%s: normal %v on a face towards %v", m.Name, n, across.Normalize())
				}
			}
		}
	}
}

// A wheel stands on the ground at its axle, in the middle of its track, as wide as the survey or else 180 mm says, and is round:
// a regular figure of 32 corners has half 32 sin(360°/32) times the square of its radius.
func TestWheelsStandWhereTheSurveyHasThem(t *testing.T) {
	for given, wide := range map[float64]float64{0: 180, 1: 1, 205: 205} {
		s := scene()
		s.Donor.TyreWidthMM = given
		doc := read(t, s)
		n := 0
		stand := map[string]bool{}
		for _, m := range doc.Meshes {
			axle, track := 0.0, 1.380
			switch m.Name {
			case "rear wheel":
				axle, track = -2.400, 1.370
			case "front wheel":
			default:
				continue
			}
			n++
			if lo, _ := surfaceOf(t, doc, m).bounds(); stand[fmt.Sprint(m.Name, lo.X > 0)] {
				t.Errorf("two of %s on one side", m.Name)
			} else {
				stand[fmt.Sprint(m.Name, lo.X > 0)] = true
			}
			lo, hi := surfaceOf(t, doc, m).bounds()
			if math.Abs(lo.Y) > 1e-6 || math.Abs(hi.Y-0.620) > 1e-6 || math.Abs(lo.Z-axle+0.310) > 1e-6 || math.Abs(hi.Z-axle-0.310) > 1e-6 {
				t.Errorf("%s from %v to %v", m.Name, lo, hi)
			}
			if math.Abs(math.Abs(lo.X+hi.X)-track) > 1e-6 || math.Abs(hi.X-lo.X-wide/1000) > 1e-6 {
				t.Errorf("%s of %g mm from %v to %v across", m.Name, wide, lo.X, hi.X)
			}
			if want := 16 * math.Sin(2*math.Pi/32) * 0.310 * 0.310 * wide / 1000; math.Abs(volume(t, doc, m)-want) > 1e-4*want {
				t.Errorf("%s: %v m³, want %v", m.Name, volume(t, doc, m), want)
			}
		}
		if n != 4 {
			t.Errorf("%d wheels", n)
		}
	}
}

// The body reaches as far to either side as the plan's outline and has the side's outline; rails stand between their heights.
func TestBodyAndRailsStandWhereTheSurveyHasThem(t *testing.T) {
	s := scene()
	s.Donor.PlanOutline = []vehicles.XY{{-1000, -700}, {3200, -700}, {3200, 850}, {-1000, 850}}
	s.Donor.Rails = []vehicles.Rail{{ID: "left", Outline: []vehicles.XY{{100, -500}, {900, -500}, {900, -400}, {100, -400}}, FloorMM: 250, CeilingMM: 330}}
	doc := read(t, s)
	want := map[string][2]r3.Vector{
		"body":          {{X: -0.850, Y: 0.350, Z: -3.200}, {X: 0.700, Y: 1.900, Z: 1.000}},
		"rail left":     {{X: 0.400, Y: 0.250, Z: -0.900}, {X: 0.500, Y: 0.330, Z: -0.100}},
		"keep-out pipe": {{X: -0.640, Y: 0.200, Z: -0.900}, {X: -0.600, Y: 0.300, Z: 0}},
	}
	for _, m := range doc.Meshes {
		if w, ok := want[m.Name]; ok {
			if lo, hi := surfaceOf(t, doc, m).bounds(); lo.Sub(w[0]).Norm() > 1e-6 || hi.Sub(w[1]).Norm() > 1e-6 {
				t.Errorf("%s from %v to %v", m.Name, lo, hi)
			}
			delete(want, m.Name)
		}
	}
	if len(want) > 0 {
		t.Errorf("missing: %v", want)
	}
}

// What stands inside something can be seen through it; each thing has the material of its role, in the colour of the drawings in
// linear light (IEC 61966-2-1: above 0.04045, ((c + 0.055) / 1.055) to the power of 2.4).
func TestMaterials(t *testing.T) {
	linear := func(v uint8) float64 { return math.Pow((float64(v)/255+0.055)/1.055, 2.4) }
	doc := read(t, scene())
	for _, c := range []struct {
		mesh    string
		role    drawing.Role
		through bool
	}{{"body", drawing.RoleBody, true}, {"walls of middle", drawing.RoleBox, true}, {"module middle/1", drawing.RoleModule, false}, {"module middle/2", drawing.RoleModule, false}, {"keep-out pipe", drawing.RoleKeepOut, true}} {
		for _, m := range doc.Meshes {
			if m.Name != c.mesh {
				continue
			}
			mat := doc.Materials[*m.Primitives[0].Material]
			if mat.Name != string(c.role) {
				t.Errorf("%s is of %s", c.mesh, mat.Name)
			}
			pbr := mat.PBRMetallicRoughness
			alpha := pbr.BaseColorFactor[3]
			if blend := mat.AlphaMode == gltf.AlphaBlend; blend != c.through || (alpha < 1) != c.through || alpha <= 0 || alpha > 1 {
				t.Errorf("%s: opacity %g, blended %v", c.mesh, alpha, blend)
			}
			if *pbr.MetallicFactor != 0 || *pbr.RoughnessFactor < 0.5 || *pbr.RoughnessFactor > 1 {
				t.Errorf("%s shines like metal", c.mesh)
			}
			st := drawing.Light().Style(drawing.Tag{Role: c.role})
			colour := st.Fill
			if c.through {
				colour = st.Line
			}
			for i, v := range []uint8{colour.R, colour.G, colour.B} {
				if want := linear(v); v > 10 && math.Abs(pbr.BaseColorFactor[i]-want) > 1e-6 {
					t.Errorf("%s: colour %v, want %g", c.mesh, *pbr.BaseColorFactor, want)
				}
			}
		}
	}
	if got := tint(drawing.RoleLiner, 1); got[0] != drawing.Linear(drawing.Light().Style(drawing.Tag{Role: drawing.RoleLiner}).Line.R) { // it has no fill
		t.Errorf("a role without a fill: %v", *got)
	}
	if len(doc.Materials) != 5 {
		t.Errorf("%d materials", len(doc.Materials))
	}
}

// A cut from a hole to the ring crosses nothing; segments that only touch do not cross.
func TestCrossed(t *testing.T) {
	square := geometry.NewRect(0, 0, 10, 10).Outer
	for _, c := range []struct {
		a, b r2.Point
		want bool
	}{
		{r2.Point{X: 5, Y: 5}, r2.Point{X: 15, Y: 5}, true},
		{r2.Point{X: 5, Y: 5}, r2.Point{X: 9, Y: 5}, false},
		{r2.Point{X: 5, Y: 5}, r2.Point{X: 10, Y: 10}, false},   // ends at a corner
		{r2.Point{X: 5, Y: 5}, r2.Point{X: 10, Y: 5}, false},    // ends on an edge
		{r2.Point{X: 5, Y: -5}, r2.Point{X: 15, Y: 5.5}, true},  // cuts off a corner
		{r2.Point{X: 5, Y: -6}, r2.Point{X: 17, Y: 5.5}, false}, // passes by the corner
		{r2.Point{X: 10.25, Y: 5}, r2.Point{X: 9.5, Y: 5}, true},
		{r2.Point{X: -5, Y: -1}, r2.Point{X: 15, Y: -1}, false},
		{r2.Point{X: 5, Y: -5}, r2.Point{X: 15, Y: 5}, false}, // touches a corner from outside
		{r2.Point{X: 15, Y: 5}, r2.Point{X: 10, Y: 5}, false}, // ends on an edge, from outside
	} {
		if crossed(c.a, c.b, square) != c.want || crossed(c.b, c.a, square) != c.want {
			t.Errorf("from %v to %v: %v", c.a, c.b, !c.want)
		}
	}
}

// Whatever holes an area has, its triangles lie inside it and cover it once: each place that is in the area is in one of them.
func TestTrianglesCoverAnAreaWithHoles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := geometry.Polygon{Outer: geometry.NewRect(0, 0, 300, 300).Outer}
		for x := range 3 {
			for y := range 3 {
				if !rapid.Bool().Draw(t, "hole") {
					continue
				}
				hole := make(geometry.Ring, rapid.IntRange(3, 6).Draw(t, "corners"))
				for i := range hole {
					sin, cos := math.Sincos(2*math.Pi*float64(i)/float64(len(hole)) + 0.1*float64(x+3*y))
					r := rapid.Float64Range(10, 45).Draw(t, "r")
					hole[i] = r2.Point{X: 50 + 100*float64(x) + r*cos, Y: 50 + 100*float64(y) + r*sin}
				}
				a.Holes = append(a.Holes, hole)
			}
		}
		a = a.Normalised()
		ring := oneRing(a)
		ts := triangles(ring)
		checkCover(t, ring, a.Area())
		for range 50 {
			p := r2.Point{X: rapid.Float64Range(1, 299).Draw(t, "x"), Y: rapid.Float64Range(1, 299).Draw(t, "y")}
			n, edge := 0, false
			for _, tr := range ts {
				inside := math.Inf(1) // how far, mm
				for k := range tr {
					q, r := ring[tr[k]], ring[tr[(k+1)%3]]
					inside = min(inside, side(q, r, p)/max(r.Sub(q).Norm(), 1e-9))
				}
				if inside > 0 {
					n++
				}
				edge = edge || math.Abs(inside) < 2*geometry.Lattice
			}
			want := 0
			if a.Contains(p) == geometry.Inside {
				want = 1
			}
			if !edge && n != want {
				t.Fatalf("%v lies in %d triangles, want %d", p, n, want)
			}
		}
	})
}

// A corner opens to what lies between the direction of the edge that leaves it and, anticlockwise, that of the one that comes in: by the
// angles, at any size.
func TestCornersOpenInward(t *testing.T) {
	p := r2.Point{}
	turn := func(from, to r2.Point) float64 {
		d := math.Atan2(to.Y, to.X) - math.Atan2(from.Y, from.X)
		return math.Mod(d+4*math.Pi, 2*math.Pi)
	}
	for _, size := range []float64{10, 0.1} {
		for i := range 12 {
			for j := range 12 {
				for k := range 12 {
					if i == j || i == k || j == k {
						continue
					}
					at := func(n int) r2.Point {
						sin, cos := math.Sincos(float64(n)*math.Pi/6 + 0.1*float64(n%5))
						return r2.Point{X: size * cos, Y: size * sin}
					}
					before, after, q := at(i), at(j), at(k)
					if got, want := opensTo(before, p, after, q), turn(after, q) < turn(after, before); got != want {
						t.Fatalf("from %v to %v towards %v: %v", before, after, q, got)
					}
				}
			}
		}
	}
}

// A body is closed: each edge of a triangle is that of one neighbour too, which runs along it the other way (each face is on its left of
// its edges, seen from outside). So is a cube of 1 mm, and one with a hole.
func TestBodiesAreClosed(t *testing.T) {
	for name, area := range map[string]geometry.Polygon{
		"wedge": {Outer: geometry.Ring{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 5, Y: 20}}},
		"cube":  geometry.NewRect(0, 0, 1, 1),
		"frame": {Outer: geometry.NewRect(0, 0, 60, 40).Outer, Holes: []geometry.Ring{geometry.NewRect(10, 10, 30, 25).Outer}},
	} {
		b := swept(area, 3, 4, axisX, axisY, axisZ)
		edges := map[[2]r3.Vector]int{}
		for i := 0; i < len(b.corners); i += 3 {
			for k := range 3 {
				edges[[2]r3.Vector{b.places[b.corners[i+k]], b.places[b.corners[i+(k+1)%3]]}]++
			}
		}
		for e, n := range edges {
			if n != 1 && name != "frame" || edges[[2]r3.Vector{e[1], e[0]}] != n {
				t.Errorf("%s: the edge %v is there %d times, the other way %d", name, e, n, edges[[2]r3.Vector{e[1], e[0]}])
			}
		}
		if len(edges) == 0 {
			t.Errorf("%s has no edges", name)
		}
	}
}

// An area is cut into the same triangles whatever its size: of thousandths of a millimetre, too.
func TestTrianglesOfSmallAreas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := geometry.Polygon{Outer: geometry.Ring{{X: 0, Y: 0}, {X: 128, Y: 0}, {X: 96, Y: 48}, {X: 128, Y: 128}, {X: 64, Y: 100}, {X: 0, Y: 128}, {X: 24, Y: 60}}}
		for i := range rapid.IntRange(1, 3).Draw(t, "holes") {
			c := r2.Point{X: 40 + 24*float64(i), Y: 30 + float64(rapid.IntRange(0, 40).Draw(t, "y"))}
			w, h := float64(rapid.IntRange(2, 9).Draw(t, "w")), float64(rapid.IntRange(2, 20).Draw(t, "h"))
			a.Holes = append(a.Holes, geometry.Ring{c, c.Add(r2.Point{X: -w, Y: h}), c.Add(r2.Point{X: w, Y: h / 2})})
		}
		a = a.Normalised()
		small := func(r geometry.Ring) geometry.Ring {
			out := make(geometry.Ring, len(r))
			for i, p := range r {
				out[i] = p.Mul(1.0 / 1024) // without rounding
			}
			return out
		}
		b := geometry.Polygon{Outer: small(a.Outer)}
		for _, h := range a.Holes {
			b.Holes = append(b.Holes, small(h))
		}
		one, tiny := oneRing(a), oneRing(b)
		if !slices.Equal(small(one), tiny) || !slices.Equal(triangles(one), triangles(tiny)) {
			t.Fatalf("%v: joined %v and %v", a, one, tiny)
		}
	})
}

// Nothing becomes of what has no height or no area.
func TestNothingToSweep(t *testing.T) {
	square := geometry.NewRect(0, 0, 10, 10)
	if b := swept(square, 5, 5, axisX, axisY, axisZ); len(b.places) > 0 {
		t.Error("a body without a height")
	}
	if b := swept(geometry.Polygon{}, 0, 5, axisX, axisY, axisZ); len(b.places) > 0 {
		t.Error("a body without an area")
	}
	if b := swept(geometry.Polygon{Outer: square.Outer[:3]}, 0, 0.5, axisX, axisY, axisZ); len(b.corners) != 3*(2+2*3) {
		t.Errorf("a wedge of %d corners, want two triangles and three sides", len(b.corners))
	}
}

// A hole is cut to the nearest corner that it sees.
func TestHoleIsCutToTheNearestCorner(t *testing.T) {
	outer := geometry.NewRect(0, 0, 100, 100).Outer
	for _, c := range []struct{ by, want r2.Point }{{r2.Point{X: 80, Y: 70}, r2.Point{X: 100, Y: 100}}, {r2.Point{X: 5, Y: 20}, r2.Point{}}, {r2.Point{X: 80, Y: 10}, r2.Point{X: 100}}} {
		hole := geometry.Ring{c.by, c.by.Add(r2.Point{X: 5, Y: 10}), c.by.Add(r2.Point{X: 10})}
		ring := joined(outer, hole, []geometry.Ring{hole})
		if len(ring) != len(outer)+len(hole)+2 {
			t.Fatalf("%d corners", len(ring))
		}
		cut := false
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			cut = cut || p == hole[2] && q == c.want
			if p == hole[2] && q != c.want && q != hole[0] {
				t.Errorf("the hole at %v is cut to %v", c.by, q)
			}
		}
		if !cut {
			t.Errorf("no cut in %v", ring)
		}
	}
}

// Each thing in the tree of the file shows its own body, and the boxes' modules hang under their box.
func TestNodesShowTheirOwnBodies(t *testing.T) {
	doc := read(t, scene())
	shown := 0
	for _, n := range doc.Nodes {
		if n.Mesh != nil {
			shown++
			if *n.Mesh >= len(doc.Meshes) || doc.Meshes[*n.Mesh].Name != n.Name {
				t.Errorf("%s shows mesh %d", n.Name, *n.Mesh)
			}
		}
		if n.Name == "box middle" {
			for i, want := range []string{"walls of middle", "module middle/1", "module middle/2", "module middle/3"} {
				if got := doc.Nodes[n.Children[i]].Name; got != want {
					t.Errorf("child %d of the box is %s", i, got)
				}
			}
		}
	}
	if shown != len(doc.Meshes) || len(doc.Scenes[0].Nodes) != 1 || doc.Nodes[doc.Scenes[0].Nodes[0]].Name != "vehicle and layout" {
		t.Errorf("%d of %d bodies shown, from %v", shown, len(doc.Meshes), doc.Scenes[0].Nodes)
	}
}
