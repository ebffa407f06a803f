package solid

import (
	"fmt"
	"strings"
)

// Limits of what the readers take.
const (
	fileMax     = 64 << 20  // bytes
	triangleMax = 2_000_000 // triangles
	faultMax    = 100       // faults that are told of one file; a file that has more is of another kind altogether
)

// Fault is one thing wrong with a file. Line and Column count from 1; Line 0 says that the place has none (a binary file),
// and What names it by its coordinates.
type Fault struct {
	Line, Column int
	What, Want   string
}

// Faults are all that is wrong with a file, by ascending place. It is the error of the readers.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, x := range f {
		lines[i] = x.What + "; " + x.Want
		if x.Line > 0 {
			lines[i] = fmt.Sprintf("%d:%d: %s", x.Line, x.Column, lines[i])
		}
	}
	return strings.Join(lines, "\n")
}

func (f *Faults) add(line, column int, what, want string) {
	if len(*f) < faultMax {
		*f = append(*f, Fault{line, column, what, want})
	}
}

// tooBig is the fault of a file past the limit.
func tooBig() error {
	return Faults{{1, 1, "the file is larger than 64 MB", "give a smaller one"}}
}
