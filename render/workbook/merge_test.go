package workbook

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"github.com/xuri/excelize/v2"

	"firstfill/specs/signoff"
)

// typedInto types the marks of a book into a workbook's cells, as people do.
func typedInto(t testing.TB, data []byte, book signoff.Book) []byte {
	t.Helper()
	own, _, err := Read("book.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m := merger{f: f, last: map[string]int{}}
	for _, it := range book.Items {
		if !it.Mark.Empty() {
			m.write(own.Item(it.ID).Cells, 0, it.Mark)
		}
	}
	for _, l := range book.Loose {
		m.note(l)
	}
	if m.err != nil {
		t.Fatal(m.err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestMergeLosesNoWord joins copies that people filled in at random, some of
// the same items, and reads every word back; copies that say the same join
// into one row.
func TestMergeLosesNoWord(t *testing.T) {
	if testing.Short() {
		t.Skip("it writes and reads many workbooks")
	}
	r := mixed(t)
	blank := build(t, r, nil)
	conflicts, rounds := 0, 8
	for round := range rounds {
		rng := rand.New(rand.NewPCG(13, uint64(round)))
		var copies []signoff.Book
		var files [][]byte
		for range 2 + rng.IntN(3) {
			b := newBook(r)
			for i := range b.Items {
				if rng.IntN(3) == 0 {
					b.Items[i].Mark = signoff.Mark{
						Status: []string{"done", "in progress", "not needed", "", "finished"}[rng.IntN(5)],
						By:     []string{"Pat Doe", "Sam Roe", "=Kim", ""}[rng.IntN(4)],
						Date:   []string{"2026-11-20", "2026-11-21", "soon", ""}[rng.IntN(4)],
						Note:   []string{"two\nlines", "½ in", ""}[rng.IntN(3)],
					}
				}
			}
			if rng.IntN(2) == 0 {
				b.Loose = append(b.Loose, signoff.Loose{Where: "Plumber!Z9", Text: []string{"call the landlord", "=1+1", "key next door"}[rng.IntN(3)]})
			}
			data := typedInto(t, blank, b)
			got, _ := read(t, data)
			copies, files = append(copies, got), append(files, data)
		}
		joint, err := Merge("a.xlsx", files[0], copies[1:])
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		back, _ := read(t, joint)
		if err := holdsAll(back, copies); err != nil {
			t.Errorf("round %d: %v", round, err)
		}
		for _, it := range back.Items {
			conflicts += len(it.Others)
		}
		same, err := Merge("a.xlsx", files[0], copies[:1])
		if err != nil {
			t.Fatal(err)
		}
		alone, _ := read(t, same)
		for i, it := range alone.Items {
			if len(it.Others) > 0 || it.Mark != copies[0].Items[i].Mark {
				t.Errorf("round %d: %s joined with itself is %+v, %+v", round, it.ID, it.Mark, it.Others)
			}
		}
	}
	if conflicts < rounds {
		t.Errorf("only %d conflicts", conflicts)
	}
	if err := holdsAll(newBook(r), []signoff.Book{{Items: []signoff.Item{{ID: "E-01", Mark: signoff.Mark{By: "Pat Doe"}}}}}); err == nil {
		t.Error("a lost name isn't noticed")
	}
}
