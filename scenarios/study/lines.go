package study

import (
	"bufio"
	"errors"
	"fmt"
	"io"
)

// ErrTorn is the error of a file that ends within a line.
var ErrTorn = errors.New("the file ends within a line")

// lineReader reads lines with their ends.
type lineReader struct {
	in   *bufio.Reader
	line int // the number of the line that was read last
}

func newLineReader(r io.Reader) *lineReader { return &lineReader{in: bufio.NewReaderSize(r, 1<<16)} }

// next is the next line, its line feed included; with ErrTorn what there is of it.
func (l *lineReader) next() ([]byte, error) {
	var line []byte
	for {
		part, err := l.in.ReadSlice('\n')
		line = append(line, part...)
		switch {
		case err == nil:
			l.line++
			return line, nil
		case errors.Is(err, bufio.ErrBufferFull) && len(line) < mostLine:
			continue
		case errors.Is(err, bufio.ErrBufferFull):
			return nil, fmt.Errorf("line %d is longer than %d bytes", l.line+1, mostLine)
		case errors.Is(err, io.EOF) && len(line) > 0:
			l.line++
			return line, ErrTorn
		}
		return nil, err
	}
}
