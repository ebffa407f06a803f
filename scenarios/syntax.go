package scenarios

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// syntaxFault finds the place of an error of YAML's grammar. The library names a line only, and often that of the line
// before or of where the surrounding block began; so the text is looked through for the mistakes that people make, and the
// library's line is taken only where none is found. It is called for broken texts only: what it finds need not be
// a mistake in a text that the library could read.
func syntaxFault(text string, err error) Fault {
	if name, ok := strings.CutPrefix(err.Error(), "yaml: unknown anchor '"); ok {
		name, _, _ = strings.Cut(name, "'")
		return unknownAnchor(text, name)
	}
	s := &syntaxScanner{}
	for i, line := range splitLines(text) {
		if f := s.line(i+1, []rune(line)); f != nil {
			return *f
		}
	}
	if f := s.end(); f != nil {
		return *f
	}
	return libraryFault(text, err)
}

func splitLines(text string) []string {
	return strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// libraryFault is the library's own message at the first character of the line that it names.
func libraryFault(text string, err error) Fault {
	message, line := err.Error(), 1
	if m := yamlLine.FindStringSubmatch(message); m != nil {
		message = message[len(m[0]):]
		if n, err := strconv.Atoi(m[1]); err == nil {
			line = n
		}
	}
	lines := splitLines(text)
	line = min(max(line, 1), len(lines))
	if strings.Contains(message, "max depth") {
		return Fault{Line: line, Column: 1, What: fmt.Sprintf("this is nested more than %d levels deep", mostLevels), Want: "a scenario needs no more than eight"}
	}
	column := len(lines[line-1]) - len(strings.TrimLeft(lines[line-1], " ")) + 1
	return Fault{Line: line, Column: column, What: "this is not YAML (" + strings.ReplaceAll(message, "\n", " ") + ")",
		Want: "`key: value`, one to a line, indented by spaces like the lines around it"}
}

func unknownAnchor(text, name string) Fault {
	f := Fault{Line: 1, Column: 1, What: "the alias " + quote("*"+name) + " names nothing", Want: "a value marked " + quote("&"+name) + " further up"}
	for i, line := range splitLines(text) {
		if at := strings.Index(line, "*"+name); at >= 0 {
			f.Line, f.Column = i+1, len([]rune(line[:at]))+1
			break
		}
	}
	return f
}

// syntaxScanner goes through a text line by line, following quotes, brackets, block scalars and indentation.
type syntaxScanner struct {
	row      int
	brackets []openBracket
	indents  []int // of the blocks that are open
	block    int   // indent of the line that began a block scalar, −1: none; its lines are indented more
	inBlock  bool
	start    bool // a value may begin here
	base     int  // where the block of the present line begins
	keys     int  // of the present line
	leaf     bool // the last line ended in a value: nothing may be nested in it
	closed   bool // a quote or a bracket has closed the value: no more text may follow
}

type openBracket struct {
	char        rune
	row, column int
}

func (s *syntaxScanner) fault(column int, what, want string) *Fault {
	return &Fault{Line: s.row, Column: column + 1, What: what, Want: want}
}

// line looks at one line; column indices count from 0 within it.
func (s *syntaxScanner) line(row int, line []rune) *Fault {
	s.row = row
	indent := 0
	for indent < len(line) && line[indent] == ' ' {
		indent++
	}
	if strings.TrimSpace(string(line)) == "" || (s.inBlock && indent > s.block) {
		return nil
	}
	s.inBlock = false
	if line[indent] == '#' || (indent == 0 && (strings.HasPrefix(string(line), "---") || strings.HasPrefix(string(line), "%"))) {
		return nil
	}
	inFlow := len(s.brackets) > 0
	if !inFlow {
		if line[indent] == '\t' {
			return s.fault(indent, "this line is indented by a tab", "spaces, as many as the lines around it")
		}
		if f := s.indented(line, indent); f != nil {
			return f
		}
	}
	keys, f := s.content(line, indent)
	if f != nil || inFlow || len(s.brackets) > 0 {
		return f
	}
	if keys == 0 && line[indent] != '-' && !s.inBlock && !(s.leaf && indent > s.top()) {
		return s.noColon(line, indent)
	}
	return nil
}

// noColon is a line in a block of keys that has none.
func (s *syntaxScanner) noColon(line []rune, indent int) *Fault {
	if at := strings.IndexRune(string(line), ':'); at > 0 {
		return s.fault(len([]rune(string(line)[:at])), "there is no space after this colon", "`key: value`, with a space")
	}
	return s.fault(indent, quote(strings.TrimSpace(string(line)))+" is neither `key: value` nor an item of a list", "`key: value`, or `- item`")
}

func (s *syntaxScanner) top() int {
	if len(s.indents) == 0 {
		return -1
	}
	return s.indents[len(s.indents)-1]
}

// indented compares a line's indent with those of the blocks it may belong to.
func (s *syntaxScanner) indented(line []rune, indent int) *Fault {
	if indent > s.top() {
		if s.leaf && (hasKey(line) || line[indent] == '-') {
			return s.fault(indent, "this line is indented more than the one above, which has a value already", "the indent of the line above")
		}
		if !s.leaf {
			s.indents = append(s.indents, indent)
		}
		return nil
	}
	for indent < s.top() {
		s.indents = s.indents[:len(s.indents)-1]
	}
	if indent != s.top() {
		return s.fault(indent, "this line is indented like no line above it", "the indent of the block that it belongs to")
	}
	return nil
}

// hasKey tells whether a line begins with a key, perhaps after the dashes of list items.
func hasKey(line []rune) bool {
	i := 0
	for i < len(line) && (blank(line[i]) || line[i] == '-' && i+1 < len(line) && line[i+1] == ' ') {
		i++
	}
	return isKey(line[i:])
}

// isKey tells whether a text begins with a word and a colon.
func isKey(text []rune) bool {
	n := 0
	for n < len(text) && (unicode.IsLetter(text[n]) || unicode.IsDigit(text[n]) || text[n] == '_' || text[n] == '-') {
		n++
	}
	return n > 0 && n < len(text) && text[n] == ':' && (n+1 == len(text) || blank(text[n+1]))
}

// content follows what stands in a line and counts the keys of its block.
func (s *syntaxScanner) content(line []rune, i int) (keys int, f *Fault) {
	s.start, s.leaf, s.closed, s.base, s.keys = true, false, false, i, 0
	for i < len(line) {
		next, f := s.token(line, i)
		if f != nil || next < 0 {
			return s.keys, f
		}
		i = next
	}
	return s.keys, nil
}

// token looks at the character at i and gives where the next token begins, −1 where the rest of the line has no more.
func (s *syntaxScanner) token(line []rune, i int) (next int, f *Fault) {
	c := line[i]
	flow := len(s.brackets) > 0
	ends := i+1 >= len(line) || blank(line[i+1])
	switch {
	case blank(c):
	case c == '#' && (i == 0 || blank(line[i-1])):
		return -1, nil
	case s.closed && !strings.ContainsRune(":,]}", c):
		return 0, s.fault(i, "there is text after the quote or bracket that closes the value", "nothing more, or the whole value in quotes")
	case c == ':' && (ends || (flow && strings.ContainsRune(",]}[{", line[i+1]))):
		return s.colon(i, flow)
	case (s.start || flow || s.closed) && (c == ']' || c == '}'):
		s.start, s.leaf, s.closed = false, true, true
		return i + 1, s.close(c, i)
	case flow && c == ',':
		s.start, s.closed = true, false
	case (s.start || flow) && (c == '[' || c == '{'):
		s.brackets, s.start = append(s.brackets, openBracket{c, s.row, i}), true
	case s.start:
		return s.begin(line, i, flow, ends)
	default:
		s.leaf = true
	}
	return i + 1, nil
}

// begin looks at a character that may begin a value.
func (s *syntaxScanner) begin(line []rune, i int, flow, ends bool) (next int, f *Fault) {
	switch c := line[i]; {
	case c == '"' || c == '\'':
		end := quotedEnd(line, i)
		if end < 0 {
			return 0, s.fault(i, "this quote is not closed in its line", "a closing "+string(c)+" at the end of the text")
		}
		s.start, s.leaf, s.closed = false, true, true
		return end, nil
	case !flow && (c == '|' || c == '>'):
		s.inBlock, s.block = true, s.base
		return -1, nil
	case !flow && (c == '-' || c == '?') && ends:
		s.base = i + 1
		s.nest(line, i+1)
	case c == '&' || c == '!':
		for i+1 < len(line) && !blank(line[i+1]) {
			i++
		}
	case c == '@' || c == '`' || c == '%':
		return 0, s.fault(i, "a value cannot begin with "+string(c), "the text in quotes")
	default:
		s.start, s.leaf = false, true
	}
	return i + 1, nil
}

// colon ends a key.
func (s *syntaxScanner) colon(i int, flow bool) (next int, f *Fault) {
	if s.keys++; !flow && s.keys > 1 {
		return 0, s.fault(i, "this is a second colon followed by a space in one line", "text with a colon in quotes, or one key a line")
	}
	s.start, s.leaf, s.closed = true, false, false
	return i + 1, nil
}

func blank(c rune) bool { return c == ' ' || c == '\t' }

// nest opens the block that stands behind the dash of a list's item.
func (s *syntaxScanner) nest(line []rune, i int) {
	for i < len(line) && line[i] == ' ' {
		i++
	}
	if isKey(line[i:]) {
		s.indents = append(s.indents, i)
	}
}

// close matches a closing bracket with the last open one.
func (s *syntaxScanner) close(c rune, i int) *Fault {
	if len(s.brackets) == 0 {
		return s.fault(i, fmt.Sprintf("this %c closes nothing", c), "remove it, or write the bracket that opens")
	}
	last := s.brackets[len(s.brackets)-1]
	if (last.char == '[') != (c == ']') {
		return s.unclosed(last)
	}
	s.brackets = s.brackets[:len(s.brackets)-1]
	return nil
}

// end is what is left open at the end of the text.
func (s *syntaxScanner) end() *Fault {
	if len(s.brackets) == 0 {
		return nil
	}
	return s.unclosed(s.brackets[len(s.brackets)-1])
}

func (s *syntaxScanner) unclosed(b openBracket) *Fault {
	closing := map[rune]string{'[': "]", '{': "}"}[b.char]
	return &Fault{Line: b.row, Column: b.column + 1, What: fmt.Sprintf("this %c is not closed", b.char), Want: "a " + closing + " where the list or mapping ends"}
}

// quotedEnd gives the index after the closing quote of the quoted text that begins at i, −1 if the line has none.
func quotedEnd(line []rune, i int) int {
	mark := line[i]
	for i++; i < len(line); i++ {
		switch {
		case mark == '"' && line[i] == '\\':
			i++
		case line[i] == mark && mark == '\'' && i+1 < len(line) && line[i+1] == mark:
			i++
		case line[i] == mark:
			return i + 1
		}
	}
	return -1
}
