package compartment

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// outside is the name that stands for the sea and the open air.
const outside = "outside"

// lone is the name of the one space of a hull without bulkheads and compartments.
const lone = "hold"

// whole is the name of the vessel in one piece.
const whole = "hull"

// paths holds the path of every list item.
type paths struct{ bulkheads, compartments, weights, openings, joints, marks []string }

// names checks the names of every list and settles each item's path.
func (r *report) names(s *Spec) {
	r.paths.bulkheads = list(r, "bulkheads", s.Bulkheads, func(x *BulkheadSpec) string { return x.Name })
	r.paths.compartments = list(r, "compartments", s.Compartments, func(x *CompartmentSpec) string { return x.Name })
	r.paths.weights = list(r, "weights", s.Weights, func(x *WeightSpec) string { return x.Name })
	r.paths.openings = list(r, "openings", s.Openings, func(x *OpeningSpec) string { return x.Name })
	r.paths.joints = list(r, "joints", s.Joints, func(x *JointSpec) string { return x.Name })
	r.paths.marks = list(r, "marks", s.Marks, func(x *MarkSpec) string { return x.Name })
}

// list checks the names of one list and returns the path of each item: by its name, or by its index where the name is
// missing, ill-formed or taken by an item before it.
func list[T any](r *report, name string, items []T, nameOf func(*T) string) []string {
	out := make([]string, len(items))
	first := make(map[string]int, len(items))
	for i := range items {
		word := nameOf(&items[i])
		byIndex := name + "." + strconv.Itoa(i)
		out[i] = byIndex
		if what, want := illFormed(word); what != "" {
			r.fault(byIndex, what, want)
			continue
		}
		if j, taken := first[word]; taken {
			r.fault(byIndex, fmt.Sprintf("%q is the name of item %d of this list too", word, j+1), "a name of its own")
			continue
		}
		first[word] = i
		out[i] = name + "." + word
	}
	return out
}

// illFormed says what is wrong with a name, and nothing where it is right.
func illFormed(word string) (what, want string) {
	want = "letters, digits and hyphens"
	switch {
	case word == "":
		return "a name is missing", want
	case word == whole || word == outside || word == "sea":
		return fmt.Sprintf("the name %q has a meaning of its own", word), "another name"
	case !utf8.ValidString(word) || utf8.RuneCountInString(word) > maxName:
		return "a name past 100 letters, or not of letters at all", want
	}
	wrong := func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != '-' }
	if strings.IndexFunc(word, wrong) >= 0 {
		return fmt.Sprintf("%q cannot be a name", word), want
	}
	return "", ""
}

// spaceNames are the names that an opening's `between` may use, without outside.
func spaceNames(s *Spec) []string {
	if len(s.Compartments) == 0 && len(s.Bulkheads) == 0 {
		return []string{lone}
	}
	out := make([]string, len(s.Compartments))
	for i := range s.Compartments {
		out[i] = s.Compartments[i].Name
	}
	return out
}

// unknown reports a name that stands for nothing, with the nearest that does.
func (r *report) unknown(path, kind, word string, known []string) {
	want := "there is none"
	if len(known) > 0 {
		want = "one of " + strings.Join(known, ", ")
	}
	if near := Nearest(word, known); near != "" {
		want = fmt.Sprintf("did you mean %q?", near)
	}
	r.fault(path, fmt.Sprintf("there is no %s %q", kind, word), want)
}

// Nearest is the known word that is fewest edits away from a word (letters put in, left out, changed or two swapped;
// capitals count for nothing), the first of several; "" where none is within a third of the word's length.
func Nearest(word string, known []string) string {
	best, least := "", utf8.RuneCountInString(word)/3+1
	from := []rune(strings.ToLower(word))
	for _, k := range known {
		if d := edits(from, []rune(strings.ToLower(k)), least); d < least {
			best, least = k, d
		}
	}
	return best
}

// edits is the optimal string alignment distance; beyond limit it may return any value of limit or more.
func edits(a, b []rune, limit int) int {
	if len(a)-len(b) >= limit || len(b)-len(a) >= limit {
		return limit
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
