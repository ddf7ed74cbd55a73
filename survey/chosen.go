package survey

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Chosen reads the ways that were chosen where several would do: by a
// finding's id, the way's name.
func (s *Survey) Chosen() map[string]string {
	chosen := map[string]string{}
	for part := range strings.SplitSeq(s.Choices, ";") {
		if id, way, ok := strings.Cut(strings.TrimSpace(part), "="); ok {
			chosen[strings.ToUpper(strings.TrimSpace(id))] = strings.TrimSpace(way)
		}
	}
	return chosen
}

// Choosing is the setting that keeps these choices beside those already made.
func (s *Survey) Choosing(more map[string]string) Setting {
	all := s.Chosen()
	maps.Copy(all, more)
	var parts []string
	for _, id := range slices.Sorted(maps.Keys(all)) {
		parts = append(parts, fmt.Sprintf("%s=%s", id, all[id]))
	}
	return Ask.Choices.Be(strings.Join(parts, "; "))
}
