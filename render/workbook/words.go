package workbook

import "firstfill/specs/rules"

// cautions stand above each trade's table. They are the usual ones: common practice, no source.
var cautions = map[rules.Trade]string{
	rules.Electrician: "Switch off, lock out and prove dead before any work. This is a survey result, not a design: a licensed electrician and the authority having jurisdiction decide by local code.",
	rules.Plumber:     "Water may scald and lines may be under pressure: isolate and relieve first. This is a survey result, not a design: a licensed plumber and the authority having jurisdiction decide by local code.",
	rules.Builder:     "Find pipes and cables before cutting; lift heavy parts with enough people or a lifting aid. This is a survey result, not a design: local code and the authority having jurisdiction decide.",
	rules.Owner:       "Chemicals: keep to label and safety data sheet, wear gloves and eye protection, never mix products. Wiring and pipework are for licensed trades, by local code.",
	rules.Supplier:    "Lift and move the machine with enough people or a lifting aid; power, hot water and chemicals stay off until the trades have signed. Local code and the authority having jurisdiction decide.",
}

// footer is printed at the foot of every page; an office program takes at most 255 characters.
const footer = "Survey result, not a design or permit document. Local code, the authority having jurisdiction and licensed trades decide."

// guide stands on the summary. A line that ends in a colon is a heading.
var guide = []string{
	"How to use this workbook:",
	"Type on the trades' sheets only, in the light yellow cells. Summary and All items show it by formula; there is no second place to fill in.",
	"A sign-off counts when the status is done and a person's name and the day stand beside it. \"Not needed\" wants name, day and the reason; a FIX or MISSING goes on blocking until it is done or a new survey closes it.",
	"Due is the day for which the work is promised; the earliest one that is still open is shown above as the next date.",
	"Where the verdict is MISSING or a better reading is asked for, write the reading with its unit; \"firstfill signoff FILE --update SITE\" takes it back into the questionnaire. What several items ask for need be written only once.",
	"Sort, filter, hide and move columns as you like; notes beside a table are kept. Rows are known by their ID: leave that column alone. Sheets are protected against slips, without a password.",
	"Cautions:",
	"Work on power, hot water, chemicals and heavy machines can hurt. Isolate before work, keep to labels and data sheets, lift with enough people. This is a survey result, not a design or permit document: local code, the authority having jurisdiction and licensed trades decide.",
}
