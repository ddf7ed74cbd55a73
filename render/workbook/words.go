package workbook

import (
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
)

// Words words the findings of a book as the report tells them, with what its
// plan asks for.
func Words(r *words.Report) func(*check.Finding) signoff.Words {
	r = r.Gauged()
	return func(f *check.Finding) signoff.Words {
		t := r.Say.Tell(f, r.Machine)
		need, do := r.Asked(&t)
		return signoff.Words{Title: t.Title, Have: t.Have, Want: need, Margin: t.Margin, Action: do, Source: t.Source, Stage: r.Say.Stage(f.Stage)}
	}
}

// Show words an answer of a basis, which is in US units, for the reader.
func Show(r *words.Report) func(path, text string) string { return r.Gauged().Say.AnswerText }
