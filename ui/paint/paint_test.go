package paint

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/layout/drawing"
	"stowbay/vehicles"
)

// flat is a look that paints everything in one colour on white.
type flat color.NRGBA

func (f flat) Style(drawing.Tag) drawing.Style {
	c := color.NRGBA(f)
	return drawing.Style{Fill: c, Line: c, Text: c, Pt: 1, Size: 10, Pitch: 6}
}

func (f flat) Paper() color.NRGBA { return color.NRGBA{255, 255, 255, 255} }

var black = flat{0, 0, 0, 255}

// painted paints items on a square of n pixels whose lower left corner is the origin, one pixel a millimetre.
func painted(n int, look Look, items ...drawing.Item) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, n, n))
	c := float64(n)
	p := New(look)
	p.Begin(img, Camera{Centre: r2.Point{X: c / 2, Y: c / 2}, Scale: 1, W: c, H: c}, 1)
	p.Items(items)
	return img
}

// dark sums up how much ink is on a picture, in pixels.
func dark(m *image.RGBA) float64 {
	sum := 0.0
	for i := 0; i < len(m.Pix); i += 4 {
		sum += float64(255-m.Pix[i]) / 255
	}
	return sum
}

func TestCameraRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-5000, 5000)
		c := Camera{Centre: r2.Point{X: f.Draw(t, "x"), Y: f.Draw(t, "y")}, Scale: rapid.Float64Range(0.01, 50).Draw(t, "s"), W: 1280, H: 800}
		p := r2.Point{X: f.Draw(t, "px"), Y: f.Draw(t, "py")}
		if d := c.ToMM(c.ToPx(p)).Sub(p).Norm(); d > 1e-6 {
			t.Fatalf("off by %v", d)
		}
		at := r2.Point{X: rapid.Float64Range(0, 1280).Draw(t, "ax"), Y: rapid.Float64Range(0, 800).Draw(t, "ay")}
		z := c.Zoomed(at, rapid.Float64Range(0.5, 2).Draw(t, "z"))
		if d := z.ToMM(at).Sub(c.ToMM(at)).Norm(); d > 1e-6 {
			t.Fatalf("the place under the pointer moved by %v mm", d)
		}
	})
}

func TestCameraFitShowsAll(t *testing.T) {
	r := r2.RectFromPoints(r2.Point{X: -900, Y: -850}, r2.Point{X: 3800, Y: 850})
	c := Camera{W: 640, H: 480}.Fit(r, 20)
	if !c.Visible().Contains(r) {
		t.Errorf("%v is not all of %v", c.Visible(), r)
	}
}

// The ink of a filled shape is its area: a rectangle with edges inside pixels, and a polygon with a hole.
func TestFillInkIsArea(t *testing.T) {
	for name, a := range map[string]geometry.Polygon{
		"rectangle": geometry.NewRect(10.25, 20.5, 60.75, 70.25),
		"triangle":  {Outer: geometry.Ring{{X: 10, Y: 10}, {X: 90, Y: 20}, {X: 40, Y: 85}}},
		"holed":     {Outer: geometry.NewRect(10, 10, 90, 90).Outer, Holes: []geometry.Ring{{{X: 30, Y: 30}, {X: 70, Y: 35}, {X: 50, Y: 70}}}},
	} {
		got := dark(painted(100, black, drawing.Fill{Area: a}))
		if want := a.Area(); math.Abs(got-want) > 0.01*want {
			t.Errorf("%s: %.1f pixels of ink, want %.1f", name, got, want)
		}
	}
}

// A polygon that is mostly off the picture paints what is on it.
func TestFillIsClipped(t *testing.T) {
	a := geometry.Polygon{Outer: geometry.Ring{{X: -1e6, Y: -1e6}, {X: 1e6, Y: -1e6}, {X: 1e6, Y: 50}, {X: -1e6, Y: 50}, {X: -1.2e6, Y: 0}}}
	if got := dark(painted(100, black, drawing.Fill{Area: a})); math.Abs(got-5000) > 60 {
		t.Errorf("%.0f pixels of ink, want about 5000", got)
	}
}

// The ink of a line is its length, with half a width beyond either end, times its width, whatever its direction. The
// cover is sampled at the middles of pixels, which on a diagonal through them is out by an eighth.
func TestStrokeInkIsLengthTimesWidth(t *testing.T) {
	for deg := 0.0; deg < 360; deg += 7.5 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		for _, w := range []float64{1, 2, 3} {
			s := drawing.Stroke{Points: []r2.Point{{X: 60, Y: 60}, {X: 60 + 40*cos, Y: 60 + 40*sin}}, Pt: w}
			got, want := dark(painted(120, black, s)), w*(40+w)
			if math.Abs(got-want) > 0.13*want+1 {
				t.Errorf("%g degrees, width %g: %.1f pixels of ink, want %.1f", deg, w, got, want)
			}
		}
	}
}

