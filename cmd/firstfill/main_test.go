package main

import (
	"flag"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite what tests compare against")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"firstfill": main,
	})
}

// TestScripts runs the command as a user would.
func TestScripts(t *testing.T) {
	sites, err := filepath.Abs(filepath.Join("..", "..", "testdata"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join("testdata", "script"),
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("SITES", filepath.Join(sites, "sites"))
			e.Setenv("MACHINES", filepath.Join(sites, "machines"))
			e.Setenv("HOME", e.WorkDir)
			return nil
		},
		RequireExplicitExec: true,
	})
}
