package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

// mostBytes is how much of a scenario is read: one more than the format allows, so that its reader tells of too long a file.
const mostBytes = 1<<20 + 1

// input is a scenario and the vessel that it describes.
type input struct {
	*scenarios.Scenario
	vessel *compartment.Vessel
}

// load reads and builds what FILE names, and tells its notes. The error is of type scenarios.Faults where the input is
// wrong.
func (a *app) load(ctx context.Context, name string) (*input, error) {
	s, err := a.read(ctx, name)
	if err != nil {
		return nil, err
	}
	v, err := s.Build()
	if err != nil {
		return nil, err
	}
	return &input{s, v}, ctx.Err()
}

// tellNotes says on stderr what was read or built in a way that the user should know.
func (a *app) tellNotes(in *input) {
	for _, n := range in.allNotes() {
		a.tell("note", n)
	}
}

// allNotes are those of the reader and those of the builder.
func (in *input) allNotes() []string { return append(slices.Clone(in.Notes), in.builtNotes()...) }

// builtNotes are those of the builder.
func (in *input) builtNotes() []string {
	notes := []string{}
	for _, n := range in.vessel.Notes {
		text := n.Text
		if n.Path != "" {
			text = n.Path + ": " + text
		}
		notes = append(notes, text)
	}
	return notes
}

func (a *app) read(ctx context.Context, name string) (*scenarios.Scenario, error) {
	if demo, ok := strings.CutPrefix(name, scenarios.DemoPrefix); ok {
		folder, data, err := scenarios.OpenDemo(demo)
		if err != nil {
			return nil, unreadable(name, err.Error())
		}
		return scenarios.Read(folder, name, data)
	}
	if name == "-" {
		data, err := readAll(ctx, a.stdin, mostBytes)
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			return nil, unreadable(name, fmt.Sprintf("standard input cannot be read (%s); a scenario", plain(err)))
		}
		return scenarios.Read(nil, name, data)
	}
	return a.readFile(name)
}

// readAll reads so much of a stream at most, or until ctx is done: somebody may sit before an empty terminal.
func readAll(ctx context.Context, r io.Reader, most int64) (data []byte, err error) {
	done := make(chan struct{})
	var read []byte
	var failed error
	go func() {
		defer close(done)
		read, failed = io.ReadAll(io.LimitReader(r, most))
	}()
	select {
	case <-done:
		return read, failed
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// readFile reads a scenario, and what it names from its own folder and below, nowhere else.
func (a *app) readFile(name string) (*scenarios.Scenario, error) {
	path := a.path(name)
	data, err := readSome(path, mostBytes)
	if err != nil {
		return nil, unreadable(name, a.missing(name, err))
	}
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return nil, unreadable(name, fmt.Sprintf("its folder cannot be opened (%s); a readable folder", plain(err)))
	}
	defer root.Close()
	return scenarios.Read(root.FS(), name, data)
}

// readSome is what a file holds, as far as most bytes.
func readSome(path string, most int64) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return nil, errors.New("it is a folder")
	}
	return io.ReadAll(io.LimitReader(file, most))
}

// missing says why a file cannot be read and what would be right.
func (a *app) missing(name string, err error) string {
	if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Sprintf("the file cannot be read (%s); the path of a scenario", plain(err))
	}
	known := scenarios.DemoNames()
	for _, demo := range known {
		if name == demo {
			return fmt.Sprintf("there is no such file; the demo of that name is demo:%s", demo)
		}
	}
	return "there is no such file; the path of a scenario, - for standard input, or demo:NAME"
}

// unreadable is a fault of an input that could not be opened: at its very beginning, like that of an empty one. text is what
// is wrong, a semicolon, and what would be right.
func unreadable(name, text string) error {
	what, want, _ := strings.Cut(text, "; ")
	return scenarios.Faults{{File: name, Line: 1, Column: 1, What: what, Want: want}}
}

// plain is an error without the path that it repeats.
func plain(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return oneLine(err.Error())
}

// completeFile completes demo:NAME; everything else is left to the shell.
func completeFile(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var found []string
	for _, name := range scenarios.DemoNames() {
		if full := scenarios.DemoPrefix + name; strings.HasPrefix(full, typed) {
			found = append(found, full)
		}
	}
	if strings.HasPrefix(typed, scenarios.DemoPrefix) {
		return found, cobra.ShellCompDirectiveNoFileComp
	}
	return found, cobra.ShellCompDirectiveDefault
}
