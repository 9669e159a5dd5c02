package paint

import (
	"fmt"
	"image"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"stowbay/geometry"
	"stowbay/layout/drawing"
)

// randomItem is an item somewhere about the picture.
func randomItem(r *rand.Rand) drawing.Item {
	at := func() r2.Point { return r2.Point{X: r.Float64()*2400 - 1200, Y: r.Float64()*1600 - 800} }
	near := func(p r2.Point) r2.Point { return p.Add(r2.Point{X: r.Float64()*300 - 150, Y: r.Float64()*300 - 150}) }
	roles := []drawing.Role{drawing.RoleModule, drawing.RoleBox, drawing.RoleKeepOut, drawing.RoleBreach, drawing.RoleGear, drawing.RoleLabel, drawing.RoleDimension, drawing.RoleWarning}
	tag := drawing.Tag{Role: roles[r.IntN(len(roles))], Ref: fmt.Sprint(r.IntN(4)), Mark: drawing.Mark(r.IntN(64))}
	a := at()
	area := geometry.Polygon{Outer: []r2.Point{a, near(a), near(a)}} // none that crosses itself
	if r.IntN(2) == 0 {
		b := near(a)
		area = geometry.NewRect(min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X)+1, max(a.Y, b.Y)+1)
	}
	switch r.IntN(6) {
	case 0:
		return drawing.Fill{Of: tag, Area: area}
	case 1:
		return drawing.Stroke{Of: tag, Points: area.Outer, Closed: r.IntN(2) == 0, Pt: float64(r.IntN(6))}
	case 2:
		return drawing.Stroke{Of: tag, Points: area.Outer, Dash: []float64{4, 3}}
	case 3:
		return drawing.Hatch{Of: tag, Area: area, Deg: float64(r.IntN(180)), PitchPt: float64(r.IntN(12)), Cross: r.IntN(2) == 0}
	case 4:
		deg := 0.0
		if r.IntN(2) == 0 {
			deg = float64(r.IntN(360))
		}
		return drawing.Text{Of: tag, At: a, S: "Box m12 »ÄÖg« 7", Pt: float64(r.IntN(40)), Deg: deg, Anchor: drawing.Anchor(r.IntN(5)), Halo: r.IntN(2) == 0}
	}
	return drawing.Dimension{Of: tag, A: a, B: near(a), Offset: r.Float64()*200 - 100}
}

// changedItems is the list with some items left out, added, exchanged or moved to another place in the order.
func changedItems(r *rand.Rand, items []drawing.Item) []drawing.Item {
	out := slices.Clone(items)
	for range r.IntN(4) {
		i := r.IntN(len(out))
		switch r.IntN(4) {
		case 0:
			out = slices.Delete(out, i, i+1)
		case 1:
			out = slices.Insert(out, i, randomItem(r))
		case 2:
			out[i] = randomItem(r)
		default:
			k := r.IntN(len(out))
			out[i], out[k] = out[k], out[i]
		}
	}
	return out
}

// furthest is the largest difference of a channel between two pictures.
func furthest(a, b *image.RGBA) int {
	most := 0
	for i := range a.Pix {
		most = max(most, int(a.Pix[i])-int(b.Pix[i]), int(b.Pix[i])-int(a.Pix[i]))
	}
	return most
}

// mostOff is how many steps of 255 a pixel on the edge of a slanted area may be off: where a part of the picture cuts the
// area, the rasterizer rounds the ends of the edge in other places.
const mostOff = 16

// However a picture changes, painting what changed leaves what painting the whole does.
func TestRepaintingIsPaintingTheWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	halves := NewHalves(drawing.Light())
	for range 30 {
		live := NewRepainter(halves)
		dst, whole := image.NewRGBA(image.Rect(0, 0, 360, 240)), image.NewRGBA(image.Rect(0, 0, 360, 240))
		cam := Camera{Scale: 0.2 + r.Float64()/4, W: 360, H: 240, Centre: r2.Point{X: r.Float64() * 50, Y: r.Float64() * 50}}
		screen := Camera{Scale: 1, W: 360, H: 240, Centre: r2.Point{X: 180, Y: -120}}
		var items []drawing.Item
		for range 40 {
			items = append(items, randomItem(r))
		}
		ruler := []drawing.Item{drawing.Fill{Of: drawing.Tag{Role: drawing.RoleGear}, Area: geometry.NewRect(0, -18, 360, 0)},
			drawing.Text{Of: drawing.Tag{Role: drawing.RoleLabel}, At: r2.Point{X: 300, Y: -220}, S: "Plan", Pt: 14}}
		for step := range 20 {
			switch r.IntN(5) {
			case 0:
				cam = cam.Panned(r2.Point{X: float64(r.IntN(81) - 40), Y: float64(r.IntN(81) - 40)})
			case 1:
				cam = cam.Panned(r2.Point{X: r.Float64() * 9})
			default:
				items = changedItems(r, items)
			}
			layers := []Layer{{drawing.Light(), cam, 1.3, items}, {drawing.Light(), screen, 1, ruler}}
			live.Paint(dst, Under{}, layers...)
			NewRepainter(halves).Paint(whole, Under{}, layers...)
			if n := furthest(dst, whole); n > mostOff {
				t.Fatalf("after step %d the pictures differ by %d", step, n)
			}
		}
	}
}

