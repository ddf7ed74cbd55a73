package words

// About is what a check is called, why it is made, how it is computed and what
// the formula holds for; the last two are empty where nothing is computed.
type About struct{ Title, Why, Formula, Holds string }

// About words a check by its id.
func (r Reader) About(id string) About {
	text := func(part string) string {
		t, _ := r.phrase(part + "." + id)
		return t
	}
	return About{text("title"), text("why"), text("formula"), text("holds")}
}
