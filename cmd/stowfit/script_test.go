package main

import (
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"stowbay/layout/demo"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"stowfit": main})
}

// The scripts say what each command does, what it prints and with which code it ends. plan.yaml in each script's folder
// is the demonstration plan.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(env *testscript.Env) error {
			return os.WriteFile(filepath.Join(env.WorkDir, "plan.yaml"), demo.File(), 0o666)
		},
		Condition: condition,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "jsonhas": jsonHas, "lists": lists, "tinydisk": tinyDisk, "fill": fillDisk, "readonly": readOnly,
		},
		RequireUniqueNames: true,
	})
}

// condition knows [superuser], to whom no folder is closed, and [tinydisk]: whether small disks can be made here.
func condition(name string) (bool, error) {
	switch name {
	case "superuser":
		return os.Geteuid() == 0, nil
	case "tinydisk":
		return canMakeDisks(), nil
	}
	return false, errors.New("unknown condition " + name)
}

// exits runs a command that has to end with one of the codes given: exits CODE[/CODE] COMMAND ARGS...
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARGS...")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	var e *exec.ExitError
	if errors.As(err, &e) {
		code = e.ExitCode()
	} else {
		ts.Check(err)
	}
	if !slices.Contains(strings.Split(args[0], "/"), strconv.Itoa(code)) {
		ts.Fatalf("%s: exit code %d, want %s", strings.Join(args[1:], " "), code, args[0])
	}
}

// jsonHas checks that a JSON file, or stdout, has values: jsonhas FILE KEY... where a key is a path as a.b[].c. What
// stands under [] has to be in every entry of a list that has some.
func jsonHas(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: jsonhas FILE KEY...")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &v))
	for _, key := range args[1:] {
		if !has(v, strings.Split(key, ".")) {
			ts.Fatalf("%s: no %s", args[0], key)
		}
	}
}

func has(v any, path []string) bool {
	if len(path) == 0 {
		return v != nil
	}
	key, list := strings.CutSuffix(path[0], "[]")
	if key != "" {
		m, _ := v.(map[string]any)
		if v = m[key]; v == nil {
			return false
		}
	}
	if !list {
		return has(v, path[1:])
	}
	entries, _ := v.([]any)
	for _, e := range entries {
		if !has(e, path[1:]) {
			return false
		}
	}
	return len(entries) > 0
}

// lists checks what is in a folder, no more and no less: lists DIR NAME...
func lists(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: lists DIR NAME...")
	}
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(args[1:], " ") {
		ts.Fatalf("%s holds %q, want %q", args[0], got, args[1:])
	}
}
