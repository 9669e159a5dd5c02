package paint

import (
	"image"
	"image/color"
	"math"
)

// ink is an opaque-picture colour with its strength, 0 to 255.
type ink struct {
	r, g, b uint32
	a       uint32
}

func inkOf(c color.NRGBA) ink { return ink{uint32(c.R), uint32(c.G), uint32(c.B), uint32(c.A)} }

// surface is the picture painted on.
type surface struct {
	pix    []byte
	stride int
	w, h   int
}

func surfaceOf(m *image.RGBA) surface {
	b := m.Bounds()
	return surface{pix: m.Pix, stride: m.Stride, w: b.Dx(), h: b.Dy()}
}

// put mixes the ink into one pixel. cover is 0 to 255.
func (k ink) put(px []byte, cover uint32) {
	a := cover * k.a
	if a >= 255*255 {
		px[0], px[1], px[2], px[3] = byte(k.r), byte(k.g), byte(k.b), 255
		return
	}
	a = (a + 127) / 255
	n := 255 - a
	px[0] = byte((uint32(px[0])*n + k.r*a + 127) / 255)
	px[1] = byte((uint32(px[1])*n + k.g*a + 127) / 255)
	px[2] = byte((uint32(px[2])*n + k.b*a + 127) / 255)
	px[3] = 255
}

// run mixes the ink into the pixels x0 <= x < x1 of a row with one cover.
func (s surface) run(y, x0, x1 int, k ink, cover uint32) {
	x0, x1 = max(x0, 0), min(x1, s.w)
	if y < 0 || y >= s.h || x0 >= x1 || cover == 0 {
		return
	}
	row := s.pix[y*s.stride+4*x0 : y*s.stride+4*x1]
	if cover*k.a >= 255*255 {
		fillRow(row, k)
		return
	}
	for i := 0; i < len(row); i += 4 {
		k.put(row[i:i+4:i+4], cover)
	}
}

func fillRow(row []byte, k ink) {
	row[0], row[1], row[2], row[3] = byte(k.r), byte(k.g), byte(k.b), 255
	for n := 4; n < len(row); n *= 2 {
		copy(row[n:], row[:n])
	}
}

// clear paints the whole picture.
func (s surface) clear(k ink) {
	k.a = 255
	for y := range s.h {
		s.run(y, 0, s.w, k, 255)
	}
}

// rect paints an upright rectangle with soft edges.
func (s surface) rect(x0, y0, x1, y1 float64, k ink) {
	x0, y0 = max(x0, 0), max(y0, 0)
	x1, y1 = min(x1, float64(s.w)), min(y1, float64(s.h))
	if x0 >= x1 || y0 >= y1 || k.a == 0 {
		return
	}
	for y := int(y0); y < int(math.Ceil(y1)); y++ {
		cy := min(y1, float64(y+1)) - max(y0, float64(y))
		s.softRun(y, x0, x1, k, cy)
	}
}

// softRun paints part of a row whose ends may lie inside pixels.
func (s surface) softRun(y int, x0, x1 float64, k ink, cy float64) {
	in, out := int(math.Ceil(x0)), int(x1)
	if in > out {
		s.run(y, out, out+1, k, cover(cy*(x1-x0)))
		return
	}
	s.run(y, in-1, in, k, cover(cy*(float64(in)-x0)))
	s.run(y, in, out, k, cover(cy))
	s.run(y, out, out+1, k, cover(cy*(x1-float64(out))))
}

func cover(f float64) uint32 { return uint32(f*255 + 0.5) }

// mask mixes the ink through an alpha mask whose top left pixel lies at x, y.
func (s surface) mask(m *image.Alpha, x, y int, k ink) {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	from, to := max(0, -x), min(w, s.w-x)
	for r := max(0, -y); r < min(h, s.h-y); r++ {
		if from >= to {
			return
		}
		s.maskRow(m.Pix[r*m.Stride+from:r*m.Stride+to], x+from, y+r, k)
	}
}

// maskRow mixes one row of a mask. Runs of nothing are skipped eight pixels at a time, full runs filled at once.
func (s surface) maskRow(cov []byte, x, y int, k ink) {
	row := s.pix[y*s.stride+4*x:]
	for i := 0; i < len(cov); {
		if i+8 <= len(cov) && empty8(cov[i:i+8]) {
			i += 8
			continue
		}
		if cov[i] == 255 {
			j := i + 1
			for j < len(cov) && cov[j] == 255 {
				j++
			}
			s.run(y, x+i, x+j, k, 255)
			i = j
			continue
		}
		if cov[i] != 0 {
			k.put(row[4*i:4*i+4:4*i+4], uint32(cov[i]))
		}
		i++
	}
}

func empty8(b []byte) bool {
	_ = b[7]
	return b[0]|b[1]|b[2]|b[3]|b[4]|b[5]|b[6]|b[7] == 0
}
