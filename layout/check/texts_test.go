package check_test

import (
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/layout/demo"
	"stowbay/vehicles"
)

var (
	slips    = []string{"%!", "NaN", "Inf", "<nil>", "  ", " .", " ,", "..", ",.", "(s)", "(es)", "safe to", "approved", "complies"}
	onlyOne  = regexp.MustCompile(`(^|[ (])1 (modules|boxes|cells|bodies|bolts|feet|places|strings|slots|links|covers|joints|branches|plates|contacts|occupants|terminals|sensors|boards)\b`)
	comparer = map[string]bool{"": true, "at least": true, "at most": true}
)

// illFormed says what is wrong with the form of a finding; "" where nothing is.
func illFormed(f check.Finding) string {
	n := utf8.RuneCountInString(f.Text)
	switch {
	case n < 15 || n > 600:
		return "has " + strconv.Itoa(n) + " characters"
	case !strings.HasSuffix(f.Text, ".") && !strings.HasSuffix(f.Text, "?"):
		return "does not end like a sentence"
	case strings.TrimSpace(f.Text) != f.Text || strings.ContainsAny(f.Text, "\n\t"):
		return "has blanks around it or several lines"
	case f.Subject == "" || f.Source == "" || f.Rule == "":
		return "has no subject, source or rule"
	case !comparer[f.Compare]:
		return "compares " + f.Compare
	case onlyOne.MatchString(f.Text):
		return "says one of many"
	}
	for _, s := range slips {
		if strings.Contains(f.Text, s) {
			return "says " + strconv.Quote(s)
		}
	}
	return ""
}

// Findings of the demonstration, of the plans of the tests and of the demonstration spoilt by chance read like sentences.
func TestFindingsReadLikeSentences(t *testing.T) {
	rules, plans := map[string]bool{}, 0
	look := func(p *layout.Plan) {
		plans++
		lib := p.LibraryOver(vehicles.Catalogue())
		for _, a := range p.Arrangements {
			for _, f := range check.Evaluate(p, a, lib, nil).Findings {
				rules[f.Rule] = true
				if wrong := illFormed(f); wrong != "" {
					t.Errorf("%s of %s: %q %s", f.Rule, f.Subject, f.Text, wrong)
				}
			}
		}
	}
	p, err := demo.Plan()
	if err != nil {
		t.Fatal(err)
	}
	look(p)
	files, _ := filepath.Glob("../../testdata/plans/*.yaml")
	for _, name := range files {
		p, err := layout.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		look(p)
	}
	for _, text := range poorer(demo.File(), 24) {
		if p, err := layout.ParseOver("plan.yaml", []byte(text), vehicles.Catalogue()); err == nil {
			look(p)
		}
	}
	if len(rules) < 60 {
		t.Errorf("only %d rules spoke", len(rules))
	}
	t.Logf("%d rules in %d plans", len(rules), plans)
}

var number = regexp.MustCompile(`-?\b\d+(\.\d+)?\b`)

// poorer gives copies of a plan with some of their numbers changed: things stand in each other, out of reach and too near.
func poorer(file []byte, n int) []string {
	r := rand.New(rand.NewPCG(3, 4))
	out := make([]string, n)
	for i := range out {
		lines := strings.Split(string(file), "\n")
		for k, line := range lines {
			if strings.Contains(line, "_mm:") && r.IntN(12) == 0 {
				lines[k] = number.ReplaceAllStringFunc(line, func(s string) string { return changed(r, s) })
			}
		}
		out[i] = strings.Join(lines, "\n")
	}
	return out
}

func changed(r *rand.Rand, s string) string {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return s
	}
	return strconv.Itoa(int(v * (0.7 + 0.6*r.Float64())))
}
