//go:build unix

package board

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// TestDisk walks a real folder: links in circles and out of it, and a pipe, which would never end.
func TestDisk(t *testing.T) {
	dir := t.TempDir()
	sites, out := filepath.Join(dir, "sites"), filepath.Join(dir, "outside.yaml")
	good := []byte(siteText(t, "pass_avocet-r36"))
	for _, err := range []error{
		os.MkdirAll(filepath.Join(sites, "north"), 0o755),
		os.WriteFile(filepath.Join(sites, "north", "a.yaml"), good, 0o644),
		os.WriteFile(out, good, 0o644),
		os.Symlink("loop.yaml", filepath.Join(sites, "loop.yaml")),
		os.Symlink("pong.yaml", filepath.Join(sites, "ping.yaml")),
		os.Symlink("ping.yaml", filepath.Join(sites, "pong.yaml")),
		os.Symlink("..", filepath.Join(sites, "north", "up")),
		os.Symlink(out, filepath.Join(sites, "out.yaml")),
		os.Symlink(filepath.Join("north", "a.yaml"), filepath.Join(sites, "link.yaml")),
		syscall.Mkfifo(filepath.Join(sites, "pipe.yaml"), 0o644),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	root, err := os.OpenRoot(sites)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	b := collect(t, root.FS())
	accounted(t, b, []string{"north/a.yaml", "loop.yaml", "ping.yaml", "pong.yaml", "north/up", "out.yaml", "link.yaml", "pipe.yaml"})
	if r := only(t, b); len(r.Files) != 2 {
		t.Errorf("got files %v, want the file and the link to it", r.Files)
	}
	for _, n := range b.Notes {
		if want := n.Files[0] != "north/up"; n.Fault != want {
			t.Errorf("%v: fault is %v, want %v", n, n.Fault, want)
		}
	}
	if !b.Blocks() {
		t.Error("links that lead nowhere don't count as faults")
	}
}