func TestDashesLeaveGaps(t *testing.T) {
	solid := dark(painted(120, black, drawing.Stroke{Points: []r2.Point{{X: 5, Y: 60}, {X: 115, Y: 60}}, Pt: 1}))
	dashed := dark(painted(120, black, drawing.Stroke{Points: []r2.Point{{X: 5, Y: 60}, {X: 115, Y: 60}}, Pt: 1, Dash: []float64{5, 5}}))
	if dashed < 0.4*solid || dashed > 0.75*solid {
		t.Errorf("%.0f of %.0f pixels", dashed, solid)
	}
}

// Hatching covers width over pitch of an area, at any angle, and nothing outside it.
func TestHatchCover(t *testing.T) {
	a := geometry.NewRect(20, 20, 180, 180)
	for _, deg := range []float64{0, 30, 45, 60, 90, 120} {
		m := painted(200, black, drawing.Hatch{Area: a, Deg: deg, PitchPt: 8})
		got, want := dark(m), a.Area()/8
		if math.Abs(got-want) > 0.12*want {
			t.Errorf("%g degrees: %.0f pixels, want %.0f", deg, got, want)
		}
		if m.Pix[m.PixOffset(10, 10)] != 255 || m.Pix[m.PixOffset(195, 100)] != 255 {
			t.Errorf("%g degrees: ink outside the area", deg)
		}
	}
}

func TestTextStandsWhereAnchored(t *testing.T) {
	at := r2.Point{X: 100, Y: 100}
	for anchor, ok := range map[drawing.Anchor]func(r image.Rectangle) bool{
		drawing.West:   func(r image.Rectangle) bool { return r.Min.X >= 99 && r.Min.X <= 103 },
		drawing.East:   func(r image.Rectangle) bool { return r.Max.X <= 101 && r.Max.X >= 97 },
		drawing.North:  func(r image.Rectangle) bool { return r.Min.Y >= 99 && r.Min.Y <= 103 },
		drawing.South:  func(r image.Rectangle) bool { return r.Max.Y <= 101 && r.Max.Y >= 94 },
		drawing.Middle: func(r image.Rectangle) bool { return abs(r.Min.X+r.Max.X-200) <= 3 && abs(r.Min.Y+r.Max.Y-200) <= 3 },
	} {
		m := painted(200, black, drawing.Text{At: at, S: "HEM", Pt: 20, Anchor: anchor})
		if r := inked(m); !ok(r) {
			t.Errorf("anchor %d: the text covers %v", anchor, r)
		}
	}
}

// A text turned by a quarter covers what the level one covers, turned.
func TestTextTurns(t *testing.T) {
	at := r2.Point{X: 100, Y: 100}
	level := inked(painted(200, black, drawing.Text{At: at, S: "HEM", Pt: 20}))
	upright := inked(painted(200, black, drawing.Text{At: at, S: "HEM", Pt: 20, Deg: 90}))
	if abs(level.Dx()-upright.Dy()) > 2 || abs(level.Dy()-upright.Dx()) > 2 {
		t.Errorf("%v against %v", level, upright)
	}
}

func abs(v int) int { return max(v, -v) }

// inked is the smallest rectangle with all the ink.
func inked(m *image.RGBA) image.Rectangle {
	var r image.Rectangle
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			if m.Pix[m.PixOffset(x, y)] < 128 {
				r = r.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return r
}

// Nothing that a list may hold makes the painter panic or write outside its picture.
func TestPaintAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.OneOf(rapid.Float64Range(-200, 200), rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e308, 0}))
		pt := func(n string) r2.Point { return r2.Point{X: f.Draw(t, n+"x"), Y: f.Draw(t, n+"y")} }
		ring := geometry.Ring{pt("a"), pt("b"), pt("c")}
		area := geometry.Polygon{Outer: ring}
		pitch := rapid.Float64Range(0, 50).Draw(t, "pitch")
		painted(64, black, drawing.Fill{Area: area}, drawing.Stroke{Points: ring, Closed: true, Pt: pitch, Dash: []float64{3, pitch}},
			drawing.Hatch{Area: area, Deg: f.Draw(t, "deg"), PitchPt: pitch, Cross: true},
			drawing.Text{At: ring[0], S: rapid.String().Draw(t, "s"), Pt: pitch, Deg: f.Draw(t, "turn"), Halo: true},
			drawing.Dimension{A: ring[1], B: ring[2], Offset: pitch})
	})
}

func TestWrapAndCut(t *testing.T) {
	f := NewFonts()
	text := "No module stands in another, and every gap to walls, lids and neighbours is kept."
	for _, line := range f.Wrap(text, 12, 120, false) {
		if f.Width(line, 12, false) > 120 {
			t.Errorf("%q is %.0f wide", line, f.Width(line, 12, false))
		}
	}
	if got := f.Cut(text, 12, 120, false); f.Width(got, 12, false) > 120 || got == text {
		t.Errorf("cut to %q", got)
	}
}

