package board

import (
	"errors"
	"testing"
	"testing/fstest"
)

// TestTooManyEntries sees that a folder past the limit is an error, not a
// board with sites left out.
func TestTooManyEntries(t *testing.T) {
	file := &fstest.MapFile{Data: []byte("x")}
	w := &walker{fsys: fstest.MapFS{"a.txt": file, "b.txt": file}, entries: MaxEntries - 1}
	if err := w.walk(); !errors.Is(err, errTooMany) {
		t.Errorf("got %v", err)
	}
}
