// Package pdf lays out the printed sheets of a packet. It shows what the checks found and computes nothing.
package pdf

import (
	"errors"

	"firstfill/specs/rules"
)

// Options of a printed packet.
type Options struct {
	Paper string // "letter" or "a4"
}

// Packet lays out the whole packet. The warnings name what could not be shown as written.
func Packet(r *rules.Report, o Options) (pdf []byte, warnings []string, err error) {
	return nil, nil, errors.New("not written yet")
}
