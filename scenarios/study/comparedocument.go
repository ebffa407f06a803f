package study

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"github.com/byhead/byhead/scenarios"
)

// StudyHead stands at the beginning of the documents of studies, which have no one title.
type StudyHead struct {
	Format      int    `json:"format"`
	Version     string `json:"version"`
	InputDigest string `json:"input_digest"` // of a comparison over those of its columns, a line each
}

// documentFormat is the number of the documents' format, that of all of them.
const documentFormat = 1

// CompareDocument is what `byhead compare --json` prints: SI units and degrees.
type CompareDocument struct {
	StudyHead
	Columns []string       `json:"columns"`
	Digests []string       `json:"column_digests"` // of each column's input
	Rows    []CompareEntry `json:"rows"`
}

// CompareEntry is one result of all columns. Of several that are best the first is named.
type CompareEntry struct {
	Result string  `json:"result"`
	Values []any   `json:"values"` // numbers, texts, true or false; null: it has none
	Best   *string `json:"best"`   // null: all are equal, or none is better
	Worst  *string `json:"worst"`
}

// NewCompareDocument puts a comparison into its document.
func NewCompareDocument(c *Comparison) *CompareDocument {
	sum := sha256.Sum256([]byte(strings.Join(c.Digests, "\n")))
	d := &CompareDocument{
		StudyHead: StudyHead{documentFormat, scenarios.Version, hex.EncodeToString(sum[:])},
		Columns:   c.Columns, Digests: c.Digests, Rows: []CompareEntry{},
	}
	for i := range c.Rows {
		r := &c.Rows[i]
		e := CompareEntry{Result: r.Result, Best: first(r.Best), Worst: first(r.Worst)}
		for _, v := range r.Values {
			e.Values = append(e.Values, plain(v))
		}
		d.Rows = append(d.Rows, e)
	}
	return d
}

func first(names []string) *string {
	if len(names) == 0 {
		return nil
	}
	return &names[0]
}

// plain is a result as JSON has it.
func plain(r *Result) any {
	switch {
	case r == nil:
		return nil
	case r.Text == "true" || r.Text == "false":
		return r.Text == "true"
	case r.IsText():
		return r.Text
	}
	return scenarios.Number(r.Number)
}
