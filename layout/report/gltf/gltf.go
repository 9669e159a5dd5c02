// Package gltf writes a scene as a glTF 2.0 file for a look in any viewer: the vehicle as blocks, keep-outs,
// boxes, modules and gear.
//
// glTF has metres, y upward and the front along z, so that a place (x, y, z) of the vehicle's frame becomes
// (-y, z, -x) / 1000.
package gltf

import (
	"io"

	"github.com/qmuntal/gltf"

	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// Write writes a scene as one binary glTF file. The same scene gives the same bytes.
func Write(w io.Writer, s *layout.Scene) error {
	m := newModel()
	m.vehicle(s)
	m.site(s)
	for _, b := range s.Boxes {
		m.box(b)
	}
	for _, g := range s.Gear {
		m.gear(m.root, g)
	}
	e := gltf.NewEncoder(w)
	e.AsBinary = true
	return e.Encode(m.doc)
}

// model is the file while it grows.
type model struct {
	doc       *gltf.Document
	root      int
	materials map[drawing.Role]int
}

func newModel() *model {
	m := &model{doc: gltf.NewDocument(), materials: map[drawing.Role]int{}}
	m.doc.Asset.Generator = "Stowbay"
	m.doc.Scenes[0].Name = "Layout"
	m.root = m.node("vehicle and layout")
	m.doc.Scenes[0].Nodes = []int{m.root}
	return m
}

// node adds an empty node and returns its number.
func (m *model) node(name string) int {
	m.doc.Nodes = append(m.doc.Nodes, &gltf.Node{Name: name})
	return len(m.doc.Nodes) - 1
}

// group adds a node under another one.
func (m *model) group(parent int, name string) int {
	n := m.node(name)
	m.doc.Nodes[parent].Children = append(m.doc.Nodes[parent].Children, n)
	return n
}

// add puts a body under a node.
func (m *model) add(parent int, name string, role drawing.Role, b body) {
	if len(b.places) == 0 {
		return
	}
	n := m.group(parent, name)
	m.doc.Nodes[n].Mesh = gltf.Index(m.mesh(name, role, b))
}

func (m *model) vehicle(s *layout.Scene) {
	d := s.Donor
	if d == nil {
		return
	}
	v := m.group(m.root, "donor "+d.ID)
	lo, hi := width(d)
	m.add(v, "body", drawing.RoleBody, across(vehicles.Points(d.SideOutline), lo, hi))
	tyre := d.TyreWidthMM
	if tyre == 0 {
		tyre = assumedTyreMM
	}
	for _, side := range []float64{-0.5, 0.5} {
		m.add(v, "front wheel", drawing.RoleWheel, wheel(0, side*d.TrackFrontMM, d.WheelRadiusMM, tyre))
		m.add(v, "rear wheel", drawing.RoleWheel, wheel(d.WheelbaseMM, side*d.TrackRearMM, d.WheelRadiusMM, tyre))
	}
	for i := range d.Rails {
		r := &d.Rails[i]
		m.add(v, "rail "+r.ID, drawing.RoleRail, upright(vehicles.Points(r.Outline), r.FloorMM, r.CeilingMM))
	}
}

// assumedTyreMM is shown where the survey gives no tyre width.
const assumedTyreMM = 180

func (m *model) site(s *layout.Scene) {
	k := m.group(m.root, "keep-outs")
	for i := range s.KeepOuts {
		o := &s.KeepOuts[i]
		m.add(k, "keep-out "+o.KeepOut.ID, drawing.RoleKeepOut, prism(o.Prism))
	}
}

func (m *model) box(b *layout.BoxScene) {
	n := m.group(m.root, "box "+b.Box.ID)
	for _, q := range b.Outer.Solids {
		m.add(n, "walls of "+b.Box.ID, drawing.RoleBox, prism(q))
	}
	for _, p := range b.Modules {
		m.add(n, "module "+p.ID, drawing.RoleModule, prism(p.Prism))
	}
	for _, g := range b.Gear {
		m.gear(n, g)
	}
}

func (m *model) gear(parent int, g *layout.GearBody) {
	m.add(parent, "gear "+g.ID, drawing.RoleGear, prism(g.Prism))
}
