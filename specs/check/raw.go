package check

// Also puts more behind a fact.
func (f Fact) Also(more any) Fact {
	return f.In(Say("also", "phrase", f.Phrase, "text", more))
}
