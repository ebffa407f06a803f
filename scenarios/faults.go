package scenarios

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Fault is one thing that is wrong with a scenario or a file that it names, and where.
type Fault struct {
	File         string // as the user typed it, or a named file's path joined to the scenario's folder
	Line, Column int    // from 1; columns in characters
	What, Want   string // what is wrong; what would be right
}

// Error gives `FILE:LINE:COLUMN: what is wrong; what would be right`, always one line.
func (f Fault) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s; %s", f.File, f.Line, f.Column, f.What, f.Want)
}

// Faults is everything that is wrong with a scenario, in order of place: the scenario's own first, then file by file.
type Faults []Fault

// Error gives one line for each fault.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// sorted puts faults in order of place, those of the file named first before all others, and drops what is told twice.
// Of several faults with one place the first told stays: a later stage only sees what an earlier one already refused.
func (fs Faults) sorted(first string) Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(
			cmp.Compare(btoi(a.File != first), btoi(b.File != first)),
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Column, b.Column),
		)
	})
	return slices.CompactFunc(fs, func(a, b Fault) bool {
		return a.File == b.File && a.Line == b.Line && a.Column == b.Column && a.What == b.What
	})
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// quote shows a piece of the user's text: quoted, on one line, and cut where it is long.
func quote(text string) string {
	const most = 48
	if utf8.RuneCountInString(text) > most {
		text = string([]rune(text)[:most-1]) + "…"
	}
	return strconv.Quote(text)
}

// either joins words as a choice: "a", "a or b", "a, b or c".
func either(words []string) string { return joined(words, " or ") }

// both joins words as a list: "a", "a and b", "a, b and c".
func both(words []string) string { return joined(words, " and ") }

func joined(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + last + words[n-1]
}

// article puts "a" or "an" before a word.
func article(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}
