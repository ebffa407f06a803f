package scenarios

import "github.com/byhead/byhead/compartment"

// nearest gives the known word that a misspelt one may have meant, "" if none is near.
func nearest(word string, known []string) string { return compartment.Nearest(word, known) }

// meant is the beginning of what would be right where a word is not known: `did you mean "top"? `, or nothing.
func meant(word string, known []string) string {
	if near := nearest(word, known); near != "" {
		return "did you mean " + quote(near) + "? "
	}
	return ""
}
