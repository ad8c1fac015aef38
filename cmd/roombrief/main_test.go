package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"roombrief": main})
}

// TestScripts runs the built program as its users call it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_CONFIG_HOME", e.WorkDir+"/config")
			e.Setenv("XDG_STATE_HOME", e.WorkDir+"/state")
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("SOURCE_DATE_EPOCH", "1774958400") // 31 March 2026
			return copyHomes(e.WorkDir)
		},
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
	})
}
