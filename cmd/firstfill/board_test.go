package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestBoardExitCodes wants the codes themselves, which a script only tells apart from 0.
func TestBoardExitCodes(t *testing.T) {
	d := newDesk(t)
	if err := os.Mkdir(d.path("sites"), 0o755); err != nil {
		t.Fatal(err)
	}
	d.run(2, "board", "DIR/nowhere")
	d.run(2, "board", "DIR/sites")
	d.site("sites/a.yaml", "pass_avocet-r36")
	d.run(0, "board", "DIR/sites", "--date", "2026-11-25")
	d.site("sites/b.yaml", "block_way")
	d.run(1, "board", "DIR/sites", "--date", "2026-11-25")
	d.run(2, "board", "DIR/sites", "--date", "yesterday")
	d.run(2, "board", "DIR/sites", "-o", "DIR/board.doc")
	if err := os.Remove(d.path("sites/b.yaml")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("loop.yaml", d.path("sites/loop.yaml")); err != nil {
		t.Fatal(err)
	}
	d.run(1, "board", "DIR/sites", "--date", "2026-11-25")
	d.says(&d.out, "! the link leads nowhere, in a circle or out of the folder", "loop.yaml")
}

// TestBoardFollowsTheWork: from survey to packet, sign-offs, re-survey and the next packet.
func TestBoardFollowsTheWork(t *testing.T) {
	d := newDesk(t)
	board := func(code int, texts ...string) {
		t.Helper()
		d.run(code, "board", "DIR", "--date", "2026-11-25")
		d.says(&d.out, texts...)
	}
	d.site("a.yaml", "block_way")
	board(1, "1 site: 1 blocked.", "! no packet issued", "FIX S-01 S-02 ")
	d.run(0, "packet", "DIR/a.yaml", "-o", "DIR/packet", "--date", "2026-11-10")
	board(1, "revision A, issued 2026-11-10", "since 2026-11-10 (15 days, issued")
	d.fill("packet/bw-0524-A-signoff.xlsx", "S-01", "Status", "done", "Done by", "Pat Example", "Date", "2026-11-20")
	board(1, "1 of 16 signed", "FIX S-02 S-03 ")
	d.site("a.yaml", "block_way", "opening_width: 35 in", "opening_width: unknown")
	board(1, "re-survey not issued", "MISSING S-01")
	d.run(0, "packet", "DIR/a.yaml", "-o", "DIR/packet", "--date", "2026-11-22")
	board(1, "revision B, issued 2026-11-22", "MISSING S-01", "bw-0524-A-signoff.xlsx (workbook of an", "W-19 and ")
	if strings.Contains(d.out.String(), "re-survey not issued") {
		t.Errorf("the re-survey is issued:\n%s", d.out.String())
	}
}

// TestBoardProgress: a line on a terminal, now and then, and nothing of it left behind; elsewhere nothing.
func TestBoardProgress(t *testing.T) {
	var buf bytes.Buffer
	clock := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	p := &boardProgress{w: &buf, now: func() time.Time { return clock }, last: clock}
	for i := range 1000 {
		clock = clock.Add(time.Millisecond)
		p.tell("files read", i+1, 1000)
	}
	p.clear()
	if n := strings.Count(buf.String(), "files read"); n != 5 {
		t.Errorf("got %d lines in a second, want 5", n)
	}
	if !strings.HasPrefix(buf.String(), "\r200 of 1000 files read\x1b[K") || !strings.HasSuffix(buf.String(), "\r\x1b[K") {
		t.Errorf("got %q", buf.String())
	}
	file, err := os.Create(filepath.Join(t.TempDir(), "err"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	a := &app{err: file, now: time.Now, getenv: func(string) string { return "" }}
	if newProgress(a).w != nil {
		t.Error("progress would be written into a file")
	}
	a.err = &buf
	if newProgress(a).w != nil {
		t.Error("progress would be written to what isn't a terminal")
	}
}
