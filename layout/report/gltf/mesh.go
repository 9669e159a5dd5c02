package gltf

import (
	"github.com/golang/geo/r3"
	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"

	"stowbay/layout/drawing"
)

// opacity is how much each thing hides of what is behind it; 1 where absent.
var opacity = map[drawing.Role]float64{
	drawing.RoleBody: 0.12, drawing.RoleBox: 0.22, drawing.RoleKeepOut: 0.3, drawing.RoleWheel: 0.5,
}

// material returns the number of a role's material.
func (m *model) material(role drawing.Role) int {
	if i, ok := m.materials[role]; ok {
		return i
	}
	a, ok := opacity[role]
	if !ok {
		a = 1
	}
	mat := &gltf.Material{Name: string(role), DoubleSided: true, PBRMetallicRoughness: &gltf.PBRMetallicRoughness{
		BaseColorFactor: tint(role, a), MetallicFactor: gltf.Float(0), RoughnessFactor: gltf.Float(0.9)}}
	if a < 1 {
		mat.AlphaMode = gltf.AlphaBlend
	}
	m.doc.Materials = append(m.doc.Materials, mat)
	m.materials[role] = len(m.doc.Materials) - 1
	return m.materials[role]
}

// tint is a role's colour in linear light: its line's where it is see-through or has no fill, else its fill's.
func tint(role drawing.Role, a float64) *[4]float64 {
	st := drawing.Light().Style(drawing.Tag{Role: role})
	c := st.Fill
	if c.A == 0 || a < 1 {
		c = st.Line
	}
	return &[4]float64{drawing.Linear(c.R), drawing.Linear(c.G), drawing.Linear(c.B), a}
}

// mesh adds a mesh of flat faces and returns its number.
func (m *model) mesh(name string, role drawing.Role, b body) int {
	primitive := &gltf.Primitive{
		Attributes: gltf.PrimitiveAttributes{
			gltf.POSITION: modeler.WritePosition(m.doc, metres(b.places)),
			gltf.NORMAL:   modeler.WriteNormal(m.doc, directions(b.normals)),
		},
		Indices:  gltf.Index(modeler.WriteIndices(m.doc, b.corners)),
		Material: gltf.Index(m.material(role)),
	}
	m.doc.Meshes = append(m.doc.Meshes, &gltf.Mesh{Name: name, Primitives: []*gltf.Primitive{primitive}})
	return len(m.doc.Meshes) - 1
}

func metres(ps []r3.Vector) [][3]float32 {
	out := make([][3]float32, len(ps))
	for i, p := range ps {
		out[i] = [3]float32{float32(-p.Y / 1000), float32(p.Z / 1000), float32(-p.X / 1000)}
	}
	return out
}

func directions(ps []r3.Vector) [][3]float32 {
	out := make([][3]float32, len(ps))
	for i, p := range ps {
		out[i] = [3]float32{float32(-p.Y), float32(p.Z), float32(-p.X)}
	}
	return out
}
