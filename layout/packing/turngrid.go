package packing

// view is a grid seen from another corner: mirrored along x or y, then transposed
// or not. Sweeps from different corners find and refute different packings.
type view struct{ flipX, flipY, swap bool }

// views lists the eight.
var views = []view{
	{false, false, false}, {true, true, false}, {true, false, false}, {false, true, false},
	{false, false, true}, {true, true, true}, {true, false, true}, {false, true, true},
}

// view is the k-th view to search a grid from. Those whose skyline runs along the
// shorter side come first, since they have fewer skylines.
func (g *grid) view(k int) view {
	v := views[k%len(views)]
	if g.nx > g.ny {
		v.swap = !v.swap
	}
	return v
}

func (v view) apply(b cells, nx, ny int32) cells {
	if v.flipX {
		b.x0, b.x1 = nx-b.x1, nx-b.x0
	}
	if v.flipY {
		b.y0, b.y1 = ny-b.y1, ny-b.y0
	}
	if v.swap {
		b = cells{b.y0, b.y1, b.x0, b.x1}
	}
	return b
}

// grid gives the blocks of a grid as seen; candidates keep their numbers.
func (v view) grid(g *grid) *grid {
	out := &grid{nx: g.nx, ny: g.ny, blocks: make([]cells, len(g.blocks))}
	if v.swap {
		out.nx, out.ny = g.ny, g.nx
	}
	for k, b := range g.blocks {
		out.blocks[k] = v.apply(b, int32(g.nx), int32(g.ny))
	}
	return out
}

// prices moves prices of the grid's points to the view's.
func (v view) prices(g *grid, p priced) priced {
	out := priced{make([]float64, len(p.price)), p.sum}
	wide := g.nx
	if v.swap {
		wide = g.ny
	}
	for y := range g.ny {
		for x := range g.nx {
			b := v.apply(cells{int32(x), int32(x + 1), int32(y), int32(y + 1)}, int32(g.nx), int32(g.ny))
			out.price[int(b.y0)*wide+int(b.x0)] = p.price[y*g.nx+x]
		}
	}
	return out
}
