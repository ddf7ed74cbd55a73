package trade

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
)

// comparisons counts every value held against another; TestMain prints it.
var comparisons atomic.Int64

func TestMain(m *testing.M) {
	code := m.Run()
	if testing.Verbose() {
		println("comparisons:", comparisons.Load())
	}
	os.Exit(code)
}

// rel wants got within a relative tolerance of want.
func rel(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	comparisons.Add(1)
	if math.IsNaN(got) || math.Abs(got-want) > tol*math.Abs(want) {
		t.Errorf("%s: got %.8g, want %.8g within %g relative (off by %+.3g %%)", what, got, want, tol, 100*(got/want-1))
	}
}

// near wants got within an absolute tolerance of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	comparisons.Add(1)
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: got %.8g, want %.8g within %g", what, got, want, tol)
	}
}

// same wants equal values.
func same[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	comparisons.Add(1)
	if got != want {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// isNaN wants NaN.
func isNaN(t *testing.T, what string, got float64) {
	t.Helper()
	comparisons.Add(1)
	if !math.IsNaN(got) {
		t.Errorf("%s: got %v, want NaN", what, got)
	}
}

// fails wants an error of a kind.
func fails(t *testing.T, what string, err, kind error) {
	t.Helper()
	comparisons.Add(1)
	if !errors.Is(err, kind) {
		t.Errorf("%s: got error %v, want one that is %q", what, err, kind)
	}
}

// ok wants no error.
func ok(t *testing.T, what string, err error) {
	t.Helper()
	if err != nil {
		t.Errorf("%s: %v", what, err)
	}
}

// value unwraps a result with an error.
func value[T any](t *testing.T) func(v T, err error) T {
	t.Helper()
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatalf("unexpected error: %v", err)
		}
		return v
	}
}

// table reads a reference file with exactly so many rows.
func table(t *testing.T, name string, wantRows int) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(all)-1 != wantRows {
		t.Fatalf("%s: got %d rows, want %d", name, len(all)-1, wantRows)
	}
	var rows []map[string]string
	for _, rec := range all[1:] {
		row := map[string]string{}
		for i, k := range all[0] {
			row[k] = strings.TrimSpace(rec[i])
		}
		rows = append(rows, row)
	}
	return rows
}

// num reads a cell that must hold a number.
func num(t *testing.T, row map[string]string, key string) float64 {
	t.Helper()
	s, found := row[key]
	if !found {
		t.Fatalf("no column %q", key)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("column %s: %v", key, err)
	}
	return v
}
