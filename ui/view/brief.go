package view

import (
	"fmt"
	"strings"

	"stowbay/layout/check"
)

// InBrief says in a line or two what an arrangement comes to.
func InBrief(e *check.Evaluation, u Units) string {
	var out []string
	n := int(e.Value("count"))
	out = append(out, many(n, "module"))
	if r, ok := e.Reading("voltage_v.nominal"); ok {
		out = append(out, u.Text(r.Value, "V"))
	}
	for _, key := range []string{"energy_kwh", "mass_kg", "payload_kg"} {
		if r, ok := e.Reading(key); ok {
			out = append(out, map[string]string{"energy_kwh": "", "mass_kg": "kerb ", "payload_kg": "payload "}[key]+u.Text(r.Value, r.Unit))
		}
	}
	c := e.Counts()
	return strings.Join(out, ", ") + fmt.Sprintf(". %d fail, %d warn.", c[check.Fails], c[check.Warns])
}
