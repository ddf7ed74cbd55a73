package templates

import _ "embed"

// Demo is the questionnaire of the demonstration site, our own invention.
//
//go:embed demo.yaml
var Demo []byte