// Parts of a picture fit together: painting it in pieces leaves what painting it at once does.
func TestPiecesOfAPicture(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	p := New(drawing.Light())
	cam := Camera{Scale: 0.31, W: 300, H: 200, Centre: r2.Point{X: 13.7, Y: -8.1}}
	for range 40 {
		whole, pieces := image.NewRGBA(image.Rect(0, 0, 300, 200)), image.NewRGBA(image.Rect(0, 0, 300, 200))
		var items []drawing.Item
		for range 25 {
			items = append(items, randomItem(r))
		}
		p.Begin(whole, cam, 1)
		p.Items(items)
		x, y := 1+r.IntN(298), 1+r.IntN(198)
		for _, part := range []image.Rectangle{image.Rect(0, 0, x, y), image.Rect(x, 0, 300, y), image.Rect(0, y, x, 200), image.Rect(x, y, 300, 200)} {
			p.onPart(pieces, part, cam, 1)
			p.dst.clear(inkOf(p.look.Paper()))
			p.Items(items)
		}
		if n := furthest(whole, pieces); n > mostOff {
			t.Fatalf("the pictures differ by %d", n)
		}
	}
}

// Nothing is painted where nothing changed, and little where little did.
func TestRepaintingLeavesTheRest(t *testing.T) {
	halves := NewHalves(drawing.Light())
	live := NewRepainter(halves)
	dst := image.NewRGBA(image.Rect(0, 0, 300, 200))
	cam := Camera{Scale: 1, W: 300, H: 200}
	box := func(x float64) drawing.Item {
		return drawing.Fill{Of: drawing.Tag{Role: drawing.RoleModule}, Area: geometry.NewRect(x, 0, x+10, 10)}
	}
	live.Paint(dst, Under{}, Layer{drawing.Light(), cam, 1, []drawing.Item{box(-100), box(0), box(60)}})
	clear(dst.Pix)
	live.Paint(dst, Under{}, Layer{drawing.Light(), cam, 1, []drawing.Item{box(-100), box(20), box(60)}})
	for _, c := range []struct {
		x, y    int
		painted bool
	}{{5, 5, false}, {55, 95, false}, {215, 95, false}, {155, 95, true}, {175, 95, true}, {280, 190, false}} {
		if got := dst.RGBAAt(c.x, c.y).A != 0; got != c.painted {
			t.Errorf("at %d, %d painted: %v", c.x, c.y, got)
		}
	}
	other := image.NewRGBA(dst.Rect)
	live.Paint(other, Under{}, Layer{drawing.Light(), cam, 1, []drawing.Item{box(-100), box(20), box(60)}})
	if slices.Contains(other.Pix[3:4], 0) {
		t.Error("another picture was not painted whole")
	}
}

// A dashed line ends where it does, whatever of its pattern would come next.
func TestDashesEndWithTheLine(t *testing.T) {
	p := New(drawing.Light())
	for length := 20.0; length < 60; length++ {
		dst := image.NewRGBA(image.Rect(0, 0, 100, 9))
		p.Begin(dst, Camera{Scale: 1, W: 100, H: 9, Centre: r2.Point{X: 50}}, 1)
		paper := dst.RGBAAt(99, 4)
		p.Items([]drawing.Item{drawing.Stroke{Of: drawing.Tag{Role: drawing.RoleBox}, Points: []r2.Point{{X: 10}, {X: 10 + length}}, Pt: 1, Dash: []float64{9, 2, 1.5, 2}}})
		for x := int(10+length) + 2; x < 100; x++ {
			if dst.RGBAAt(x, 4) != paper {
				t.Fatalf("a line of %g pixels goes on at %d", length, x)
			}
		}
	}
}

// What lies halfway between two pixels is the same in a part of a picture as in the whole.
func TestHalvesRoundAlikeInParts(t *testing.T) {
	for _, v := range []float64{-3.5, -0.5, 0.5, 7.5, 1e6 + 0.5} {
		for _, off := range []float64{1, 8, 1000} {
			if nearest(v-off) != nearest(v)-off {
				t.Errorf("%v less %v", v, off)
			}
		}
	}
}
