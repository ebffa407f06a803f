package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// pending is a file that is written beside its place and put there when it is whole, so that nothing is ever half-written.
// Commit or Discard ends it.
type pending struct {
	*os.File
	part, place string // part "": it is written in place, as a device or a pipe must be
}

// begin opens a file for writing that is to stand at a path. What exists there is replaced by Commit.
func begin(path string) (*pending, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // a link stays a link, to the new file
	}
	switch info, err := os.Stat(path); {
	case err == nil && info.IsDir():
		return nil, errors.New("it is a folder")
	case err == nil && !info.Mode().IsRegular():
		file, err := os.OpenFile(path, os.O_WRONLY, 0)
		return &pending{File: file, place: path}, err
	}
	for range 100 {
		part := fmt.Sprintf("%s.%08x.part", path, rand.Uint32()) // a name only: nothing computed hangs on it
		file, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		return &pending{file, part, path}, err
	}
	return nil, errors.New("there is no free name beside it")
}

// Commit puts the whole file in its place.
func (p *pending) Commit() error {
	err := p.Close()
	if err == nil && p.part != "" {
		err = os.Rename(p.part, p.place)
	}
	if err != nil {
		p.remove()
	}
	return err
}

// Discard leaves everything as it was.
func (p *pending) Discard() {
	p.Close() // whatever it says, the file goes
	p.remove()
}

func (p *pending) remove() {
	if p.part != "" {
		os.Remove(p.part) // if that fails a file named .part is left, and nothing is wrong
	}
}
