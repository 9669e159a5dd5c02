package view

import "testing"

// The inch is 25.4 mm and the pound 0.45359237 kg by the international yard and pound agreement of 1959.
func TestProse(t *testing.T) {
	for in, want := range map[string]string{
		"the gap is 4 mm; 6 mm are needed":          "the gap is 0.16 in; 0.24 in are needed",
		"carries 1099 ± 3 kg; at most 1100 kg":      "carries 2423 ± 6.6 lb; at most 2425 lb",
		"weighs 3 kg, 4.5 kg or 120 ± 12 kg":        "weighs 6.6 lb, 9.9 lb or 265 ± 26 lb",
		"5 to 15 mm is common practice":             "0.20 to 0.59 in is common practice",
		"a sheet of 600 × 400 mm":                   "a sheet of 23.6 × 15.7 in",
		"clearance 190 mm, 12.5 mm and 0.8 mm":      "clearance 7.5 in, 0.49 in and 0.031 in",
		"3000 mm long, 30.5 mm high":                "118.1 in long, 1.20 in high",
		"+25.4 mm, −254 mm, 0 mm":                   "+1 in, −10 in, 0 in",
		"201 mm are left, 200 mm are needed":        "7.91 in are left, 7.87 in are needed",
		"200 mm are left, 200 mm are needed":        "7.9 in are left, 7.9 in are needed",
		"70 mm² of copper, 94 kg m², 2 kg/m, 5 mmx": "70 mm² of copper, 94 kg m², 2 kg/m, 5 mmx",
		"m12 mm stays a name, as in box3 mm":        "m12 mm stays a name, as in box3 mm",
		"60 V, 400 A, 10 %":                         "60 V, 400 A, 10 %",
	} {
		if got := Imperial.Prose(in); got != want {
			t.Errorf("%q\n gives %q\n want  %q", in, got, want)
		}
		if Metric.Prose(in) != in {
			t.Errorf("%q is changed in metric units", in)
		}
	}
}
