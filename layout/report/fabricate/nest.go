package fabricate

import (
	"fmt"
	"math"
	"sort"

	"github.com/golang/geo/r2"
)

// sheetMargin is kept free along a sheet's edges and partGap between pieces, mm: room for clamps and the cut
// (common practice, no source).
const (
	sheetMargin = 10.0
	partGap     = 6.0
)

// Piece is a blank on a sheet: the place of its least corner, turned by a quarter where Turned is set.
type Piece struct {
	Blank  *Blank
	At     r2.Point
	Turned bool
}

// Nest is what is cut from one kind of sheet.
type Nest struct {
	Material     string
	ThicknessMM  float64
	Sheets       [][]Piece
	Least        int      // no fewer sheets can do: the pieces' own area over a sheet's less its edges
	UsedPct      float64  // pieces' area over that of the sheets
	Large        []*Blank // go onto no sheet
	Length, Wide float64
}

// Words says how good a nesting is.
func (n Nest) Words() string {
	if len(n.Sheets) == n.Least {
		return fmt.Sprintf("%d sheets; fewer are impossible by area", len(n.Sheets))
	}
	return fmt.Sprintf("%d sheets found; by area at least %d", len(n.Sheets), n.Least)
}

// NestAll lays all blanks, as the rectangles round them, on sheets of the size given, one nesting for each material
// and thickness. The largest pieces are laid first, each into the free rectangle that it leaves the least of, in
// either direction. That is a rule of thumb: the bound says how far from the best it can be.
func NestAll(blanks []*Blank, length, width float64) []Nest {
	groups := map[[2]string][]*Blank{}
	var keys [][2]string
	for _, b := range blanks {
		k := [2]string{b.Material, fmt.Sprintf("%09.3f", b.ThicknessMM)}
		if groups[k] == nil {
			keys = append(keys, k)
		}
		groups[k] = append(groups[k], b)
	}
	sort.Slice(keys, func(i, j int) bool { return keys[i][0]+keys[i][1] < keys[j][0]+keys[j][1] })
	var out []Nest
	for _, k := range keys {
		out = append(out, nest(groups[k], length, width))
	}
	return out
}

func nest(bs []*Blank, length, width float64) Nest {
	n := Nest{Material: bs[0].Material, ThicknessMM: bs[0].ThicknessMM, Length: length, Wide: width}
	bs = eachPiece(bs)
	sort.SliceStable(bs, func(i, j int) bool { return longest(bs[i]) > longest(bs[j]) })
	var open []*stock
	area := 0.0
	for _, b := range bs {
		s := b.Size()
		if math.Max(s.X, s.Y) > length-2*sheetMargin || math.Min(s.X, s.Y) > width-2*sheetMargin {
			n.Large = append(n.Large, b)
			continue
		}
		area += b.Outline.Area()
		open = lay(open, b, length, width)
	}
	for _, s := range open {
		n.Sheets = append(n.Sheets, s.pieces)
	}
	n.Least = int(math.Ceil(area/((length-2*sheetMargin)*(width-2*sheetMargin)) - 1e-9))
	if len(open) > 0 {
		n.UsedPct = 100 * area / (length * width * float64(len(open)))
	}
	return n
}

// eachPiece has each blank as often as it is cut.
func eachPiece(bs []*Blank) []*Blank {
	var out []*Blank
	for _, b := range bs {
		for range max(b.Pieces, 1) {
			out = append(out, b)
		}
	}
	return out
}

func longest(b *Blank) float64 { return math.Max(b.Size().X, b.Size().Y) }

// lay puts a blank on the first sheet that takes it, or on a new one.
func lay(open []*stock, b *Blank, length, width float64) []*stock {
	for _, s := range open {
		if s.take(b) {
			return open
		}
	}
	s := &stock{free: []r2.Rect{r2.RectFromPoints(r2.Point{X: sheetMargin, Y: sheetMargin}, r2.Point{X: length - sheetMargin + partGap, Y: width - sheetMargin + partGap})}}
	s.take(b)
	return append(open, s)
}

// stock is a sheet being filled, with the largest free rectangles on it. Pieces are grown by the gap towards
// greater coordinates, and the sheet with them.
type stock struct {
	pieces []Piece
	free   []r2.Rect
}

// take lays a blank into the free rectangle whose shorter leftover is the least.
func (s *stock) take(b *Blank) bool {
	size := b.Size().Add(r2.Point{X: partGap, Y: partGap})
	best, turned, left := -1, false, math.Inf(1)
	for i, f := range s.free {
		for _, t := range []bool{false, true} {
			w, h := size.X, size.Y
			if t {
				w, h = h, w
			}
			dx, dy := f.Size().X-w, f.Size().Y-h
			if dx >= -1e-9 && dy >= -1e-9 && math.Min(dx, dy) < left-1e-9 {
				best, turned, left = i, t, math.Min(dx, dy)
			}
		}
	}
	if best < 0 {
		return false
	}
	at := s.free[best].Lo()
	s.pieces = append(s.pieces, Piece{b, at, turned})
	if turned {
		size.X, size.Y = size.Y, size.X
	}
	s.cut(r2.RectFromPoints(at, at.Add(size)))
	return true
}

// cut takes a rectangle out of the free ones and keeps those of the rest that lie in no other.
func (s *stock) cut(r r2.Rect) {
	var out []r2.Rect
	for _, f := range s.free {
		if !f.InteriorIntersects(r) {
			out = append(out, f)
			continue
		}
		out = append(out, around(f, r)...)
	}
	s.free = maximal(out)
}

// around are the four rectangles of f beside r.
func around(f, r r2.Rect) []r2.Rect {
	var out []r2.Rect
	add := func(x0, y0, x1, y1 float64) {
		if x1-x0 > 1 && y1-y0 > 1 {
			out = append(out, r2.RectFromPoints(r2.Point{X: x0, Y: y0}, r2.Point{X: x1, Y: y1}))
		}
	}
	add(f.X.Lo, f.Y.Lo, r.X.Lo, f.Y.Hi)
	add(r.X.Hi, f.Y.Lo, f.X.Hi, f.Y.Hi)
	add(f.X.Lo, f.Y.Lo, f.X.Hi, r.Y.Lo)
	add(f.X.Lo, r.Y.Hi, f.X.Hi, f.Y.Hi)
	return out
}

func maximal(rs []r2.Rect) []r2.Rect {
	var out []r2.Rect
	for i, r := range rs {
		inside := false
		for k, q := range rs {
			if i != k && q.Contains(r) && (!r.Contains(q) || k < i) {
				inside = true
				break
			}
		}
		if !inside {
			out = append(out, r)
		}
	}
	return out
}
