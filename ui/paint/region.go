package paint

import "image"

// region collects the parts of a picture that are to be painted anew as a few rectangles, which may overlap.
type region struct {
	within image.Rectangle
	parts  []image.Rectangle
}

// mostParts is how many rectangles a region keeps: each costs a look at every item.
const mostParts = 16

// add adds a rectangle.
func (g *region) add(r image.Rectangle) {
	r = r.Intersect(g.within)
	if r.Empty() {
		return
	}
	for i := 0; i < len(g.parts); i++ {
		q := g.parts[i]
		if r.In(q) {
			return
		}
		if u := q.Union(r); 4*area(u) <= 5*(area(q)+area(r)) {
			r = u
			g.drop(i)
			i = -1
		}
	}
	g.parts = append(g.parts, r)
	if len(g.parts) > mostParts {
		g.join()
	}
}

// all makes the region the whole picture.
func (g *region) all() { g.parts = append(g.parts[:0], g.within) }

func (g *region) drop(i int) {
	last := len(g.parts) - 1
	g.parts[i] = g.parts[last]
	g.parts = g.parts[:last]
}

// join makes one of the two rectangles that waste the least together.
func (g *region) join() {
	a, b, least := 0, 1, 0
	for i, p := range g.parts {
		for k := i + 1; k < len(g.parts); k++ {
			waste := area(p.Union(g.parts[k])) - area(p) - area(g.parts[k])
			if least == 0 || waste < least {
				a, b, least = i, k, waste
			}
		}
	}
	u := g.parts[a].Union(g.parts[b])
	g.drop(b)
	g.drop(a)
	g.add(u)
}

// settled returns the rectangles, or the whole picture where they cover most of it.
func (g *region) settled() []image.Rectangle {
	sum := 0
	for _, p := range g.parts {
		sum += area(p)
	}
	if 4*sum > 3*area(g.within) {
		g.all()
	}
	return g.parts
}

func area(r image.Rectangle) int { return r.Dx() * r.Dy() }

// middle is a row that leaves about as many pixels of rectangles above it as below.
func middle(parts []image.Rectangle) int {
	lo, hi, all := parts[0].Min.Y, parts[0].Max.Y, 0
	for _, p := range parts {
		lo, hi, all = min(lo, p.Min.Y), max(hi, p.Max.Y), all+area(p)
	}
	for lo < hi {
		row, above := (lo+hi)/2, 0
		for _, p := range parts {
			above += p.Dx() * max(min(p.Max.Y, row)-p.Min.Y, 0)
		}
		if 2*above < all {
			lo = row + 1
		} else {
			hi = row
		}
	}
	return lo
}
