package dxf

import (
	"bufio"
	"fmt"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
)

// writer writes DXF's pairs of a group code and a value, each on its own line.
type writer struct{ b *bufio.Writer }

func (w writer) pair(code int, value string) {
	fmt.Fprintf(w.b, "%3d\r\n%s\r\n", code, value)
}

func (w writer) count(code, n int) { w.pair(code, strconv.Itoa(n)) }

// number writes a length to a tenth of a micrometre.
func (w writer) number(code int, v float64) {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	if s == "-0.0000" {
		s = "0.0000"
	}
	w.pair(code, s)
}

// point writes a place as the three groups that begin with code.
func (w writer) point(code int, q r2.Point) {
	w.number(code, q.X)
	w.number(code+10, q.Y)
	w.number(code+20, 0)
}

func (w writer) section(name string) {
	w.pair(0, "SECTION")
	w.pair(2, name)
}

func (w writer) entity(kind, layer string) {
	w.pair(0, kind)
	w.pair(8, layer)
}

func (w writer) line(layer string, a, b r2.Point) {
	w.entity("LINE", layer)
	w.point(10, a)
	w.point(11, b)
}

func (w writer) circle(layer string, centre r2.Point, radius float64) {
	w.entity("CIRCLE", layer)
	w.point(10, centre)
	w.number(40, radius)
}

func (w writer) polyline(layer string, ps []r2.Point, closed bool) {
	w.entity("POLYLINE", layer)
	w.count(66, 1)
	w.point(10, r2.Point{})
	flag := 0
	if closed {
		flag = 1
	}
	w.count(70, flag)
	for _, q := range ps {
		w.entity("VERTEX", layer)
		w.point(10, q)
	}
	w.entity("SEQEND", layer)
}

// plain writes letters outside ASCII as their code points, which readers of release 12 files take.
func plain(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < ' ':
			b.WriteByte(' ')
		case r < 0x7f:
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, "\\U+%04X", r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}
