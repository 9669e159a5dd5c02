package report_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowbay/layout"
	"stowbay/layout/report"
)

// Names that no reader lets in, had they come in otherwise: files made of them stay in the folder named.
func TestNamesThatLeadOutOfTheFolder(t *testing.T) {
	p, _ := demonstration(t)
	q := *p
	q.Arrangements = nil
	for i, a := range p.Arrangements[:2] {
		b := *a
		b.ID = []string{"../../out", `..\..\out`}[i]
		b.Boxes = []*layout.Box{renamed(a.Boxes[0], "/etc/box"), renamed(a.Boxes[0], "../../../box")}
		b.Strings, b.Cables, b.Mirrors = nil, nil, nil
		q.Arrangements = append(q.Arrangements, &b)
	}
	top := t.TempDir()
	dir := filepath.Join(top, "a", "b", "report")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if _, err := report.WriteAll(context.Background(), dir, &q, evaluated(&q), report.Options{Sections: []string{"cautions"}, Source: []byte("x")}); err != nil {
		t.Fatal(err)
	}
	all := written(t, top)
	for _, name := range all {
		if !strings.HasPrefix(name, "a/b/report/") {
			t.Errorf("%s was written", name)
		}
	}
	if len(all) < 10 {
		t.Errorf("only %v", all)
	}
}

func renamed(b *layout.Box, id string) *layout.Box {
	c := *b
	c.ID = id
	return &c
}
