package templates

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"
)

//go:embed checks/*.txt
var checks embed.FS

// Phrases returns what the checks and the plan say, by name: one phrase a line,
// "name: text with {blanks}". Lines that begin with "#" are remarks; a line
// that begins with a blank goes on with the one above. The map is shared: do
// not write to it.
var Phrases = sync.OnceValues(func() (map[string]string, error) {
	all := map[string]string{}
	files, err := fs.Glob(checks, "checks/*.txt")
	if err != nil {
		return nil, err
	}
	for _, file := range files {
		data, err := checks.ReadFile(file)
		if err != nil {
			return nil, err
		}
		if err := readPhrases(all, path.Base(file), string(data)); err != nil {
			return nil, err
		}
	}
	return all, nil
})

func readPhrases(all map[string]string, file, text string) error {
	name := ""
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimRight(line, "\r\n")
		switch {
		case strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#"):
			name = ""
		case line[0] == ' ' || line[0] == '\t':
			if name == "" {
				return fmt.Errorf("templates/%s:%d: this line goes on with none above it", file, n)
			}
			all[name] += " " + strings.TrimSpace(line)
		default:
			key, rest, ok := strings.Cut(line, ":")
			if !ok || key == "" || strings.ContainsAny(key, " {}") {
				return fmt.Errorf("templates/%s:%d: write a phrase as \"name: text\"", file, n)
			}
			if _, twice := all[key]; twice {
				return fmt.Errorf("templates/%s:%d: %s has a wording already", file, n, key)
			}
			name = key
			all[name] = strings.TrimSpace(rest)
		}
	}
	return nil
}
