package geometry

// mesh is a polygon rounded to the lattice: all rings one after the other,
// with the index past the end of each. It is filled into buffers on the
// caller's stack so that predicates on usual outlines do not allocate.
type mesh struct {
	nodes  []node
	ends   []int
	bounds box
}

// room is the stack space of a mesh: an outline of up to 64 corners and 8
// rings is judged without allocating.
type room struct {
	nodes [64]node
	ends  [8]int
}

// meshOf rounds the polygon. Corners that fall on their predecessor are
// dropped, so that every edge has a length.
func meshOf(p Polygon, buf *room) mesh {
	nodes, ends := buf.nodes[:0], buf.ends[:0]
	for i := range p.ringCount() {
		nodes = appendRing(nodes, p.ring(i))
		ends = append(ends, len(nodes))
	}
	m := mesh{nodes: nodes, ends: ends, bounds: emptyBox()}
	for _, n := range m.ring(0) {
		m.bounds = m.bounds.add(n)
	}
	return m
}

func appendRing(nodes []node, r Ring) []node {
	start := len(nodes)
	for _, p := range r {
		n := toNode(p)
		if len(nodes) == start || nodes[len(nodes)-1] != n {
			nodes = append(nodes, n)
		}
	}
	if k := len(nodes) - 1; k > start && nodes[k] == nodes[start] {
		nodes = nodes[:k]
	}
	return nodes
}

func (m *mesh) ring(i int) []node {
	start := 0
	if i > 0 {
		start = m.ends[i-1]
	}
	return m.nodes[start:m.ends[i]]
}

// square tells whether every edge follows an axis.
func (m *mesh) square() bool {
	for i := range m.ends {
		ring := m.ring(i)
		for k, b := range ring {
			a := ring[prev(k, len(ring))]
			if a.x != b.x && a.y != b.y {
				return false
			}
		}
	}
	return true
}

func prev(i, n int) int {
	if i == 0 {
		return n - 1
	}
	return i - 1
}
