package outline

import (
	"fmt"
	"io"
	"math"

	"github.com/golang/geo/r2"
)

// vertex is a point of a path, with the bulge of the side that leaves it.
type vertex struct {
	at    r2.Point
	bulge float64
}

// path is an entity in drawing units.
type path struct {
	layer  string
	line   int
	closed bool
	pts    []vertex
	arc    *ellipse // for ARC and CIRCLE, instead of pts
}

// entity reads the entity that the group starts.
func (d *drawer) entity(head pair) error {
	body, err := d.body()
	if err != nil && err != io.EOF {
		return err
	}
	f := fields{body: body}
	p := path{layer: f.text(8), line: head.line}
	switch head.value {
	case "LWPOLYLINE":
		p.closed, p.pts = f.integer(70)&1 != 0, f.vertices()
	case "POLYLINE":
		err = d.polyline(&p, &f)
	case "LINE":
		p.pts = []vertex{{at: f.point(10, 20)}, {at: f.point(11, 21)}}
	case "CIRCLE":
		p.closed = true
		p.arc = &ellipse{centre: f.point(10, 20), rx: f.number(40), ry: f.number(40), sweep: 2 * math.Pi}
	case "ARC":
		p.arc = f.arc()
	default:
		d.skip(head.value)
		return f.err
	}
	if err == nil {
		err = f.err
	}
	if err != nil || (p.pts == nil && p.arc == nil) {
		return err
	}
	return d.keep(p, f.facing())
}

func (d *drawer) skip(kind string) {
	if len(kind) > 40 {
		kind = kind[:40]
	}
	if _, met := d.skipped[kind]; !met && len(d.skipped) == maxKinds {
		d.others++
		return
	}
	d.skipped[kind]++
}

// keep stores a path as it is seen from above, if its plane is level.
func (d *drawer) keep(p path, f facing) error {
	switch f {
	case tilted:
		d.skip("tilted entity")
		return nil
	case downward:
		p.mirror()
	}
	d.points += len(p.pts)
	if d.points > maxPoints || len(d.paths) >= maxPoints {
		return &Fault{Line: p.line, Wrong: fmt.Sprintf("the drawing has more than %d points", maxPoints)}
	}
	d.paths = append(d.paths, p)
	return nil
}

// mirror turns a path drawn on the underside, whose x axis points the other
// way.
func (p *path) mirror() {
	for i, v := range p.pts {
		p.pts[i] = vertex{r2.Point{X: -v.at.X, Y: v.at.Y}, -v.bulge}
	}
	if p.arc != nil {
		p.arc.centre.X = -p.arc.centre.X
		p.arc.start, p.arc.sweep = math.Pi-p.arc.start, -p.arc.sweep
	}
}

// body reads the groups of an entity up to the next code 0.
func (d *drawer) body() ([]pair, error) {
	var body []pair
	for {
		p, err := d.next()
		if err != nil {
			return body, err
		}
		if p.code == 0 {
			d.ahead = &p
			return body, nil
		}
		if len(body) > 8*maxPoints {
			return nil, &Fault{Line: p.line, Wrong: "the entity has too many groups"}
		}
		body = append(body, p)
	}
}

// polyline reads the vertices that follow a POLYLINE, up to its SEQEND.
func (d *drawer) polyline(p *path, f *fields) error {
	flags := f.integer(70)
	p.closed = flags&1 != 0
	for {
		head, err := d.next()
		if err != nil {
			return endless(err, p.line)
		}
		if head.code != 0 || head.value != "VERTEX" {
			d.ahead = &head
			break
		}
		body, err := d.body()
		if err != nil {
			return endless(err, p.line)
		}
		v := fields{body: body}
		if v.integer(70)&16 == 0 { // not a control point of a spline frame
			p.pts = append(p.pts, vertex{v.point(10, 20), v.number(42)})
		}
		if f.err == nil {
			f.err = v.err
		}
		if len(p.pts) > maxPoints {
			return &Fault{Line: p.line, Wrong: fmt.Sprintf("the polyline has more than %d vertices", maxPoints)}
		}
	}
	if head := d.ahead; head.value == "SEQEND" {
		d.ahead = nil
		if _, err := d.body(); err != nil {
			return endless(err, p.line)
		}
	}
	if flags&(8|16|64) != 0 {
		p.pts = nil
		d.skip("POLYLINE in space")
	}
	return nil
}

func endless(err error, line int) error {
	if err == io.EOF {
		return &Fault{Line: line, Wrong: "the file ends within the polyline that starts here"}
	}
	return err
}

// fields looks up groups of one entity and keeps the first fault.
type fields struct {
	body []pair
	err  error
}

func (f *fields) find(code int) (pair, bool) {
	for _, p := range f.body {
		if p.code == code {
			return p, true
		}
	}
	return pair{}, false
}

func (f *fields) text(code int) string {
	p, _ := f.find(code)
	return p.value
}

// number is the value of a group, 0 where it is missing.
func (f *fields) number(code int) float64 {
	p, ok := f.find(code)
	if !ok {
		return 0
	}
	return f.value(p)
}

func (f *fields) value(p pair) float64 {
	v, err := p.number()
	if err != nil && f.err == nil {
		f.err = err
	}
	return v
}

func (f *fields) integer(code int) int {
	p, ok := f.find(code)
	if !ok {
		return 0
	}
	v, err := p.integer()
	if err != nil && f.err == nil {
		f.err = err
	}
	return v
}

func (f *fields) point(x, y int) r2.Point {
	return r2.Point{X: f.number(x), Y: f.number(y)}
}

// vertices are those of an LWPOLYLINE: each starts with its group 10.
func (f *fields) vertices() []vertex {
	var out []vertex
	for _, p := range f.body {
		n := len(out) - 1
		switch {
		case p.code == 10:
			out = append(out, vertex{at: r2.Point{X: f.value(p)}})
		case p.code == 20 && n >= 0:
			out[n].at.Y = f.value(p)
		case p.code == 42 && n >= 0:
			out[n].bulge = f.value(p)
		}
	}
	return out
}

// arc is that of an ARC, anticlockwise between two angles in degrees.
func (f *fields) arc() *ellipse {
	from, to := f.number(50), f.number(51)
	sweep := math.Mod(to-from, 360)
	if sweep <= 0 {
		sweep += 360
	}
	r := f.number(40)
	return &ellipse{centre: f.point(10, 20), rx: r, ry: r, start: from * math.Pi / 180, sweep: sweep * math.Pi / 180}
}

// facing is the way an entity's plane faces.
type facing int8

const (
	upward facing = iota
	downward
	tilted
)

// facing reads the extrusion direction, groups 210, 220 and 230.
func (f *fields) facing() facing {
	z, given := f.find(230)
	if !given {
		return upward
	}
	x, y, up := f.number(210), f.number(220), f.value(z)
	switch {
	case math.Abs(x) > 1e-6 || math.Abs(y) > 1e-6 || up == 0:
		return tilted
	case up < 0:
		return downward
	}
	return upward
}
