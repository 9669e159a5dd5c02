package assembly

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"stowbay/layout"
	"stowbay/vehicles/record"
)

// column is one column of the table of received modules.
type column struct {
	name string
	get  func(*layout.Received) string
	set  func(*layout.Received, string) error
}

var receivedColumns = []column{
	text("shop_number", func(r *layout.Received) *string { return &r.Shop }),
	text("serial", func(r *layout.Received) *string { return &r.Serial }),
	text("module", func(r *layout.Received) *string { return &r.Module }),
	text("date", func(r *layout.Received) *string { return &r.Date }),
	text("by", func(r *layout.Received) *string { return &r.By }),
	{"cells_v", cellsText, setCells},
	number("milliohm", func(r *layout.Received) *float64 { return &r.MilliOhm }),
	number("capacity_ah", func(r *layout.Received) *float64 { return &r.CapacityAh }),
	text("note", func(r *layout.Received) *string { return &r.Note }),
	{"refused", func(r *layout.Received) string { return map[bool]string{true: "yes"}[r.Refused] }, setRefused},
}

func text(name string, at func(*layout.Received) *string) column {
	return column{name, func(r *layout.Received) string { return *at(r) }, func(r *layout.Received, s string) error { *at(r) = s; return nil }}
}

func number(name string, at func(*layout.Received) *float64) column {
	return column{name, func(r *layout.Received) string { return plain(*at(r)) }, func(r *layout.Received, s string) error {
		v, err := figure(s)
		*at(r) = v
		return err
	}}
}

