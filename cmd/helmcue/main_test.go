package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		os.Exit(run(os.Args[1:]))
	}
	testscript.Main(m, map[string]func(){"helmcue": func() { os.Exit(run(os.Args[1:])) }})
}

// The scripts are sessions at a terminal: what is typed, what is answered.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", Setup: func(e *testscript.Env) error {
		wd, err := os.Getwd()
		e.Setenv("REAL", wd+"/../../testdata/real")
		return err
	}})
}