// scene is an arrangement of four boxes of 100 modules each in an invented vehicle.
func scene() *layout.Scene {
	mod := &vehicles.Module{ID: "block", LengthMM: 100, WidthMM: 50, HeightMM: 60, Postures: []vehicles.Posture{vehicles.Flat},
		Terminals: []vehicles.Terminal{
			{ID: "-", Polarity: "negative", Face: vehicles.Front, At: vehicles.XYZ{0, 25, 50}, StripMM: 8},
			{ID: "+", Polarity: "positive", Face: vehicles.Back, At: vehicles.XYZ{100, 25, 50}, StripMM: 8}}}
	square := func(x0, y0, x1, y1 float64) []vehicles.XY {
		return []vehicles.XY{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
	}
	donor := &vehicles.Donor{ID: "van", WheelbaseMM: 2900, TrackFrontMM: 1500, TrackRearMM: 1500, WheelRadiusMM: 320, TyreWidthMM: 190,
		PlanOutline: square(-900, -900, 3900, 900), SideOutline: square(-900, 300, 3900, 1900)}
	p := layout.NewPlan(donor, "Bench")
	p.Library = layout.Library{Donors: []*vehicles.Donor{donor}, Modules: []*vehicles.Module{mod}}
	for i := range 4 {
		b := &layout.Box{ID: fmt.Sprintf("box%d", i), At: vehicles.XYZ{400 + 1300*float64(i%2), 700*float64(i/2) - 700, 250},
			Levels: []vehicles.Level{{Outline: square(0, 0, 1200, 620), CeilingMM: 120}}}
		for k := range 100 {
			b.Modules = append(b.Modules, layout.Placement{ID: fmt.Sprintf("m%d", k+1), Module: "block", Posture: vehicles.Flat,
				At: vehicles.XYZ{12 + 118*float64(k%10), 12 + 60*float64(k/10), 2}})
		}
		p.Arrangements[0].Boxes = append(p.Arrangements[0].Boxes, b)
	}
	return layout.Resolve(p, p.Arrangements[0], p.LibraryOver(nil), nil)
}

// Painting in halves gives the picture that one painter paints, but for pixels next to the seam whose cover was
// rounded another way.
func TestHalvesAreTheWhole(t *testing.T) {
	l := drawing.Plan(scene(), drawing.Options{})
	cam := Camera{W: 700, H: 501}.Fit(l.Bounds, 20)
	whole, parted := image.NewRGBA(image.Rect(0, 0, 700, 501)), image.NewRGBA(image.Rect(0, 0, 700, 501))
	p := New(drawing.Light())
	p.Begin(whole, cam, 1)
	p.Paint(l)
	NewHalves(drawing.Light()).Paint(parted, cam, 1, nil, l.Items)
	n := 0
	for i := range whole.Pix {
		if d := int(whole.Pix[i]) - int(parted.Pix[i]); d > 40 || d < -40 {
			n++
		}
	}
	if n > 200 {
		t.Errorf("%d bytes of %d differ", n, len(whole.Pix))
	}
}

// The plan of 400 modules on a whole screen of 1280 by 800.
func BenchmarkPaint400(b *testing.B) {
	l := drawing.Plan(scene(), drawing.Options{})
	img := image.NewRGBA(image.Rect(0, 0, 1280, 800))
	cam := Camera{W: 1280, H: 800}.Fit(l.Bounds, 20)
	p := NewHalves(drawing.Light())
	for b.Loop() {
		p.Paint(img, cam, 96.0/72, nil, l.Items)
	}
	b.ReportMetric(float64(len(l.Items)), "items")
}

// Wherever it looks, a snapped camera is off by less than a pixel and sees the origin at the same place within one.
func TestSnappedCamera(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var first r2.Point
	for i := range 200 {
		c := Camera{Centre: r2.Point{X: 6000 * (r.Float64() - 0.5), Y: 6000 * (r.Float64() - 0.5)}, Scale: 0.173, W: 656, H: 363}
		s := c.Snapped()
		if d := s.Centre.Sub(c.Centre).Mul(c.Scale); math.Abs(d.X) > 0.5+1e-9 || math.Abs(d.Y) > 0.5+1e-9 {
			t.Fatalf("moved by %v pixels", d)
		}
		if again := s.Snapped(); again.Centre.Sub(s.Centre).Norm() > 1e-9 {
			t.Fatalf("snapped again it moved by %v", again.Centre.Sub(s.Centre))
		}
		at := s.ToPx(r2.Point{})
		within := r2.Point{X: at.X - math.Floor(at.X), Y: at.Y - math.Floor(at.Y)}
		if i == 0 {
			first = within
		}
		if within.Sub(first).Norm() > 1e-6 {
			t.Fatalf("the origin lies at %v of a pixel, then at %v", first, within)
		}
	}
}

func TestNumbersStayWithTheirUnits(t *testing.T) {
	f := NewFonts()
	text := "carries 1099 ± 3 kg of at most 1100 kg; tighten to 12 N m, then 7.5 V over 40 mm."
	for width := 10.0; width < 400; width += 7 {
		lines := strings.Join(f.Wrap(text, 12, width, false), "\n")
		for _, whole := range []string{"1099 ± 3 kg", "1100 kg;", "12 N m,", "7.5 V", "40 mm."} {
			if !strings.Contains(lines, whole) {
				t.Fatalf("%q is broken at a width of %.0f:\n%s", whole, width, lines)
			}
		}
	}
}
