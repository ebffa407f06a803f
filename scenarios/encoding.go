package scenarios

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

const mostBytes = 1 << 20 // of a scenario's text

// checkText looks at the bytes before anything reads them: their number, that they are UTF-8, and that there is no control
// character, nor a line break that editors do not count as one (which would put every later fault on a wrong line).
func checkText(data []byte) (text []byte, faults Faults) {
	if len(data) > mostBytes {
		what := fmt.Sprintf("the file has %d bytes, more than the %d that a scenario may have", len(data), mostBytes)
		return nil, Faults{{Line: 1, Column: 1, What: what, Want: "a smaller scenario; offsets belong in a CSV file"}}
	}
	return checkRunes(data)
}

// checkRunes is checkText for a file of any size.
func checkRunes(data []byte) (text []byte, faults Faults) {
	text = bytes.TrimPrefix(data, []byte("\ufeff"))
	line, column := 1, 1
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		if what, want := badRune(r, size, text[i]); what != "" {
			return nil, Faults{{Line: line, Column: column, What: what, Want: want}}
		}
		i += size
		column++
		if r == '\n' || (r == '\r' && !bytes.HasPrefix(text[i:], []byte("\n"))) {
			line, column = line+1, 1
		}
	}
	return text, nil
}

func badRune(r rune, size int, first byte) (what, want string) {
	switch {
	case r == utf8.RuneError && size == 1:
		return fmt.Sprintf("the byte 0x%02X here is not UTF-8", first), "save the file as UTF-8"
	case r == 0x85 || r == 0x2028 || r == 0x2029:
		return fmt.Sprintf("the character U+%04X here is a line break to some programs and none to others", r), "an ordinary line break"
	case r == 0xFEFF, r < ' ' && r != '\t' && r != '\n' && r != '\r', r >= 0x7f && r < 0xa0, r == 0xFFFE, r == 0xFFFF:
		return fmt.Sprintf("the character U+%04X here is invisible and has no meaning", r), "remove it"
	}
	return "", ""
}
