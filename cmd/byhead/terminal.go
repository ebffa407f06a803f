package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// The control sequences (ECMA-48) that are used.
const (
	red       = "\x1b[1;31m"
	yellow    = "\x1b[33m"
	plainText = "\x1b[0m"
	eraseLine = "\r\x1b[K" // from its beginning
)

// isTerminal tells whether somebody looks at a stream.
func isTerminal(w io.Writer) bool {
	file, ok := w.(*os.File)
	return ok && term.IsTerminal(int(file.Fd())) && os.Getenv("TERM") != "dumb"
}

// paint gives the kind of a diagnosis its colour, if somebody looks and has not asked for none (NO_COLOR, any text).
func (a *app) paint(kind string) string {
	colour := ""
	switch kind {
	case "error":
		colour = red
	case "warning":
		colour = yellow
	}
	if colour == "" || !isTerminal(a.stderr) || os.Getenv("NO_COLOR") != "" {
		return kind
	}
	return colour + kind + plainText
}
