package drawing

import (
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
)

// terminalMM is the size a terminal's symbol is drawn at on a body that covers r.
func terminalMM(r r2.Rect) float64 {
	return min(24, 0.24*min(r.Size().X, r.Size().Y))
}

// seen tells whether something on a face can be seen: the face does not look away from the eye.
func (p *pen) seen(out r3.Vector) bool { return out.Dot(p.v.towards()) > -0.5 }

// terminals draws terminals by shape: positive a square with a plus, negative a round with a minus, others a
// plain diamond.
func (p *pen) terminals(ref string, ts []layout.TerminalAt, size float64) {
	for i := range ts {
		if !p.seen(ts[i].Out) || p.behind(ts, i, 0.6*size) {
			continue
		}
		p.terminal(ref, ts[i].Polarity, p.at(ts[i].Place), size)
	}
}

// behind tells whether another terminal that is seen stands before terminal i, so near in the view that the two
// symbols would run into one.
func (p *pen) behind(ts []layout.TerminalAt, i int, near float64) bool {
	c, depth := p.at(ts[i].Place), ts[i].Place.Dot(p.v.towards())
	for j := range ts {
		if j == i || !p.seen(ts[j].Out) || p.at(ts[j].Place).Sub(c).Norm() > near {
			continue
		}
		if d := ts[j].Place.Dot(p.v.towards()); d > depth || d == depth && j < i {
			return true
		}
	}
	return false
}

func (p *pen) terminal(ref, polarity string, c r2.Point, size float64) {
	if p.o.Coarse {
		p.dot(ref, polarity, c, size)
		return
	}
	h, arm := size/2, 0.32*size
	switch polarity {
	case "positive":
		t := Tag{Role: RolePositive, Ref: ref}
		p.shape(t, p.rect(c.Sub(pt(h, h)), c.Add(pt(h, h))).Outer)
		p.plus(t, c, arm)
	case "negative":
		t := Tag{Role: RoleNegative, Ref: ref}
		p.shape(t, p.disc(c, 1.1*h, 16).Outer)
		p.segment(t, c.Sub(pt(arm, 0)), c.Add(pt(arm, 0)))
	default:
		d := p.disc(c, h, 4)
		p.shape(Tag{Role: RoleGear, Ref: ref}, d.Outer)
	}
}

// dot draws a terminal without its sign: a filled square where it is positive, a ring where it is negative, else a filled
// diamond.
func (p *pen) dot(ref, polarity string, c r2.Point, size float64) {
	h := size / 2
	switch polarity {
	case "positive":
		p.fill(Tag{Role: RolePositive, Ref: ref}, p.rect(c.Sub(pt(h, h)), c.Add(pt(h, h))))
	case "negative":
		p.loop(Tag{Role: RoleNegative, Ref: ref}, p.disc(c, 0.9*h, 8).Outer)
	default:
		p.fill(Tag{Role: RoleGear, Ref: ref}, p.disc(c, h, 4))
	}
}

// plus draws both strokes of a plus as one line.
func (p *pen) plus(t Tag, c r2.Point, arm float64) {
	ps := p.room(5)
	ps[0], ps[1], ps[2] = c.Sub(pt(arm, 0)), c.Add(pt(arm, 0)), c
	ps[3], ps[4] = c.Add(pt(0, arm)), c.Sub(pt(0, arm))
	p.line(t, ps...)
}

// ports draws coolant ports as triangles, pointing in where coolant goes in and out where it comes out, and
// sockets as small squares.
func (p *pen) ports(m *layout.Body) {
	if p.o.Coarse {
		return
	}
	size := terminalMM(p.prismExtent(m.Prism)) * 0.8
	for i := range m.Ports {
		q := &m.Ports[i]
		if !p.seen(q.Out) {
			continue
		}
		p.port(Tag{Role: RolePort, Ref: m.ID}, q.Kind, p.at(q.Place), p.at(q.Out), size)
	}
}

func (p *pen) port(t Tag, kind string, c, out r2.Point, size float64) {
	if !strings.HasPrefix(kind, "coolant") {
		p.loop(t, p.rect(c.Sub(pt(size/3, size/3)), c.Add(pt(size/3, size/3))).Outer)
		return
	}
	if out.Norm() < 0.5 {
		out = pt(0, 1)
	}
	side := out.Ortho().Mul(size / 2)
	base, tip := c, c.Add(out.Mul(size))
	if kind == "coolant_in" {
		base, tip = tip, base
	}
	ps := p.room(3)
	ps[0], ps[1], ps[2] = base.Add(side), base.Sub(side), tip
	if kind == "coolant_in" {
		p.fill(t, geometry.Polygon{Outer: ps})
	}
	p.loop(t, ps)
}

var gearKinds = map[string]string{
	"service_disconnect": "service disconnect", "monitoring_board": "monitoring", "monitoring_master": "monitoring master",
	"current_sensor": "current sensor", "inertia_switch": "inertia switch", "isolation_monitor": "isolation monitor",
	"dc_dc": "DC-DC",
}

func kindWords(kind string) string {
	if s := gearKinds[kind]; s != "" {
		return s
	}
	return kind
}
