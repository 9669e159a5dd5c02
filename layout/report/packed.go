package report

import (
	"fmt"
	"strings"

	"stowbay/layout/fill"
)

// PackingLines says box by box what the packing found and what proves it.
func PackingLines(title string, outs []fill.Outcome) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Packing %s\n", title)
	for _, o := range outs {
		fmt.Fprintf(&b, "  %-22s %s", o.ID(), o.Words())
		if why := o.Result.Reason; why != "" {
			fmt.Fprintf(&b, ": %s", why)
		}
		fmt.Fprintln(&b)
	}
	return b.String()
}
