package check

// Also puts more behind a fact.
func (f Fact) Also(text string) Fact {
	return f.In(Phrase{Name: "also", Blanks: []Blank{{"phrase", f.Phrase}, {"text", Quote(text)}}})
}
