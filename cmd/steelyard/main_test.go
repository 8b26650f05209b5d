package main

import (
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"steelyard": func() { os.Exit(run(os.Args[1:], streams{in: os.Stdin, out: os.Stdout, err: os.Stderr})) },
	})
}

// Each script is a page of the manual: what is typed, what comes out.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata", UpdateScripts: os.Getenv("UPDATE") != "", Setup: func(e *testscript.Env) error {
		own, _, _ := strings.Cut(e.Getenv("PATH"), string(os.PathListSeparator))
		e.Setenv("OWN", own) // a path with steelyard and nothing else
		return nil
	}})
}
