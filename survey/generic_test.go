package survey

import "testing"

func TestGeneric(t *testing.T) {
	for path, want := range map[string]string{
		"power.breaker": "power.breaker", "space.path[0].width": "space.path[].width", "a[12].b[3]": "a[].b[]",
		"a[].b": "a[].b", "a[x].b": "a[x].b", "a[1": "a[1", "a[1x]": "a[1x]", "": "",
	} {
		if got := generic(path); got != want {
			t.Errorf("generic(%q): got %q, want %q", path, got, want)
		}
	}
}
