package check_test

import (
	"strings"
	"testing"

	"firstfill/specs/check"
	"firstfill/specs/trade"
)

// TestRegister sees that a bad check is refused when the list is built, by name.
func TestRegister(t *testing.T) {
	good := func(id string) *check.Check {
		return &check.Check{ID: id, Trade: check.Plumber, Sources: []trade.Source{trade.JouleLaw}, Run: func(*check.Case) check.Outcome { return check.Outcome{} }}
	}
	all := func(string) bool { return true }
	a, b := good("X-01"), good("X-02")
	b.After = []*check.Check{a}
	if list, err := check.Register(all, []*check.Check{a}, []*check.Check{b}); err != nil || len(list) != 2 {
		t.Fatalf("good checks give %v, %v", list, err)
	}
	spoiled := func(spoil func(k *check.Check)) []*check.Check {
		k := good("X-01")
		spoil(k)
		return []*check.Check{k}
	}
	first, second, third := good("X-01"), good("X-02"), good("X-03")
	first.After, second.After, third.After = []*check.Check{second}, []*check.Check{third}, []*check.Check{first}
	for _, c := range []struct {
		name   string
		checks []*check.Check
		worded func(string) bool
		says   string
	}{
		{"no id", spoiled(func(k *check.Check) { k.ID = "" }), all, "isn't a letter and two digits"},
		{"an id of three digits", spoiled(func(k *check.Check) { k.ID = "X-011" }), all, `"X-011" isn't`},
		{"twice", []*check.Check{good("X-01"), good("X-01")}, all, "X-01: another check has its id"},
		{"no trade", spoiled(func(k *check.Check) { k.Trade = "" }), all, "nobody acts"},
		{"no source", spoiled(func(k *check.Check) { k.Sources = nil }), all, "X-01: it has no source"},
		{"nothing to run", spoiled(func(k *check.Check) { k.Run = nil }), all, "nothing to run"},
		{"no title", []*check.Check{good("X-01")}, func(name string) bool { return name != "title.X-01" }, "no wording title.X-01"},
		{"no why", []*check.Check{good("X-01")}, func(name string) bool { return name != "why.X-01" }, "no wording why.X-01"},
		{"after a stranger", spoiled(func(k *check.Check) { k.After = []*check.Check{good("X-09")} }), all, "isn't in the list"},
		{"after itself", spoiled(func(k *check.Check) { k.After = []*check.Check{k} }), all, "[X-01]"},
		{"a ring", []*check.Check{first, second, third}, all, "[X-01 X-02 X-03]"},
		{"none", []*check.Check{nil}, all, "nil"},
	} {
		if list, err := check.Register(c.worded, c.checks); err == nil || list != nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %v; want an error that says %q", c.name, list, err, c.says)
		}
	}
}
