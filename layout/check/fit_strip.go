package check

import (
	"fmt"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
)

// strips checks the free strips in front of terminals and ports: no other body may stand in one, and none may
// leave the box. Two strips may share space.
func (f *boxFit) strips(all []solid, inside *geometry.Prepared) {
	for i := range all {
		for _, st := range all[i].strips {
			f.stripFree(&all[i], st.Of, st.Prism, all)
			if inside != nil && !inside.ContainsPrism(st.Prism) && inside.ContainsPrism(all[i].pose.Prism()) {
				f.stripBreach(&all[i], st.Of, st.Prism, nil)
			}
		}
	}
}

func (f *boxFit) stripFree(s *solid, of string, strip geometry.Prism, all []solid) {
	lo, hi := corners(strip)
	for i := range all {
		o := &all[i]
		if o.id == s.id || o.hi.X-lo.X <= tolerance || hi.X-o.lo.X <= tolerance ||
			o.hi.Y-lo.Y <= tolerance || hi.Y-o.lo.Y <= tolerance || o.hi.Z-lo.Z <= tolerance || hi.Z-o.lo.Z <= tolerance {
			continue
		}
		f.stripBreach(s, of, strip, o)
	}
}

func corners(p geometry.Prism) (lo, hi r3.Vector) {
	b := p.Base.Bounds()
	return r3.Vector{X: b.X.Lo, Y: b.Y.Lo, Z: p.Bottom}, r3.Vector{X: b.X.Hi, Y: b.Y.Hi, Z: p.Top}
}

func (f *boxFit) stripBreach(s *solid, of string, strip geometry.Prism, by *solid) {
	b := breach{rule: "fit.strip", subject: s.id, refs: []string{s.id}, place: strip.Centroid()}
	b.text = fmt.Sprintf("The free strip at %q of %s reaches through the box's wall, so that no link or spanner gets in.", of, s.id)
	if by != nil {
		b.refs = append(b.refs, by.id)
		b.text = fmt.Sprintf("%s stands in the free strip at %q of %s.", by.id, of, s.id)
	}
	f.breaches = append(f.breaches, b)
}
