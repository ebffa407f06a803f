package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// replaceAll writes files to a folder, which is made if it is not there; those of the same names are replaced. All are written
// whole beside their places before the first is put there: what fails earlier leaves everything as it was.
func (a *app) replaceAll(folder string, files []asset) (err error) {
	root := a.path(folder)
	var made []string
	var parts []*pending
	fresh := map[string]bool{} // places where nothing was
	defer func() {
		if err == nil {
			return
		}
		for _, p := range parts {
			p.Discard()
			if fresh[p.place] {
				os.Remove(p.place)
			}
		}
		for _, m := range made { // only if they are empty again
			os.Remove(m)
		}
	}()
	if made, err = makeFolder(root); err != nil {
		return fmt.Errorf("%s cannot be written to: %s", folder, plain(err))
	}
	for _, f := range files {
		p, err := begin(filepath.Join(root, f.name))
		if err != nil {
			return fmt.Errorf("%s cannot be written: %s", f.name, plain(err))
		}
		parts = append(parts, p)
		if _, err := p.Write(f.data); err != nil {
			return fmt.Errorf("%s cannot be written: %s", f.name, plain(err))
		}
	}
	for i, p := range parts {
		if _, err := os.Stat(p.place); errors.Is(err, fs.ErrNotExist) {
			fresh[p.place] = true
		}
		if err := p.Commit(); err != nil {
			return fmt.Errorf("%s cannot be written: %s", files[i].name, plain(err))
		}
	}
	return nil
}

// makeFolder makes a folder and those above it, and tells which it made, the innermost first.
func makeFolder(path string) (made []string, err error) {
	switch info, err := os.Stat(path); {
	case err == nil && info.IsDir():
		return nil, nil
	case err == nil:
		return nil, errors.New("it is a file; a folder is wanted")
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	if above := filepath.Dir(path); above != path {
		if made, err = makeFolder(above); err != nil {
			return made, err
		}
	}
	if err := os.Mkdir(path, 0o777); err != nil {
		return made, err
	}
	return append([]string{path}, made...), nil
}
