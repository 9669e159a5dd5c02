package paint

import (
	"math"

	"github.com/golang/geo/r2"
)

// polyline paints a line of the width given in pixels through points in pixels.
func (s surface) polyline(ps []r2.Point, closed bool, width float64, dash []float64, k ink) {
	n := len(ps) - 1
	if closed {
		n++
	}
	phase := 0.0
	for i := range max(n, 0) {
		a, b := ps[i], ps[(i+1)%len(ps)]
		if len(dash) == 0 {
			s.segment(a, b, width, k)
			continue
		}
		phase = s.dashed(a, b, width, dash, phase, k)
	}
}

// dashed paints the dashes between two points and returns how far into the pattern it got.
func (s surface) dashed(a, b r2.Point, width float64, dash []float64, phase float64, k ink) float64 {
	period := 0.0
	for _, d := range dash {
		period += d
	}
	length := b.Sub(a).Norm()
	if period <= 0.5 || length == 0 {
		s.segment(a, b, width, k)
		return phase
	}
	dir := b.Sub(a).Mul(1 / length)
	from, to := s.inSight(a, dir, length, width)
	start := math.Floor((phase+from)/period)*period - phase
	for at := start; at < to; {
		for i, d := range dash {
			if i%2 == 0 && at+d > from && at < to {
				s.segment(a.Add(dir.Mul(max(at, 0))), a.Add(dir.Mul(min(at+d, length))), width, k)
			}
			at += d
		}
	}
	return math.Mod(phase+length, period)
}

// inSight returns the stretch of a line, measured from a, that can be seen.
func (s surface) inSight(a, dir r2.Point, length, width float64) (from, to float64) {
	from, to = 0, length
	from, to = clipSpan(from, to, a.X, dir.X, -width, float64(s.w)+width)
	return clipSpan(from, to, a.Y, dir.Y, -width, float64(s.h)+width)
}

func clipSpan(from, to, at, d, lo, hi float64) (float64, float64) {
	if d == 0 {
		if at < lo || at > hi {
			return 0, -1
		}
		return from, to
	}
	t0, t1 := (lo-at)/d, (hi-at)/d
	return max(from, min(t0, t1)), min(to, max(t0, t1))
}

// segment paints a straight line. Its cover is that of a band of the width given, with ends half a width beyond
// the points, so that corners close; lines along the axes are moved to whole pixels.
func (s surface) segment(a, b r2.Point, width float64, k ink) {
	if k.a == 0 || math.IsNaN(a.X+a.Y+b.X+b.Y) {
		return
	}
	if width < 1 {
		k.a = uint32(float64(k.a) * max(width, 0.15))
		width = 1
	}
	d := b.Sub(a)
	length := math.Sqrt(d.Dot(d))
	if length < 1e-9 {
		return
	}
	if math.Abs(d.X) < 1e-6 || math.Abs(d.Y) < 1e-6 {
		s.axial(a, b, width, k)
		return
	}
	dir := d.Mul(1 / length)
	from, to := s.inSight(a, dir, length, width+1)
	if from >= to {
		return
	}
	a, length = a.Add(dir.Mul(from)), to-from
	if math.Abs(dir.Y) >= math.Abs(dir.X) {
		s.steep(a, dir, length, width/2, k)
	} else {
		s.shallow(a, dir, length, width/2, k)
	}
}

// axial paints a line along one of the axes on whole pixels.
func (s surface) axial(a, b r2.Point, width float64, k ink) {
	w := math.Round(width)
	h := w / 2
	x0, x1, y0, y1 := min(a.X, b.X), max(a.X, b.X), min(a.Y, b.Y), max(a.Y, b.Y)
	if x1-x0 > y1-y0 {
		y := nearest(a.Y - h)
		s.rect(nearest(x0-h), y, nearest(x1-h)+w, y+w, k)
		return
	}
	x := nearest(a.X - h)
	s.rect(x, nearest(y0-h), x+w, nearest(y1-h)+w, k)
}

// steep paints a line nearer to the vertical, row by row.
func (s surface) steep(a, dir r2.Point, length, half float64, k ink) {
	reach := half + 0.5
	end := a.Add(dir.Mul(length))
	y0 := max(0, int(math.Floor(min(a.Y, end.Y)-reach)))
	y1 := min(s.h-1, int(math.Ceil(max(a.Y, end.Y)+reach)))
	spread, across := reach/math.Abs(dir.Y), math.Abs(dir.Y)
	for y := y0; y <= y1; y++ {
		py := float64(y) + 0.5
		mid := a.X + (py-a.Y)*dir.X/dir.Y
		x0, x1 := max(0, int(math.Floor(mid-spread))), min(s.w-1, int(math.Ceil(mid+spread)))
		whole := inner(py-a.Y, dir.Y, length, reach)
		for x, i := x0, y*s.stride+4*x0; x <= x1; x, i = x+1, i+4 {
			px := float64(x) + 0.5
			c := reach - math.Abs(px-mid)*across
			if c <= 0 {
				continue
			}
			c = min(c, 1)
			if !whole {
				c *= s.ends(r2.Point{X: px - a.X, Y: py - a.Y}, dir, length, reach)
			}
			k.put(s.pix[i:i+4:i+4], cover(c))
		}
	}
}

// shallow paints a line nearer to the horizontal, column by column.
func (s surface) shallow(a, dir r2.Point, length, half float64, k ink) {
	reach := half + 0.5
	end := a.Add(dir.Mul(length))
	x0 := max(0, int(math.Floor(min(a.X, end.X)-reach)))
	x1 := min(s.w-1, int(math.Ceil(max(a.X, end.X)+reach)))
	spread, across := reach/math.Abs(dir.X), math.Abs(dir.X)
	for x := x0; x <= x1; x++ {
		px := float64(x) + 0.5
		mid := a.Y + (px-a.X)*dir.Y/dir.X
		y0, y1 := max(0, int(math.Floor(mid-spread))), min(s.h-1, int(math.Ceil(mid+spread)))
		whole := inner(px-a.X, dir.X, length, reach)
		for y, i := y0, y0*s.stride+4*x; y <= y1; y, i = y+1, i+s.stride {
			py := float64(y) + 0.5
			c := reach - math.Abs(py-mid)*across
			if c <= 0 {
				continue
			}
			c = min(c, 1)
			if !whole {
				c *= s.ends(r2.Point{X: px - a.X, Y: py - a.Y}, dir, length, reach)
			}
			k.put(s.pix[i:i+4:i+4], cover(c))
		}
	}
}

// inner reports whether a row or column is so far from both ends of a line that they do not touch its cover. at is
// its distance from the line's start along the axis on which dir is the larger.
func inner(at, dir, length, reach float64) bool {
	t := at / dir
	return t > 2*reach && t < length-2*reach
}

// ends is the cover that the ends of a line leave of a pixel at p from its start.
func (surface) ends(p, dir r2.Point, length, reach float64) float64 {
	t := p.Dot(dir)
	return min(max(min(t, length-t)+reach, 0), 1)
}

// nearest is the whole number next to v, of two as near the larger: the same for a place and for that place in a part of the
// picture, where it may be below zero.
func nearest(v float64) float64 { return math.Floor(v + 0.5) }
