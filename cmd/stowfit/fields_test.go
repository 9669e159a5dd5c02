package main

import (
	"bytes"
	"os"
	"testing"
)

// The field reference in the repository is what the program writes.
func TestFieldReferenceIsUpToDate(t *testing.T) {
	var out bytes.Buffer
	c := fieldsCommand()
	c.SetArgs(nil)
	c.SetOut(&out)
	if err := c.Execute(); err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("../../testdata/FIELDS.md")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), want) {
		t.Error("testdata/FIELDS.md is out of date: run 'make docs'")
	}
}
