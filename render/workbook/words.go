package workbook

import (
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
)

// Words words the findings of a book for a reader.
func Words(say words.Reader, m *specs.Machine) func(*check.Finding) signoff.Words {
	return func(f *check.Finding) signoff.Words {
		t := say.Tell(f, m)
		return signoff.Words{Title: t.Title, Have: t.Have, Want: t.Want, Margin: t.Margin, Action: t.Action, Source: t.Source}
	}
}
