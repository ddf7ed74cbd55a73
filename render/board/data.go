package board

import (
	"encoding/csv"
	"encoding/json"
	model "firstfill/specs/board"
	"io"
	"strconv"
	"strings"

	"firstfill/render/terminal"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
)

// Format is the version of the JSON form.
const Format = 1

type jsonTally struct {
	Open   int `json:"open"`
	Blocks int `json:"blocks"`
	Closed int `json:"closed"`
}

type jsonItem struct {
	ID      string        `json:"id"`
	Trade   check.Trade   `json:"trade"`
	Title   string        `json:"title"`
	Verdict check.Verdict `json:"verdict"`
	Action  string        `json:"action"`
	State   signoff.State `json:"state"`
	Open    bool          `json:"open"`
	Blocks  bool          `json:"blocks"`
	Due     string        `json:"due"`
	Since   string        `json:"since"`
	Basis   string        `json:"basis"`
}

type jsonOldest struct {
	ID     string `json:"id"`
	Since  string `json:"since"`
	Days   int    `json:"days"`
	Basis  string `json:"basis"`
	Others int    `json:"others"`
}

type jsonSource struct {
	Path string `json:"path"`
	Role string `json:"role"`
}

type jsonRow struct {
	Readiness model.Readiness      `json:"readiness"`
	Site      string               `json:"site"`
	Reference string               `json:"reference"`
	Machine   string               `json:"machine"`
	Revision  string               `json:"revision"`
	Issued    string               `json:"issued"`
	Delivery  string               `json:"delivery"`
	Days      *int                 `json:"days"`
	Counts    jsonTally            `json:"counts"`
	Trades    map[string]jsonTally `json:"trades"`
	Blocking  []string             `json:"blocking"`
	Oldest    *jsonOldest          `json:"oldest"`
	Next      string               `json:"next"`
	Remarks   []string             `json:"remarks"`
	Error     string               `json:"error"`
	Files     []jsonSource         `json:"files"`
	Items     []jsonItem           `json:"items"`
}

type jsonFault struct {
	ID      string      `json:"id"`
	Trade   check.Trade `json:"trade"`
	Title   string      `json:"title"`
	Fix     int         `json:"fix"`
	Missing int         `json:"missing"`
	Confirm int         `json:"confirm"`
	Open    int         `json:"open"`
}

type jsonNote struct {
	Files []string `json:"files"`
	Text  string   `json:"text"`
	Fault bool     `json:"fault"`
}

type jsonBoard struct {
	Format int                     `json:"format"`
	Folder string                  `json:"folder"`
	Date   string                  `json:"date"`
	Counts map[model.Readiness]int `json:"counts"`
	Items  jsonTally               `json:"items"`
	Trades map[string]jsonTally    `json:"trades"`
	Sites  []jsonRow               `json:"sites"`
	Faults []jsonFault             `json:"faults"`
	Notes  []jsonNote              `json:"notes"`
}

func tallies(m map[check.Trade]model.Tally) map[string]jsonTally {
	out := map[string]jsonTally{}
	for _, t := range check.Trades {
		out[string(t)] = jsonTally(m[t])
	}
	return out
}

// blockingIDs lists what blocks, FIX and MISSING together, in the order of the checks.
func blockingIDs(r model.Row) []string {
	ids := []string{}
	for _, it := range r.Items {
		if it.Blocks {
			ids = append(ids, it.ID)
		}
	}
	return ids
}

