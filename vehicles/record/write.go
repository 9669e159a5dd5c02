package record

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Write gives a record as a file: fields in the order of the struct, absent optional fields left out, points and
// short lists in one line, numbers with the fewest digits that read back equal. The same value always gives the same bytes, and
// reading them gives an equal value where [Check] finds nothing (a list that is empty may come back nil).
//
// v is a struct or a pointer to one. Numbers that are not finite and texts that are not valid are an error.
func Write(v any) ([]byte, error) {
	rv := reflect.Indirect(reflect.ValueOf(v))
	if rv.Kind() != reflect.Struct {
		return nil, fmt.Errorf("record: Write needs a struct, not %T", v)
	}
	n, err := encode(rv, nil)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	enc := yaml.NewEncoder(&buf)
	enc.SetIndent(2)
	if err := enc.Encode(n); err != nil {
		return nil, err
	}
	if err := enc.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

func encode(v reflect.Value, p *trail) (*yaml.Node, error) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil, nil
		}
		return encode(v.Elem(), p)
	case reflect.Struct:
		return encodeStruct(v, p)
	case reflect.Slice, reflect.Array:
		return encodeList(v, p)
	}
	return encodeScalar(v, p)
}

func encodeStruct(v reflect.Value, p *trail) (*yaml.Node, error) {
	s, err := schemaOf(v.Type())
	if err != nil {
		return nil, err
	}
	n := &yaml.Node{Kind: yaml.MappingNode}
	for _, f := range s.fields {
		fv := v.FieldByIndex(f.index)
		if f.omitEmpty && isEmpty(fv) {
			continue
		}
		c, err := encode(fv, p.field(f.name))
		if err != nil {
			return nil, err
		}
		if c != nil {
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: f.name}, c)
		}
	}
	if len(n.Content) == 0 {
		n.Style = yaml.FlowStyle // {}
	}
	return n, nil
}

func encodeList(v reflect.Value, p *trail) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.SequenceNode}
	if k := v.Type().Elem().Kind(); v.Len() == 0 || k != reflect.Struct && k != reflect.Slice && k != reflect.Array && k != reflect.Pointer {
		n.Style = yaml.FlowStyle
	}
	for i := range v.Len() {
		c, err := encode(v.Index(i), p.item(i))
		if err != nil {
			return nil, err
		}
		if c == nil {
			return nil, fmt.Errorf("%s: is missing", p.item(i))
		}
		n.Content = append(n.Content, c)
	}
	return n, nil
}

func encodeScalar(v reflect.Value, p *trail) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.ScalarNode}
	switch v.Kind() {
	case reflect.Bool:
		n.Value = strconv.FormatBool(v.Bool())
	case reflect.Int, reflect.Int64:
		n.Value = strconv.FormatInt(v.Int(), 10)
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("%s: is not a finite number", p)
		}
		n.Value = formatNumber(v.Float())
	case reflect.String:
		if msg := textProblem(v.String()); msg != "" {
			return nil, fmt.Errorf("%s: %s", p, msg)
		}
		n.SetString(v.String())
		if strings.ContainsAny(n.Value, "\n\t") || n.Value == "<<" { // the encoder leaves a bare merge sign unquoted
			n.Style = yaml.DoubleQuotedStyle
		}
	default:
		return nil, fmt.Errorf("%s: type %v is not supported", p, v.Type())
	}
	return n, nil
}
