package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) { testscript.Main(m, map[string]func(){"drawbar": main}) }

// TestCommands runs the scripts of testdata/script: what somebody types, and
// what the program answers.
func TestCommands(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script"})
}
