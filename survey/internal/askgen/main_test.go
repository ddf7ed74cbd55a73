package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestAskIsCurrent sees that the Go values of the answers are those of the
// table of fields; "go generate ./survey" writes them anew.
func TestAskIsCurrent(t *testing.T) {
	want, err := Source()
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join("..", "..", "ask_gen.go"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("survey/ask_gen.go is not what the table of fields says; run go generate ./survey")
	}
}
