package report

import (
	"encoding/json"
	"maps"
	"math"
	"strings"

	"github.com/golang/geo/r3"

	"stowbay/layout"
	"stowbay/layout/check"
)

// Figures returns an arrangement's readings and findings as nested maps ready for JSON. A reading's key with dots
// becomes nested objects: "axles_kg.front" is axles_kg, front. The keys are stable; README lists the main ones.
// Readings that belong to a box, string or load case stand under "of", by its name.
func Figures(e *check.Evaluation) map[string]any {
	out := map[string]any{"plan": e.Plan.Name, "arrangement": e.Arrangement.ID, "donor": e.Plan.Donor}
	of := map[string]any{}
	for _, r := range e.Readings {
		into := out
		if r.Of != "" {
			into = child(of, r.Of)
		}
		set(into, strings.Split(r.Key, "."), number(r.Value))
	}
	if len(of) > 0 {
		out["of"] = of
	}
	out["findings"] = findings(e)
	out["counts"] = e.Counts()
	return out
}

// JSON returns the figures of several arrangements as an indented JSON list; of one, as a JSON object.
func JSON(es ...*check.Evaluation) ([]byte, error) {
	var v any
	all := make([]map[string]any, len(es))
	for i, e := range es {
		all[i] = Figures(e)
	}
	v = all
	if len(all) == 1 {
		v = all[0]
	}
	b, err := json.MarshalIndent(v, "", "  ")
	return append(b, '\n'), err
}

func child(m map[string]any, key string) map[string]any {
	c, ok := m[key].(map[string]any)
	if !ok {
		c = map[string]any{}
		if old, had := m[key]; had {
			c["value"] = old
		}
		m[key] = c
	}
	return c
}

func set(m map[string]any, path []string, v any) {
	for _, k := range path[:len(path)-1] {
		m = child(m, k)
	}
	last := path[len(path)-1]
	if c, ok := m[last].(map[string]any); ok {
		c["value"] = v
		return
	}
	m[last] = v
}

// number returns v as JSON can hold it: what is not finite becomes null.
func number(v float64) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return v
}

func findings(e *check.Evaluation) []map[string]any {
	out := make([]map[string]any, 0, len(e.Findings))
	for _, f := range e.Findings {
		m := map[string]any{
			"rule": f.Rule, "severity": f.Severity, "subject": f.Subject, "required": number(f.Required), "actual": number(f.Actual),
			"compare": f.Compare, "unit": f.Unit, "text": f.Text, "source": f.Source,
		}
		maps.Copy(m, place("place_mm", f.Place))
		out = append(out, m)
	}
	return out
}

func place(key string, v *r3.Vector) map[string]any {
	if v == nil {
		return nil
	}
	return map[string]any{key: []any{number(v.X), number(v.Y), number(v.Z)}}
}

// Value formats a reading as shown: value, uncertainty where known, unit.
func Value(r layout.Reading) string {
	s := trim(r.Value)
	if r.PlusMinus > 0 {
		s += " ± " + trim(r.PlusMinus)
	}
	if r.Unit != "" {
		s += " " + r.Unit
	}
	return s
}
