package packing

import (
	"fmt"
	"math"
	"strings"
)

// Limits of a problem. They keep a slip in a file from running for hours.
const (
	MaxCorners  = 2000 // corners of one ring
	MaxRings    = 500  // keep-outs and forbidden rings of one bay
	MaxPostures = 12
	MaxFixed    = 2000
)

// Errors lists everything wrong with a problem, one finding an entry.
type Errors []string

// Error joins the findings, one a line.
func (e Errors) Error() string { return strings.Join(e, "\n") }

type checker struct{ found Errors }

func (c *checker) addf(format string, args ...any) {
	c.found = append(c.found, fmt.Sprintf(format, args...))
}

// Validate reports every fault of a problem at once as [Errors], or nil.
func (p *Problem) Validate() error {
	var c checker
	c.postures(p.Postures)
	if len(p.Bays) == 0 {
		c.addf("bays: none given, at least one is needed")
	}
	seen := map[string]bool{}
	for i := range p.Bays {
		c.bay(fmt.Sprintf("bays[%d]", i), &p.Bays[i])
		if seen[p.Bays[i].ID] {
			c.addf("bays[%d].id: %q is used twice", i, p.Bays[i].ID)
		}
		seen[p.Bays[i].ID] = true
	}
	c.fixed(p, seen)
	if p.Target < 0 {
		c.addf("target: %d is negative, 0 or more is allowed", p.Target)
	}
	if !c.number("goal.mirror_y_mm", p.Goal.MirrorYMM, -MaxMM, MaxMM) || p.Limit < 0 {
		if p.Limit < 0 {
			c.addf("limit: %v is negative", p.Limit)
		}
	}
	if c.found != nil {
		return c.found
	}
	return nil
}

func (c *checker) number(path string, v, lo, hi float64) bool {
	if math.IsNaN(v) || v < lo || v > hi {
		c.addf("%s: %v, from %v to %v is allowed", path, v, lo, hi)
		return false
	}
	return true
}

const minBodyMM = 0.01

func (c *checker) postures(ps []Posture) {
	if len(ps) == 0 || len(ps) > MaxPostures {
		c.addf("postures: %d given, from 1 to %d are allowed", len(ps), MaxPostures)
	}
	names := map[string]bool{}
	for i := range ps {
		path := fmt.Sprintf("postures[%d]", i)
		c.posture(path, &ps[i])
		if names[ps[i].Name] {
			c.addf("%s.name: %q is used twice", path, ps[i].Name)
		}
		names[ps[i].Name] = true
	}
}

func (c *checker) posture(path string, p *Posture) {
	c.number(path+".length_mm", p.LengthMM, minBodyMM, MaxMM)
	c.number(path+".width_mm", p.WidthMM, minBodyMM, MaxMM)
	c.number(path+".height_mm", p.HeightMM, minBodyMM, MaxMM)
	for _, t := range p.Turns {
		if t != 0 && t != 90 && t != 180 && t != 270 {
			c.addf("%s.turns: %d, only 0, 90, 180 and 270 are allowed", path, t)
		}
	}
	g := p.Gaps
	c.number(path+".gaps.side_mm", g.SideMM, 0, MaxMM)
	c.number(path+".gaps.end_mm", g.EndMM, 0, MaxMM)
	c.number(path+".gaps.top_mm", g.TopMM, 0, MaxMM)
	c.number(path+".gaps.wall_mm", g.WallMM, 0, MaxMM)
	for i, s := range p.Strips {
		c.strip(fmt.Sprintf("%s.strips[%d]", path, i), s, p)
	}
	for i, f := range p.Terminals {
		if f < PlusX || f > Top {
			c.addf("%s.terminals[%d]: no such face", path, i)
		}
	}
}

func (c *checker) strip(path string, s Strip, p *Posture) {
	if s.Face < PlusX || s.Face > Top {
		c.addf("%s.face: no such face", path)
	}
	c.number(path+".depth_mm", s.DepthMM, 0, MaxMM)
	along := p.WidthMM
	if s.Face == PlusY || s.Face == MinusY {
		along = p.LengthMM
	}
	if s.FromMM == 0 && s.ToMM == 0 {
		return
	}
	if !(s.FromMM >= 0 && s.FromMM < s.ToMM && s.ToMM <= along) {
		c.addf("%s: from %v to %v, allowed is 0 <= from < to <= %v", path, s.FromMM, s.ToMM, along)
	}
}

func (c *checker) bay(path string, b *Bay) {
	if len(b.Levels) == 0 {
		c.addf("%s.levels: none given, at least one is needed", path)
	}
	rings := 0
	for i, l := range b.Levels {
		lp := fmt.Sprintf("%s.levels[%d]", path, i)
		c.region(lp+".region", l.Region)
		rings += 1 + len(l.Region.KeepOuts)
		okF := c.number(lp+".floor_mm", l.FloorMM, -MaxMM, MaxMM)
		if c.number(lp+".ceiling_mm", l.CeilingMM, -MaxMM, MaxMM) && okF && l.CeilingMM <= l.FloorMM {
			c.addf("%s: ceiling %v mm is not above floor %v mm", lp, l.CeilingMM, l.FloorMM)
		}
	}
	for i, f := range b.Forbidden {
		fp := fmt.Sprintf("%s.forbidden[%d]", path, i)
		c.region(fp+".region", f.Region)
		rings += 1 + len(f.Region.KeepOuts)
		c.number(fp+".from_mm", f.FromMM, -MaxMM, MaxMM)
		c.number(fp+".to_mm", f.ToMM, -MaxMM, MaxMM)
		if f.ToMM < f.FromMM {
			c.addf("%s: to %v mm lies below from %v mm", fp, f.ToMM, f.FromMM)
		}
	}
	if rings > MaxRings {
		c.addf("%s: %d rings, at most %d are allowed", path, rings, MaxRings)
	}
}

