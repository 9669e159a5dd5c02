package packing

import (
	"fmt"
	"slices"

	"github.com/peterstace/simplefeatures/geom"
)

// planeBuilder makes the planar problem of one layer over a floor.
type planeBuilder struct {
	s    *session
	bay  *Bay
	f    *floor
	p    []*field
	keys []fieldKey
}

// fieldKey tells fields apart: the ceiling their levels must reach, the gap, and
// the heights between which forbidden regions count.
type fieldKey struct{ top, gap, lo, hi int64 }

// stripKey is for strips, which keep no gap and may lie in forbidden regions.
func stripKey(top int64) fieldKey { return fieldKey{top: top, lo: 0, hi: -1} }

// layer is the problem of placing the given postures at height z, and whether it
// has slanted walls. It is nil when no posture has any floor.
func (b *planeBuilder) layer(z int64, postures []int, beside []solid) (*plane, bool) {
	var options []option
	for _, i := range postures {
		q := &b.s.p.Postures[i]
		rise, gap := b.s.rise(q), b.s.lat.steps(q.Gaps.WallMM)
		height := b.s.lat.steps(q.HeightMM)
		wallField := b.field(fieldKey{z + rise, gap, z, z + height})
		stripField := b.field(stripKey(z + rise))
		if wallField < 0 {
			continue
		}
		options = b.addTurns(options, q, i, wallField, stripField)
	}
	if len(options) == 0 {
		return nil, false
	}
	usable := len(options)
	var fixed []spot
	var heights []span64
	for _, t := range b.obstacles(beside) {
		q := &b.s.p.Postures[t.posture]
		fixed = append(fixed, spot{len(options), vec{t.x, t.y}})
		options = append(options, newOption(b.s.lat, q, t.posture, t.turn, 0, 0))
		heights = append(heights, span64{t.z, t.z + b.s.rise(q)})
	}
	p := newPlane(b.p, options, usable, fixed)
	b.dropApart(p, z, heights)
	return p, p.slanted()
}

// signature tells layers apart: those alike in it are the same planar problem.
func (b *planeBuilder) signature(z int64, postures []int, beside []solid) string {
	var out []byte
	for _, i := range postures {
		q := &b.s.p.Postures[i]
		rise, height := b.s.rise(q), b.s.lat.steps(q.HeightMM)
		out = fmt.Appendf(out, "%d:%s|%s|", i, b.reached(z+rise), b.forbiddenAt(z, z+height))
		for k, t := range b.obstacles(beside) {
			if t.z < z+rise && z < t.z+b.s.rise(&b.s.p.Postures[t.posture]) {
				out = fmt.Appendf(out, "%d,", k)
			}
		}
	}
	return string(out)
}

// cutSignature is the signature of a level cut.
func (b *planeBuilder) cutSignature(t int64) string {
	var out []byte
	for i := range b.s.p.Postures {
		out = fmt.Appendf(out, "%d:%s|", i, b.reached(max(t, b.f.z+b.s.rise(&b.s.p.Postures[i]))))
	}
	return string(out)
}

// reached lists the levels whose ceilings are at a height or above.
func (b *planeBuilder) reached(top int64) string {
	var out []byte
	for i, l := range b.f.levels {
		if b.s.lat.steps(l.CeilingMM) >= top {
			out = fmt.Appendf(out, "%d,", i)
		}
	}
	return string(out)
}

// always tells whether a region is forbidden at every height.
func (f *Forbidden) always() bool { return f.FromMM == 0 && f.ToMM == 0 }

// forbiddenAt lists the forbidden regions that count between two heights.
func (b *planeBuilder) forbiddenAt(lo, hi int64) string {
	var out []byte
	for i, f := range b.bay.Forbidden {
		if f.always() || (b.s.lat.steps(f.FromMM) < hi && lo < b.s.lat.steps(f.ToMM)) {
			out = fmt.Appendf(out, "%d,", i)
		}
	}
	return string(out)
}

// dropApart removes the conflicts of fixed modules with options that do not share
// their heights.
func (b *planeBuilder) dropApart(p *plane, z int64, heights []span64) {
	for k, h := range heights {
		for i := range p.usable {
			rise := b.s.rise(&b.s.p.Postures[p.options[i].posture])
			if h.lo >= z+rise || z >= h.hi {
				p.zone[p.usable+k][i], p.zone[i][p.usable+k] = nil, nil
			}
		}
	}
}

// addTurns adds the allowed turns of a posture, alike ones only once.
func (b *planeBuilder) addTurns(options []option, q *Posture, index, wallField, stripField int) []option {
	turns := slices.Clone(q.Turns)
	if len(turns) == 0 {
		turns = []int{0, 90}
		if q.EndsDiffer {
			turns = []int{0, 90, 180, 270}
		}
	}
	for _, t := range turns {
		o := newOption(b.s.lat, q, index, t, wallField, stripField)
		k := slices.IndexFunc(options, func(p option) bool { return p.alike(&o) })
		if k >= 0 {
			options[k].same = append(options[k].same, turned{index, t})
			continue
		}
		options = append(options, o)
	}
	return options
}

