package paint

import (
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// face is one font with the glyphs painted so far.
type face struct {
	font   *sfnt.Font
	buf    sfnt.Buffer
	glyphs map[glyphKey]*glyph
	widths map[rune]float64
}

// glyphKey names a glyph picture: size in quarter pixels, turn in degrees, place within a pixel in quarters.
type glyphKey struct {
	r      rune
	size   int32
	deg    int16
	sx, sy int8
	halo   bool
}

// glyph is a picture with the offset of its top left pixel from the pen.
type glyph struct {
	mask image.Alpha
	x, y int
}

// unitsEm is the size at which advance widths are kept.
const unitsEm = 1000

// maxGlyphs is how many glyph pictures are kept before the store is emptied.
const maxGlyphs = 8000

func newFace(ttf []byte) *face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("paint: built-in font: " + err.Error())
	}
	return &face{font: f, glyphs: map[glyphKey]*glyph{}, widths: map[rune]float64{}}
}

func regular() *face { return newFace(goregular.TTF) }
func medium() *face  { return newFace(gomedium.TTF) }

// advance is a rune's width for a size of one pixel.
func (f *face) advance(r rune) float64 {
	if w, ok := f.widths[r]; ok {
		return w
	}
	i, err := f.font.GlyphIndex(&f.buf, r)
	w := fixed.Int26_6(0)
	if err == nil {
		w, _ = f.font.GlyphAdvance(&f.buf, i, fixed.I(unitsEm), font.HintingNone)
	}
	f.widths[r] = float64(w) / 64 / unitsEm
	return f.widths[r]
}

// width is a text's width for a size in pixels.
func (f *face) width(s string, px float64) float64 {
	sum := 0.0
	for _, r := range s {
		sum += f.advance(r)
	}
	return sum * px
}

// glyph returns the picture of a rune; nil for one that is blank.
func (f *face) glyph(key glyphKey) *glyph {
	if g, ok := f.glyphs[key]; ok {
		return g
	}
	if len(f.glyphs) > maxGlyphs {
		clear(f.glyphs)
	}
	g := f.draw(key)
	f.glyphs[key] = g
	return g
}

func (f *face) draw(key glyphKey) *glyph {
	if key.halo {
		key.halo = false
		return f.glyph(key).dilated(haloPx)
	}
	i, err := f.font.GlyphIndex(&f.buf, key.r)
	if err != nil {
		return nil
	}
	size := float64(key.size) / 4
	segs, err := f.font.LoadGlyph(&f.buf, i, fixed.Int26_6(size*64), nil)
	if err != nil || len(segs) == 0 {
		return nil
	}
	return trace(segs, key)
}

// trace rasterizes an outline turned and moved as the key says.
func trace(segs sfnt.Segments, key glyphKey) *glyph {
	sin, cos := math.Sincos(-float64(key.deg) * math.Pi / 180)
	at := func(p fixed.Point26_6) (float64, float64) {
		x, y := float64(p.X)/64, float64(p.Y)/64
		return x*cos - y*sin + float64(key.sx)/4, x*sin + y*cos + float64(key.sy)/4
	}
	x0, y0, x1, y1 := extent(segs, at)
	w, h := x1-x0, y1-y0
	if w <= 0 || h <= 0 {
		return nil
	}
	ras := vector.NewRasterizer(w, h)
	ras.DrawOp = draw.Src
	p := func(i int, s sfnt.Segment) (float32, float32) {
		x, y := at(s.Args[i])
		return float32(x - float64(x0)), float32(y - float64(y0))
	}
	for _, s := range segs {
		outline(ras, s, p)
	}
	g := &glyph{x: x0, y: y0, mask: *image.NewAlpha(image.Rect(0, 0, w, h))}
	ras.Draw(&g.mask, g.mask.Rect, image.Opaque, image.Point{})
	return g
}

func outline(ras *vector.Rasterizer, s sfnt.Segment, p func(int, sfnt.Segment) (float32, float32)) {
	ax, ay := p(0, s)
	switch s.Op {
	case sfnt.SegmentOpMoveTo:
		ras.ClosePath()
		ras.MoveTo(ax, ay)
	case sfnt.SegmentOpLineTo:
		ras.LineTo(ax, ay)
	case sfnt.SegmentOpQuadTo:
		bx, by := p(1, s)
		ras.QuadTo(ax, ay, bx, by)
	case sfnt.SegmentOpCubeTo:
		bx, by := p(1, s)
		cx, cy := p(2, s)
		ras.CubeTo(ax, ay, bx, by, cx, cy)
	}
}

func extent(segs sfnt.Segments, at func(fixed.Point26_6) (float64, float64)) (x0, y0, x1, y1 int) {
	lx, ly, hx, hy := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, s := range segs {
		for i := range points(s.Op) {
			x, y := at(s.Args[i])
			lx, ly, hx, hy = min(lx, x), min(ly, y), max(hx, x), max(hy, y)
		}
	}
	return int(math.Floor(lx)), int(math.Floor(ly)), int(math.Ceil(hx)) + 1, int(math.Ceil(hy)) + 1
}

func points(op sfnt.SegmentOp) int {
	switch op {
	case sfnt.SegmentOpQuadTo:
		return 2
	case sfnt.SegmentOpCubeTo:
		return 3
	}
	return 1
}

// haloPx is how far a halo reaches round a glyph.
const haloPx = 2

// dilated returns the glyph grown by d pixels all round.
func (g *glyph) dilated(d int) *glyph {
	if g == nil {
		return nil
	}
	w, h := g.mask.Rect.Dx(), g.mask.Rect.Dy()
	out := &glyph{x: g.x - d, y: g.y - d, mask: *image.NewAlpha(image.Rect(0, 0, w+2*d, h+2*d))}
	for y := range h {
		for x := range w {
			if c := g.mask.Pix[y*g.mask.Stride+x]; c > 0 {
				out.stamp(x, y, d, c)
			}
		}
	}
	return out
}

// stamp raises the square of pixels round a pixel of the smaller glyph to at least c, corners left out.
func (g *glyph) stamp(x, y, d int, c byte) {
	for dy := -d; dy <= d; dy++ {
		for dx := -d; dx <= d; dx++ {
			if dx*dx+dy*dy > d*d+1 {
				continue
			}
			p := &g.mask.Pix[(y+dy+d)*g.mask.Stride+x+dx+d]
			*p = max(*p, c)
		}
	}
}
