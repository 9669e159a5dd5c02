package check

import (
	"fmt"

	"stowbay/layout/assembly"
)

var buildRules = []Rule{
	{"build.record", "a weak, damaged or mixed-up module that is built in", "common practice; the maker's own limits come first", buildRecord},
}

// buildRecord passes on what the inspection of the build record has to say.
func buildRecord(e *Evaluation) []Finding {
	b := e.Plan.Build
	if b == nil || len(b.Received) == 0 && len(b.Slots) == 0 {
		return nil
	}
	var out []Finding
	for _, r := range assembly.Inspect(e.Scene) {
		out = append(out, Finding{Severity: Severity(r.Grade), Subject: r.Of, Refs: []string{r.Of}, Required: r.Required, Actual: r.Actual,
			Compare: r.Compare, Unit: r.Unit, Text: r.Text, Source: r.Source})
	}
	if len(out) == 0 {
		in := len(assembly.Register(b, e.Arrangement.ID))
		out = append(out, Finding{Severity: Passes, Subject: "pack",
			Text: fmt.Sprintf("Nothing stands out in the build record: %s received, %s of %d filled.", counted(len(b.Received), "module"), counted(in, "slot"), e.Scene.Count())})
	}
	return out
}