// WriteJSON writes the board as one object, indented, with a line end.
func WriteJSON(w io.Writer, b *model.Board) error {
	out := jsonBoard{Format: Format, Folder: b.Folder, Date: b.Today.String(), Counts: map[model.Readiness]int{}, Items: jsonTally(b.Total),
		Trades: tallies(b.Trades), Sites: []jsonRow{}, Faults: []jsonFault{}, Notes: []jsonNote{}}
	for _, r := range model.Readinesses {
		out.Counts[r] = b.Counts[r]
	}
	for _, r := range b.Rows {
		j := jsonRow{Readiness: r.Readiness, Site: r.Site, Reference: r.Reference, Machine: r.Machine, Revision: r.Revision, Issued: r.Issued.String(),
			Delivery: r.Delivery.String(), Counts: jsonTally(r.Total), Trades: tallies(r.Trades), Blocking: blockingIDs(r), Next: r.Next,
			Remarks: append([]string{}, r.Remarks...), Error: r.Error, Files: []jsonSource{}, Items: []jsonItem{}}
		if r.Delivery.Known() {
			days := r.Days
			j.Days = &days
		}
		if o := r.Oldest; o != nil {
			j.Oldest = &jsonOldest{o.ID, o.Since.String(), o.Days, o.Basis, o.Others}
		}
		for _, f := range r.Files {
			j.Files = append(j.Files, jsonSource(f))
		}
		for _, it := range r.Items {
			j.Items = append(j.Items, jsonItem{it.ID, it.Trade, it.Title, it.Verdict, it.Action, it.State, it.Open, it.Blocks, it.Due, it.Since.String(), it.Basis})
		}
		out.Sites = append(out.Sites, j)
	}
	for _, f := range b.Faults {
		out.Faults = append(out.Faults, jsonFault(f))
	}
	for _, n := range b.Notes {
		out.Notes = append(out.Notes, jsonNote(n))
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(out)
}

// columns of the CSV. Kind is site, unreadable, fault (a folder or file in the way) or note.
var columns = []string{"kind", "readiness", "reference", "site", "machine", "revision", "issued", "delivery", "days",
	"blocks", "open", "closed", "electrician_open", "plumber_open", "builder_open", "owner_open", "supplier_open",
	"blocking", "oldest", "oldest_since", "oldest_days", "oldest_basis", "promised_next", "remarks", "error", "files"}

// WriteCSV writes a line for each row and each note. Text that a spreadsheet
// program would take for a formula gets an apostrophe.
func WriteCSV(w io.Writer, b *model.Board) error {
	c := csv.NewWriter(w)
	if err := c.Write(columns); err != nil {
		return err
	}
	for _, r := range b.Rows {
		kind := "site"
		if r.Readiness == model.Unreadable {
			kind = "unreadable"
		}
		n := func(i int) string {
			if r.Readiness == model.Unreadable {
				return ""
			}
			return strconv.Itoa(i)
		}
		days := ""
		if r.Delivery.Known() {
			days = strconv.Itoa(r.Days)
		}
		rec := []string{kind, string(r.Readiness), guard(r.Reference), guard(r.Site), guard(r.Machine), guard(r.Revision), r.Issued.String(), r.Delivery.String(), days,
			n(r.Total.Blocks), n(r.Total.Open), n(r.Total.Closed)}
		for _, t := range check.Trades {
			rec = append(rec, n(r.Trades[t].Open))
		}
		rec = append(rec, strings.Join(blockingIDs(r), " "))
		if o := r.Oldest; o != nil {
			rec = append(rec, o.ID, o.Since.String(), strconv.Itoa(o.Days), o.Basis)
		} else {
			rec = append(rec, "", "", "", "")
		}
		var files []string
		for _, f := range r.Files {
			files = append(files, f.Path+" ("+f.Role+")")
		}
		rec = append(rec, r.Next, guard(strings.Join(r.Remarks, "; ")), guard(r.Error), guard(strings.Join(files, "; ")))
		if err := c.Write(rec); err != nil {
			return err
		}
	}
	for _, note := range b.Notes {
		rec := make([]string, len(columns))
		rec[0] = "note"
		if note.Fault {
			rec[0] = "fault"
		}
		rec[len(rec)-3], rec[len(rec)-1] = guard(note.Text), guard(strings.Join(note.Files, "; "))
		if err := c.Write(rec); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// guard keeps spreadsheet programs from taking people's text for a formula,
// and makes it one line.
func guard(s string) string {
	if s = terminal.OneLine(s); s != "" && strings.ContainsRune("=+-@", rune(s[0])) {
		return "'" + s
	}
	return s
}
