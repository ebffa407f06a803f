package scenarios

import (
	"encoding/json"
	"io"
	"math"
)

// Version is the program's version, as every document tells it.
const Version = "0.1.0"

// documentFormat is the number of the documents' format; it grows when a member changes its meaning.
const documentFormat = 1

// DocumentHead stands at the beginning of every document: what made it, and from what.
type DocumentHead struct {
	Format      int     `json:"format"`
	Title       *string `json:"title"` // null: the scenario has none
	Version     string  `json:"version"`
	InputDigest string  `json:"input_digest"` // see Scenario.Digest
}

// Head is the head of a document about this scenario.
func (s *Scenario) Head() DocumentHead {
	return DocumentHead{Format: documentFormat, Title: orNull(s.Title), Version: Version, InputDigest: s.Digest}
}

// WriteJSON writes a document as indented JSON with a line feed at its end. The same document gives the same bytes.
func WriteJSON(w io.Writer, document any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false) // it goes to files and programs, not into pages
	e.SetIndent("", "  ")
	return e.Encode(document)
}

// Number is a number in a document, nil where it does not apply. JSON has neither NaN nor infinities: both are null. A
// negative zero is written as zero.
func Number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x += 0 // −0 + 0 is 0
	return &x
}

// Degrees is an angle of so many radians as a number in a document.
func Degrees(rad float64) *float64 { return Number(rad * (180 / math.Pi)) }

// orNull is a text in a document, null where it is empty.
func orNull[T ~string](text T) *T {
	if text == "" {
		return nil
	}
	return &text
}
