//go:build !linux

package main

import "github.com/rogpeppe/go-internal/testscript"

func canMakeDisks() bool { return false }

func tinyDisk(ts *testscript.TestScript, neg bool, args []string) { ts.Fatalf("only on Linux") }
func fillDisk(ts *testscript.TestScript, neg bool, args []string) { ts.Fatalf("only on Linux") }
func readOnly(ts *testscript.TestScript, neg bool, args []string) { ts.Fatalf("only on Linux") }