// obstacles lists the fixed modules of the bay and those of other floors.
func (b *planeBuilder) obstacles(beside []solid) []solid {
	out := slices.Clone(beside)
	for _, f := range b.s.p.Fixed {
		if f.Bay != b.bay.ID {
			continue
		}
		k := slices.IndexFunc(b.s.p.Postures, func(q Posture) bool { return q.Name == f.Posture })
		out = append(out, solid{posture: k, turn: f.Turn, x: b.s.lat.steps(f.X), y: b.s.lat.steps(f.Y), z: b.s.lat.steps(f.Z)})
	}
	return out
}

// besideAt lists the modules of other floors that share heights with a layer.
func (b *planeBuilder) besideAt(lo, hi int64, beside []solid) []solid {
	var out []solid
	for _, t := range beside {
		if t.z < hi && lo < t.z+b.s.rise(&b.s.p.Postures[t.posture]) {
			out = append(out, t)
		}
	}
	return out
}

// cut is the relaxed problem of the bodies cut by a level plane at height t: every
// posture, at any height. Forbidden regions count only when they do at all heights,
// fixed modules not at all.
func (b *planeBuilder) cut(t int64) (*plane, bool) {
	var options []option
	for i := range b.s.p.Postures {
		q := &b.s.p.Postures[i]
		top := max(t, b.f.z+b.s.rise(q))
		gap := b.s.lat.steps(q.Gaps.WallMM)
		wallField := b.field(fieldKey{top, gap, b.f.z, b.f.z})
		if wallField < 0 {
			continue
		}
		stripField := b.field(stripKey(top))
		options = b.addTurns(options, q, i, wallField, stripField)
	}
	if len(options) == 0 {
		return nil, false
	}
	p := newPlane(b.p, options, len(options), nil)
	return p, p.slanted()
}

// field finds or makes a field, or gives -1 where no level reaches the height.
func (b *planeBuilder) field(k fieldKey) int {
	if i := slices.Index(b.keys, k); i >= 0 {
		return i
	}
	var outer, keepOuts [][]vec
	for _, l := range b.f.levels {
		if b.s.lat.steps(l.CeilingMM) < k.top {
			continue
		}
		outer = append(outer, cleanRing(b.s.lat.ring(l.Region.Outline)))
		for _, r := range l.Region.KeepOuts {
			keepOuts = append(keepOuts, cleanRing(b.s.lat.ring(r)))
		}
	}
	if len(outer) == 0 {
		return -1
	}
	b.keys = append(b.keys, k)
	b.p = append(b.p, newField(united(outer), keepOuts, b.forbidden(k.lo, k.hi), k.gap))
	return len(b.p) - 1
}

// forbidden lists the rings forbidden to a body between two heights: where they are one,
// those forbidden at every height; where hi is below lo, none.
func (b *planeBuilder) forbidden(lo, hi int64) [][]vec {
	var out [][]vec
	if hi < lo {
		return nil
	}
	for _, f := range b.bay.Forbidden {
		from, to := b.s.lat.steps(f.FromMM), b.s.lat.steps(f.ToMM)
		if f.always() || (lo < hi && from < hi && lo < to) {
			out = append(out, forbiddenRings(b.s.lat, f.Region)...)
		}
	}
	return out
}

// forbiddenRings is a forbidden region as rings without holes: what it leaves
// free inside is cut out of it.
func forbiddenRings(lat lattice, r Region) [][]vec {
	outline := cleanRing(lat.ring(r.Outline))
	if len(r.KeepOuts) == 0 {
		return [][]vec{outline}
	}
	g := polygonOf(outline).AsGeometry()
	for _, k := range r.KeepOuts {
		if d, err := geom.Difference(g, polygonOf(cleanRing(lat.ring(k))).AsGeometry()); err == nil {
			g = d
		}
	}
	return ringsOf(g)
}

// united merges rings that touch or overlap into the rings of their union.
func united(rings [][]vec) [][]vec {
	if len(rings) == 1 {
		return rings
	}
	g := polygonOf(rings[0]).AsGeometry()
	for _, r := range rings[1:] {
		u, err := geom.Union(g, polygonOf(r).AsGeometry())
		if err != nil {
			continue
		}
		g = u
	}
	return ringsOf(g)
}

func polygonOf(r []vec) geom.Polygon {
	xy := make([]float64, 0, 2*len(r)+2)
	for i := range len(r) + 1 {
		p := r[i%len(r)]
		xy = append(xy, float64(p.x), float64(p.y))
	}
	line := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{line})
}

// ringsOf lists the rings of the polygons in a geometry, rounded to the lattice.
func ringsOf(g geom.Geometry) [][]vec {
	var out [][]vec
	polygon := func(p geom.Polygon) {
		for _, line := range p.DumpRings() {
			if r := cleanRing(latticeRing(line)); len(r) > 2 {
				out = append(out, r)
			}
		}
	}
	for _, part := range g.Dump() {
		if part.IsPolygon() {
			polygon(part.MustAsPolygon())
		}
	}
	return out
}

func latticeRing(line geom.LineString) []vec {
	seq := line.Coordinates()
	one := lattice{1}
	var r []Point
	for i := range seq.Length() - 1 {
		xy := seq.GetXY(i)
		r = append(r, Point{xy.X, xy.Y})
	}
	return one.ring(r)
}
