package problemfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
)

// node is a JSON value with the place where it starts.
type node struct {
	offset int64
	value  json.Token // for scalars
	kind   byte       // '{', '[' or 's' for a scalar
	names  []string
	items  []*node
}

// document is a JSON text being read, gathering its faults.
type document struct {
	faults
	text []byte
	dec  *json.Decoder
}

func newDocument(text []byte) *document {
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	return &document{text: text, dec: dec}
}

func (d *document) fault(n *node, format string, args ...any) {
	line, column := d.place(n.offset)
	d.addf(line, column, format, args...)
}

// place turns a byte offset into line and column, both from 1.
func (d *document) place(offset int64) (line, column int) {
	before := d.text[:min(offset, int64(len(d.text)))]
	return 1 + bytes.Count(before, []byte("\n")), len(before) - bytes.LastIndexByte(before, '\n')
}

// parse reads the whole text as one object.
func (d *document) parse() (*node, bool) {
	root, err := d.read(0)
	if err == nil && root.kind != '{' {
		d.fault(root, "file: an object {...} is needed")
		return nil, false
	}
	if err == nil {
		if _, more := d.dec.Token(); more == nil {
			d.fault(&node{offset: d.dec.InputOffset()}, "file: more text after the object")
			return nil, false
		}
		return root, true
	}
	at := d.dec.InputOffset()
	var bad *json.SyntaxError
	if errors.As(err, &bad) {
		at = bad.Offset
	}
	d.fault(&node{offset: at}, "file: not valid JSON: %v", err)
	return nil, false
}

const maxDepth = 8

func (d *document) read(depth int) (*node, error) {
	if depth > maxDepth {
		return nil, fmt.Errorf("nested deeper than %d", maxDepth)
	}
	start := d.dec.InputOffset()
	tok, err := d.dec.Token()
	if err != nil {
		return nil, err
	}
	n := &node{offset: d.skipTo(start), kind: 's', value: tok}
	delim, isDelim := tok.(json.Delim)
	if !isDelim {
		return n, nil
	}
	n.kind = byte(delim)
	for d.dec.More() {
		if n.kind == '{' {
			name, err := d.dec.Token()
			if err != nil {
				return nil, err
			}
			n.names = append(n.names, name.(string))
		}
		item, err := d.read(depth + 1)
		if err != nil {
			return nil, err
		}
		n.items = append(n.items, item)
	}
	_, err = d.dec.Token()
	return n, err
}

// skipTo moves an offset past blanks and separators to the value that follows.
func (d *document) skipTo(offset int64) int64 {
	for offset < int64(len(d.text)) && bytes.IndexByte([]byte(" \t\r\n,:"), d.text[offset]) >= 0 {
		offset++
	}
	return offset
}

// object gives the fields of an object; known says which are needed.
func (d *document) object(n *node, path string, known map[string]bool) map[string]*node {
	out := map[string]*node{}
	if n.kind != '{' {
		d.fault(n, "%s: an object {...} is needed", path)
		return out
	}
	for i, name := range n.names {
		if _, ok := known[name]; !ok {
			d.fault(n.items[i], "%s: unknown field, allowed are %s", joined(path, name), allowed(known))
			continue
		}
		if out[name] != nil {
			d.fault(n.items[i], "%s: given twice", joined(path, name))
		}
		out[name] = n.items[i]
	}
	for _, name := range sorted(known) {
		if known[name] && out[name] == nil {
			d.fault(n, "%s: missing", joined(path, name))
		}
	}
	return out
}

func (d *document) array(n *node, path string) []*node {
	if n.kind != '[' {
		d.fault(n, "%s: a list [...] is needed", path)
		return nil
	}
	return n.items
}

func (d *document) number(n *node, path string, lo, hi float64) float64 {
	text, ok := n.value.(json.Number)
	if !ok || n.kind != 's' {
		d.fault(n, "%s: a number is needed", path)
		return lo
	}
	v, err := strconv.ParseFloat(string(text), 64)
	if err != nil || math.IsNaN(v) || v < lo || v > hi {
		d.fault(n, "%s: %s, from %v to %v is allowed", path, text, lo, hi)
		return lo
	}
	return v
}

func indexed(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

func joined(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