func (c *checker) region(path string, r Region) {
	c.ring(path+".outline", r.Outline)
	for i, k := range r.KeepOuts {
		c.ring(fmt.Sprintf("%s.keep_outs[%d]", path, i), k)
	}
}

// ring wants three corners or more, finite numbers, area, and no self-crossing.
func (c *checker) ring(path string, ps []Point) {
	if len(ps) > MaxCorners {
		c.addf("%s: %d corners, at most %d are allowed", path, len(ps), MaxCorners)
		return
	}
	good := true
	for i, p := range ps {
		good = c.number(fmt.Sprintf("%s[%d].x", path, i), p.X, -MaxMM, MaxMM) && good
		good = c.number(fmt.Sprintf("%s[%d].y", path, i), p.Y, -MaxMM, MaxMM) && good
	}
	if !good {
		return
	}
	r := cleanRing(lattice{100}.ring(ps))
	if len(r) < 3 || twiceArea(r) == 0 {
		c.addf("%s: has no area; three corners or more, not in one line, are needed", path)
		return
	}
	if i, j, crossing := selfCrossing(r); crossing {
		c.addf("%s: crosses itself between (%v, %v) and (%v, %v)", path,
			lattice{100}.mm(r[i].x), lattice{100}.mm(r[i].y), lattice{100}.mm(r[j].x), lattice{100}.mm(r[j].y))
	}
}

// cleanRing drops corners in line with their neighbours.
func cleanRing(r []vec) []vec {
	for changed := true; changed && len(r) > 2; {
		changed = false
		out := make([]vec, 0, len(r))
		for i, q := range r {
			p, s := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
			if len(out) > 0 {
				p = out[len(out)-1]
			}
			if q == p || (cross(p, q, s) == 0 && between(p, q, s)) {
				changed = true
				continue
			}
			out = append(out, q)
		}
		r = out
	}
	return r
}

func between(p, q, s vec) bool {
	return min(p.x, s.x) <= q.x && q.x <= max(p.x, s.x) && min(p.y, s.y) <= q.y && q.y <= max(p.y, s.y)
}

// cross is the sign of the turn p-q-r.
func cross(p, q, r vec) int {
	a, b := (q.x-p.x)*(r.y-p.y), (r.x-p.x)*(q.y-p.y)
	switch {
	case a > b:
		return 1
	case a < b:
		return -1
	}
	return 0
}

// selfCrossing finds two edges that meet other than at a shared corner.
func selfCrossing(r []vec) (i, j int, found bool) {
	n := len(r)
	for i := range n {
		a, b := r[i], r[(i+1)%n]
		for j := i + 1; j < n; j++ {
			c, d := r[j], r[(j+1)%n]
			neighbours := j == i+1 || (i == 0 && j == n-1)
			if neighbours {
				if folded(a, b, c, d) {
					return i, j, true
				}
				continue
			}
			if meet(a, b, c, d) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// folded reports whether neighbouring edges run back over each other.
func folded(a, b, c, d vec) bool {
	if d == a {
		a, b, c, d = c, d, a, b
	}
	if b != c || cross(a, b, d) != 0 {
		return false
	}
	return !between(a, b, d)
}

func meet(a, b, c, d vec) bool {
	s1, s2 := cross(a, b, c), cross(a, b, d)
	s3, s4 := cross(c, d, a), cross(c, d, b)
	if s1*s2 < 0 && s3*s4 < 0 {
		return true
	}
	return (s1 == 0 && between(a, c, b)) || (s2 == 0 && between(a, d, b)) ||
		(s3 == 0 && between(c, a, d)) || (s4 == 0 && between(c, b, d))
}

func (c *checker) fixed(p *Problem, bays map[string]bool) {
	if len(p.Fixed) > MaxFixed {
		c.addf("fixed: %d given, at most %d are allowed", len(p.Fixed), MaxFixed)
		return
	}
	names := map[string]bool{}
	for i := range p.Postures {
		names[p.Postures[i].Name] = true
	}
	for i, f := range p.Fixed {
		path := fmt.Sprintf("fixed[%d]", i)
		if !bays[f.Bay] {
			c.addf("%s.bay: no bay %q", path, f.Bay)
		}
		if !names[f.Posture] {
			c.addf("%s.posture: no posture %q", path, f.Posture)
		}
		if f.Turn != 0 && f.Turn != 90 && f.Turn != 180 && f.Turn != 270 {
			c.addf("%s.turn: %d, only 0, 90, 180 and 270 are allowed", path, f.Turn)
		}
		c.number(path+".x", f.X, -MaxMM, MaxMM)
		c.number(path+".y", f.Y, -MaxMM, MaxMM)
		c.number(path+".z", f.Z, -MaxMM, MaxMM)
	}
}
