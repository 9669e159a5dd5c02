package check

import "stowbay/layout"

// InsideBoxes returns what does not hold inside the boxes of a scene by their geometry alone: overlaps, gaps, strips,
// postures and support. It is what Evaluate finds of that, without the rest.
func InsideBoxes(s *layout.Scene) []Finding {
	var out []Finding
	fits := fitAll(s, fitCache{})
	for i, b := range s.Boxes {
		for _, br := range fits.byBox[i].breaches {
			f := br.finding(b)
			f.Rule = br.rule
			out = append(out, f)
		}
	}
	return out
}
