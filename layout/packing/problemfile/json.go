package problemfile

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"time"

	"stowbay/layout/packing"
)

// Answer is what [RunJSON] writes. X and Y of a placement are the least corner of
// the turned footprint in mm; Turn is in degrees.
type Answer struct {
	Count      int        `json:"count"`
	Bound      int        `json:"bound"`
	Proved     bool       `json:"proved"`
	GridProved bool       `json:"grid_proved,omitempty"`
	GridMM     float64    `json:"grid_mm,omitempty"`
	Argument   string     `json:"argument"`
	Seconds    float64    `json:"seconds"`
	Placements []Standing `json:"placements"`
}

// Standing is one placement of an [Answer].
type Standing struct {
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Turn int     `json:"turn"`
}

// RunJSON reads one problem, solves it and writes an [Answer]. The problem is
//
//	{"region": {"outline": [[x,y],...], "keep_outs": [[[x,y],...],...]},
//	 "module": {"length": a, "width": b}, "limit_s": 10}
//
// with keep_outs and limit_s optional.
func RunJSON(ctx context.Context, r io.Reader, w io.Writer) error {
	p, err := ReadJSON(r)
	if err != nil {
		return err
	}
	res, err := packing.Solve(ctx, p, nil)
	if err != nil {
		return err
	}
	a := Answer{Count: res.Count, Bound: res.Bound, Proved: res.Proved, GridProved: res.GridProved,
		GridMM: res.GridMM, Argument: res.Argument, Seconds: res.Elapsed.Seconds(), Placements: []Standing{}}
	for _, q := range res.Placements {
		a.Placements = append(a.Placements, Standing{q.X, q.Y, q.Turn})
	}
	text, err := json.MarshalIndent(a, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// ReadJSON reads the problem of [RunJSON].
func ReadJSON(r io.Reader) (packing.Problem, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return packing.Problem{}, err
	}
	if len(text) > maxBytes {
		return packing.Problem{}, Errors{"1:1: file: too long, at most 64 MiB is allowed"}
	}
	d := newDocument(text)
	root, ok := d.parse()
	if !ok {
		return packing.Problem{}, d.list
	}
	fields := d.object(root, "", map[string]bool{"region": true, "module": true, "limit_s": false})
	region := d.region(fields["region"])
	length, width := d.module(fields["module"])
	limit := 10.0
	if n := fields["limit_s"]; n != nil {
		limit = d.number(n, "limit_s", 0.001, 86_400)
	}
	p := flat(region, length, width, time.Duration(limit*float64(time.Second)), 0)
	if d.list == nil {
		d.shape(&p, fields["region"])
	}
	if d.list != nil {
		return packing.Problem{}, d.list
	}
	return p, nil
}

func (d *document) region(n *node) packing.Region {
	if n == nil {
		return packing.Region{}
	}
	fields := d.object(n, "region", map[string]bool{"outline": true, "keep_outs": false})
	var out packing.Region
	out.Outline = d.ring(fields["outline"], "region.outline")
	if k := fields["keep_outs"]; k != nil {
		for i, r := range d.array(k, "region.keep_outs") {
			out.KeepOuts = append(out.KeepOuts, d.ring(r, indexed("region.keep_outs", i)))
		}
	}
	return out
}

func (d *document) ring(n *node, path string) []packing.Point {
	if n == nil {
		return nil
	}
	corners := d.array(n, path)
	if len(corners) > packing.MaxCorners {
		d.fault(n, "%s: %d corners, at most %d are allowed", path, len(corners), packing.MaxCorners)
		return nil
	}
	var out []packing.Point
	for i, c := range corners {
		at := indexed(path, i)
		xy := d.array(c, at)
		if len(xy) != 2 {
			d.fault(c, "%s: %d values, a corner is [x, y]", at, len(xy))
			continue
		}
		out = append(out, packing.Point{
			X: d.number(xy[0], at+"[0]", -packing.MaxMM, packing.MaxMM),
			Y: d.number(xy[1], at+"[1]", -packing.MaxMM, packing.MaxMM)})
	}
	return out
}

func (d *document) module(n *node) (length, width float64) {
	if n == nil {
		return 1, 1
	}
	fields := d.object(n, "module", map[string]bool{"length": true, "width": true})
	length, width = 1, 1
	if f := fields["length"]; f != nil {
		length = d.number(f, "module.length", 0.01, packing.MaxMM)
	}
	if f := fields["width"]; f != nil {
		width = d.number(f, "module.width", 0.01, packing.MaxMM)
	}
	return length, width
}

// shape reports faults of form: rings without area or crossing themselves.
func (d *document) shape(p *packing.Problem, region *node) {
	err := p.Validate()
	var all packing.Errors
	if !errors.As(err, &all) {
		return
	}
	for _, e := range all {
		d.fault(region, "%s", bytes.TrimPrefix([]byte(e), []byte("bays[0].levels[0].")))
	}
}
