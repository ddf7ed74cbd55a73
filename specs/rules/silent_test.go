package rules

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"firstfill/specs"
	"firstfill/specs/check"
)

// What the library's sheets leave out doesn't arise: no check hangs on it. The
// sheets are loaded as a user's own would be, for which that isn't taken for granted.
func TestLibraryIsComplete(t *testing.T) {
	for key, m := range ownSheets(t) {
		for name, s := range sites(t) {
			if s.Machine.Key != key {
				continue
			}
			for _, f := range Judge(s, m, check.Options{Today: today}).Findings {
				if f.Unsaid != nil {
					t.Errorf("%s on %s: %s hangs on %v", key, name, f.ID, f.Unsaid)
				}
			}
		}
	}
}

// ownSheets are the library's sheets, loaded from their files.
func ownSheets(t *testing.T) map[string]*specs.Machine {
	t.Helper()
	files, err := filepath.Glob("../library/*.yaml")
	if err != nil || len(files) < 6 {
		t.Fatalf("%d sheets: %v", len(files), err)
	}
	all := map[string]*specs.Machine{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		m, problems := specs.Load(file, data)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		all[m.Key] = m
	}
	return all
}

// A fact left out of a sheet is never taken for the maker's no: no check says
// that it doesn't arise, and none finds a fault, for want of it. Written as
// none it is what the sheet says.
func TestAbsentFactsAreAskedFor(t *testing.T) {
	for key, m := range ownSheets(t) {
		if testing.Short() && key != "avocet-r36" {
			continue
		}
		t.Run(key, func(t *testing.T) { t.Parallel(); absent(t, key, m) })
	}
}

// absent leaves out each fact of one machine, of the others but the first every third.
func absent(t *testing.T, key string, m *specs.Machine) {
	s := site(t, "pass_"+key)
	full := Judge(s, m, check.Options{Today: today})
	for n, path := range stated(m) {
		if key != "avocet-r36" && n%3 != len(key)%3 {
			continue
		}
		less, err := m.With(map[string]string{path: "unknown"})
		if err != nil {
			continue // no sheet is without it
		}
		for i, f := range Judge(s, less, check.Options{Today: today}).Findings {
			was := full.Findings[i].Verdict
			if f.Verdict == check.NA && was != check.NA || f.Verdict == check.Fix && was != check.Fix {
				t.Errorf("%s without %s: %s is %v, was %v", key, path, f.ID, f.Verdict, was)
			}
			if f.Unsaid != nil && (f.Verdict != check.Missing || !slices.ContainsFunc(f.Unsaid, func(u specs.Fact) bool { return u.Path == path })) {
				t.Errorf("%s without %s: %s is %v and asks for %v", key, path, f.ID, f.Verdict, f.Unsaid)
			}
		}
	}
}

// stated are the facts that a sheet states and that a check may ask for.
func stated(m *specs.Machine) (paths []string) {
	for _, g := range m.Values(0) {
		for _, v := range g.Values {
			if !strings.HasPrefix(v.Path, "extras") {
				paths = append(paths, v.Path)
			}
		}
	}
	return paths
}