func plain(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func figure(s string) (float64, error) {
	if s == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || v != v {
		return 0, fmt.Errorf("%q is no number; allowed is a number with a decimal point, like 3.281, or nothing", s)
	}
	return v, nil
}

func cellsText(r *layout.Received) string {
	out := make([]string, len(r.CellsV))
	for i, v := range r.CellsV {
		out[i] = strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strings.Join(out, " ")
}

func setCells(r *layout.Received, s string) error {
	for _, f := range strings.Fields(s) {
		v, err := figure(f)
		if err != nil {
			return fmt.Errorf("%q is no voltage; allowed are numbers with blanks between them, from the negative end on, like 3.281 3.279", f)
		}
		r.CellsV = append(r.CellsV, v)
	}
	return nil
}

func setRefused(r *layout.Received, s string) error {
	switch strings.ToLower(s) {
	case "yes":
		r.Refused = true
	case "", "no":
	default:
		return fmt.Errorf("%q is neither yes nor no", s)
	}
	return nil
}

// ExportReceived writes received modules as comma-separated values with a head line (RFC 4180).
// [ImportReceived] reads them back equal.
func ExportReceived(rs []layout.Received) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	line := make([]string, len(receivedColumns))
	for i, c := range receivedColumns {
		line[i] = c.name
	}
	err := w.Write(line)
	for k := range rs {
		for i, c := range receivedColumns {
			line[i] = c.get(&rs[k])
		}
		err = errors.Join(err, w.Write(line))
	}
	w.Flush()
	return b.Bytes(), errors.Join(err, w.Error())
}

// ImportReceived reads modules as they arrived from comma-separated values. The head line names the columns, in any
// order: shop_number and module are needed; serial, date, by, cells_v (voltages with blanks between), milliohm,
// capacity_ah, note and refused (yes or no) may be left out; no others are allowed. Modules that the build record has
// already are refused, as nothing in it is ever overwritten. An error is a record.Problems with every problem, each with
// its line and column; then nothing is read.
func ImportReceived(file string, data []byte, have *layout.Build) ([]layout.Received, error) {
	in := importer{file: file, r: csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")))), lines: map[string]int{}}
	in.r.FieldsPerRecord = -1
	in.known(have)
	in.head()
	for in.columns != nil && in.line() {
	}
	if len(in.problems) > 0 {
		return nil, in.problems
	}
	return in.out, nil
}

type importer struct {
	file     string
	r        *csv.Reader
	columns  []*column
	lines    map[string]int // shop number to line; 0: in the record already
	out      []layout.Received
	problems record.Problems
}

func (in *importer) known(have *layout.Build) {
	if have == nil {
		return
	}
	for i := range have.Received {
		in.lines[have.Received[i].Shop] = 0
	}
}

// problem notes something wrong in field i of the line just read.
func (in *importer) problem(i int, path, msg string) {
	p := record.Problem{File: in.file, Path: path, Msg: msg}
	p.Line, p.Column = in.r.FieldPos(i)
	in.problems = append(in.problems, p)
}

// broken notes what keeps a line from being read at all.
func (in *importer) broken(err error) {
	p := record.Problem{File: in.file, Line: 1, Column: 1, Msg: err.Error()}
	var bad *csv.ParseError
	if errors.As(err, &bad) {
		p.Line, p.Column, p.Msg = bad.Line, max(bad.Column, 1), bad.Err.Error()
	}
	in.problems = append(in.problems, p)
}

func (in *importer) head() {
	names, err := in.r.Read()
	if err == io.EOF {
		in.problems = append(in.problems, record.Problem{File: in.file, Line: 1, Column: 1, Msg: "the file is empty; it needs a head line that names the columns: " + columnNames()})
		return
	}
	if err != nil {
		in.broken(err)
		return
	}
	seen := map[string]bool{}
	columns := make([]*column, len(names))
	for i, n := range names {
		n = strings.TrimSpace(n)
		columns[i] = find(n)
		switch {
		case columns[i] == nil:
			in.problem(i, n, "there is no such column; allowed are "+columnNames())
		case seen[n]:
			in.problem(i, n, "the column is there twice")
		}
		seen[n] = true
	}
	for _, n := range []string{"shop_number", "module"} {
		if !seen[n] {
			in.problem(0, n, "this column is needed")
		}
	}
	if len(in.problems) == 0 {
		in.columns = columns
	}
}

func find(name string) *column {
	for i := range receivedColumns {
		if receivedColumns[i].name == name {
			return &receivedColumns[i]
		}
	}
	return nil
}

func columnNames() string {
	out := make([]string, len(receivedColumns))
	for i, c := range receivedColumns {
		out[i] = c.name
	}
	return strings.Join(out, ", ")
}

// line reads a line; false at the end or where nothing more can be read.
func (in *importer) line() bool {
	fields, err := in.r.Read()
	if err == io.EOF {
		return false
	}
	if err != nil {
		in.broken(err)
		return false
	}
	if len(fields) != len(in.columns) {
		in.problem(0, "", fmt.Sprintf("%d fields; the head line names %d columns", len(fields), len(in.columns)))
		return true
	}
	var r layout.Received
	for i, c := range in.columns {
		if err := c.set(&r, strings.TrimSpace(fields[i])); err != nil {
			in.problem(i, c.name, err.Error())
		}
	}
	in.take(r)
	return true
}

// take checks an entry as the plan's own record is checked, also one with fields that cannot be read: every problem is
// told at once, and with any problem nothing is handed out.
func (in *importer) take(r layout.Received) {
	for _, p := range record.Check(&r) {
		in.problem(in.fieldOf(p.Path), p.Path, p.Msg)
	}
	line, _ := in.r.FieldPos(0)
	if at, twice := in.lines[r.Shop]; twice && r.Shop != "" {
		where := "is in the build record already; entries are never overwritten"
		if at > 0 {
			where = fmt.Sprintf("is in line %d already; each module needs a number of its own", at)
		}
		in.problem(in.fieldOf("shop_number"), "shop_number", fmt.Sprintf("%q %s", r.Shop, where))
	}
	in.lines[r.Shop] = line
	in.out = append(in.out, r)
}

func (in *importer) fieldOf(path string) int {
	name, _, _ := strings.Cut(path, "[")
	for i, c := range in.columns {
		if c.name == name {
			return i
		}
	}
	return 0
}
