package board

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"path"
	"strings"

	"firstfill/render/words"
	"firstfill/render/workbook"
	model "firstfill/specs/board"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
	"firstfill/survey"
	"firstfill/survey/forms"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// Decode tells what a file's bytes are: a questionnaire, a filled form, a
// sign-off workbook, or nothing of ours.
func Decode(name string, data []byte) model.Decoded {
	switch {
	case forms.Is(data):
		return decodeWorkbook(name, data)
	case strings.EqualFold(path.Ext(name), ".xlsx"):
		return model.Decoded{Broken: "it isn't an .xlsx workbook, or it is damaged"}
	}
	s, problems := survey.Load(name, data)
	if len(problems) > 0 && !looksAsked(name, data) {
		return model.Decoded{Foreign: "it isn't a questionnaire"}
	}
	return model.Decoded{Survey: s, Problems: problems}
}

// Words words the findings of a site as its workbook does, in the reader's units.
func Words(units quantity.System) func(*check.Report) func(*check.Finding) signoff.Words {
	return func(r *check.Report) func(*check.Finding) signoff.Words { return workbook.Words(words.Tells(r, units)) }
}

// looksAsked says whether a faulty document was meant as a questionnaire: it
// answers a question of ours and is neither a machine's requirement sheet nor a
// report of this program. One that can't be taken apart at all counts as meant,
// since nobody knows what it holds.
func looksAsked(name string, data []byte) bool {
	entries, _ := doc.ReadYAML(name, data)
	if len(entries) == 0 {
		return true
	}
	asked := false
	has := map[string]bool{}
	for _, e := range entries {
		asked = asked || e.Path == "survey" || survey.HasField(e.Path)
		section, _, _ := strings.Cut(e.Path, ".")
		has[section] = true
	}
	report := has["format"] && has["verdict"]
	sheet := has["key"] && !has["survey"] && !has["site"]
	return asked && !report && !sheet
}

// decodeWorkbook tells filled forms and sign-off workbooks apart.
func decodeWorkbook(name string, data []byte) model.Decoded {
	sheets := sniff(data)
	if bytes.Contains(sheets, []byte(boardName)) {
		return model.Decoded{Foreign: "a board; it isn't read"}
	}
	asBook := func() (model.Decoded, bool) {
		b, told, err := workbook.Read(name, data)
		if err == nil {
			return model.Decoded{Book: &b, Told: told}, true
		}
		if !errors.Is(err, workbook.ErrForeign) {
			return model.Decoded{Broken: strings.TrimPrefix(err.Error(), "reading "+name+": ")}, true
		}
		return model.Decoded{}, false
	}
	// Most sign-off workbooks are known by their hidden sheet's name; the order only saves time.
	likely := bytes.Contains(sheets, []byte(`"Meta"`))
	if likely {
		if d, ok := asBook(); ok {
			return d
		}
	}
	s, problems := forms.Load(name, data)
	if s != nil {
		return model.Decoded{Survey: s, Problems: problems}
	}
	if !likely {
		if d, ok := asBook(); ok {
			return d
		}
	}
	switch {
	case strings.HasSuffix(name, "-signoff.xlsx"):
		return model.Decoded{Broken: workbook.ErrForeign.Error()}
	case sheets == nil:
		return model.Decoded{Broken: model.FirstFault(problems)}
	}
	return model.Decoded{Foreign: "neither a filled questionnaire nor a sign-off workbook"}
}

// sniff returns the part of a workbook that names its sheets, nil when there is none.
func sniff(data []byte) []byte {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil
	}
	f, err := z.Open("xl/workbook.xml")
	if err != nil {
		return nil
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, 1<<20))
	if err != nil {
		return nil
	}
	return text
}
