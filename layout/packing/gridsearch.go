package packing

// greedy fills the grid from each corner, taking at each free point one of the
// candidates that fit, by several preferences.
func (g *grid) greedy(offer func([]int32)) {
	for _, v := range views {
		seen := v.grid(g)
		for prefer := range 3 {
			offer(greedyFill(seen, prefer))
		}
	}
}

func (g *grid) exact(view int, prices priced, target, nodes int, stop func() bool) outcome {
	v := g.view(view)
	found, proved := newSweep(v.grid(g), []priced{v.prices(g, prices)}, target, nodes, stop).run()
	return outcome{found, proved && found == nil}
}

func (g *grid) beam(view int, prices priced, target, width int, stop func() bool) []int32 {
	v := g.view(view)
	return newBeam(v.grid(g), v.prices(g, prices), target, width, stop).run()
}

// greedyFill sweeps a grid; prefer 0 takes candidates as they come, 1 the last
// option first, 2 the widest that leaves the neighbour column alone.
func greedyFill(g *grid, prefer int) []int32 {
	at := cornerLists(g)
	top := make([]int32, g.nx)
	var out []int32
	for {
		x := lowestOf(top)
		y := int(top[x])
		if y >= g.ny {
			return out
		}
		taken := int32(-1)
		for _, c := range at[y*g.nx+x] {
			if flatUnder(top, g.blocks[c]) && (taken < 0 || better(g, top, c, taken, prefer)) {
				taken = c
			}
		}
		if taken < 0 {
			top[x]++
			continue
		}
		b := g.blocks[taken]
		for k := b.x0; k < b.x1; k++ {
			top[k] = b.y1
		}
		out = append(out, taken)
	}
}

func better(g *grid, top []int32, c, taken int32, prefer int) bool {
	switch prefer {
	case 1:
		return true
	case 2:
		return level(g, top, c) && !level(g, top, taken)
	}
	return false
}

// level reports whether the top of a candidate would be flush with a neighbour.
func level(g *grid, top []int32, c int32) bool {
	b := g.blocks[c]
	return (b.x0 > 0 && top[b.x0-1] == b.y1) || (int(b.x1) < g.nx && top[b.x1] == b.y1) || int(b.y1) == g.ny
}

// cornerLists lists candidates by the point of their lower left corner.
func cornerLists(g *grid) [][]int32 {
	at := make([][]int32, g.nx*g.ny)
	for k, b := range g.blocks {
		p := int(b.y0)*g.nx + int(b.x0)
		at[p] = append(at[p], int32(k))
	}
	return at
}

func (g *grid) improve(start []int32, seed uint64, target, tries int, stop func() bool) []int32 {
	return newWindows(g, start, seed, stop).run(target, tries)
}
